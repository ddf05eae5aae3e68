// Package fastener answers: how large is a bolt with its nut and washers, what is it made
// of, how far must its hole be from an edge and from the next, how long and how tight is
// it, and what does it grip? Each table stands here once. Lengths are in mm, areas in
// mm², stresses in MPa, forces in N, torques in N·m.
package fastener

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// Size is a size of bolt with its thread.
type Size struct {
	Name     string  // as a car file has it, "M8" or "5/16-18 UNC"
	D, Pitch float64 // mm
	Flats    float64 // mm across the flats of the hexagon head
	Washer   float64 // mm outer diameter of a plain washer
	inch     bool
}

// metric are the coarse threads taken, small to large. Sources: ISO 261 and ISO 262
// (sizes and pitches), ISO 4014 (heads), ISO 7089 (washers); recalled and not read
// again.
var metric = []Size{
	{Name: "M3", D: 3, Pitch: 0.5, Flats: 5.5, Washer: 7},
	{Name: "M4", D: 4, Pitch: 0.7, Flats: 7, Washer: 9},
	{Name: "M5", D: 5, Pitch: 0.8, Flats: 8, Washer: 10},
	{Name: "M6", D: 6, Pitch: 1, Flats: 10, Washer: 12},
	{Name: "M8", D: 8, Pitch: 1.25, Flats: 13, Washer: 16},
	{Name: "M10", D: 10, Pitch: 1.5, Flats: 16, Washer: 20},
	{Name: "M12", D: 12, Pitch: 1.75, Flats: 18, Washer: 24},
	{Name: "M14", D: 14, Pitch: 2, Flats: 21, Washer: 28},
	{Name: "M16", D: 16, Pitch: 2, Flats: 24, Washer: 30},
	{Name: "M20", D: 20, Pitch: 2.5, Flats: 30, Washer: 37},
}

const inch = 25.4 // mm

// unified are the unified inch threads taken: diameter, threads to the inch of the
// coarse and the fine series, flats and washer, in inches. Sources: ASME B1.1 (threads),
// ASME B18.2.1 (heads), ASME B18.21.1 type A narrow (washers); recalled and not read
// again.
var unified = []struct {
	name            string
	d, flats, plain float64
	coarse, fine    float64
}{
	{"#10", 0.190, 0.3125, 0.500, 24, 32},
	{"1/4", 0.250, 0.4375, 0.625, 20, 28},
	{"5/16", 0.3125, 0.500, 0.688, 18, 24},
	{"3/8", 0.375, 0.5625, 0.812, 16, 24},
	{"7/16", 0.4375, 0.625, 0.922, 14, 20},
	{"1/2", 0.500, 0.750, 1.062, 13, 20},
	{"9/16", 0.5625, 0.8125, 1.156, 12, 18},
	{"5/8", 0.625, 0.9375, 1.312, 11, 18},
}

// Names lists the sizes that are known, for people.
func Names() string {
	var all []string
	for _, s := range metric {
		all = append(all, s.Name)
	}
	return strings.Join(all, ", ") + "; or in inches #10 to 5/8, such as 5/16in, 5/16-18 UNC or 5/16-24 UNF"
}

// Common lists sizes as they are written in a car file.
func Common() []string {
	var all []string
	for _, s := range metric {
		all = append(all, s.Name)
	}
	return append(all, "1/4in", "5/16in", "3/8in", "1/2in")
}

// unifiedForm is 5/16in, 5/16-18, 5/16 UNF or 5/16-24 UNF, #10-32.
var unifiedForm = regexp.MustCompile(`^(#10|[0-9]/[0-9]{1,2})\s*(?:in|")?(?:\s*-\s*([0-9]{2}))?\s*(UNC|UNF)?$`)

// Lookup returns the size with a name. An inch size without its thread has the coarse
// one, whose stress area is the smaller.
func Lookup(name string) (Size, bool) {
	plain := strings.ToUpper(strings.TrimSpace(name))
	for _, s := range metric {
		if s.Name == plain {
			return s, true
		}
	}
	m := unifiedForm.FindStringSubmatch(strings.Replace(plain, "IN", "in", 1))
	if m == nil {
		return Size{}, false
	}
	for _, u := range unified {
		if u.name != m[1] {
			continue
		}
		threads, series := u.coarse, "UNC"
		if m[3] == "UNF" || m[2] == strconv.FormatFloat(u.fine, 'f', 0, 64) {
			threads, series = u.fine, "UNF"
		}
		if m[2] != "" && m[2] != strconv.FormatFloat(threads, 'f', 0, 64) || m[3] != "" && m[3] != series {
			return Size{}, false
		}
		return Size{Name: fmt.Sprintf("%s-%.0f %s", u.name, threads, series), D: u.d * inch, Pitch: inch / threads, Flats: u.flats * inch,
			Washer: u.plain * inch, inch: true}, true
	}
	return Size{}, false
}

// Next returns the next larger size of the same series; ok is false for the largest.
func (s Size) Next() (Size, bool) {
	if !s.inch {
		for i := range metric[:len(metric)-1] {
			if metric[i].Name == s.Name {
				return metric[i+1], true
			}
		}
		return Size{}, false
	}
	series := s.Name[len(s.Name)-3:]
	for i := range unified[:len(unified)-1] {
		if strings.HasPrefix(s.Name, unified[i].name+"-") {
			return Lookup(unified[i+1].name + " " + series)
		}
	}
	return Size{}, false
}

// StressArea returns the thread's tensile stress area: π/4 (d - 0.9382 P)² of a metric
// thread, π/4 (d - 0.9743/n)² of a unified one with n threads to the inch.
// Sources: ISO 898-1:2013 clause 9.1.6.1; ASME B1.1-2003 appendix B.
func (s Size) StressArea() float64 {
	k := 0.9382
	if s.inch {
		k = 0.9743
	}
	return math.Pi / 4 * math.Pow(s.D-k*s.Pitch, 2)
}

// HeadMean is the mean of the head's measures across flats and points, mm.
func (s Size) HeadMean() float64 { return s.Flats * (1 + 2/math.Sqrt(3)) / 2 }
