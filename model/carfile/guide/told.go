package guide

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model/pattern"
	"stanchion/model/units"
)

// told returns the holes of one go; before are those told before it.
func (a Answers) told(part, g int, how string, before []spot, u units.System) (all []spot, err error) {
	get := func(what string) string { return a[key(part+1, g, what)] }
	d := a.diameter(part, u)
	names := &namer{taken: before}
	put := func(id string, at plane.Point) {
		all = append(all, spot{Hole: holes.Hole{ID: id, X: at.X, Z: at.Z, D: d, Joint: a.joint(part, g)}})
	}
	span := func(what string) (x float64) {
		if err == nil {
			if get(what) == "" {
				err = errMissing
			} else {
				x, err = readSpan(get(what), d, u)
			}
		}
		return x
	}
	at := func(what string) (p plane.Point) {
		if err == nil && len(before) > 0 {
			if get(what) == "" {
				err = errMissing
			} else if p, err = readPlace(get(what), d, u); err == nil {
				p = before[0].At().Add(p)
			}
		}
		return p
	}
	// pivot returns the pivot's place and name, putting a hole there unless there is one.
	pivot := func() (p plane.Point, name string) {
		for _, s := range before {
			if s.ID == strings.TrimSpace(get("pivot")) {
				return s.At(), s.ID
			}
		}
		if p, name = at("pivot"), names.letter(); err == nil {
			put(name, p)
		}
		return p, name
	}
	angles := func(radius float64) (list []float64) {
		if err == nil {
			if get("angles") == "" {
				err = errMissing
				return nil
			}
			list, err = arcAngles(get("angles"), radius, d, u)
			for i := range list {
				list[i] *= plane.Deg
			}
		}
		return list
	}
	switch how {
	case byRows:
		rows, _ := whichRows(get("rows"), maxRows)
		columns, _ := whichRows(get("columns"), maxRows)
		if rows == nil || columns == nil {
			return nil, errMissing
		}
		if n := len(rows) * len(columns); n > maxGrid {
			return nil, fmt.Errorf("%d holes; enter at most %d at once", n, maxGrid)
		}
		up, along := 0.0, 0.0
		if len(rows) > 1 {
			up = span("up")
		}
		if len(columns) > 1 {
			along = span("along")
		}
		from, prefix := at("at"), a.prefix(part, g, names)
		if err != nil {
			return nil, err
		}
		for _, z := range rowPlaces(rows, up) {
			for _, x := range rowPlaces(columns, along) {
				put(names.next(prefix), from.Add(plane.Point{X: x, Z: z}))
			}
		}
	case byPlaces:
		if get("places") == "" {
			return nil, errMissing
		}
		list, wrong := readPlaces(get("places"), d, u)
		if wrong != nil {
			return nil, wrong
		}
		shift := list[0].at.Times(-1) // the first is the part's origin
		if len(before) > 0 {
			shift = before[0].At()
			for _, h := range list {
				for _, s := range before {
					if s.ID == h.id {
						shift = s.At().Sub(h.at)
					}
				}
			}
		}
		for _, h := range list {
			if slices.ContainsFunc(before, func(s spot) bool { return s.ID == h.id }) {
				continue
			}
			put(h.id, h.at.Add(shift))
			all[len(all)-1].D = h.d
		}
	case byArc:
		p, name := pivot()
		radius := span("radius")
		list := angles(radius)
		if err != nil {
			return nil, err
		}
		for _, q := range pattern.Arc(p, radius, list) {
			put(names.next(name), q)
		}
	case bySlot:
		from, long, turn := at("at"), get("long"), get("turn")
		if err != nil || long == "" || turn == "" {
			return nil, errMissing
		}
		length, wrong := readSpan(long, d, u) // outer is over all: less one width
		angle, bad := units.Angles.Parse(turn, "deg")
		if wrong != nil || bad != nil {
			return nil, errors.Join(wrong, bad)
		}
		put(names.next("S"), from)
		sin, cos := math.Sincos(angle)
		all[0].slot = &holes.Slot{Hole: all[0].Hole, To: from.Add(plane.Point{X: length * cos, Z: length * sin}), Step: slotStep}
	case byArcSlot:
		p, _ := pivot()
		radius := span("radius")
		list := angles(radius)
		if err != nil {
			return nil, err
		}
		if len(list) != 2 || list[0] == list[1] {
			return nil, fmt.Errorf("%s; give the angles of its two ends, such as 0 12", get("angles"))
		}
		put(names.next("S"), pattern.Arc(p, radius, list[:1])[0])
		last := &all[len(all)-1]
		last.slot = &holes.Slot{Hole: last.Hole, Centre: p, Turn: list[1] - list[0], Step: slotStep}
	case byDistances:
		return a.byDistances(part, g, before, u)
	case byDrawing:
		return kept(get("drawing.holes"), a.joint(part, g))
	}
	return all, err
}

// maxRows is how many rows or columns a pattern may have.
const maxRows = 40

// maxGrid is how many holes rows and columns may have.
const maxGrid = 200

// slotStep is the largest distance of the places that are looked at in a slot, mm: that of car
// files which say nothing.
const slotStep = 2.0

// kept reads the holes of a drawing that was read already, as spot.text spells them.
func kept(text, joint string) (all []spot, err error) {
	for _, line := range pattern.Items(text) {
		w := strings.Fields(line)
		if len(w) < 4 {
			return nil, errMissing
		}
		n := make([]float64, len(w))
		for i := range w {
			n[i], _ = strconv.ParseFloat(w[i], 64)
		}
		s := spot{Hole: holes.Hole{ID: w[0], X: n[1], Z: n[2], D: n[3], Joint: joint}}
		switch {
		case len(w) == 7 && w[4] == "to":
			s.slot = &holes.Slot{Hole: s.Hole, To: plane.Point{X: n[5], Z: n[6]}, Step: slotStep}
		case len(w) == 8 && w[4] == "arc":
			s.slot = &holes.Slot{Hole: s.Hole, Centre: plane.Point{X: n[5], Z: n[6]}, Turn: n[7] * plane.Deg, Step: slotStep}
		}
		all = append(all, s)
	}
	if len(all) == 0 {
		return nil, errMissing
	}
	return all, nil
}
