package main

import (
	"fmt"
	"slices"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/cad"
	"stanchion/model/units"
)

func importText(p *printer, found cad.Found, moved []movedHole, fresh int, part model.Part, u units.System) {
	p.f("for part %s: holes and slots that it does not have yet: %d\n", part.Name, fresh)
	for _, h := range found.Holes {
		p.f("  hole %-8s x %10s  z %10s  dia. %s\n", units.Printable(h.ID), u.Dimension(h.X), u.Dimension(h.Z), u.Dimension(h.D))
	}
	for _, s := range found.Slots {
		end := s.Along(s.Length())
		p.f("  slot %-8s x %10s  z %10s  dia. %s  to x %s, z %s\n", units.Printable(s.ID), u.Dimension(s.X), u.Dimension(s.Z),
			u.Dimension(s.D), u.Dimension(end.X), u.Dimension(end.Z))
	}
	movedText(p, moved, u)
	shape := func(what string, corners []plane.Point) {
		lo, hi := plane.Box(corners)
		p.f("  %s %d corners, %s by %s, from x %s, z %s\n", what, len(corners), u.Dimension(hi.X-lo.X), u.Dimension(hi.Z-lo.Z),
			u.Dimension(lo.X), u.Dimension(lo.Z))
	}
	if found.Outline != nil {
		which := slices.IndexFunc(found.Closed, func(c cad.Closed) bool { return c.Role == cad.PartOutline })
		shape(fmt.Sprintf("outline: closed outline %d,", which+1), found.Outline)
		p.f("  cut-outs in it: %d\n", len(found.Cutouts))
		for _, c := range found.Cutouts {
			shape("  cut-out:", c)
		}
	}
	for _, n := range found.Notes {
		p.f("note: %s\n", units.Printable(n))
	}
	for _, i := range append(leftOut(found, u), found.Ignored...) {
		p.f("not taken: %s\n", units.Printable(i))
	}
}

type importJSON struct {
	Holes   []importedJSON `json:"holes"`
	Moved   []movedJSON    `json:"moved"`
	Outline [][]*float64   `json:"outline_mm"`
	Cutouts [][][]*float64 `json:"cutouts_mm"`
	Ignored []string       `json:"ignored"`
	Notes   []string       `json:"notes"`
}

// importedJSON is a hole or, with an end or an arc, a slot.
type importedJSON struct {
	ID      string   `json:"id"`
	X       *float64 `json:"x_mm"`
	Z       *float64 `json:"z_mm"`
	D       *float64 `json:"d_mm"`
	Joint   string   `json:"joint,omitempty"`
	ToX     *float64 `json:"to_x_mm,omitempty"`
	ToZ     *float64 `json:"to_z_mm,omitempty"`
	ArcX    *float64 `json:"arc_x_mm,omitempty"`
	ArcZ    *float64 `json:"arc_z_mm,omitempty"`
	ArcTurn *float64 `json:"arc_turn_deg,omitempty"`
}

// movedJSON is a hole of the part that was measured anew.
type movedJSON struct {
	ID   string   `json:"id"`
	WasX *float64 `json:"was_x_mm"`
	WasZ *float64 `json:"was_z_mm"`
	WasD *float64 `json:"was_d_mm"`
	X    *float64 `json:"x_mm"`
	Z    *float64 `json:"z_mm"`
	D    *float64 `json:"d_mm"`
}

func importOut(found cad.Found, moved []movedHole) importJSON {
	o := importJSON{Holes: []importedJSON{}, Moved: []movedJSON{}, Outline: [][]*float64{}, Cutouts: [][][]*float64{},
		Ignored: append(append([]string{}, leftOut(found, units.Metric)...), found.Ignored...),
		Notes:   append([]string{}, found.Notes...)}
	one := func(h holes.Hole) importedJSON {
		return importedJSON{ID: h.ID, X: figure(h.X, 4), Z: figure(h.Z, 4), D: figure(h.D, 4), Joint: h.Joint}
	}
	for _, h := range found.Holes {
		o.Holes = append(o.Holes, one(h))
	}
	for _, m := range moved {
		o.Moved = append(o.Moved, movedJSON{m.was.ID, figure(m.was.X, 4), figure(m.was.Z, 4), figure(m.was.D, 4), figure(m.is.X, 4), figure(m.is.Z, 4),
			figure(m.is.D, 4)})
	}
	for _, s := range found.Slots {
		j := one(s.Hole)
		if s.Turn != 0 {
			j.ArcX, j.ArcZ, j.ArcTurn = figure(s.Centre.X, 4), figure(s.Centre.Z, 4), figure(s.Turn/plane.Deg, 5)
		} else {
			j.ToX, j.ToZ = figure(s.To.X, 4), figure(s.To.Z, 4)
		}
		o.Holes = append(o.Holes, j)
	}
	shape := func(corners []plane.Point) [][]*float64 {
		all := [][]*float64{}
		for _, p := range corners {
			all = append(all, []*float64{figure(p.X, 4), figure(p.Z, 4)})
		}
		return all
	}
	o.Outline = shape(found.Outline)
	for _, c := range found.Cutouts {
		o.Cutouts = append(o.Cutouts, shape(c))
	}
	return o
}
