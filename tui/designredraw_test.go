package tui

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"stanchion/holes"
	"stanchion/model"
	"stanchion/model/carfile"
	"stanchion/model/design"
	"stanchion/tui/widgets"
)

// reworking returns the explorer with the first proposal open to be reworked.
func reworking(t testing.TB, w, h int) Model {
	t.Helper()
	return keys(t, proposing(t, w, h), "#")
}

// onHole chooses a hole by its name.
func onHole(t testing.TB, m Model, id string) Model {
	t.Helper()
	for range 40 {
		if d := as[redrawMode](m); d.hole().ID == id {
			return m
		}
		m = keys(t, m, "n")
	}
	t.Fatalf("no hole %s", id)
	return m
}

func TestGoldenRework(t *testing.T) {
	for _, s := range sizes {
		m := keys(t, onHole(t, reworking(t, s.w, s.h), "F1"), " ", "n", "right", "right", "+", "+")
		golden(t, "rework-"+s.name, m)
	}
	golden(t, "rework-arc", keys(t, onHole(t, reworking(t, 80, 24), "R1"), "tab", "s", "up", "up"))
	golden(t, "rework-ascii", keys(t, onHole(t, reworking(t, 80, 24).With(widgets.ASCII), "k1"), "down"))
	golden(t, "rework-type", keys(t, onHole(t, reworking(t, 80, 24), "R1"), "x"))
	golden(t, "rework-kept", keys(t, onHole(t, reworking(t, 80, 24), "R1"), "up", " ", "enter"))
}

// A hole moves by its arrows, what follows is that of the moved plate, and undo takes back a run of arrows at once.
func TestMoveAHole(t *testing.T) {
	m := onHole(t, reworking(t, 120, 40), "R1")
	was := as[redrawMode](m).hole().At()
	m = keys(t, m, "right", "right", "up")
	d := as[redrawMode](m)
	if at := d.hole().At(); math.Abs(at.X-was.X-1) > 1e-9 || math.Abs(at.Z-was.Z-0.5) > 1e-9 {
		t.Errorf("from %v to %v, want 1, 0.5 further", was, at)
	}
	if d.one.Plate().Holes[d.at].At() != d.hole().At() || d.asked != 0 || !strings.Contains(ansi.Strip(m.View()), "moved by +1.00, +0.50 mm") {
		t.Errorf("what follows is of another place:\n%s", m.View())
	}
	if m = keys(t, m, "s", "left"); math.Abs(as[redrawMode](m).hole().X-was.X+4) > 1e-9 {
		t.Error("s does not change the step to 5 mm")
	}
	if !strings.Contains(m.View(), "NO LONGER GIVES WHAT IS WANTED") || !strings.Contains(m.View(), "LOST") || !strings.Contains(m.View(), "no longer go") {
		t.Errorf("what is lost is not told:\n%s", m.View())
	}
	if m = keys(t, m, "U"); as[redrawMode](m).hole().At() != was || as[redrawMode](m).changed() {
		t.Errorf("undone to %v", as[redrawMode](m).hole().At())
	}
	if m = keys(t, m, "ctrl+r"); math.Abs(as[redrawMode](m).hole().X-was.X+4) > 1e-9 {
		t.Error("not redone")
	}
	if m = keys(t, m, "esc"); !isOpen[redrawMode](m) || !strings.Contains(m.message, "esc again") {
		t.Error("one esc drops what is changed")
	}
	if m = keys(t, m, "esc"); !isOpen[plateMode](m) || m.plates.found != designed(t) {
		t.Error("esc does not go back to the proposals as they were")
	}
}

// Along the arc about a front hole a rear hole stays at the spacing of the wing's bolts, and its setting at its bolts.
func TestMoveAlongTheArc(t *testing.T) {
	m := keys(t, onHole(t, reworking(t, 80, 24), "R1"), "tab")
	d := as[redrawMode](m)
	if d.about < 0 || d.from.RoleOf(d.about) != design.AtFront {
		t.Fatalf("about %d: %q", d.about, m.message)
	}
	m = keys(t, m, "up", "up", "up", "up")
	d = as[redrawMode](m)
	if off := d.hole().At().Distance(d.drawn.holes[d.about].At()) - d.from.Pitch; math.Abs(off) > 0.02 {
		t.Errorf("%v mm off the arc", off)
	}
	if d.hole().Z <= d.from.Plate().Holes[d.at].Z {
		t.Error("up goes down")
	}
	m = keys(t, onHole(t, m, "k1"), "tab")
	if as[redrawMode](m).about >= 0 || !strings.Contains(m.message, "no arc") {
		t.Errorf("a hole of the foot: %q", m.message)
	}
}

// Places, holes and edges can be typed; what is wrong stays in the line.
func TestTypeAPlace(t *testing.T) {
	type1 := func(m Model, text string) Model {
		m = keys(t, m, "x")
		return keys(t, send(m, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(text), Paste: true}), "enter")
	}
	m := type1(reworking(t, 80, 24), "R2")
	if d := as[redrawMode](m); d.hole().ID != "R2" {
		t.Errorf("took %s", d.hole().ID)
	}
	m = type1(m, "210.5, 480mm")
	if h := as[redrawMode](m).hole(); h.X != 210.5 || h.Z != 480 {
		t.Errorf("at %v", h.At())
	}
	m = type1(m, "edge 30")
	d := as[redrawMode](m)
	if e, _ := d.one.Plate().EdgeDistance(d.one.Plate().Holes[d.at].At()); d.drawn.edges["R2"] != 30 || e < 29.5 {
		t.Errorf("edge %v drawn, %v mm there", d.drawn.edges, e)
	}
	for _, text := range []string{"furlongs", "1", "edge 500", "1,2,3", "99999,0"} {
		if bad := type1(m, text); !isOpen[promptMode](bad) || as[promptMode](bad).fault == "" || as[promptMode](bad).input.Value() != text {
			t.Errorf("%q is taken", text)
		}
	}
}

// The outline moves at one hole, or at all; less than the least edge distance is told.
func TestMoveAnEdge(t *testing.T) {
	m := onHole(t, reworking(t, 120, 40), "k1")
	area := as[redrawMode](m).one.Area
	m = keys(t, m, "s", "+")
	d := as[redrawMode](m)
	if len(d.drawn.edges) != 1 || math.Abs(d.drawn.edges["k1"]-21.8) > 1e-9 || d.one.Area <= area { // 2 x 8.4 and 5 mm
		t.Errorf("edges %v, area %v, was %v", d.drawn.edges, d.one.Area, area)
	}
	m = keys(t, m, "E", "-", "-", "-")
	d = as[redrawMode](m)
	if len(d.drawn.edges) != len(d.drawn.holes) || !strings.Contains(m.View(), "TOO LITTLE") { // 16.8, 11.8, then 6.8 of at least 10.1
		t.Errorf("edges %v:\n%s", d.drawn.edges, m.View())
	}
	for range 5 {
		m = keys(t, m, "-")
	}
	if e := as[redrawMode](m).drawn.edges["k1"]; math.Abs(e-6.2) > 1e-9 { // 8.4/2 and 2 mm
		t.Errorf("an edge %v mm from a hole of 8.4", e)
	}
}

// What is kept takes the proposal's place in the list and in the walk, and is what is written.
func TestReworkedIsWritten(t *testing.T) {
	names, all, err := carfile.DemoFiles("coupe")
	if err != nil {
		t.Fatal(err)
	}
	m := keys(t, proposing(t, 80, 24), "enter", "#")
	if !isOpen[redrawMode](m) || m.proposed == nil {
		t.Fatal("# does not open it while walking")
	}
	m = keys(t, onHole(t, m, "R1"), "right", "up", "+", "enter")
	if !m.walking() || m.proposed == nil || m.working || m.car != m.plates.found.Proposals[0].Car || !strings.Contains(firstLine(m), "not saved") {
		t.Fatalf("not walked through:\n%s", m.View())
	}
	shown := m.car.Parts[1]
	var made string
	back := *m.proposed.back
	back.src.Text = func() ([]byte, error) { return all[names[0]], nil }
	back.src.Guide = func(name string, text []byte) (Source, error) {
		made = string(text)
		return Source{Name: name}, nil
	}
	m.proposed.back = &back
	m = keys(t, m, "W", "enter")
	car, err := carfile.Parse("x.toml", []byte(made), nil)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(car.Parts[1].Holes, shown.Holes) || !slices.Equal(car.Parts[1].Outline, shown.Outline) {
		t.Errorf("written %v\n%v\nshown %v\n%v", car.Parts[1].Holes, car.Parts[1].Outline, shown.Holes, shown.Outline)
	}
	if slices.Equal(shown.Holes, designed(t).Proposals[0].Plate().Holes) {
		t.Error("nothing was moved")
	}
	m = keys(t, m, "esc")
	if v := ansi.Strip(strings.Join(m.plateSays(0), "\n")); !isOpen[plateMode](m) || !strings.Contains(v, "Reworked by you: R1 moved by +0.50, +0.50 mm; edge drawn at R1") {
		t.Errorf("the list says:\n%s", v)
	}
	if len(m.plates.found.Proposals[0].Merits) > 0 {
		t.Error("a reworked plate is still the best at something")
	}
}

// Written from within the mode, a proposal that is still being worked out is the one that is shown.
func TestWriteFromRework(t *testing.T) {
	m := onHole(t, keys(t, proposing(t, 80, 24), "enter", "#"), "R1")
	next, cmd := m.Update(keyMsg("up"))
	next, none := next.Update(keyMsg("W"))
	m = next.(Model)
	if none != nil || !isOpen[redrawMode](m) {
		t.Fatal("it is written before it is worked out")
	}
	next, _ = m.Update(cmd())
	m = next.(Model)
	car, _, _ := m.toWrite()
	if h := as[redrawMode](onHole(t, keys(t, proposing(t, 80, 24), "enter", "#"), "R1")).hole(); !slices.ContainsFunc(car.Parts[1].Holes, func(o holes.Hole) bool { return o.ID == "R1" && o.Z == h.Z+0.5 }) {
		t.Errorf("%v would be written", car.Parts[1].Holes)
	}
}

// A hole that was added while walking is the proposal's own once it is reworked, and can be moved.
func TestAddedHolesAreReworked(t *testing.T) {
	m := keys(t, proposing(t, 80, 24), "enter", "d", "enter")
	if len(m.unsaved) != 1 {
		t.Fatalf("no hole is kept: %q", m.message)
	}
	id := m.unsaved[0].ID
	m = keys(t, onHole(t, keys(t, m, "#"), id), "up", "enter")
	if len(m.unsaved) != 0 || !hasHole(&m.base.Parts[1], id) || !hasHole(&m.car.Parts[1], id) || len(m.car.Parts[1].Holes) != len(designed(t).Proposals[0].Plate().Holes)+1 {
		t.Errorf("holes %v, added %v", m.car.Parts[1].Holes, m.unsaved)
	}
	if p := m.plates.found.Proposals[0]; p.Foot+p.Fronts+p.Rears != len(p.Plate().Holes) {
		t.Error("the hole is of no kind")
	}
}

// Locked holes do not move, stand in the form, go into the search, and stay locked in what it finds.
func TestLocks(t *testing.T) {
	m := keys(t, onHole(t, reworking(t, 80, 24), "F1"), " ", "right")
	if as[redrawMode](m).changed() || !strings.Contains(m.message, "locked") {
		t.Errorf("a locked hole moves: %q", m.message)
	}
	m = keys(t, onHole(t, m, "R2"), "up", " ", "i")
	f := as[plateForm](m)
	if got := f.form.Values()[keptLine()]; got != "F1, R2" {
		t.Fatalf("the form keeps %q", got)
	}
	moved := m.plates.found.Proposals[0].Plate()
	var asked design.Wish
	m.src.Plate = func(_ context.Context, _ *model.Car, w design.Wish, _ func(float64)) (*design.Designed, error) {
		asked = w
		d := *designed(t)
		d.Wish, d.Proposals = w, slices.Clone(d.Proposals)
		d.Proposals[0].Kept = []string{"F1", "R2"}
		return &d, nil
	}
	next, cmd := m.Update(keyMsg("enter"))
	m = send(next.(Model), cmd().(tea.BatchMsg)[0]())
	for _, h := range asked.Kept.Holes {
		if !slices.ContainsFunc(moved.Holes, func(o holes.Hole) bool { return o.ID == h.ID && o.At() == h.At() }) {
			t.Errorf("%v is kept, not as it was moved: %v", h, moved.Holes)
		}
	}
	if len(asked.Kept.Holes) != 2 || !m.lockedHole(0, "F1") || !m.lockedHole(0, "R2") {
		t.Errorf("looked with %v kept; locked %v", asked.Kept.Holes, m.plates.locks)
	}
}

// A search that finds nothing, or is stopped, leaves the proposals and the locks that were there.
func TestProposalsOutliveASearch(t *testing.T) {
	for _, stopped := range []bool{false, true} {
		m := keys(t, onHole(t, reworking(t, 80, 24), "R2"), "up", " ", "i")
		had := m.plates.found
		next, _ := m.Update(keyMsg("enter"))
		m = next.(Model)
		if stopped {
			m = send(m, keyMsg("esc"))
		} else {
			m = send(m, foundMsg{m.plates.asked, &design.Designed{Why: design.NoHead}, nil})
		}
		if !isOpen[plateForm](m) || as[plateForm](m).form.Values()[keptLine()] != "R2" || m.plates.found != had {
			t.Fatalf("stopped %v: the form keeps %q", stopped, as[plateForm](m).form.Values()[keptLine()])
		}
		if m = send(m, keyMsg("esc")); !isOpen[plateMode](m) || !m.lockedHole(0, "R2") || m.plates.asFound[0] == nil {
			t.Error("esc does not go back to the proposals that were there")
		}
	}
}

// Names of holes that are not there, a shape that there is not and a band too narrow stand beside their lines; all is all.
func TestTextLinesOfTheWish(t *testing.T) {
	for i, c := range []struct{ text, says string }{{"oval", "convex, slim or swan neck"}, {"5", "20.0 mm to 400.0 mm"}, {"high", "high"}, {"400", "both sides"},
		{"perhaps", "yes or no"}, {"A, nope", "no hole nope"}} {
		texts := make([]string, 12+i+1)
		texts[12+i] = c.text
		m := send(wished(t, opened(t, "coupe", 120, 40), texts...), keyMsg("enter"))
		if f := as[plateForm](m); f.form.At != 12+i || !strings.Contains(f.fault, c.says) {
			t.Errorf("%q: line %d, %q", c.text, f.form.At, f.fault)
		}
	}
	texts := append([]string{"1250", "", "0", "10", "5"}, make([]string, 13)...)
	texts[5], texts[12], texts[13], texts[15], texts[16], texts[17] = "0, 4, 10", "Slim", "45", "400 x 620mm", "y", "all"
	m := opened(t, "coupe", 80, 24)
	var asked design.Wish
	m.src.Plate = func(_ context.Context, _ *model.Car, w design.Wish, _ func(float64)) (*design.Designed, error) {
		asked = w
		return designed(t), nil
	}
	next, cmd := wished(t, m, texts...).Update(keyMsg("enter"))
	m = next.(Model)
	cmd().(tea.BatchMsg)[0]()
	if !asked.Slim || len(asked.Angles) != 3 || asked.Blank.W != 400 || asked.Blank.H != 620 || asked.Band != 45 || !m.plates.wish.lighten || len(asked.Kept.Holes) != len(m.base.Parts[1].Holes) {
		t.Errorf("looked for %+v, lighten %v", asked, m.plates.wish.lighten)
	}
}

// Cut-outs are worked out after what is quick, shown in list and walk, and dropped where the plate was reworked meanwhile.
func TestCutoutsInTheBackground(t *testing.T) {
	m := toldOf(t, proposing(t, 80, 24))
	m.plates.wish.lighten = true
	for n := range m.plates.told {
		m.plates.told[n].accuracy = &design.Accuracy{}
	}
	m.plates.telling = true
	if n, what := m.plates.untold(); n != 0 || what != "cut-outs" || !strings.Contains(m.View(), "cut-outs, plate 1 of") {
		t.Errorf("next is %s of %d", what, n)
	}
	with := m.plates.found.Proposals[0]
	car := *with.Car
	car.Parts = slices.Clone(car.Parts)
	with.Car, with.Lightened = &car, &design.Lightening{Before: 1.8, After: 1.5}
	msg := toldMsg{m.plates.asked, 0, plateTold{lightened: &with}, m.plates.found.Proposals[0].Table}
	got := send(m, msg)
	if got.plates.found.Proposals[0].Car != &car || designed(t).Proposals[0].Car == &car {
		t.Error("the plate with its cut-outs is not in the list")
	}
	if n, what := got.plates.untold(); n != 1 || what != "cut-outs" {
		t.Errorf("then %s of %d", what, n)
	}
	walked := keys(t, m, "enter")
	if walked = settle(t, send(walked, msg)); walked.base != &car {
		t.Error("the walk goes on without cut-outs")
	}
	reworked := keys(t, onHole(t, keys(t, m, "#"), "R1"), "up")
	reworked.plates.halted = true
	reworked = keys(t, reworked, "enter")
	if got := send(reworked, msg); got.plates.found.Proposals[0].Car == &car {
		t.Error("cut-outs of another plate are taken")
	}
	if stopped := send(m, keyMsg("x")); !stopped.plates.halted || stopped.plates.telling || !strings.Contains(stopped.message, "x goes on") {
		t.Errorf("not stopped: %q", stopped.message)
	}
}

// In words: a hole is moved and locked, what follows is told, a fact a line.
func TestReworkInWords(t *testing.T) {
	m := opened(t, "coupe", 80, 24)
	d := *designed(t)
	d.Proposals = d.Proposals[:1]
	m.src.Plate = func(context.Context, *model.Car, design.Wish, func(float64)) (*design.Designed, error) {
		return &d, nil
	}
	var out strings.Builder
	if err := Plain(m, strings.NewReader("*\n1250\n\n0\n10\n5\n.\n#\nx\nR1\nup\nspace\nenter\nesc\n"), &out); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"k1 (foot)", "R1 (wing, rear)", "moved by 0.00, +0.50", "Gives all that is wanted", "R1 locked", "Reworked by you: R1", "Locked for the next search: R1"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("%q is not said:\n%s", want, out.String())
		}
	}
}

// A click takes the hole under it.
func TestClickOnAHole(t *testing.T) {
	m := reworking(t, 120, 40)
	d := as[redrawMode](m)
	picture, _, _, _ := d.panes(m)
	s, pose, _ := d.scene(m, picture.W, picture.H-1)
	for i, h := range d.drawn.holes {
		x, y := s.cellAt(pose.Apply(h.At()))
		got := send(m, tea.MouseMsg{X: picture.X + x, Y: picture.Y + 1 + y, Action: tea.MouseActionPress, Button: tea.MouseButtonLeft})
		if at := as[redrawMode](got).at; at != i && d.drawn.holes[at].At().Distance(h.At()) > 8 {
			t.Errorf("a click on %s takes %s", h.ID, d.drawn.holes[at].ID)
		}
	}
}

// A plate whose holes are moved so far that nothing goes in says so, in the mode and in the list.
func TestNothingGoesInAnyMore(t *testing.T) {
	m := reworking(t, 80, 24)
	m.plates.halted = true
	for _, id := range []string{"F1", "F2"} {
		m = keys(t, onHole(t, m, id), "s", "s", "s", "s", "down", "down", "down", "down", "down", "down", "s", "s")
	}
	v := strings.Join(as[redrawMode](m).lines(m), "\n")
	if !strings.Contains(v, "NO LONGER GIVES") || !strings.Contains(v, "no longer go in") {
		t.Errorf("not told:\n%s", v)
	}
	m = keys(t, m, "enter")
	if !isOpen[plateMode](m) {
		t.Fatalf("not kept: %q", m.message)
	}
	v = ansi.Strip(m.View() + strings.Join(m.plateSays(0), "\n"))
	for _, want := range []string{"SHORT", "NO SETTING IS THERE"} {
		if !strings.Contains(v, want) {
			t.Errorf("%q is not said:\n%s", want, v)
		}
	}
	if !m.marked().Empty() {
		t.Errorf("%d settings are left", len(m.marked().Levels[0].Rows))
	}
	if m = keys(t, m, "enter"); m.proposed != nil || !strings.Contains(m.message, "# reworks it") {
		t.Errorf("it is walked through: %q", m.message)
	}
	if m = keys(t, m, "#", "n", "up", "esc", "esc"); !isOpen[plateMode](m) {
		t.Error("it cannot be reworked again")
	}
}
