package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/cad"
	"stanchion/model/carfile"
	"stanchion/model/clearance"
	"stanchion/model/figures"
	"stanchion/model/files"
	"stanchion/model/logbook"
	"stanchion/model/units"
)

// figuresUpTo is how many settings have their downforce worked out while a shell waits; of more only height and angle are told.
const figuresUpTo = 400

// settingWords are the settings of the car by their short names, and by their ids once what is typed begins one.
func settingWords(a asked) (named []word) {
	car, err := loadCar(a.car())
	if err != nil {
		return nil
	}
	t, beside := settingsQuickly(car, a)
	var ids []word
	for i := range t.Rows {
		for _, w := range t.Rows[i].Ways() {
			named, ids = append(named, word{t.Name(&w), beside(&t.Rows[i])}), append(ids, word{w.ID, beside(&t.Rows[i])})
		}
	}
	if begins(named, a.typed) {
		return named
	}
	return ids
}

// settingsQuickly are the settings of a car, and what to say beside each: height, angle and, unless there are many, downforce. Of many
// nothing but the place is worked out, so that the rows have no figures.
func settingsQuickly(car *model.Car, a asked) (*model.Table, func(*model.Row) string) {
	u := shown(car)
	where := func(r *model.Row) string {
		return fmt.Sprintf("%s %s°", u.Length(r.Height), units.Fixed(r.Angle/plane.Deg, 1))
	}
	none := &model.Table{Car: car}
	settings, err := car.Chain().Settings()
	if err != nil {
		return none, where
	}
	if len(settings) > figuresUpTo {
		bare := *car
		bare.Body, bare.Lid = nil, clearance.Lid{}
		places, err := bare.Positions()
		if err != nil {
			return none, where
		}
		none.Rows = make([]model.Row, len(places))
		for i := range places {
			none.Rows[i].Position = &places[i]
		}
		return none, where
	}
	speed := car.Speed
	if f := a.cmd.Flags().Lookup("speed"); f != nil {
		if v, err := chosenSpeed(car, f.Value.String()); err == nil {
			speed = v
		}
	}
	t, err := car.Map(speed)
	if err != nil {
		return none, where
	}
	return t, func(r *model.Row) string {
		text := where(r)
		if !math.IsNaN(r.Downforce) {
			text += " " + u.ForceFigure(r.Downforce) + " " + u.ForceUnit()
		}
		switch {
		case r.Stalled:
			text += ", stalled"
		case !r.Within():
			text += ", breaks a limit"
		}
		return text
	}
}

func begins(all []word, typed string) bool {
	return slices.ContainsFunc(all, func(w word) bool { return strings.HasPrefix(w.is, typed) })
}

// aSetting is a setting that is one word, as after a flag.
func aSetting(a asked) []word { return settingWords(a) }

// oneSetting is a setting that may be typed as several words.
func oneSetting(a asked) []word {
	from := 1
	if a.cmd.Name() == "explain" {
		from = 2
	}
	before := strings.Join(a.args[min(from, len(a.args)):], " ")
	if before == "" {
		return settingWords(a)
	}
	whole := a
	whole.typed = before + " " + a.typed
	var all []word
	for _, w := range settingWords(whole) {
		if rest, ok := strings.CutPrefix(w.is, before+" "); ok {
			all = append(all, word{rest, w.beside})
		}
	}
	return all
}

// moreSettings are those that are not on the line yet, each one word.
func moreSettings(a asked) []word {
	return slices.DeleteFunc(settingWords(a), func(w word) bool { return slices.Contains(a.args[1:], w.is) })
}

// figureWords are the figures as explain takes them.
func figureWords(asked) (all []word) {
	for _, f := range figures.List {
		all = append(all, word{strings.ReplaceAll(f.Name, " ", "-"), f.How})
	}
	return all
}

// partsNamed are the parts of a car, also of one whose file has other faults.
func partsNamed(a asked) []model.Part {
	if car, err := loadCar(a.car()); err == nil {
		return car.Parts
	}
	text, err := files.Read(a.car(), carfile.MaxSize)
	if err != nil {
		return nil
	}
	parts, _ := carfile.PartsOf(a.car(), text)
	return parts
}

func partWords(a asked) (all []word) {
	for _, p := range partsNamed(a) {
		all = append(all, word{p.Name, units.Count(len(p.Holes), "hole")})
	}
	return all
}

func jointWords(a asked) (all []word) {
	car, err := loadCar(a.car())
	if err != nil {
		return nil
	}
	for i, j := range car.Joints {
		all = append(all, word{j.Name, car.Parts[i].Name + " and " + car.Parts[i+1].Name})
	}
	return all
}

// holeWords are the holes of a car as "why" takes them: with their part where two parts have a hole of one name.
func holeWords(a asked) (all []word) {
	parts := partsNamed(a)
	count := map[string]int{}
	for _, p := range parts {
		for _, h := range p.Holes {
			count[h.ID]++
		}
	}
	for _, p := range parts {
		for _, h := range p.Holes {
			name := h.ID
			if count[h.ID] > 1 {
				name = p.Name + "." + h.ID
			}
			if !slices.Contains(a.args, name) {
				all = append(all, word{name, p.Name + ", " + place(h)})
			}
		}
	}
	return all
}

// holeIDWords are the holes of the part that --part names, or else of the one that carries the wing.
func holeIDWords(a asked) (all []word) {
	parts := partsNamed(a)
	if len(parts) < 2 {
		return nil
	}
	part := parts[len(parts)-2]
	if f := a.cmd.Flags().Lookup("part"); f != nil && f.Value.String() != "" {
		i := slices.IndexFunc(parts, func(p model.Part) bool { return p.Name == f.Value.String() })
		if i < 0 {
			return nil
		}
		part = parts[i]
	}
	for _, h := range part.Holes {
		all = append(all, word{h.ID + " ", place(h)})
	}
	return all
}

// keptWords are the holes of the part below the wing.
func keptWords(a asked) []word {
	all := holeIDWords(a)
	for i := range all {
		all[i].is = strings.TrimSpace(all[i].is)
	}
	return all
}

// place is where a hole is in its part.
func place(h holes.Hole) string {
	return fmt.Sprintf("x %s, z %s, %s wide", units.Fixed(h.X, 1), units.Fixed(h.Z, 1), units.Metric.Dimension(h.D))
}

// notesOf are the notes beside a car file; a demo car has none.
func notesOf(a asked) []logbook.Note {
	if _, demo := demoName(a.car()); demo || a.car() == "" {
		return nil
	}
	b, err := logbook.Read(logbook.PathFor(a.car()))
	if err != nil {
		return nil
	}
	return b.InForce()
}

// noteWords are the notes, the last one first, with their date and setting.
func noteWords(a asked) (all []word) {
	notes := notesOf(a)
	if len(notes) == 0 {
		return nil
	}
	called := settingNames(a.car())
	for _, n := range slices.Backward(notes) {
		all = append(all, word{n.ID, n.At.Format("2006-01-02 15:04") + " " + called(n.Setting)})
	}
	return all
}

// dayWords are the days of notes.
func dayWords(a asked) (all []word) {
	var days []string
	count := map[string]int{}
	for _, n := range notesOf(a) {
		day := n.At.Format("2006-01-02")
		if count[day]++; count[day] == 1 {
			days = append(days, day)
		}
	}
	for _, d := range slices.Backward(days) {
		all = append(all, word{d, units.Count(count[d], "note")})
	}
	return all
}

// placeWords are the places of notes.
func placeWords(a asked) (all []word) {
	for _, n := range slices.Backward(notesOf(a)) {
		if n.Inspecting() {
			continue
		}
		if w := (word{n.Venue, "last on " + n.At.Format("2006-01-02")}); !slices.ContainsFunc(all, func(x word) bool { return x.is == w.is }) {
			all = append(all, w)
		}
	}
	return all
}

// layerWords are the layers of the drawing that is imported; those of a list are put behind the ones before.
func layerWords(a asked) (all []word) {
	if len(a.args) < 2 {
		return nil
	}
	data, err := files.Read(a.args[1], cad.MaxSize)
	if err != nil {
		return nil
	}
	before := a.typed[:strings.LastIndex(a.typed, ",")+1]
	for _, l := range cad.Layers(a.args[1], data) {
		all = append(all, word{before + l.Name, units.Count(l.Entities, "element")})
	}
	return all
}
