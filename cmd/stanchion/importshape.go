package main

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/cad"
	"stanchion/model/carfile"
	"stanchion/model/units"
)

// closedName says which closed outline is meant, how large it is and how many holes are in it.
func closedName(c cad.Closed, u units.System) string {
	text := fmt.Sprintf("closed outline %d, %s by %s", c.Number, u.Dimension(c.Hi.X-c.Lo.X), u.Dimension(c.Hi.Z-c.Lo.Z))
	if c.Holds > 0 {
		text += ", " + units.Count(c.Holds, "hole") + " in it"
	}
	if c.Layer != "0" {
		text += ", on layer " + units.Printable(c.Layer)
	}
	return text
}

// closedText says what a closed outline was taken for, or why it was not taken.
func closedText(c cad.Closed, u units.System) string {
	why := map[cad.Role]string{
		cad.Undecided:   "not looked at, since which one is the part's is not clear",
		cad.Candidate:   fmt.Sprintf("may be the part's outline: --take %d takes it", c.Number),
		cad.PartOutline: "the part's outline",
		cad.Cutout:      "a cut-out",
		cad.Border:      "around the part, taken for a border",
		cad.Beside:      "outside of the part's outline",
		cad.Across:      "crosses or touches the part's outline",
		cad.WithHoles:   "within the part's outline and around holes, so no cut-out",
		cad.AtHole:      fmt.Sprintf("runs into the hole at %s, %s", u.DimensionFigure(c.At.X), u.DimensionFigure(c.At.Z)),
		cad.AtCutout:    fmt.Sprintf("lies in closed outline %d, a cut-out, or runs into it", c.Other),
		cad.Tangled:     "crosses or touches itself",
		cad.TooLarge:    fmt.Sprintf("too much for a car file: a part may have %d cut-outs with %d corners together", carfile.MaxCutouts, carfile.MaxCutoutPoints),
	}[c.Role]
	return closedName(c, u) + ": " + why
}

// leftOut lists the closed outlines that are not taken.
func leftOut(found cad.Found, u units.System) []string {
	const most = 40
	var all []string
	for _, c := range found.Closed {
		if c.Role != cad.PartOutline && c.Role != cad.Cutout {
			all = append(all, closedText(c, u))
		}
	}
	if more := len(all) - most; more > 1 {
		all = append(all[:most], fmt.Sprintf("and %d more closed outlines", more))
	}
	return all
}

// unclear is the fault of a drawing of which it is not clear which closed outline is the part's.
func unclear(drawn string, found cad.Found, u units.System) error {
	const most = 6
	var names, flags []string
	for _, c := range found.Closed {
		if c.Role == cad.Candidate {
			names, flags = append(names, closedName(c, u)), append(flags, fmt.Sprintf("--take %d", c.Number))
		}
	}
	if more := len(names) - most; more > 0 {
		names = append(names[:most], fmt.Sprintf("and %d more", more))
		flags = append(flags[:most], "so on")
	}
	return fmt.Errorf("%s: which closed outline is the part's is not clear: %s; look at the drawing and give %s", drawn,
		strings.Join(names, "; "), strings.Join(flags, " or "))
}

// takesOutline reports whether the outline that was found goes into the car file.
func (f *importFlags) takesOutline(p model.Part, found cad.Found) bool {
	return found.Outline != nil && (p.Outline == nil || f.replace && !sameShape(p, found))
}

// takesCutouts reports whether the cut-outs that were found do: with the outline, or where the part
// has the same one and no cut-outs yet.
func (f *importFlags) takesCutouts(p model.Part, found cad.Found) bool {
	if f.takesOutline(p, found) {
		return len(found.Cutouts)+len(p.Cutouts) > 0
	}
	return p.Cutouts == nil && found.Cutouts != nil && p.Outline != nil && cad.SameOutline(p.Outline, found.Outline)
}

// sameShape reports whether a part has the outline and the cut-outs that were found.
func sameShape(p model.Part, found cad.Found) bool {
	if p.Outline == nil || found.Outline == nil || len(p.Cutouts) != len(found.Cutouts) || !cad.SameOutline(p.Outline, found.Outline) {
		return false
	}
	for i := range p.Cutouts {
		if !slices.ContainsFunc(found.Cutouts, func(c []plane.Point) bool { return cad.SameOutline(p.Cutouts[i], c) }) {
			return false
		}
	}
	return true
}

// asDrilled is the part with the outline and the cut-outs that it will have.
func (f *importFlags) asDrilled(p model.Part, found cad.Found) model.Part {
	if f.takesOutline(p, found) {
		p.Outline, p.Cutouts = found.Outline, found.Cutouts
	}
	return p
}

// edits puts what was found into the car file.
func (f *importFlags) edits(text []byte, p model.Part, found cad.Found, moved []movedHole) ([]carfile.Edit, error) {
	var all []carfile.Edit
	add := func(e carfile.Edit, err error) error {
		all = append(all, e)
		return err
	}
	if c, spoilt := found.Spoilt(); spoilt && (f.takesOutline(p, found) || f.takesCutouts(p, found)) {
		return nil, fmt.Errorf("is not changed: closed outline %d looks like a cut-out and cannot be one, as listed; without it the part would be stronger than drawn: mend the drawing", c.Number)
	}
	if f.takesOutline(p, found) {
		if err := add(carfile.SetOutline(text, p.Name, found.Outline)); err != nil {
			return nil, err
		}
	}
	if f.takesCutouts(p, found) {
		if err := add(carfile.SetCutouts(text, p.Name, found.Cutouts)); err != nil {
			return nil, err
		}
	}
	if len(moved) > 0 {
		var to []holes.Hole
		for _, m := range moved {
			to = append(to, m.is)
		}
		edits, err := carfile.MoveHoles(text, p.Name, to)
		if err != nil {
			return nil, err
		}
		all = append(all, edits...)
	}
	if len(found.Holes)+len(found.Slots) > 0 {
		if err := add(carfile.AddHolesAndSlots(text, p.Name, found.Holes, found.Slots)); err != nil {
			return nil, err
		}
	}
	if len(all) == 0 {
		if found.Outline != nil && !sameShape(p, found) {
			return nil, errors.New("is not changed: the part has the holes and slots that were found; --outline takes outline and cut-outs in the place of its own")
		}
		return nil, errors.New("is not changed: the part has everything that was found")
	}
	slices.SortStableFunc(all, func(a, b carfile.Edit) int { return cmp.Compare(a.From, b.From) })
	return all, nil
}
