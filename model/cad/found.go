package cad

import (
	"errors"
	"fmt"
	"math"
	"sort"
	"strings"

	"stanchion/holes"
	"stanchion/holes/plane"
)

// found makes holes, slots and the outline of what was gathered.
func (g *gathering) found() (Found, error) {
	f := Found{Holes: g.circles, Notes: g.notes}
	var rest []loop
	for _, l := range g.loops {
		if c, r, ok := l.round(); ok {
			f.Holes = append(f.Holes, holes.Hole{X: c.X, Z: c.Z, D: 2 * r})
		} else if s, ok := l.slot(); ok {
			f.Slots = append(f.Slots, s)
		} else {
			rest = append(rest, l)
		}
	}
	if len(f.Holes)+len(f.Slots) > maxFound {
		return Found{}, fmt.Errorf("%d holes; a part may have %d at most", len(f.Holes)+len(f.Slots), maxFound)
	}
	sort.SliceStable(rest, func(a, b int) bool { return math.Abs(rest[a].area()) > math.Abs(rest[b].area()) })
	mine := f.ownOutline(rest)
	for i, l := range rest {
		points, bent := l.corners()
		if math.Abs(l.area()) < minArea {
			f.Ignored = append(f.Ignored, fmt.Sprintf("%d closed outlines with next to nothing in them", len(rest)-i))
			break
		}
		if i == maxListed {
			f.Ignored = append(f.Ignored, fmt.Sprintf("and %d more closed outlines", len(rest)-i))
			break
		}
		if i == mine && len(points) <= maxFound {
			f.Outline = points
			if bent {
				f.Notes = append(f.Notes, fmt.Sprintf("the outline's arcs are taken as chords that are true to %.2f mm", flat))
			}
			continue
		}
		lo, hi := l.box()
		f.Ignored = append(f.Ignored, fmt.Sprintf("a closed outline of %.1f by %.1f mm at %.1f, %.1f on layer %s: not round, not a slot, and not the part's outline", hi.X-lo.X, hi.Z-lo.Z, (lo.X+hi.X)/2, (lo.Z+hi.Z)/2, l.layer))
	}
	f.nameBy(g.texts)
	f.tidy()
	var kinds []string
	for k := range g.passed {
		kinds = append(kinds, k)
	}
	sort.Strings(kinds)
	for _, k := range kinds {
		f.Ignored = append(f.Ignored, fmt.Sprintf("%d × %s", g.passed[k], k))
	}
	if len(g.texts) > 0 {
		f.Notes = append(f.Notes, fmt.Sprintf("%d texts were looked at for names of holes", len(g.texts)))
	}
	if len(f.Holes)+len(f.Slots) == 0 && f.Outline == nil {
		return f, fmt.Errorf("%w; not taken: %s", errNothing,
			strings.Join(append(f.Ignored, "nothing else is in it")[:min(5, len(f.Ignored)+1)], "; "))
	}
	return f, nil
}

// ownOutline returns which of the closed outlines, the largest first, is the part's: the
// smallest that holds all holes and slots, since a larger one is the sheet's border or
// the frame of a view. Where none holds all it is the largest, with a note when another
// might be meant.
func (f *Found) ownOutline(rest []loop) int {
	var centres []plane.Point
	for _, h := range f.Holes {
		centres = append(centres, h.At())
	}
	for _, s := range f.Slots {
		centres = append(centres, s.At(), s.Along(s.Length()))
	}
	if len(centres) == 0 || len(rest) < 2 {
		return 0
	}
	mine, most, at := 0, 0, 0
	for i := range rest[:min(len(rest), maxListed)] {
		points, _ := rest[i].corners()
		held := 0
		for _, c := range centres {
			if _, inside := plane.EdgeDistance(points, c); inside {
				held++
			}
		}
		if held == len(centres) {
			mine = i
		}
		if i > 0 && held > most {
			most, at = held, i
		}
	}
	switch {
	case mine > 0:
		f.Notes = append(f.Notes, "the outline is the smallest one that holds all holes; what is around it is taken for a border")
	case 2*most > len(centres):
		lo, hi := rest[at].box()
		f.Notes = append(f.Notes, fmt.Sprintf("CHECK THE OUTLINE: the largest is taken, and one of %.1f by %.1f mm inside it holds %d of the %d holes; --layer takes one layer alone", hi.X-lo.X, hi.Z-lo.Z, most, len(centres)))
	}
	return mine
}

// box returns the corners of the box around a loop.
func (l loop) box() (lo, hi plane.Point) {
	points, _ := l.corners()
	return plane.Box(points)
}

// minArea is that of an outline that stands for something, mm².
const minArea = 1

// maxListed is how many things of one kind are listed one by one.
const maxListed = 30

var errNothing = errors.New("no circle, slot or closed outline in it")

// nameBy gives each hole the short text that stands nearest to it, where the hole is
// also the nearest to the text and it is within two diameters.
func (f *Found) nameBy(texts []label) {
	type target struct {
		h    *holes.Hole
		slot *holes.Slot
	}
	var all []target
	for i := range f.Holes {
		all = append(all, target{&f.Holes[i], nil})
	}
	for i := range f.Slots {
		all = append(all, target{&f.Slots[i].Hole, &f.Slots[i]})
	}
	if len(all)*len(texts) > 20_000_000 {
		f.Notes = append(f.Notes, "too many holes and texts to match names to holes: they are numbered")
		return
	}
	best := make([]float64, len(all))
	for i := range best {
		best[i] = math.Inf(1)
	}
	for _, t := range texts {
		name := clean(t.text)
		if name == "" {
			continue
		}
		nearest, at := math.Inf(1), -1
		for i, k := range all {
			d := t.at.Distance(k.h.At())
			if k.slot != nil {
				d = min(d, t.at.Distance(k.slot.Along(k.slot.Length())))
			}
			if d < nearest {
				nearest, at = d, i
			}
		}
		if at >= 0 && nearest <= 2*all[at].h.D && nearest < best[at] {
			best[at], all[at].h.ID = nearest, name
		}
	}
}
