package tui

import (
	"context"
	"errors"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/carfile"
	"stanchion/model/design"
	"stanchion/model/drill"
	"stanchion/model/given"
	"stanchion/model/strength"
	"stanchion/tui/widgets"
)

// smallWish is a wish that is searched for in less than a second.
var smallWish = design.Wish{Heights: []float64{1250}, HeightWithin: 10, High: 10 * plane.Deg, Step: 5 * plane.Deg, EndWithin: 0.5 * plane.Deg, FootBolts: 4, BehindWithin: 20}

// designedOnce are plates for it, searched for once for all tests.
var designedOnce = sync.OnceValues(func() (*design.Designed, error) {
	car, err := carfile.Demo("coupe")
	if err != nil {
		return nil, err
	}
	return design.Design(context.Background(), car, smallWish, nil)
})

func designed(t testing.TB) *design.Designed {
	t.Helper()
	d, err := designedOnce()
	if err != nil || len(d.Proposals) < 2 {
		t.Fatalf("%v, %v", d, err)
	}
	return d
}

// proposing returns the explorer of the demo with plates proposed, of which nothing is told yet that takes longer.
func proposing(t testing.TB, w, h int) Model {
	t.Helper()
	d := designed(t)
	m := opened(t, "coupe", w, h)
	m.src.Plate = func(context.Context, *model.Car, design.Wish, func(float64)) (*design.Designed, error) { return d, nil }
	m = send(keys(t, m, "*"), keyMsg("enter"))
	return send(m, foundMsg{m.plates.asked, d, nil})
}

// toldOf is a proposal of which all is told, in figures that are the same on every machine.
func toldOf(t testing.TB, m Model) Model {
	t.Helper()
	for n := range m.plates.told[:2] {
		a := design.Accuracy{Off: 0.3, Fit: 0.97 - float64(n)/2, Least: 0.97, Row: 0, Angle: 0.17 * plane.Deg, Apart: 0.24 * plane.Deg, Saves: given.Is(0.2)}
		h := plateHolds{[]strength.Verdict{strength.Passes, strength.DoesNotHold}[n], []string{"49 % used", "DOES NOT HOLD"}[n], "Strength as the test has it"}
		m = send(m, toldMsg{m.plates.asked, n, plateTold{accuracy: &a, holds: &h}, nil})
	}
	return m
}

func TestGoldenPlates(t *testing.T) {
	for _, s := range sizes {
		golden(t, "plates-form-"+s.name, keys(t, opened(t, "coupe", s.w, s.h), "*"))
		golden(t, "plates-"+s.name, toldOf(t, proposing(t, s.w, s.h)))
	}
	golden(t, "plates-picture", keys(t, proposing(t, 80, 24), "down", "z"))
	golden(t, "plates-ascii", keys(t, toldOf(t, proposing(t, 80, 24)).With(widgets.ASCII), "down"))
	golden(t, "plates-imperial", keys(t, opened(t, "coupe", 80, 24), "u", "*", "down", "down"))
	m := send(keys(t, opened(t, "coupe", 80, 24), "*"), keyMsg("enter"))
	golden(t, "plates-search", send(m, partMsg{m.plates.asked, 0.4, nil}))
	golden(t, "plates-walk-80x24", keys(t, proposing(t, 80, 24), "enter"))
	golden(t, "plates-walk-120x40", keys(t, proposing(t, 120, 40), "enter"))
}

// wished types texts into the lines of the form, one after the other; "" leaves a line as it is.
func wished(t testing.TB, m Model, texts ...string) Model {
	t.Helper()
	m = keys(t, m, "*")
	for i, text := range texts {
		if i > 0 {
			m = send(m, keyMsg("down"))
		}
		for _, r := range text {
			m = send(m, keyMsg(string(r)))
		}
	}
	return m
}

// The whole way by keys: wish, true search, proposals, one of them walked through and back.
func TestPlatesByKeys(t *testing.T) {
	m := opened(t, "coupe", 80, 24)
	before := m.row().ID
	form := wished(t, m, "1250", "", "0", "10", "5")
	if !strings.Contains(form.View(), "1250 mm") || !strings.Contains(form.View(), "10°") {
		t.Errorf("bare numbers are not echoed with their units:\n%s", form.View())
	}
	next, cmd := form.Update(keyMsg("enter"))
	m = next.(Model)
	if !m.plates.searching || !strings.Contains(m.View(), "trying plates") {
		t.Fatalf("no search:\n%s", m.View())
	}
	m = send(m, cmd().(tea.BatchMsg)[0]())
	w := m.plates.found.Wish
	if w.Low != 0 || math.Abs(w.High-10*plane.Deg) > 1e-9 || math.Abs(w.Step-5*plane.Deg) > 1e-9 || w.Heights[0] != 1250 || w.HeightWithin != 10 || w.FootBolts != 4 || w.Behind.Known() || w.Pitches != nil {
		t.Errorf("looked for %+v", w)
	}
	m = send(m, keyMsg("down"))
	one := m.marked()
	m = keys(t, m, "enter")
	if m.proposed == nil || m.working || len(m.table.Rows) != len(one.Table.Rows) || !strings.HasPrefix(firstLine(m), "PROPOSAL 2 of ") || !strings.Contains(firstLine(m), "not saved") {
		t.Fatalf("walked through:\n%s", m.View())
	}
	m = keys(t, m, "right", "t", "esc", "s", "esc")
	if m.proposed == nil {
		t.Error("esc leaves more than a map or a page")
	}
	if m = keys(t, m, "esc"); m.proposed != nil || !isOpen[plateMode](m) || m.plates.at != 1 {
		t.Fatal("esc does not go back to the proposals")
	}
	m = keys(t, m, "esc")
	if !m.walking() || m.row().ID != before {
		t.Error("the walk is not where it was")
	}
	if m = keys(t, m, "*"); !isOpen[plateMode](m) {
		t.Error("the proposals are gone")
	}
	if m = keys(t, m, "i"); as[plateForm](m).form.Values()[0] != "1250 mm" || as[plateForm](m).from[1] != fromPerson {
		t.Error("the wish is not what was accepted")
	}
}

// What the car has stands in the form as the car's, follows the car until it is typed over, and what is typed stays.
func TestWishIsNotThePersonsUntilAccepted(t *testing.T) {
	m := keys(t, opened(t, "coupe", 80, 24), "*")
	f := as[plateForm](m)
	for i, name := range []string{"1221, 1246, 1271, 1296, 1321, 1346, 1370 mm", "10.0 mm", "−1.7°", "10.3°", "8.0°", "", "0.5°"} {
		if got := f.form.Values()[i]; got != name || name != "" && f.from[i] == fromPerson {
			t.Errorf("line %d: %q, from %v, want %q", i, got, f.from[i], name)
		}
	}
	m = keys(t, wished(t, keys(t, m, "esc"), "1250"), "esc")
	if !strings.Contains(m.message, "stays") || !strings.Contains(m.wouldLose(), "plates") {
		t.Errorf("left with %q, would lose %q", m.message, m.wouldLose())
	}
	f = as[plateForm](keys(t, m, "*"))
	if f.form.Values()[0] != "1250 mm" || f.from[0] != fromPerson || f.from[2] != fromCar {
		t.Errorf("come back to %q, %v", f.form.Values()[0], f.from)
	}
	if look := as[plateForm](keys(t, m, "*", "down", "up", "left")); look.from[1] == fromPerson {
		t.Error("looking at a line makes it the person's")
	}
}

// A fault stands beside its line, and the form stays as it is.
func TestFaultsOfAWish(t *testing.T) {
	for _, c := range []struct {
		line int
		text string
		says string
	}{{0, "furlongs", "furlongs"}, {0, "1250, low", "low"}, {1, "x", "x"}, {2, "3mm", "mm"}, {4, "1,5", "decimal point"}, {5, "0, x", "x"}, {7, "4.5", "whole number"}, {7, "0", "whole number"}, {11, "9", "must be 0 to"}} {
		m := wished(t, opened(t, "coupe", 120, 40), append(make([]string, c.line), c.text)...)
		m = send(m, keyMsg("enter"))
		f := as[plateForm](m)
		if !isOpen[plateForm](m) || f.form.At != c.line || !strings.Contains(f.fault, c.says) || m.plates.searching {
			t.Errorf("line %d %q: at %d, %q", c.line, c.text, f.form.At, f.fault)
			continue
		}
		for _, l := range strings.Split(ansi.Strip(m.View()), "\n") {
			if strings.HasPrefix(l, "▸") && !strings.Contains(l, strings.Fields(f.fault)[0]) {
				t.Errorf("the fault %q is not beside its line: %q", f.fault, l)
			}
		}
	}
	golden(t, "plates-fault", send(wished(t, opened(t, "coupe", 80, 24), "", "", "", "", "1,5"), keyMsg("enter")))
	for what, line := range map[design.Problem]int{design.NoHeights: 0, design.TooManyHeights: 0, design.Within: 1, design.Angles: 3, design.Steps: 4, design.NamedAngles: 5, design.FootBolts: 7, design.FewBracketHoles: 7, design.BadPitch: 8, design.BadAbove: 14, design.BadBlank: 15} {
		m := send(keys(t, opened(t, "coupe", 80, 24), "*"), keyMsg("enter"))
		m = send(m, foundMsg{m.plates.asked, nil, &design.Fault{What: what}})
		if f := as[plateForm](m); f.form.At != line || f.fault == "" || strings.Contains(f.fault, "--") {
			t.Errorf("%v: line %d, %q", what, f.form.At, f.fault)
		}
	}
	for _, why := range []design.Short{design.NoFoot, design.NoHead, design.NotListed} {
		m := send(keys(t, opened(t, "coupe", 80, 24), "*"), keyMsg("enter"))
		m = send(m, foundMsg{m.plates.asked, &design.Designed{Why: why}, nil})
		if f := as[plateForm](m); f.fault == "" || strings.Contains(f.fault, "--") {
			t.Errorf("nothing found, %v: %q", why, f.fault)
		}
	}
}

// An answer to an older search is dropped, and esc stops the one that is going on.
func TestOldPlatesAreDropped(t *testing.T) {
	d := designed(t)
	m := opened(t, "coupe", 80, 24)
	m.src.Plate = func(ctx context.Context, _ *model.Car, _ design.Wish, _ func(float64)) (*design.Designed, error) {
		return d, ctx.Err()
	}
	next, first := keys(t, m, "*").Update(keyMsg("enter"))
	m = next.(Model)
	old := m.plates.asked
	m = send(m, keyMsg("esc"))
	if msg := first().(tea.BatchMsg)[0]().(foundMsg); !errors.Is(msg.err, context.Canceled) {
		t.Errorf("the search goes on after esc: %v", msg.err)
	}
	if !isOpen[plateForm](m) || m.plates.searching {
		t.Error("esc does not go back to the wish")
	}
	if m = send(m, foundMsg{old, d, nil}); m.plates.found != nil {
		t.Error("the answer of a search that was stopped is taken")
	}
	m = send(m, keyMsg("enter"))
	if m = send(m, foundMsg{old, d, nil}); m.plates.found != nil || !m.plates.searching {
		t.Error("an old answer is taken")
	}
	if m = send(m, partMsg{old, 0.9, nil}); m.plates.part != 0 {
		t.Error("an old search's progress is shown")
	}
	if m = send(m, foundMsg{m.plates.asked, d, nil}); m.plates.found != d {
		t.Fatal("the answer is not taken")
	}
	if m = send(m, toldMsg{old, 0, plateTold{accuracy: &design.Accuracy{}}, nil}); m.plates.told[0].accuracy != nil {
		t.Error("what an old search's plates are like is taken")
	}
}

// A plate whose settings all break a limit says so before what it is the best at; one that keeps some does not.
func TestUselessPlatesSaySo(t *testing.T) {
	m := proposing(t, 80, 24)
	if strings.Contains(m.View(), "EVERY SETTING") {
		t.Error("a plate with settings in the limits is called useless")
	}
	d := *m.plates.found
	d.Proposals = slices.Clone(d.Proposals)
	d.Proposals[0].Levels = slices.Clone(d.Proposals[0].Levels)
	for i := range d.Proposals[0].Levels {
		d.Proposals[0].Levels[i].Breaking = len(d.Proposals[0].Levels[i].Rows)
	}
	m.plates.found = &d
	if v := ansi.Strip(m.View()); !strings.Contains(v, "EVERY SETTING WANTED BREAKS A LIMIT") || !strings.Contains(v, "3 of 3") {
		t.Errorf("not told:\n%s", v)
	}
}

// A click marks a proposal.
func TestClickOnAPlate(t *testing.T) {
	m := proposing(t, 80, 24)
	at := len(m.plateHead()) + 2
	for n := range m.plates.found.Proposals {
		got := send(m, tea.MouseMsg{X: 10, Y: at + n, Action: tea.MouseActionPress, Button: tea.MouseButtonLeft})
		if got.plates.at != n || !strings.HasPrefix(strings.Split(ansi.Strip(got.View()), "\n")[at+n], "▸") {
			t.Errorf("a click on plate %d marks %d", n+1, got.plates.at+1)
		}
	}
	down := send(m, tea.MouseMsg{X: 60, Y: 20, Action: tea.MouseActionPress, Button: tea.MouseButtonWheelDown})
	if as[plateMode](down).scroll == 0 || down.View() == m.View() {
		t.Error("the wheel does not scroll what is said")
	}
}

// placeForAHole is a place in a part where a hole may be drilled.
func placeForAHole(t testing.TB, p *model.Part) plane.Point {
	t.Helper()
	lo, hi := plane.Box(p.Outline)
	for z := math.Ceil(lo.Z); z < hi.Z; z += 5 {
		for x := math.Ceil(lo.X); x < hi.X; x += 5 {
			if _, broken := drill.Broken(drill.HoleRules(p, holes.Hole{ID: "N1", X: x, Z: z, D: 8.4, Joint: "head"})); !broken {
				return plane.Point{X: x, Z: z}
			}
		}
	}
	t.Fatal("there is no room for a hole")
	return plane.Point{}
}

// A car whose plate has no holes yet has nothing to fill the form with: every line that must be filled asks for it.
func TestPlatesForACarWithoutHoles(t *testing.T) {
	car, err := carfile.Demo("coupe")
	if err != nil {
		t.Fatal(err)
	}
	bare := *car
	bare.Parts = append([]model.Part(nil), car.Parts...)
	bare.Parts[1].Holes = nil
	m := send(keys(t, openedCar(t, &bare, 80, 24), "*"), keyMsg("enter"))
	if f := as[plateForm](m); f.form.At != 0 || !strings.Contains(f.fault, "give it") || f.from[2] != fromPerson {
		t.Errorf("at line %d: %q", f.form.At, f.fault)
	}
	m = send(wished(t, keys(t, m, "esc"), "1250", "", "0", "10", "5"), keyMsg("enter"))
	m = send(m, foundMsg{m.plates.asked, designed(t), nil})
	if m = keys(t, m, "enter"); m.proposed == nil || m.row() == nil {
		t.Errorf("not walked through:\n%s", m.View())
	}
	if m = keys(t, m, "esc", "esc"); m.row() != nil || !m.walking() {
		t.Error("not back")
	}
}

// A proposal is written to a new file, with the holes that were added while it was walked through; a name that exists is asked for again; what
// comes from outside never reaches the terminal raw.
func TestWriteAProposal(t *testing.T) {
	names, all, err := carfile.DemoFiles("coupe")
	if err != nil {
		t.Fatal(err)
	}
	m := proposing(t, 80, 24)
	var made string
	m.src.Text = func() ([]byte, error) { return all[names[0]], nil }
	m.src.Guide = func(name string, text []byte) (Source, error) {
		if name == "there.toml" {
			return Source{}, errors.New("there.toml\x1b[2J: exists already; choose another name")
		}
		made = string(text)
		return Source{Name: name}, nil
	}
	m = keys(t, m, "W")
	if v := as[promptMode](m).input.Value(); v != "test-plate1.toml" {
		t.Errorf("offered %q", v)
	}
	for range "test-plate1.toml" {
		m = send(m, keyMsg("backspace"))
	}
	m = keys(t, send(m, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("there.toml"), Paste: true}), "enter")
	if p := as[promptMode](m); p.input.Value() != "there.toml" || !strings.Contains(p.fault, "exists already") || strings.Contains(m.View(), "\x1b[2J") {
		t.Errorf("a name that exists: %q, %q", p.input.Value(), p.fault)
	}
	m = keys(t, m, "esc", "enter")
	if !strings.Contains(m.wouldLose(), "not in a car file") {
		t.Errorf("q says %q", m.wouldLose())
	}
	place := placeForAHole(t, &m.car.Parts[1])
	m = keys(t, m, "d", "x")
	m = send(m, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(strconv.FormatFloat(place.X, 'f', 1, 64) + "," + strconv.FormatFloat(place.Z, 'f', 1, 64)), Paste: true})
	m = keys(t, m, "enter", "enter")
	if len(m.unsaved) != 1 {
		t.Fatalf("no hole is kept: %q", m.message)
	}
	m = keys(t, m, "esc")
	if !strings.Contains(m.View(), "1 hole of your own") {
		t.Errorf("the added hole is not told:\n%s", m.View())
	}
	m = keys(t, m, "enter", "W", "enter")
	if made == "" || !strings.Contains(firstLine(m), "in test-plate1.toml") || m.wouldLose() != "" {
		t.Fatalf("written:\n%s\nwould lose %q", m.View(), m.wouldLose())
	}
	car, err := carfile.Parse("test-plate1.toml", []byte(made), nil)
	if err != nil {
		t.Fatal(err)
	}
	want := designed(t).Proposals[0].Plate().Holes
	if got := car.Parts[1].Holes; len(got) != len(want)+1 || got[0].ID != want[0].ID || got[len(want)].At().Distance(place) > 0.1 {
		t.Errorf("holes written: %v", got)
	}
	m.proposed.back.src.Text = func() ([]byte, error) {
		return append([]byte("nonsense = 1\n"), all[names[0]]...), nil
	}
	if m = keys(t, m, "W", "enter"); !strings.Contains(as[promptMode](m).fault, "would have faults") {
		t.Errorf("a car file that is broken by now: %q", as[promptMode](m).fault)
	}
}

// A proposal has no notebook, no file and no commands: each of their keys says so.
func TestAProposalIsNoCar(t *testing.T) {
	m := keys(t, proposing(t, 120, 40), "enter")
	for _, k := range []string{"m", "M", "a", "@", "E", "N", "C", "L", "P", "X"} {
		if got := keys(t, m, k); !got.walking() || !strings.Contains(got.message, "not with a proposal") {
			t.Errorf("%s: %q", k, got.message)
		}
	}
	if back := keys(t, m, "*"); back.proposed != nil || !isOpen[plateMode](back) {
		t.Error("* does not go back")
	}
	if seen := send(m, seenMsg{stamp: "x", car: m.car}); seen.base != m.base || seen.working {
		t.Error("a change of the car's file changes the proposal")
	}
}

// Another car file makes the proposals those of a car that is no longer there: they are not shown for it.
func TestPlatesOfAnotherCar(t *testing.T) {
	m := keys(t, proposing(t, 80, 24), "esc")
	saloon, err := carfile.Demo("saloon")
	if err != nil {
		t.Fatal(err)
	}
	listed := settle(t, send(keys(t, m, "*"), seenMsg{stamp: "x", car: saloon}))
	if !strings.Contains(firstLine(listed), "The car file has changed since") {
		t.Errorf("plates of another car are shown as this one's: %q", firstLine(listed))
	}
	m = settle(t, send(m, seenMsg{stamp: "x", car: saloon}))
	if m = keys(t, m, "*"); isOpen[plateMode](m) {
		t.Error("plates for another car are shown")
	}
}

// In words: the wish line by line, the proposals a fact a line, one of them walked through.
func TestPlatesInWords(t *testing.T) {
	m := opened(t, "coupe", 80, 24)
	d := *designed(t)
	d.Proposals = d.Proposals[:2]
	m.src.Plate = func(context.Context, *model.Car, design.Wish, func(float64)) (*design.Designed, error) {
		return &d, nil
	}
	var out strings.Builder
	if err := Plain(m, strings.NewReader("*\n1250\n\n0\n10\n5x\n5\n\n.\n2\nenter\nesc\nesc\n"), &out); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"heights wanted, now 1221, 1246", "as it is now", "ends may fall short", "Plate 1 of", "Plate 2 of", "drilled 0.30 mm off", "% of strength used",
		"An estimate, not approval", "PROPOSAL 2 of", "not saved", "Setting row"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("%q is not said", want)
		}
	}
}
