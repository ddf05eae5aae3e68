package fastener

import (
	"math"
	"strings"
)

// hardware is what goes with a size of bolt: its head, a plain nut and a plain washer.
// Lengths are in mm; those of the inch sizes are turned from inches by hardwareOf.
type hardware struct {
	head     float64 // height of the hexagon head
	nut      float64 // greatest height of a plain nut
	nutFlats float64 // across the nut's flats; 0 where they are the head's
	washer   float64 // thickness of a plain washer
	bore     float64 // inner diameter of a plain washer
	bearing  float64 // least diameter of the face under the head; inch sizes: bearingShare of the flats
	hole     float64 // medium clearance hole; inch sizes: the washer's bore
	shank    float64 // shortest bolt that has a plain shank; inch sizes: shortestShank
}

// metricHardware is by size. Sources: heads ISO 4014:2011 (nominal height, least
// diameter of the washer face, shortest length), nuts ISO 4032:2012 style 1 (greatest
// height), washers ISO 7089:2000 (nominal thickness, least bore), holes ISO 273:1979
// medium. Heads, faces, nuts and washers were read in public reproductions; holes of M5,
// M10 and M14 to M20, and the shortest lengths, are recalled and not read again.
var metricHardware = map[string]hardware{
	"M3":  {head: 2, nut: 2.4, washer: 0.5, bore: 3.2, bearing: 4.57, hole: 3.4, shank: 20},
	"M4":  {head: 2.8, nut: 3.2, washer: 0.8, bore: 4.3, bearing: 5.88, hole: 4.5, shank: 25},
	"M5":  {head: 3.5, nut: 4.7, washer: 1, bore: 5.3, bearing: 6.88, hole: 5.5, shank: 25},
	"M6":  {head: 4, nut: 5.2, washer: 1.6, bore: 6.4, bearing: 8.88, hole: 6.6, shank: 30},
	"M8":  {head: 5.3, nut: 6.8, washer: 1.6, bore: 8.4, bearing: 11.63, hole: 9, shank: 40},
	"M10": {head: 6.4, nut: 8.4, washer: 2, bore: 10.5, bearing: 14.63, hole: 11, shank: 45},
	"M12": {head: 7.5, nut: 10.8, washer: 2.5, bore: 13, bearing: 16.63, hole: 13.5, shank: 50},
	"M14": {head: 8.8, nut: 12.8, washer: 2.5, bore: 15, bearing: 19.37, hole: 15.5, shank: 60},
	"M16": {head: 10, nut: 14.8, washer: 3, bore: 17, bearing: 22.49, hole: 17.5, shank: 65},
	"M20": {head: 12.5, nut: 18, washer: 3, bore: 21, bearing: 28.19, hole: 22, shank: 80},
}

// unifiedHardware is by diameter, in inches. Sources: heads ASME B18.2.1 (basic height),
// nuts ASME B18.2.2-2015 (greatest height), washers ASME B18.21.1-2009 type A narrow;
// #10: head of ASME B18.6.3, machine screw nut of ASME B18.2.2. All read in public
// reproductions. The nuts of #10, 7/16 and 9/16 are wider than the heads. Holes are taken
// as large as the washer's bore.
var unifiedHardware = map[string]hardware{
	"#10":  {head: 0.120, nut: 0.130, nutFlats: 0.375, washer: 0.049, bore: 0.219},
	"1/4":  {head: 5.0 / 32, nut: 0.226, washer: 0.065, bore: 0.281},
	"5/16": {head: 13.0 / 64, nut: 0.273, washer: 0.065, bore: 0.344},
	"3/8":  {head: 15.0 / 64, nut: 0.337, washer: 0.065, bore: 0.406},
	"7/16": {head: 9.0 / 32, nut: 0.385, nutFlats: 0.6875, washer: 0.065, bore: 0.469},
	"1/2":  {head: 5.0 / 16, nut: 0.448, washer: 0.095, bore: 0.531},
	"9/16": {head: 23.0 / 64, nut: 0.496, nutFlats: 0.875, washer: 0.095, bore: 0.594},
	"5/8":  {head: 25.0 / 64, nut: 0.559, washer: 0.095, bore: 0.656},
}

// bearingShare is the face under an inch head, as a share of its flats: between the 0.9
// and 1 that ASME B18.2.1 allows. Recalled and not read again.
const bearingShare = 0.95

// hardwareOf returns what goes with a size, mm; all 0 for a size that is not known here.
func hardwareOf(s Size) hardware {
	if !s.inch {
		return metricHardware[s.Name]
	}
	name, _, _ := strings.Cut(s.Name, "-")
	h := unifiedHardware[name]
	return hardware{
		head: h.head * inch, nut: h.nut * inch, nutFlats: h.nutFlats * inch, washer: h.washer * inch, bore: h.bore * inch,
		bearing: bearingShare * s.Flats, hole: h.bore * inch, shank: s.shortestShank(),
	}
}

// NutHeight returns the greatest height of a plain nut, mm; 0 for a size that is not
// known here. Sources: ISO 4032 style 1, ASME B18.2.2.
func (s Size) NutHeight() float64 { return hardwareOf(s).nut }

// NutFlats returns the width across a plain nut's flats, mm. Sources: as NutHeight.
func (s Size) NutFlats() float64 { return max(s.Flats, hardwareOf(s).nutFlats) }

// HeadHeight returns the nominal height of a hexagon head, mm; 0 for a size that is not
// known here. Sources: ISO 4014 and ISO 4017, ASME B18.2.1.
func (s Size) HeadHeight() float64 { return hardwareOf(s).head }

// WasherThickness returns the nominal thickness of a plain washer, mm; 0 for a size that
// is not known here. Sources: ISO 7089, ASME B18.21.1 type A narrow.
func (s Size) WasherThickness() float64 { return hardwareOf(s).washer }

// WasherHole returns the inner diameter of a plain washer, mm; 0 for a size that is not
// known here. Sources: as WasherThickness.
func (s Size) WasherHole() float64 { return hardwareOf(s).bore }

// Corners returns the greatest width across corners of head or nut, whichever is the
// wider, mm: 2/√3 of the width across flats. Real ones are up to 5 % smaller.
func (s Size) Corners() float64 { return s.NutFlats() * 2 / math.Sqrt(3) }

// A ring spanner or a hand socket is about this wide: 1.4 times the width across flats
// and 2 mm. An impact socket is wider. Common practice, no source.
const (
	spannerWidth = 1.4
	spannerWall  = 2 // mm
)

// SpannerRoom returns the least distance from the bolt's axis to a wall, or anything else
// in the way of a ring spanner or a hand socket on head and nut, mm.
func (s Size) SpannerRoom() float64 { return (spannerWidth*s.NutFlats() + spannerWall) / 2 }

// Room returns the least centre distances of two bolts, mm: with washers that do not
// overlap, and with a spanner on either that clears the other's head or nut.
//
// For all sizes a and b:
//
//	Room(a, b) == Room(b, a)
func Room(a, b Size) (washers, spanner float64) {
	return (a.Washer + b.Washer) / 2, max(a.SpannerRoom()+b.Corners()/2, b.SpannerRoom()+a.Corners()/2)
}
