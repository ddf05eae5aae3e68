package cad

import (
	"errors"
	"fmt"
	"math"
	"sort"
	"strings"

	"stanchion/holes"
	"stanchion/model/units"
)

// found makes holes, slots and the outline of what was gathered.
func (g *gathering) found() (Found, error) {
	f := Found{Holes: g.circles, Notes: g.notes}
	var rest []loop
	for _, l := range g.loops {
		if c, r, ok := l.round(); ok {
			f.Holes = append(f.Holes, holes.Hole{X: c.X, Z: c.Z, D: 2 * r})
		} else if !f.takeRoundly(l) && !f.takeSlot(l) {
			rest = append(rest, l)
		}
	}
	if len(f.Holes)+len(f.Slots) > maxFound {
		return Found{}, fmt.Errorf("%d holes; a part may have %d at most", len(f.Holes)+len(f.Slots), maxFound)
	}
	f.nameBy(g.texts)
	f.tidy()
	if err := f.outlines(rest, g.o.Outline); err != nil {
		return Found{}, err
	}
	var kinds []string
	for k := range g.passed {
		kinds = append(kinds, k)
	}
	sort.Strings(kinds)
	for _, k := range kinds {
		f.Ignored = append(f.Ignored, fmt.Sprintf("%d × %s", g.passed[k], k))
	}
	if len(g.texts) > 0 {
		f.Notes = append(f.Notes, "names of holes were looked for in "+units.Count(len(g.texts), "text"))
	}
	if len(f.Holes)+len(f.Slots)+len(f.Closed) == 0 {
		return f, fmt.Errorf("%w; not taken: %s", errNothing,
			strings.Join(append(f.Ignored, "nothing else is in it")[:min(5, len(f.Ignored)+1)], "; "))
	}
	return f, nil
}

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
