package tui

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/lipgloss"

	"stanchion/holes/plane"
	"stanchion/model/choose"
	"stanchion/model/figures"
	"stanchion/model/logbook"
	"stanchion/model/units"
)

// luminance is the relative luminance of a colour of the palette of 256.
// Source: W3C, Web Content Accessibility Guidelines 2.1 (2018), "relative luminance".
func luminance(t *testing.T, number string) float64 {
	t.Helper()
	n := 0
	for _, r := range number {
		if r < '0' || r > '9' {
			t.Fatalf("%q is no number of the palette", number)
		}
		n = 10*n + int(r-'0')
	}
	if n < 16 || n > 255 {
		t.Fatalf("colour %d is the terminal's own: nobody knows its contrast", n)
	}
	var rgb [3]float64
	if n >= 232 { // the greys: 8, 18 … 238
		for i := range rgb {
			rgb[i] = float64(8 + 10*(n-232))
		}
	} else { // a cube of six steps: 0, 95, 135 … 255
		steps := [6]float64{0, 95, 135, 175, 215, 255}
		rgb = [3]float64{steps[(n-16)/36], steps[(n-16)/6%6], steps[(n-16)%6]}
	}
	sum := 0.0
	for i, weight := range [3]float64{0.2126, 0.7152, 0.0722} {
		c := rgb[i] / 255
		if c <= 0.03928 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		sum += weight * c
	}
	return sum
}

func contrast(a, b float64) float64 { return (max(a, b) + 0.05) / (min(a, b) + 0.05) }

// Every colour that text is written in has 4.5:1 of contrast on a light and on a dark ground, and on what it
// stands on in a map or a picture.
func TestContrast(t *testing.T) {
	const least = 4.5
	sides := func(c lipgloss.TerminalColor) (light, dark string) {
		a, ok := c.(lipgloss.AdaptiveColor)
		if !ok {
			t.Fatalf("%v is not of two grounds", c)
		}
		return a.Light, a.Dark
	}
	for name, s := range map[string]lipgloss.Style{
		"quiet": quietStyle, "selected": selectedStyle, "kept": keptStyle, "within": withinStyle, "outside": outsideStyle, "assumed": assumedStyle,
		"fault": faultStyle, "limit": looks[inkLimit].Style, "bolt": looks[inkBolt].Style, "kept wing": looks[inkKept].Style,
	} {
		light, dark := sides(s.GetForeground())
		if c := contrast(luminance(t, light), 1); c < least {
			t.Errorf("%s on white: %.2f", name, c)
		}
		if c := contrast(luminance(t, dark), 0); c < least {
			t.Errorf("%s on black: %.2f", name, c)
		}
	}
	before := [2]float64{1, 0}
	for i, s := range shades {
		textLight, textDark := sides(s.GetForeground())
		light, dark := sides(s.GetBackground())
		for k, pair := range [2][2]string{{textLight, light}, {textDark, dark}} {
			ground := luminance(t, pair[1])
			if c := contrast(luminance(t, pair[0]), ground); c < least {
				t.Errorf("shade %d: text on it %.2f", i, c)
			}
			if k == 0 && ground >= before[k] || k == 1 && ground <= before[k] {
				t.Errorf("shade %d does not go on from little to much", i)
			}
			before[k] = ground
		}
	}
}

// A value's step is its place in the range: of 100 to 200 in five, 139 is in the second, 140 in the third.
func TestStepsByHand(t *testing.T) {
	p := painted{lo: 100, hi: 200}
	for v, want := range map[float64]int{100: 0, 119.9: 0, 120: 1, 139: 1, 140: 2, 199: 4, 200: 4, math.Inf(1): 4} {
		if got := p.step(v, 5); got != want {
			t.Errorf("%g is in step %d, want %d", v, got, want)
		}
	}
	if p.step(math.NaN(), 5) != -1 || (&painted{lo: 1, hi: 1}).step(1, 5) != 2 {
		t.Error("what is not known, or all alike")
	}
}

// Every painting says what its page or figure says of a setting.
func TestPaintingsAreTrue(t *testing.T) {
	m := keys(t, opened(t, "coupe", 120, 40), " ", "left", "down")
	value := func(key string) float64 {
		p := keys(t, m, key)
		if paintings()[p.paint].key != key {
			t.Fatalf("%s paints by %s: %s", key, paintings()[p.paint].name, p.message)
		}
		return p.paintedNow().values[p.current]
	}
	r := m.row()
	used, _ := m.usedAt(r)
	for key, want := range map[string]float64{"1": r.Downforce, "2": r.Share, "3": r.Drag, "4": r.StallMargin, "5": 100 * used, "6": r.Gap.Distance,
		"7": m.table.Budget(r).Downforce, "8": 6} {
		if got := value(key); math.Abs(got-want) > 1e-9*math.Abs(want) {
			t.Errorf("%s paints %g, want %g", key, got, want)
		}
	}
	if got := keys(t, m, "9"); got.paint != 0 || got.message == "" {
		t.Errorf("what was run is painted with nothing run: %q", got.message)
	}
	if got := keys(t, m, "0"); got.paint != 0 || got.message == "" {
		t.Errorf("a target is painted without one: %q", got.message)
	}
	hit := keys(t, wish(t, m, "49.9", "0.3"), "0")
	for i, v := range hit.paintedNow().values {
		meets := false
		for _, h := range hit.hits {
			meets = meets || h.Row == i
		}
		r := &hit.table.Rows[i] // told in steps of 5 % near the stall, of 1 % elsewhere
		if more := 100*hit.target.Chance(hit.table, r) - v; meets && v < 16 || !meets && v >= 50 || math.IsNaN(v) == r.Within() || r.Within() && (more < -1e-6 || more >= 5) {
			t.Errorf("%s has a chance of %g %%, and meets the target: %v", r.ID, v, meets)
		}
	}
	if got, want := keys(t, m, "!").paintedNow().values[m.current], r.OnCar; got != want {
		t.Errorf("! paints %g N, on the car are %g N", got, want)
	}
	n := logbook.Blank()
	n.ID, n.Setting, n.Feel.FrontFast, n.Feel.RearFast, n.At = "1", r.ID, -1, 1, time.Date(2026, 5, 31, 0, 0, 0, 0, time.UTC)
	ran := keys(t, m.withBook(logbook.Book{Notes: []logbook.Note{n}}), "9")
	if v := ran.View(); !strings.Contains(v, "u1") {
		t.Errorf("understeer is not on the map:\n%s", v)
	}
}

// Lines of equal downforce pass between settings with less and with more: at each cell of a line the figure is
// the line's to within what one column of the map is worth.
func TestContoursAreTrue(t *testing.T) {
	m := keys(t, opened(t, "coupe", 120, 40), "t")
	for _, key := range []string{"1", "2", "3"} {
		m := keys(t, m, key)
		c := m.chartFor(118, 30)
		values := m.paintedNow()
		k := m.workOutContours(c, values)
		if len(k.values) < 3 || len(k.values) > mostContours {
			t.Errorf("painting %s: %d lines", key, len(k.values))
		}
		for i, v := range k.values {
			if spelt := paintings()[m.paint].cell(m, m.row(), v); key == "1" && !strings.HasSuffix(spelt, "00") && !strings.HasSuffix(spelt, "50") {
				t.Errorf("a line at %s is not at a round value", spelt)
			}
			for y, x := range k.at[i] {
				if x < 1 {
					continue
				}
				p := *m.row().Position
				p.Height = c.heightAt(y)
				at := func(x int) float64 {
					q := p
					q.Angle = c.angleAt(x) * plane.Deg
					near := &m.table.Rows[choose.Nearest(m.table, q.Angle, q.Height)]
					q.X = near.X
					m.table.Around(&q, near)
					row := m.table.RowAt(&q)
					return paintings()[m.paint].value(m, row)
				}
				lo, hi := min(at(x-1), at(x)), max(at(x-1), at(x))
				if slack := 0.02 * (values.hi - values.lo); v < lo-slack || v > hi+slack {
					t.Errorf("painting %s: the line of %g passes where it is %g to %g", key, v, lo, hi)
				}
			}
		}
	}
}

// With something kept, or else on the car, every figure has its change to it; a change that cannot be told from none
// is marked.
func TestChangeBesideEachFigure(t *testing.T) {
	m := opened(t, "coupe", 120, 40)
	if strings.Contains(m.View(), "from kept") {
		t.Error("there is a change to nothing")
	}
	m = keys(t, m, "@")
	if !strings.Contains(m.message, "row 4, B2 is on the car") || !strings.Contains(m.View(), "row 4, B2 on the car") {
		t.Errorf("%q\n%s", m.message, m.View())
	}
	down := keys(t, m, "down")
	if !strings.Contains(down.View(), "from car") || !strings.Contains(down.View(), "≈−2±11") {
		t.Errorf("−2 N of 11 is told as a change:\n%s", down.View())
	}
	kept := keys(t, m, "left", " ", "left")
	f := figures.Get(figures.Downforce)
	std, _ := f.StdUncOf(kept.differenceStdUnc(kept.row(), kept.keptRow()))
	want := f.Change(f.Of(kept.table, kept.row()), f.Of(kept.table, kept.keptRow()), kept.units) + "±" + f.SpellStdUnc(std, kept.units)
	if v := kept.View(); !strings.Contains(v, "from kept") || !strings.Contains(v, want) || !strings.Contains(v, "from kept (row 4, C2): move 2 bolts a side") {
		t.Errorf("%s is not beside it:\n%s", want, v)
	}
}

// The notebook knows what is on the car: the setting marked or noted last. A mark is no run.
func TestOnTheCarIsKept(t *testing.T) {
	book := logbook.Book{}
	m := opened(t, "coupe", 120, 40)
	m.src.AddNote = func(n logbook.Note) (logbook.Note, string, error) {
		n.ID = "n1"
		book.Notes = append(book.Notes, n)
		return n, "", nil
	}
	m.src.Notes = func() (logbook.Book, error) { return book, nil }
	m = keys(t, m, "left", "@")
	if len(book.Notes) != 1 || !book.Notes[0].Fitted || book.Notes[0].Setting != m.row().ID || m.onCar != m.row().ID || !strings.Contains(m.message, "in the notebook") {
		t.Fatalf("%+v, %q", book.Notes, m.message)
	}
	if n := len(m.notesOf(m.row())); n != 0 {
		t.Error("a mark counts as a run")
	}
	other := opened(t, "coupe", 120, 40).withBook(book)
	if r, name := other.reference(); r == nil || r.ID != m.row().ID || name != "car" {
		t.Errorf("another day it is compared with %v", name)
	}
	m.src.AddNote = func(n logbook.Note) (logbook.Note, string, error) { return n, "", errors.New("the disk is full") }
	if got := keys(t, m, "left", "@"); !strings.Contains(got.message, "the disk is full") || got.saving {
		t.Errorf("%q", got.message)
	}
}

// Keys are each for one thing, and the list of jobs has them all, found by a word, by their command first.
func TestJobs(t *testing.T) {
	met := map[string]bool{}
	for _, a := range keyTable() {
		for _, k := range a.keys {
			if met[k] {
				t.Errorf("%s is for two things", k)
			}
			met[k] = true
		}
	}
	m := keys(t, opened(t, "coupe", 120, 40), ":")
	all, _ := as[jobsMode](m).jobs()
	if len(all) != len(keyTable()) {
		t.Errorf("%d jobs, %d keys", len(all), len(keyTable()))
	}
	first := func(word string) string {
		n := m
		for _, r := range word {
			n = send(n, keyMsg(string(r)))
		}
		list, found := as[jobsMode](n).jobs()
		if found == 0 {
			return ""
		}
		return list[0].keys[0]
	}
	for word, key := range map[string]string{"claim": "C", "note": "M", "lid": "c", "print": "P", "undo": "U", "splitter": "A", "strength": "s", "import": "I", "level": "a",
		"safe": "s", "template": "P", "balance": "i", "lap": "\"", "fuel": "m", "next": "L", "fit": "S", "quit": "q", "zzz": ""} {
		if got := first(word); got != key {
			t.Errorf("%q finds %q first, want %q", word, got, key)
		}
	}
	strength := keys(t, m, "s", "t", "r", "e", "n", "g", "t", "h", "enter")
	if p, ok := in[pageMode](strength); !ok || p.sheet != "s" {
		t.Error("enter does not start the job")
	}
}

// A job that a command does shows what the command prints, with the arguments that were typed, quotes and all.
func TestJobsOfCommands(t *testing.T) {
	var ran []string
	cells := 0
	m := opened(t, "coupe", 120, 40)
	if got := keys(t, m, "C"); got.message == "" || !got.walking() {
		t.Error("without commands a job does not say why")
	}
	m.src.Run = func(args []string, _ units.System, wide int) (string, bool) {
		ran, cells = args, wide
		return "It says \x1b[2Jthis.\nAnd that.", false
	}
	got := typed(t, m, "C", "1200N at 200 km/h")
	if strings.Join(ran, "|") != "claim|test|--downforce|1200N|--at|200 km/h" || !strings.Contains(got.View(), "And that.") || strings.Contains(got.View(), "\x1b[2J") || cells != 119 {
		t.Errorf("ran %q:\n%s", ran, got.View())
	}
	typed(t, m, "Q", `A:F "B 2":R`)
	if strings.Join(ran, "|") != `why|test|A:F|B 2:R` {
		t.Errorf("ran %q", ran)
	}
	if bad := typed(t, m, "Q", `"A`); !strings.Contains(bad.message, "not closed") {
		t.Errorf("%q", bad.message)
	}
}

// No title of a map is cut at 80 × 24, and where the legend has no room the title says what the cells mean.
func TestTitlesOfMapsFit(t *testing.T) {
	m := opened(t, "coupe", 80, 24)
	n := logbook.Blank()
	n.ID, n.Setting, n.Feel.FrontFast, n.Feel.RearFast, n.At = "1", m.row().ID, -1, 1, time.Date(2026, 5, 31, 0, 0, 0, 0, time.UTC)
	m = wish(t, keys(t, m.withBook(logbook.Book{Notes: []logbook.Note{n}}), "@"), "49.9")
	for _, p := range paintings() {
		home := keys(t, m, p.key)
		if paintings()[home.paint].key != p.key {
			t.Fatalf("%s: %s", p.key, home.message)
		}
		for what, v := range map[string]string{"home": home.View(), "by place": keys(t, home, "t").View(), "table": keys(t, home, "t", "t").View()} {
			for _, line := range strings.Split(v, "\n") {
				if strings.Contains(line, p.key+" "+p.name[:3]) && strings.Contains(line, "…") {
					t.Errorf("%s, %s: %s", p.key, what, line)
				}
			}
		}
	}
	if v := keys(t, m, "9").View(); !strings.Contains(v, "u under, o over, n neutral") {
		t.Errorf("the cells are not explained:\n%s", v)
	}
	if v := keys(t, m, "5").View(); !strings.Contains(v, "– not checked") {
		t.Errorf("the dash is not explained:\n%s", v)
	}
}
