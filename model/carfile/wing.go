package carfile

import (
	"fmt"
	"path/filepath"
	"strings"

	"stanchion/aero"
	"stanchion/model"
)

// wing takes the wing, and the file it names.
func (r *reader) wing(root *table, c *model.Car, open Open) {
	t := r.must(root, "wing")
	if t == nil {
		return
	}
	w := &c.Wing
	w.Span = t.number("span", t.lengths(), positive)
	w.Chord = t.number("chord", t.lengths(), positive)
	w.TipChord = t.optional("tip_chord", t.lengths(), positive, 0)
	w.Twist = t.optional("twist", degrees, between(-15, 15), 0)
	w.Mass = t.maybe("mass", t.masses(), positive)
	r.plate(t, c)
	var given []string
	for _, key := range []string{"section", "coordinates", "polar", "table"} {
		s := t.text(key, false, sources[key])
		if key == "section" {
			t.noteExamples(key, append([]string{"naca 4412", "naca 6412"}, aero.PublishedNames()...)...)
		}
		if s != "" {
			given = append(given, key)
			w.Source = s
			r.source(t, w, key, s, open)
		} else if t.has(key) {
			given = append(given, key) // there, with a fault of its own
		}
	}
	switch {
	case len(given) == 0:
		t.missing("section", "give one of section, coordinates, polar and table")
	case len(given) > 1:
		t.fault(given[1], "both %s and %s are given", "give one of section, coordinates, polar and table", given[0], given[1])
	}
	r.trim(t, c)
	if !t.has("coordinates") {
		if r.reading(t); t.has("coordinates_reading") {
			t.fault("coordinates_reading", "coordinates_reading without coordinates", "remove it, or give coordinates")
		}
	}
	t.known = append(t.known, "coordinates_reading")
	t.close()
	if w.Shape == nil {
		c.Assumed = append(c.Assumed, model.Assumption{What: "thickness of the section", Value: "12 % of the chord",
			Note: "decides the picture and, by some mm, the highest point"})
	}
	if k := w.Table; k != nil && !k.HasMoment() {
		c.Assumed = append(c.Assumed, model.Assumption{What: "pitching moment of the wing", Value: "0",
			Note: "the table has no column cm; axle changes are off by a few N"})
	}
	if w.Polar != nil && !w.Polar.HasMoment() {
		c.Assumed = append(c.Assumed, model.Assumption{What: "pitching moment of the section", Value: "0",
			Note: "the polar has no column cm; axle changes are off by a few N"})
	}
}

// trim takes what is on the section: its surface and a strip at its trailing edge.
func (r *reader) trim(t *table, c *model.Car) {
	w := &c.Wing
	w.Gurney = t.maybe("gurney", t.lengths(), rule{func(x float64) bool { return x >= 0 }, "0 for none, or more", from(0)})
	if g, ok := w.Gurney.Get(); ok && w.Chord > 0 && g > float64(aero.TallestGurney)*w.Chord {
		t.fault("gurney", "gurney is %s, %.1f %% of the chord", fmt.Sprintf("tests reach %.0f %%: give at most %s",
			100*aero.TallestGurney, c.System().Fine(float64(aero.TallestGurney)*w.Chord)), c.System().Fine(g), 100*g/w.Chord)
	}
	const surfaces = `"clean", "used" or "dirty"`
	text := t.text("surface", false, surfaces)
	t.noteTexts("surface", "clean", "used", "dirty")
	if text != "" {
		var err error
		if w.Surface, err = aero.ParseSurface(text); err != nil {
			t.fault("surface", "surface is %q", "it must be "+surfaces, text)
		}
		w.SurfaceGiven = true
	}
	for _, key := range []string{"gurney", "surface"} {
		if t.has("table") && t.has(key) {
			t.fault(key, "%s beside a table of the whole wing", "remove it: the table has the wing as it was measured", key)
		}
	}
	if !t.has("surface") && !t.has("table") && !t.has("polar") {
		c.Assumed = append(c.Assumed, model.Assumption{What: "surface of the wing", Value: "used",
			Note: "between clean and dirty; surface = \"clean\" for a polished wing"})
	}
	for _, key := range []string{"flap", "elements", "slot", "second_element", "main_plane"} {
		if t.has(key) {
			t.known = append(t.known, key)
			t.fault(key, "%s: a wing of more than one element cannot be worked out from its sections",
				"give table = \"file.csv\", the whole wing's curve from its maker, a tunnel or a computation", key)
		}
	}
}

var sources = map[string]string{
	"section":     `a section's name, "naca 6412"`,
	"coordinates": "the name of a file with the section's outline",
	"polar":       "the name of a file with the section's curve",
	"table":       "the name of a file with the whole wing's curve",
}

// source reads what says how much lift the wing makes.
func (r *reader) source(t *table, w *model.Wing, key, name string, open Open) {
	if key == "section" {
		r.named(t, w, name)
		return
	}
	data, err := open(name)
	if err != nil {
		t.fault(key, "%s %q cannot be read (%v)", "name a file that can be read", key, name, plainError(err))
		return
	}
	w.File = name
	beside := name
	if r.dir != "" && r.dir != "." && !filepath.IsAbs(name) {
		beside = filepath.Join(r.dir, filepath.FromSlash(name))
	}
	if key == "coordinates" {
		r.coordinates(t, w, beside, data)
		return
	}
	curve, faults := ReadCurve(beside, data)
	r.faults = append(r.faults, faults...)
	if len(faults) > 0 {
		return
	}
	r.warnings = append(r.warnings, rough(beside, curve)...)
	if key == "polar" {
		w.Polar = &curve
	} else {
		w.Table = &curve
	}
}

// named takes a section by its name: of the NACA, or one that is published here.
func (r *reader) named(t *table, w *model.Wing, name string) {
	n, err := aero.ParseNaca(name)
	if err == nil {
		w.Section, w.Shape = "naca "+n.Code, n.Outline(80)
		return
	}
	if _, ok := aero.Lookup(name, 1e6); ok {
		w.Section = name
		return
	}
	if strings.HasPrefix(strings.ToLower(name), "naca") {
		t.fault("section", "%v", "", err)
		return
	}
	t.fault("section", "section %q is not known here",
		"use \"naca\" with four or five digits, or one of "+strings.Join(aero.PublishedNames(), ", ")+"; or give coordinates or a polar", name)
}

// plate takes the end plates.
func (r *reader) plate(t *table, c *model.Car) {
	e := t.child("end_plate", "end_plate")
	if e == nil {
		return
	}
	p := &c.Wing.Plate
	p.Length = e.number("length", e.lengths(), positive)
	p.Height = e.number("height", e.lengths(), positive)
	p.Ahead = e.optional("ahead", e.lengths(), anything, (p.Length-c.Wing.Chord)/2)
	p.Above = e.optional("above", e.lengths(), anything, 0)
	if !e.has("ahead") || !e.has("above") {
		c.Assumed = append(c.Assumed, model.Assumption{What: "place of the end plates", Value: "middle on the middle of the chord",
			Note: "decides the highest and the rearmost point; set by end_plate ahead and above"})
	}
	e.close()
}

// plainError leaves out the path of a file error, which the fault has already.
func plainError(err error) string {
	type unwrapper interface{ Unwrap() error }
	if u, ok := err.(unwrapper); ok && u.Unwrap() != nil {
		return u.Unwrap().Error()
	}
	return fmt.Sprint(err)
}
