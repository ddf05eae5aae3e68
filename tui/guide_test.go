package tui

import (
	"errors"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/carfile"
	"stanchion/model/carfile/guide"
	"stanchion/model/files"
	"stanchion/model/units"
)

// plates are answers of someone who measures plates that exist, in the order of the questions. Two
// values are left open.
var plates = []string{"1", "Tin", "2480", "585", "545", "1285", "2", "M8", "4", "M8",
	"8.4", "1", "6", "2", "outer 133.4", "inner 51.6", "0", "330", "790", "?",
	"8.4", "1", "1", "2", "2", "50", "60", "3", "2", "0 420", "150", "0 to 16 by 8", "0",
	"280", "62", "16", "212", "16", "", "?", "1480", "naca 4412", "", "", "160", ""}

// madeBy is a source whose file is kept in a text.
func madeBy(name *string, text *[]byte) Source {
	return Source{Guide: func(n string, b []byte) (Source, error) {
		*name, *text = n, b
		return Source{Name: n, Load: func() (*model.Car, error) { return carfile.Parse(n, b, nil) }}, nil
	}}
}

// typeIn types an answer and enters it.
func typeIn(t *testing.T, m Model, text string) Model {
	t.Helper()
	m = send(m, tea.KeyMsg{Type: tea.KeyCtrlU})
	if text != "" {
		m = send(m, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(text)})
	}
	return send(m, keyMsg("enter"))
}

// guideSteps are questions whose screens are kept, by how many answers come before.
var guideSteps = map[int]string{0: "first", 2: "car", 12: "rows", 17: "place", 30: "arc", 35: "wing"}

// The guided start asks one thing after the other, says what is allowed beside the answer, and
// makes a sound file that it opens, with what was left open marked.
func TestGuide(t *testing.T) {
	var name string
	var text []byte
	m := opened(t, "coupe", 80, 24)
	m.src.Guide = madeBy(&name, &text).Guide
	m = keys(t, m, "N")
	for i, answer := range plates {
		if step, ok := guideSteps[i]; ok {
			for _, s := range sizes {
				golden(t, "guide-"+step+"-"+s.name, send(m, tea.WindowSizeMsg{Width: s.w, Height: s.h}))
			}
		}
		if i == 2 {
			m = typeIn(t, m, "9")
			golden(t, "guide-fault", m)
			m = send(m, tea.KeyMsg{Type: tea.KeyCtrlU})
		}
		if got := as[guideMode](m).step; got != i {
			t.Fatalf("at %d before answer %d, %q: %q", got, i, answer, as[guideMode](m).fault)
		}
		m = typeIn(t, m, answer)
	}
	for _, s := range sizes {
		golden(t, "guide-last-"+s.name, send(m, tea.WindowSizeMsg{Width: s.w, Height: s.h}))
	}
	m = keys(t, m, "up", "up")
	if !strings.Contains(m.View(), "› 160 km/h") {
		t.Errorf("going back loses what was typed:\n%s", m.View())
	}
	m = keys(t, m, "enter", "enter", "o")
	next, cmd := m.Update(keyMsg("enter"))
	m = settle(t, send(next.(Model), cmd()))
	if name != "o" || !m.walking() || m.car.Name != "Tin" || m.row() == nil {
		t.Fatalf("made %q, mode %v, car %q", name, m.open, m.car.Name)
	}
	if car, err := carfile.Parse("x", text, nil); err != nil || car.Wheelbase != 2480 || len(car.Parts[1].Holes) != 8 {
		t.Errorf("the file: %v", err)
	}
	golden(t, "guide-opened", m)
	for _, want := range []string{"angle*", "height*", "downforce*"} {
		if !strings.Contains(m.View(), want) {
			t.Errorf("no %s, though the bracket's angle and the holes are assumed:\n%s", want, m.View())
		}
	}
	if m = keys(t, m, "e"); !strings.Contains(m.View(), "2 values assumed in the file") || !strings.Contains(m.View(), "bracket's angle: 0°") {
		t.Errorf("e does not list them:\n%s", m.View())
	}
	for _, s := range sizes {
		golden(t, "assumed-page-"+s.name, send(m, tea.WindowSizeMsg{Width: s.w, Height: s.h}))
	}
}

// What is wrong with an earlier answer by the end leads back to its question.
func TestGuideLeadsBackToAFault(t *testing.T) {
	var name string
	var text []byte
	m := send(Guided(madeBy(&name, &text), units.Metric), tea.WindowSizeMsg{Width: 80, Height: 24})
	for _, answer := range plates {
		m = typeIn(t, m, answer)
	}
	g := as[guideMode](m)
	g.answers = g.answers.With("wing_rear", "70 mm")
	m = send(m.with(g), keyMsg("enter"))
	if qs := as[guideMode](m).questions(m); name != "" || qs[as[guideMode](m).step].Key != "wing_rear" || !strings.Contains(m.View(), "at least 20 mm behind") {
		t.Errorf("made %q, at:\n%s", name, m.View())
	}
	m = typeIn(t, m, "212")
	for as[guideMode](m).step < len(as[guideMode](m).questions(m)) {
		m = send(m, keyMsg("enter")) // what was typed there before stands
	}
	m.src.Guide = func(string, []byte) (Source, error) { return Source{}, errors.New("there is one") }
	next, cmd := m.Update(keyMsg("enter"))
	if m = send(next.(Model), cmd()); !strings.Contains(m.View(), "there is one") {
		t.Errorf("a file that cannot be made is not told:\n%s", m.View())
	}
}

// The road to new plates ends with the file and one line on what designs them.
func TestGuideToNewPlates(t *testing.T) {
	var name string
	var text []byte
	k := &monkey{t: t, m: Guided(madeBy(&name, &text), units.Metric)}
	k.run(k.m.Init())
	k.m.width, k.m.height = 80, 24
	for _, answer := range []string{"2", "Tin", "2480", "585", "545", "1285", "2", "M8", "4", "M8", "330", "790", "0", "0 6 12", "1200", "1450", "",
		"280", "62", "16", "212", "16", "", "8.4", "1480", "?", "", "", "160", "", "new"} {
		k.typeOut(answer)
		k.give(keyMsg("enter"))
	}
	if name != "new" || !k.left || !strings.Contains(k.m.farewell, "stanchion design new --height 1200 --angle-min 0 --angle-max 12 --step 6") || !strings.Contains(string(text), "holes = []") {
		t.Errorf("made %q, left %v, %q\n%s\n%s", name, k.left, k.m.farewell, text, k.m.View())
	}
}

// A drawing's holes are taken in the background; what cannot be read is told beside the answer.
func TestGuideReadsADrawing(t *testing.T) {
	var name string
	var text []byte
	src := madeBy(&name, &text)
	src.Open = func(n string) ([]byte, error) {
		if n != "plate.svg" {
			return nil, errors.New(n + ": cannot be read: no such file")
		}
		return []byte(`<svg width="100mm" viewBox="0 0 100 200"><circle cx="20" cy="180" r="4.2"/><circle cx="80" cy="180" r="4.2"/></svg>`), nil
	}
	k := &monkey{t: t, m: Guided(src, units.Metric)}
	k.run(k.m.Init())
	k.m.width, k.m.height = 80, 24
	for _, answer := range append(slices.Clone(plates[:11]), "7") {
		k.typeOut(answer)
		k.give(keyMsg("enter"))
	}
	k.typeOut("x.dxf")
	k.give(keyMsg("enter"))
	if !strings.Contains(k.m.View(), "x.dxf: cannot be read") {
		t.Errorf("not told:\n%s", k.m.View())
	}
	k.give(tea.KeyMsg{Type: tea.KeyCtrlU})
	k.typeOut("plate.svg")
	k.give(keyMsg("enter"))
	if !strings.Contains(k.m.View(), "drawing: 2 holes") || !strings.Contains(k.m.View(), "more holes?") {
		t.Errorf("not taken:\n%s", k.m.View())
	}
}

// A draft of the questions of before is gone on with where it still fits.
func TestOldGuideDrafts(t *testing.T) {
	path := filepath.Join(t.TempDir(), "draft")
	old := "name = \"Tin\"\nwheelbase = \"2600 mm\"\nrows = \"4\"\nangles = \"\"\npivot = \"430 mm\"\nfoot_x = \"\"\n\"the question\" = \"pivot_x\"\n\"the answer\" = \"12\"\n"
	if err := os.WriteFile(path, []byte(old), 0o600); err != nil {
		t.Fatal(err)
	}
	k := &monkey{t: t, m: Guided(Source{GuideDraft: files.NewDraft(path), Guide: func(string, []byte) (Source, error) { return Source{}, errors.New("not now") }}, units.Metric)}
	k.run(k.m.Init())
	k.m.width, k.m.height = 80, 24
	if g := as[guideMode](k.m); g.answers["wheelbase"] != "2600 mm" || g.step != 0 || g.input.Value() != "" {
		t.Errorf("goes on at %d with %q, typed %q", g.step, g.answers, g.input.Value())
	}
	for _, answer := range []string{"1", "", ""} {
		k.typeOut(answer)
		k.give(keyMsg("enter"))
	}
	if !strings.Contains(k.m.View(), "Mass on the front axle?") {
		t.Errorf("what was answered is asked again:\n%s", k.m.View())
	}
}

// The guided start works in words too, with every answer said back.
func TestPlainGuide(t *testing.T) {
	var name string
	var text []byte
	lines := slices.Clone(plates)
	lines = slices.Insert(lines, 2, "12")
	got := walked(t, Guided(madeBy(&name, &text), units.Metric), append(lines, "tin.toml", "right")...)
	if !strings.Contains(string(text), "wheelbase       = 2480") || name != "tin.toml" {
		t.Errorf("made %q:\n%s", text, got)
	}
	for _, want := range []string{"it must be 1500 to 4000 mm", "Wheelbase: 2480 mm.", "1: they exist: I measure them.", "First to last row: outer 133.4 mm, 125.0 mm between centres.",
		"2 values left open and assumed: bracket's angle: 0°; wing's hole diameter: 8.4 mm.", "Setting ", "resting on what is assumed"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in:\n%s", want, got)
		}
	}
}

// Every question has a picture that fits, with what is asked for set off.
func TestGuidePictures(t *testing.T) {
	m := send(Guided(Source{Guide: func(string, []byte) (Source, error) { return Source{}, nil }}, units.Metric), tea.WindowSizeMsg{Width: 80, Height: 24})
	marked := map[guide.Mark]bool{}
	for _, answer := range plates {
		g := as[guideMode](m)
		q := g.questions(m)[g.step]
		if view := m.View(); q.Mark != 0 {
			marked[q.Mark] = true
			if !strings.Contains(view, "◂") {
				t.Errorf("%s: nothing is set off:\n%s", q.Key, view)
			}
		}
		m = typeIn(t, m, answer)
	}
	if len(marked) < 15 {
		t.Errorf("marks seen: %v", slices.Sorted(maps.Keys(marked)))
	}
}

// coupe are the answers of someone who measures the demo coupé's plates with caliper and tape.
var coupe = []string{"1", "Measured", "2480", "585", "545", "1285", "2", "M8", "4", "M8",
	"8.4", "1", "6", "2", "outer 133.4", "inner 51.6", "0", "330", "790", "-2",
	"8.4", "1", "1", "2", "2", "outer 58.4", "60", "2", "2", "k1 22 22, A near 17.8 near 437.8, B 22 492, C 22 542, A1 172 442, A2 170.5 462.9, A3 166.2 483.3",
	"3", "2", "B", "inner 141.6", "4.0 12.0", "6", "2", "A-C1 183.1, B-C1 159.7, C-C1 150.0, k1-C1 546.2, A-C2 194.1, B-C2 166.1, C-C2 150.0, k1-C2 565.6, C1 behind, C2 behind", "0",
	"280", "62", "16", "212", "16", "", "8.4", "1480", "naca 4412", "320", "200", "6.2", "160", "255"}

// A walk through the questions with what is measured at the demo's plates, by rows, places, an arc
// and distances, gives the demo's map: angles within 0.05°, heights within 0.3 mm.
func TestGuideGivesTheDemosMap(t *testing.T) {
	var name string
	var text []byte
	m := send(Guided(madeBy(&name, &text), units.Metric), tea.WindowSizeMsg{Width: 80, Height: 24})
	for i, answer := range coupe {
		if m = typeIn(t, m, answer); as[guideMode](m).fault != "" {
			t.Fatalf("answer %d, %q: %s\n%s", i, answer, as[guideMode](m).fault, m.View())
		}
	}
	next, cmd := m.Update(keyMsg("enter"))
	m = settle(t, send(next.(Model), cmd()))
	if m.car == nil || m.table == nil {
		t.Fatalf("no map:\n%s", m.View())
	}
	demo, err := carfile.Demo("coupe")
	if err != nil {
		t.Fatal(err)
	}
	demo.RakeChange = 0
	want, err := demo.Positions()
	if err != nil {
		t.Fatal(err)
	}
	if len(m.table.Rows) != len(want) {
		t.Errorf("%d settings, want %d", len(m.table.Rows), len(want))
	}
	for _, w := range want {
		if !slices.ContainsFunc(m.table.Rows, func(r model.Row) bool {
			return math.Abs(r.Angle-w.Angle) < 0.05*plane.Deg && math.Abs(r.Height-w.Height) < 0.3
		}) {
			t.Errorf("no setting at %.2f° and %.1f mm", w.Angle/plane.Deg, w.Height)
		}
	}
}
