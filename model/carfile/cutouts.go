package carfile

import (
	"fmt"
	"math"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/toml"
	"stanchion/model/units"
)

// Limits on the cut-outs of one part: each is compared with every hole and every other.
const (
	MaxCutouts      = 500
	MaxCutoutPoints = maxPoly // corners of all of them together
)

// minCutout is the area of a cut-out that stands for something, mm².
const minCutout = 1e-3

// cutouts takes the cut-outs of a part whose outline and holes are read; sound says that the
// outline is. What is wrong with one is a fault, and the part is read without it.
func (r *reader) cutouts(t *table, p *model.Part, sound bool) {
	list := t.list("cutouts")
	t.noteItems("cutouts", true, List, List, Number)
	if len(list) > MaxCutouts {
		t.fault("cutouts", "%d cut-outs", fmt.Sprintf("use at most %d", MaxCutouts), len(list))
		return
	}
	if len(list) > 0 && !t.has("outline") && !r.broken["outline"] {
		t.fault("cutouts", "cut-outs without an outline", "give the part's outline, within which they lie")
	}
	corners := 0
	numbers := []int{} // of the cut-outs that are sound
	for n, v := range list {
		path := fmt.Sprintf("%s[%d]", toml.Join(t.path, "cutouts"), n)
		points, ok := v.([]any)
		if !ok {
			r.at(path, "%scut-out %d is %s", "give its corners, [ [x, z], [x, z], [x, z] ]", t.label(), n+1, kind(v))
			continue
		}
		if len(points) == 2 && kind(points[0]) != "a list" {
			r.at(path, "%scut-out %d is a single point", "give a list of cut-outs, each a list of corners: [ [ [x, z], [x, z], [x, z] ] ]", t.label(), n+1)
			return // and so are the others
		}
		if corners += len(points); corners > MaxCutoutPoints {
			r.at(path, "%sthe cut-outs have more than %d corners together", "draw them with fewer", t.label(), MaxCutoutPoints)
			return
		}
		c, ok := r.corners(points, path, fmt.Sprintf("%scut-out %d", t.label(), n+1))
		if ok && r.cutout(c, path, n, t, p, sound, numbers) {
			p.Cutouts, numbers = append(p.Cutouts, plane.Corners(c)), append(numbers, n)
		}
	}
}

// cutout looks at one cut-out and records the first thing that is wrong with it.
func (r *reader) cutout(c []plane.Point, path string, n int, t *table, p *model.Part, sound bool, before []int) bool {
	fault := func(what, do string, args ...any) bool {
		r.at(path, "%scut-out %d "+what, do, append([]any{t.label(), n + 1}, args...)...)
		return false
	}
	place := func(at plane.Point) string {
		length := func(mm float64) string { return toml.Decimal(mm/r.units.length, 3) }
		return length(at.X) + ", " + length(at.Z)
	}
	if len(c) < 3 {
		return fault("has %s", "give at least 3", units.Count(len(c), "corner"))
	}
	c = plane.Corners(c)
	if area, _ := plane.Area(c); len(c) < 3 || math.Abs(area) < minCutout {
		return fault("encloses nothing", "give its corners once around")
	}
	if at, ok := plane.Knot(c); ok {
		return fault("crosses or touches itself at %s", "give its corners once around, in order", place(at))
	}
	if sound && p.Outline != nil {
		switch at, meets := plane.Meet(p.Outline, c); {
		case meets:
			return fault("reaches the part's edge at %s", "keep it within the outline, or draw it as part of the outline", place(at))
		case !plane.Inside(p.Outline, c[0]):
			return fault("lies outside of the part's outline", "move it into the outline, or remove it")
		}
	}
	for _, h := range p.Holes {
		if h.Slot == "" && h.ReachesInto(c) {
			return fault("runs into hole %q", "keep metal between them, or remove one", h.ID)
		}
	}
	for _, s := range p.Slots {
		if s.ReachesInto(c) {
			return fault("runs into slot %q", "keep metal between them, or remove one", s.ID)
		}
	}
	for i, o := range p.Cutouts {
		if plane.Overlap(o, c) {
			return fault("runs into cut-out %d", "make them one, or keep metal between them", before[i]+1)
		}
	}
	return true
}
