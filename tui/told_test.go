package tui

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"

	"stanchion/model"
	"stanchion/model/carfile"
	"stanchion/model/figures"
	"stanchion/model/given"
)

// firstLine is the first line of the screen.
func firstLine(m Model) string { return strings.SplitN(ansi.Strip(m.View()), "\n", 2)[0] }

// The first line says at every size that figures are fitted to the track, or scaled to the maker's claim, and nothing
// of either for a car with neither.
func TestFirstLineSaysWhatFiguresAreScaledBy(t *testing.T) {
	for _, size := range [][2]int{{50, 20}, {80, 24}, {120, 40}} {
		for _, c := range []struct {
			fitted, claimed bool
		}{{false, false}, {true, false}, {false, true}, {true, true}} {
			car, err := carfile.Demo("coupe")
			if err != nil {
				t.Fatal(err)
			}
			own := *car
			own.Claim = model.Claim{}
			if c.fitted {
				own.TrackFit.Downforce = model.Scale{Factor: 0.9, StdUnc: 0.05}
			}
			if c.claimed { // about what the wing makes at most
				wing, err := own.SolveUnscaled(own.Speed)
				if err != nil {
					t.Fatal(err)
				}
				q := 0.5 * own.Air.Density() * own.Speed * own.Speed
				own.Claim = model.Claim{Downforce: given.Is(0.95 * q * own.Wing.Area() * wing.MaxLift), Speed: given.Is(own.Speed)}
			}
			m := openedCar(t, &own, size[0], size[1])
			for _, kept := range []bool{false, true} {
				if kept { // with all that can stand in the line
					m = keys(t, m, "@")
				}
				head := firstLine(m)
				if strings.Contains(head, "fitted") != c.fitted || strings.Contains(head, "scaled") != c.claimed {
					t.Errorf("%d columns, %+v: %q", size[0], c, head)
				}
				if size[0] >= 120 && (c.fitted && !strings.Contains(head, "fitted to track") || c.claimed && !strings.Contains(head, "scaled to claim")) {
					t.Errorf("%d columns, %+v: %q", size[0], c, head)
				}
			}
		}
	}
}

// What × stands for is said wherever it may stand, also with a setting kept and another on the car.
func TestTheLegendAlwaysHasWhatBreaksALimit(t *testing.T) {
	for _, size := range [][2]int{{50, 20}, {80, 24}, {120, 40}} {
		m := keys(t, wish(t, opened(t, "coupe", size[0], size[1]), "49.9"), "@", "left", " ", "left")
		for _, paint := range []string{"1", "5", "0", "!"} {
			home := keys(t, m, paint)
			for name, shown := range map[string]Model{"home": home, "map": keys(t, home, "t"), "table": keys(t, home, "t", "t")} {
				if v := ansi.Strip(shown.View()); !strings.Contains(v, "× breaks a limit") {
					t.Errorf("%d columns, %s by %s:\n%s", size[0], name, paint, v)
				}
			}
		}
	}
}

// The comparison marks each change as the pane does, at all sizes.
func TestComparisonHasTheMarksOfThePane(t *testing.T) {
	for _, size := range [][2]int{{50, 20}, {80, 24}, {120, 40}} {
		m := keys(t, opened(t, "coupe", size[0], size[1]), " ", "left")
		k, r := m.keptRow(), m.row()
		difference := m.differenceStdUnc(r, k)
		page := strings.Join(m.compareText(), "\n")
		seen := 0
		for _, l := range m.paneLines() {
			std, known := l.StdUncOf(difference)
			by := l.Of(m.table, r) - l.Of(m.table, k)
			if !known || l.beside != nil || math.IsNaN(std) {
				continue
			}
			change, band := l.ChangeWithStdUnc(l.Of(m.table, r), l.Of(m.table, k), std, l.units)
			want := markOf(by, std) + change + "   ± " + band
			if !strings.Contains(page, " "+want) {
				t.Errorf("%d columns: %s has no %q in\n%s", size[0], l.Name, want, page)
			}
			if markOf(by, std) != "" {
				seen++
			}
		}
		if seen == 0 || strings.Contains(page, "undo ") || !strings.Contains(page, "move   head: ") {
			t.Errorf("%d marks in\n%s", seen, page)
		}
	}
}

// The pane says how uncertain the stall margin is.
func TestPaneHasTheStallMarginsBand(t *testing.T) {
	m := opened(t, "coupe", 120, 40)
	f := figures.Get(figures.StallMargin)
	want := f.Spell(m.row().StallMargin, m.units) + "±" + f.SpellStdUnc(m.table.Budget(m.row()).Margin, m.units)
	if v := ansi.Strip(m.View()); !strings.Contains(v, want) {
		t.Errorf("no %q in\n%s", want, v)
	}
}

// Until the plates are solved the figure of strength is marked as one that will change.
func TestStrengthByFormulasIsMarked(t *testing.T) {
	m := opened(t, "coupe", 80, 24)
	m.src.Solves = true
	before, bad := m.holdShort()
	if bad || !strings.HasSuffix(before, "…") {
		t.Fatalf("before it is solved: %q", before)
	}
	if _, err := m.frame.Solve(context.Background(), m.frameRow()); err != nil {
		t.Fatal(err)
	}
	*m.held = holdings{}
	if after, bad := m.holdShort(); bad || strings.HasSuffix(after, "…") {
		t.Errorf("after: %q", after)
	}
}

// The line under a large map gives the figure that it is painted by, and its title the unit.
func TestUnderALargeMapStandsItsFigure(t *testing.T) {
	for _, size := range [][2]int{{50, 20}, {80, 24}} {
		m := keys(t, wish(t, opened(t, "coupe", size[0], size[1]), "49.9"), " ", "left", "left", "left")
		onCar := keys(t, m, "!", "t")
		f := figures.Get(figures.OnCar)
		cell := f.Spell(f.Of(onCar.table, onCar.row()), onCar.units)
		if line := onCar.underLarge()[0]; !strings.Contains(line, "on the car "+cell+" ") || strings.HasSuffix(line, "…") {
			t.Errorf("%d columns: %q has no %s", size[0], line, cell)
		}
		chance := keys(t, m, "0", "t")
		want := fmt.Sprintf("chance of the target %.0f %%", math.Floor(chance.paintedNow().values[chance.current]+1e-6))
		if line := chance.underLarge()[0]; !strings.Contains(line, want) {
			t.Errorf("%d columns: %q, want %q", size[0], line, want)
		}
		if v := keys(t, m, "!").View() + keys(t, m, "0").View(); !strings.Contains(v, "! on the car, N") || !strings.Contains(v, "0 chance, %") {
			t.Errorf("%d columns: titles without units:\n%s", size[0], v)
		}
	}
}

// The page on why opens on the figure that is painted.
func TestWhyOpensOnWhatIsPainted(t *testing.T) {
	m := keys(t, opened(t, "coupe", 80, 24), "!", "y")
	if got := m.whyKeys()[m.asking]; got != figures.OnCar {
		t.Errorf("painted by ! it opens on %s", got)
	}
}

// Words of the screen find their job first.
func TestWordsOfTheScreenFindJobs(t *testing.T) {
	m := keys(t, opened(t, "coupe", 80, 24), ":")
	for word, key := range map[string]string{"target": "i", "what to try": "L", "tyre": "m", "ride height": "m", "level": "a", "tape": "a", "fit": "S", "why": "y", "keep": " "} {
		j := as[jobsMode](m)
		j.input.SetValue(word)
		all, found := j.jobs()
		at := -1
		for i := range found {
			if all[i].keys[0] == key {
				at = i
			}
		}
		if at < 0 || word == "target" && at > 0 {
			t.Errorf("%q finds %d jobs, %s at %d", word, found, key, at)
		}
	}
}

// The list of keys has what each does in its column, also where it takes two lines.
func TestKeysHangInTheirColumn(t *testing.T) {
	m := opened(t, "coupe", 80, 24)
	inKeys, hung := true, 0
	for _, l := range m.helpText() {
		inKeys = inKeys && l != "mouse"
		if w := ansi.StringWidth(l); inKeys && w > 79 {
			t.Errorf("%d cells: %q", w, l)
		}
		if inKeys && strings.HasPrefix(l, strings.Repeat(" ", keyColumn)) && l[keyColumn] != ' ' {
			hung++
		}
	}
	if hung < 5 {
		t.Errorf("%d lines hang", hung)
	}
}
