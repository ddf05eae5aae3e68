package tui

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/carfile"
	"stanchion/model/strength"
	"stanchion/model/units"
	"stanchion/model/words"
	"stanchion/tui/widgets"
)

var update = flag.Bool("update", false, "rewrite the golden screens")

func TestMain(m *testing.M) {
	flag.Parse()
	lipgloss.SetColorProfile(termenv.Ascii)
	os.Exit(m.Run())
}

// opened returns the explorer of a demo car with its settings worked out.
func opened(t testing.TB, demo string, w, h int) Model {
	t.Helper()
	car, err := carfile.Demo(demo)
	if err != nil {
		t.Fatal(err)
	}
	return openedCar(t, car, w, h)
}

func openedCar(t testing.TB, car *model.Car, w, h int) Model {
	t.Helper()
	src := Source{Name: "test", Load: func() (*model.Car, error) { return car, nil }}
	m := New(src, car, car.Speed, units.Metric)
	return settle(t, send(m, tea.WindowSizeMsg{Width: w, Height: h}))
}

// send passes one message.
func send(m Model, msg tea.Msg) Model {
	next, _ := m.Update(msg)
	n := next.(Model)
	if n.weak == checking { // what follows an answer by itself
		next, _ = n.Update(hold(n.asked, n.car)())
		n = next.(Model)
	}
	return n
}

// settle answers the question that the model has asked last.
func settle(t testing.TB, m Model) Model {
	t.Helper()
	if !m.working {
		return m
	}
	return send(m, solve(m.asked, m.car, nil, m.speed)())
}

// keys presses keys one by one, answering what they ask.
func keys(t testing.TB, m Model, names ...string) Model {
	t.Helper()
	for _, n := range names {
		m = gave(t, m, keyMsg(n))
	}
	return m
}

// gave passes a message and does what follows from it, one after the other, but for what waits for
// time to pass.
func gave(t testing.TB, m Model, msg tea.Msg) Model {
	t.Helper()
	next, cmd := m.Update(msg)
	return done(t, next.(Model), cmd)
}

// done does a command, and what follows from it.
func done(t testing.TB, m Model, cmd tea.Cmd) Model {
	t.Helper()
	if cmd == nil {
		return m
	}
	switch msg := cmd().(type) {
	case tea.BatchMsg:
		for _, c := range msg {
			m = done(t, m, c)
		}
	case answer:
		return gave(t, m, msg)
	}
	return m
}

// wish fills in the first fields of the form.
func wish(t testing.TB, m Model, values ...string) Model {
	t.Helper()
	m = keys(t, m, "i")
	for i, v := range values {
		if i > 0 {
			m = keys(t, m, "down")
		}
		for _, r := range v {
			m = send(m, keyMsg(string(r)))
		}
	}
	return keys(t, m, "enter")
}

func keyMsg(name string) tea.KeyMsg {
	special := map[string]tea.KeyType{
		"left": tea.KeyLeft, "right": tea.KeyRight, "up": tea.KeyUp, "down": tea.KeyDown, "enter": tea.KeyEnter,
		"esc": tea.KeyEsc, "home": tea.KeyHome, "end": tea.KeyEnd, "pgup": tea.KeyPgUp,
		"ctrl+c": tea.KeyCtrlC, "ctrl+n": tea.KeyCtrlN, "backspace": tea.KeyBackspace, "tab": tea.KeyTab, "shift+tab": tea.KeyShiftTab, "ctrl+r": tea.KeyCtrlR, "pgdown": tea.KeyPgDown,
	}
	if k, ok := special[name]; ok {
		return tea.KeyMsg{Type: k}
	}
	if name == " " {
		return tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}}
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(name)}
}

// solvedOf are the demo cars that were made ready for their strength, by what it hangs on, so that the
// plates of each setting are solved once in all tests.
var solvedOf = map[string]*strength.Analysis{}

// solvedNow is the screen with the plates of its setting solved, as it is a moment later.
func solvedNow(t *testing.T, m Model) Model {
	t.Helper()
	row := m.frameRow()
	if row == nil {
		return m
	}
	key := fmt.Sprint(m.car.Name, m.frame.Table.Speed, m.car.Fixed, m.car.Mounting)
	for _, p := range m.car.Parts {
		key += fmt.Sprint(p.Holes, p.Outline, p.Thickness)
	}
	if was, ok := solvedOf[key]; ok {
		m.frame = was
	} else {
		solvedOf[key] = m.frame
	}
	r, err := m.frame.Solve(t.Context(), row)
	if err != nil {
		t.Fatal(err)
	}
	if p, ok := in[pageMode](m); ok && p.sheet == strengthSheet {
		key += row.ID
		if helpsOf[key] == nil {
			helpsOf[key] = &helped{m.frame, row.ID, m.frame.Helps(t.Context(), r)}
		}
		m.src.Solves, m.helped = true, helpsOf[key]
	}
	m.held = &holdings{}
	return m
}

// helpsOf is what would help settings, by what it hangs on.
var helpsOf = map[string]*helped{}

// golden compares a screen with its file, and checks that it has exactly the
// size of the terminal.
func golden(t *testing.T, name string, m Model) {
	t.Helper()
	m = solvedNow(t, m)
	got := ansi.Strip(m.View())
	lines := strings.Split(got, "\n")
	if len(lines) != m.height {
		t.Errorf("%s: %d lines, the terminal has %d", name, len(lines), m.height)
	}
	for i, l := range lines {
		if w := ansi.StringWidth(l); w > m.width {
			t.Errorf("%s: line %d is %d cells wide, the terminal has %d", name, i+1, w, m.width)
		}
	}
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
	}
	got = strings.Join(lines, "\n") + "\n"
	file := filepath.Join("..", "testdata", "screens", name+".txt")
	if *update {
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatalf("%v: go test ./tui -update writes it", err)
	}
	if got != string(want) {
		t.Errorf("%s differs from %s:\n%s", name, file, got)
	}
}

// withCutouts is a demo car whose upright has two windows.
func withCutouts(t testing.TB, demo string) *model.Car {
	t.Helper()
	car, err := carfile.Demo(demo)
	if err != nil {
		t.Fatal(err)
	}
	car.Parts[1].Cutouts = [][]plane.Point{
		{{X: 0, Z: 90}, {X: 70, Z: 90}, {X: 90, Z: 230}, {X: 0, Z: 230}},
		{{X: 20, Z: 270}, {X: 100, Z: 270}, {X: 115, Z: 390}, {X: 30, Z: 390}},
	}
	return car
}

var sizes = []struct {
	name string
	w, h int
}{{"50x20", 50, 20}, {"80x24", 80, 24}, {"120x40", 120, 40}, {"200x60", 200, 60}}

func TestGoldenScreens(t *testing.T) {
	hatch, err := carfile.Load("../testdata/cars/hatch.toml")
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range sizes {
		golden(t, "start-"+s.name, opened(t, "coupe", s.w, s.h))
		golden(t, "hatch-"+s.name, openedCar(t, hatch, s.w, s.h))
		golden(t, "kept-"+s.name, keys(t, opened(t, "coupe", s.w, s.h), " ", "left", "down"))
		golden(t, "help-"+s.name, keys(t, opened(t, "coupe", s.w, s.h), "?"))
	}
	golden(t, "outside", keys(t, opened(t, "coupe", 80, 24), "G"))
	golden(t, "assumed", opened(t, "saloon", 120, 40))
	golden(t, "imperial", keys(t, opened(t, "roadster", 100, 30), "u"))
	golden(t, "whole", keys(t, opened(t, "coupe", 80, 24), "z"))
	golden(t, "uprights", keys(t, opened(t, "coupe", 80, 24), "z", "z"))
	for _, s := range sizes {
		golden(t, "map-"+s.name, keys(t, opened(t, "coupe", s.w, s.h), " ", "left", "t"))
		golden(t, "jobs-"+s.name, keys(t, opened(t, "coupe", s.w, s.h), ":", "h", "o", "l", "e"))
		golden(t, "why-"+s.name, keys(t, opened(t, "coupe", s.w, s.h), " ", "left", "y"))
	}
	golden(t, "ascii", keys(t, opened(t, "coupe", 80, 24).With(widgets.ASCII), " ", "left", "left"))
	golden(t, "blocks", opened(t, "coupe", 80, 24).With(widgets.Blocks))
	golden(t, "by-hole", keys(t, opened(t, "coupe", 80, 24), "H", "2"))
	lightened := withCutouts(t, "coupe")
	golden(t, "cutouts", keys(t, openedCar(t, lightened, 120, 40), "z", "z"))
	golden(t, "cutouts-ascii", keys(t, openedCar(t, lightened, 80, 24).With(widgets.ASCII), "z", "z"))
	golden(t, "foot", keys(t, opened(t, "coupe", 80, 24), "down"))
	golden(t, "speed", keys(t, opened(t, "coupe", 80, 24), "v", "9", "0", "m"))
	golden(t, "narrow", send(opened(t, "coupe", 80, 24), tea.WindowSizeMsg{Width: 49, Height: 10}))
	golden(t, "faults", send(opened(t, "coupe", 80, 24), seenMsg{err: errors.New("car.toml:3:1: one thing is wrong: allowed is another\ncar.toml:9:2: and one more")}))
	nothing := *hatch
	nothing.Parts = append([]model.Part(nil), hatch.Parts...)
	nothing.Parts[2].Holes = nothing.Parts[2].Holes[:1]
	for _, s := range sizes {
		golden(t, "drill-"+s.name, keys(t, opened(t, "coupe", s.w, s.h), "d"))
	}
	for _, s := range sizes {
		golden(t, "wishes-"+s.name, wish(t, opened(t, "coupe", s.w, s.h), "49.9", "0.3"))
	}
	for _, s := range sizes {
		golden(t, "reading-"+s.name, keys(t, opened(t, "coupe", s.w, s.h), "a", "8", ".", "9", "enter"))
	}
	golden(t, "empty", openedCar(t, &nothing, 80, 24))
	waiting := New(Source{}, hatch, hatch.Speed, units.Metric)
	golden(t, "waiting", send(waiting, tea.WindowSizeMsg{Width: 80, Height: 24}))
}

// Every key does something or says why not, and none of them breaks the
// screen's size, at any size: on the first demo car at all sizes, on the others at every other one, by turns; with KEYS=all at all.
func TestEveryKeyAtEverySize(t *testing.T) {
	for d, demo := range carfile.Demos() {
		m, turn := opened(t, demo, 80, 24), d
		for _, a := range keyTable() {
			for _, k := range a.keys {
				if k == "q" || k == "ctrl+c" {
					continue
				}
				m = keys(t, m, k)
				turn++
				for i, s := range [][2]int{{1, 1}, {50, 20}, {79, 24}, {80, 24}, {110, 36}, {150, 24}, {170, 45}, {250, 70}} {
					if d > 0 && (i+turn)%2 == 0 && os.Getenv("KEYS") != "all" {
						continue
					}
					v := send(m, tea.WindowSizeMsg{Width: s[0], Height: s[1]}).View()
					lines := strings.Split(v, "\n")
					if len(lines) != s[1] {
						t.Fatalf("%s after %q at %v: %d lines", demo, k, s, len(lines))
					}
					for _, l := range lines {
						if ansi.StringWidth(l) > s[0] {
							t.Fatalf("%s after %q at %v: line of %d cells", demo, k, s, ansi.StringWidth(l))
						}
					}
				}
				m = keys(t, m, "esc")
			}
		}
	}
}

// Keys that arrive together count one by one.
func TestKeysThatArriveTogether(t *testing.T) {
	m := opened(t, "roadster", 80, 24)
	m = settle(t, send(m, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("+++")}))
	// From 90 mph = 144.8 km/h to the next multiples of 5: 145, 150, 155.
	if v := m.speed / units.KPH; v < 154.99 || v > 155.01 {
		t.Errorf("speed %.2f km/h after +++, want 155", v)
	}
	pasted := send(m, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("qq"), Paste: true})
	if pasted.View() != m.View() {
		t.Error("pasted text acts as commands")
	}
}

// Walking right goes up in angle until there is none, and says so.
func TestWalkIsNeverStuck(t *testing.T) {
	m := keys(t, opened(t, "coupe", 80, 24), "g")
	last := m.row().Angle
	for range 100 {
		next := keys(t, m, "right")
		if next.current == m.current {
			if next.message == "" {
				t.Error("the end is not told")
			}
			break
		}
		if next.row().Angle <= last {
			t.Fatalf("right went from %.2f° to %.2f°", last/plane.Deg, next.row().Angle/plane.Deg)
		}
		m, last = next, next.row().Angle
	}
	for i := range m.table.Rows {
		if m.table.Rows[i].Angle > last+0.03*plane.Deg {
			t.Fatalf("walking right ended at %.2f°, row %d has %.2f°", last/plane.Deg, i, m.table.Rows[i].Angle/plane.Deg)
		}
	}
}

func TestFindAndSpeed(t *testing.T) {
	m := keys(t, opened(t, "coupe", 80, 24), "/")
	for _, r := range "C1 4" {
		m = send(m, keyMsg(string(r)))
	}
	m = keys(t, m, "enter")
	if lines := words.BoltLines(m.car, m.row().Setting); !strings.Contains(strings.Join(lines, " "), "R in C1") {
		t.Errorf("found %q", lines)
	}
	for _, row := range []struct{ text, message string }{
		{"100mph", ""}, {"fast", "is not a number"}, {"900", "must be"}, {"12knots", "has the unit"},
	} {
		n := keys(t, m, "v")
		for _, r := range row.text {
			n = send(n, keyMsg(string(r)))
		}
		n = keys(t, n, "enter")
		if row.message == "" && n.speed != 100*units.MPH || !strings.Contains(as[promptMode](n).fault, row.message) {
			t.Errorf("%q: speed %.2f m/s, fault %q", row.text, n.speed, as[promptMode](n).fault)
		}
		if row.message == "" {
			continue
		}
		if !isOpen[promptMode](n) || as[promptMode](n).input.Value() != row.text || !strings.Contains(n.View(), row.message) {
			t.Errorf("%q: after a fault the prompt is not open with the text and the fault:\n%s", row.text, n.View())
		}
		if after := keys(t, n, "m", "enter"); !isOpen[promptMode](after) {
			t.Errorf("%q: what is typed after a fault is taken for commands", row.text)
		}
	}
}

// A saved change is read again and the person stays where they were; a broken
// save leaves the last good car.
func TestWatching(t *testing.T) {
	m := keys(t, opened(t, "coupe", 80, 24), "g", "right")
	id := m.row().ID
	changed := *m.car
	changed.Name = "Changed"
	next, cmd := m.Update(seenMsg{stamp: "2", car: &changed})
	if cmd == nil {
		t.Fatal("a change asks for nothing")
	}
	n := next.(Model)
	n = send(n, solve(n.asked, &changed, nil, n.speed)())
	if n.car.Name != "Changed" || n.row().ID != id {
		t.Errorf("after a change: car %q, setting %s; want Changed, %s", n.car.Name, n.row().ID, id)
	}
	broken := send(n, seenMsg{stamp: "3", err: errors.New("car.toml:1:1: broken")})
	if broken.car.Name != "Changed" || broken.row() == nil || !strings.Contains(keys(t, broken, "e").View(), "car.toml:1:1: broken") {
		t.Error("a broken save takes the car away, or its fault is not shown")
	}
	mended := send(broken, seenMsg{stamp: "4", car: &changed})
	if len(mended.faults) != 0 {
		t.Error("a mended file still shows faults")
	}
}

// An answer to an older question does not overwrite the newer one's.
func TestOlderAnswersAreDropped(t *testing.T) {
	m := opened(t, "coupe", 80, 24)
	old := solve(m.asked, m.car, nil, m.speed)()
	m = keys(t, m, "+")
	if got := send(m, old); got.table != m.table {
		t.Error("an older answer was taken")
	}
}

// No panes overlap and none leaves the body, at any size.
func TestLayoutCoversTheScreen(t *testing.T) {
	for w := MinWidth; w < 320; w += 7 {
		for h := MinHeight; h < 90; h += 5 {
			for _, lines := range []int{7, 10, 30, 200} {
				p := layout(w, h, lines)
				seen := make([]int, w*h)
				for _, r := range []widgets.Rect{p.whole, p.head, p.foot, p.table, p.chart, p.figures, p.bolts, p.more} {
					for y := r.Y; y < r.Y+r.H; y++ {
						for x := r.X; x < r.X+r.W; x++ {
							if x < 0 || x >= w || y < 1 || y >= h-2 {
								t.Fatalf("%d×%d: pane %+v leaves the body", w, h, r)
							}
							seen[y*w+x]++
						}
					}
				}
				for _, n := range seen {
					if n > 1 {
						t.Fatalf("%d×%d: panes overlap: %+v", w, h, p)
					}
				}
			}
		}
	}
}

func BenchmarkView200x60(b *testing.B) {
	m := opened(b, "coupe", 200, 60)
	b.ReportAllocs()
	for b.Loop() {
		_ = m.View()
	}
}

// Wishes lead to the best setting, step through the rest, and name what stops
// the nearest when nothing fits; what cannot be read keeps the form open.
func TestWishes(t *testing.T) {
	m := wish(t, opened(t, "coupe", 120, 40), "49.9", "0.3")
	if len(m.hits) != 5 || m.current != m.hits[0].Row {
		t.Fatalf("%d hits, at %d", len(m.hits), m.current)
	}
	if n := keys(t, m, "]"); n.current != m.hits[1].Row || keys(t, n, "[").current != m.current {
		t.Error("] and [ do not step through the hits")
	}
	none := wish(t, opened(t, "coupe", 120, 40), "", "", "5000N")
	if len(none.hits) != 0 || !strings.Contains(none.message, "ruled out by downforce") {
		t.Errorf("message %q", none.message)
	}
	if bad := wish(t, opened(t, "coupe", 120, 40), "lots"); !isOpen[targetMode](bad) || !strings.Contains(bad.View(), "is not a number") {
		t.Error("what cannot be read closes the form")
	}
	open := keys(t, m, "i")
	for i := range as[targetMode](open).form.Fields {
		as[targetMode](open).form.Fields[i].SetValue("")
	}
	if cleared := keys(t, open, "enter"); cleared.target != nil {
		t.Error("an empty form leaves wishes")
	}
}

// Over speed: asked in the background, shown as a page, and an answer that comes
// late does not push itself in front.
func TestOverSpeed(t *testing.T) {
	m := keys(t, opened(t, "roadster", 120, 40), " ", "left")
	next, cmd := m.Update(keyMsg("o"))
	page := send(next.(Model), cmd())
	if v := page.View(); !isOpen[pageMode](page) || !strings.Contains(v, "downforce, N") || !strings.Contains(v, "A  ") || !strings.Contains(v, "B  ") {
		t.Errorf("no page over speed:\n%s", v)
	}
	busy := keys(t, next.(Model), "?")
	if late := send(busy, cmd()); late.View() != busy.View() {
		t.Error("a late answer replaces the help")
	}
}

// Whatever is open when the car file turns into one without settings, or with
// other parts, the screen stays whole.
func TestReloadWhileSomethingIsOpen(t *testing.T) {
	none := *opened(t, "saloon", 80, 24).car
	none.Parts = append([]model.Part(nil), none.Parts...)
	none.Parts[1].Holes = nil
	other := opened(t, "saloon", 80, 24).car
	for _, car := range []*model.Car{&none, other} {
		for name, open := range map[string]func(Model) Model{
			"all":    func(m Model) Model { return keys(t, m, "enter") },
			"prompt": func(m Model) Model { return keys(t, m, "a", "8") },
			"drill":  func(m Model) Model { return keys(t, m, "d") },
			"form":   func(m Model) Model { return keys(t, m, "i", "4") },
			"wishes": func(m Model) Model { return wish(t, m, "49.9") },
			"find":   func(m Model) Model { return keys(t, m, "/", "B") },
			"over": func(m Model) Model {
				next, cmd := m.Update(keyMsg("o"))
				return send(next.(Model), cmd())
			},
		} {
			m := open(opened(t, "coupe", 80, 24))
			next, _ := m.Update(seenMsg{stamp: "2", car: car})
			m = next.(Model)
			m = send(m, solve(m.asked, car, nil, m.speed)())
			for _, k := range []string{"", "enter", "up", "esc", "d", "enter", "w", "esc", "a", "5", "enter", "i", "enter", "]", "o", "x", "/", "A", "enter"} {
				if k != "" {
					m = settle(t, send(m, keyMsg(k)))
				}
				if n := len(strings.Split(m.View(), "\n")); n != 24 {
					t.Fatalf("%s, then %q: %d lines", name, k, n)
				}
			}
		}
	}
}

// A speed chosen while a changed car is still being worked out is that car's.
func TestSpeedDuringAReload(t *testing.T) {
	m := opened(t, "coupe", 80, 24)
	changed := *m.car
	changed.Name = "Changed"
	next, _ := m.Update(seenMsg{stamp: "2", car: &changed})
	next, cmd := next.(Model).Update(keyMsg("+"))
	if got := send(next.(Model), cmd()); got.car.Name != "Changed" || got.working {
		t.Errorf("car %q after a speed key in between", got.car.Name)
	}
}
