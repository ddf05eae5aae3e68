// Package cad reads a part's holes, slots, outline and cut-outs out of drawings that other
// programs wrote: DXF, ASCII or binary, of any release, SVG, and tables in CSV. Real exports hold
// much that is no hole; whatever is not taken is listed, by kind and layer.
//
// What comes out is in mm in the part's own frame, x to the rear and z up, after the
// scale, origin and turn that the person gives.
package cad

import (
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"regexp"
	"slices"
	"sort"
	"strings"
	"unicode/utf8"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model/units"
)

// Limits on sizes, so that a file made by mistake ends in a line and not in a wait.
const (
	MaxSize     = 64 << 20 // bytes
	maxEntities = 200_000  // with blocks put in their places
	maxDepth    = 16       // of blocks in blocks
	maxFound    = 10_000   // holes
)

// Options say how a drawing lies to the part.
type Options struct {
	Unit   float64     // mm in one unit of the file; 0 to take what the file says
	Scale  float64     // of the drawing: 2 when it is drawn at half size; 0 for 1
	Origin plane.Point // the place of the drawing that is the part's origin, in the file's units
	Turn   float64     // rad to turn the drawing by about it
	Layers []string    // the only ones that are read; nil for all

	Outline int // the number of the closed outline that is the part's; 0 to find it
}

// Found is what a drawing holds.
type Found struct {
	Holes   []holes.Hole // round ones, mm
	Slots   []holes.Slot
	Outline []plane.Point   // mm; nil when there is none, or it is not clear which it is
	Cutouts [][]plane.Point // mm, within the outline
	Closed  []Closed        // every closed outline, and what it was taken for
	Ignored []string        // what else was not taken
	Notes   []string        // what was taken in a way that wants a look
}

// ErrNoUnit is returned for a file that does not say what its numbers are in.
var ErrNoUnit = errors.New("the file does not say what its numbers are in")

// Read reads a file by its name's ending.
func Read(name string, data []byte, o Options) (Found, error) {
	if len(data) > MaxSize {
		return Found{}, fmt.Errorf("%d bytes; the file may have %d MiB at most", len(data), MaxSize>>20)
	}
	if o.Scale == 0 {
		o.Scale = 1
	}
	ending := strings.ToLower(filepath.Ext(name))
	if ending == ".dwg" || isDWG(data) {
		return Found{}, errDWG
	}
	switch ending {
	case ".svg":
		return readSVG(data, o)
	case ".dxf":
		return readDXF(data, o)
	case ".csv", ".tsv", ".txt":
		if o.Outline > 0 {
			return Found{}, fmt.Errorf("there is no closed outline %d in it: a table has holes and slots alone", o.Outline)
		}
		return readCSV(data, o)
	}
	return Found{}, errors.New("the name ends in none of .dxf, .svg and .csv; save the drawing as one of them")
}

// place brings a point of the drawing into the part's frame, for size mm in one unit
// of the file.
func (o Options) place(p plane.Point, size float64) plane.Point {
	k := size * o.Scale
	return plane.About(plane.Point{}, o.Turn).Apply(plane.Point{X: (p.X - o.Origin.X) * k, Z: (p.Z - o.Origin.Z) * k})
}

// sameSpot is how near two places are one, mm.
const sameSpot = 0.01

// tidy names what has no name, and sorts out holes that lie on one another.
func (f *Found) tidy() {
	sort.SliceStable(f.Holes, func(a, b int) bool { return before(f.Holes[a], f.Holes[b]) })
	sort.SliceStable(f.Slots, func(a, b int) bool { return before(f.Slots[a].Hole, f.Slots[b].Hole) })
	f.dropTwins()
	f.dropBoltCircles()
	f.overlaps()
	f.nameAll()
}

// dropTwins takes holes and slots that lie on one another once; of two circles about one centre
// the smaller.
func (f *Found) dropTwins() {
	var kept []holes.Hole
	// In the order of z, only the last few can lie at the same height.
	for _, h := range f.Holes {
		same := -1
		for i := len(kept) - 1; i >= 0 && h.Z-kept[i].Z <= sameSpot; i-- {
			if h.At().Distance(kept[i].At()) <= sameSpot {
				same = i
				break
			}
		}
		if same < 0 {
			kept = append(kept, h)
			continue
		}
		k := &kept[same]
		switch {
		case math.Abs(h.D-k.D) < sameSpot:
			f.Notes = append(f.Notes, fmt.Sprintf("two circles of %.2f mm at %.2f, %.2f: taken once", h.D, h.X, h.Z))
		default:
			f.Notes = append(f.Notes, fmt.Sprintf("circles of %.2f and %.2f mm about %.2f, %.2f: the smaller is taken for the hole",
				min(h.D, k.D), max(h.D, k.D), h.X, h.Z))
			k.D = min(h.D, k.D)
		}
		if k.ID == "" {
			k.ID = h.ID
		}
	}
	f.Holes = kept
	var slots []holes.Slot
	for _, s := range f.Slots {
		if slices.ContainsFunc(slots, func(o holes.Slot) bool { return SameSlot(s, o) }) {
			f.Notes = append(f.Notes, fmt.Sprintf("two slots of %.2f mm at %.2f, %.2f: taken once", s.D, s.X, s.Z))
			continue
		}
		slots = append(slots, s)
	}
	f.Slots = slots
}

// dropBoltCircles leaves out circles on whose line the centres of two smaller holes or more lie: they say where those go.
func (f *Found) dropBoltCircles() {
	var kept []holes.Hole
	for _, h := range f.Holes {
		on := 0
		for _, o := range f.Holes {
			if math.Abs(o.Z-h.Z) <= h.D && o.D < h.D && math.Abs(o.At().Distance(h.At())-h.D/2) <= offRound {
				on++
			}
		}
		if on < 2 {
			kept = append(kept, h)
			continue
		}
		f.Ignored = append(f.Ignored, fmt.Sprintf("the circle of %.2f mm at %.2f, %.2f: %d holes lie on its line, as on a bolt circle", h.D, h.X, h.Z, on))
	}
	f.Holes = kept
}

// nameAll names the holes and slots that have no name, or another's; what the drawing names keeps
// its name.
func (f *Found) nameAll() {
	taken := map[string]bool{}
	next := 1
	name := func(id *string, at plane.Point) {
		if *id != "" && taken[*id] {
			f.Notes = append(f.Notes, fmt.Sprintf("two holes are marked %s: the one at %.2f, %.2f gets another name", *id, at.X, at.Z))
			*id = ""
		}
		for *id == "" {
			if n := fmt.Sprintf("H%d", next); !taken[n] {
				*id = n
			}
			next++
		}
		taken[*id] = true
	}
	for pass := range 2 { // names that the drawing gives first
		for i := range f.Holes {
			if h := &f.Holes[i]; (h.ID == "") == (pass == 1) {
				name(&h.ID, h.At())
			}
		}
		for i := range f.Slots {
			if h := &f.Slots[i].Hole; (h.ID == "") == (pass == 1) {
				name(&h.ID, h.At())
			}
		}
	}
}

// SameSlot reports whether two slots are one: both ends and the middle in one place,
// either way round, and equally wide.
func SameSlot(a, b holes.Slot) bool {
	at := func(s holes.Slot, part float64) plane.Point { return s.Along(s.Length() * part) }
	ends := func(from, to float64) bool {
		return at(a, 0).Distance(at(b, from)) < sameSpot && at(a, 1).Distance(at(b, to)) < sameSpot
	}
	return math.Abs(a.D-b.D) < sameSpot && at(a, 0.5).Distance(at(b, 0.5)) < sameSpot && (ends(0, 1) || ends(1, 0))
}

// before orders holes as they are read off a part: from below up, then to the rear.
func before(a, b holes.Hole) bool {
	if az, bz := math.Round(a.Z/sameSpot), math.Round(b.Z/sameSpot); az != bz {
		return az < bz
	}
	return a.X < b.X
}

// overlaps notes holes that overlap.
func (f *Found) overlaps() {
	widest := 0.0
	for _, h := range f.Holes {
		widest = max(widest, h.D)
	}
	told := 0
	for i, a := range f.Holes {
		for k := i - 1; k >= 0 && a.Z-f.Holes[k].Z <= widest+sameSpot; k-- {
			b := f.Holes[k]
			if apart := a.At().Distance(b.At()); apart < (a.D+b.D)/2-1e-6 {
				if told++; told > 20 {
					f.Notes = append(f.Notes, "and more circles that overlap")
					return
				}
				f.Notes = append(f.Notes, fmt.Sprintf("circles at %.2f, %.2f and %.2f, %.2f overlap by %.2f mm", b.X, b.Z, a.X, a.Z, (a.D+b.D)/2-apart))
			}
		}
	}
}

// sizeText is a text that says how large something is, and is no name.
var sizeText = regexp.MustCompile(`^([MRØ⌀ø] ?[0-9].*|[0-9]+[.,][0-9]+.*|[0-9]+ ?(mm|x|×).*)$`)

// clean makes a name from a drawing fit for a car file: "" when it is none.
func clean(s string) string {
	s = strings.TrimSpace(s)
	if sizeText.MatchString(s) {
		return ""
	}
	if s == "" || utf8.RuneCountInString(s) > 12 || strings.ContainsAny(s, " @\"\\") || strings.IndexFunc(s, units.Hidden) >= 0 ||
		!utf8.ValidString(s) {
		return ""
	}
	return s
}
