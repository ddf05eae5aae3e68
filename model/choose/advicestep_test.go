package choose

import (
	"math"
	"slices"
	"testing"

	"stanchion/holes"
	"stanchion/model"
	"stanchion/model/logbook"
)

// By hand on the plain car, whose angles are each uncertain by 0.4°/√3 = 0.23°, so differences by 0.33°
// and clear from 0.65°: 5.5° is no clear step from 5°, 6° is the smallest. A degree is 0.2 pp, so that a
// step of the scale, 0.3 pp at least, is 1.5°: o1 wants 6.5°, o2 8°, o3 9.5°. A third of the
// downforce is 3.3°. The least work decides from half to twice of what is wanted, to within 0.33°: of 1.5°
// from 0.42° to 3.33°, of 3° from 1.17°, of 4.5° from 1.92°; it is the same for all here, so that the nearest is taken.
func TestStepByHand(t *testing.T) {
	table := tableAt(t, 5, 5.5, 6, 6.4, 7, 8, 9.5, 3)
	row := func(angle float64) *model.Row {
		i, ok := table.Index(name(angle))
		if !ok {
			t.Fatal(angle)
		}
		return &table.Rows[i]
	}
	change := func(angle float64) float64 { return row(angle).Share - row(5).Share }
	equal := func(a Advice) (all []string) {
		for _, c := range a.Equal {
			all = append(all, c.Row.ID)
		}
		return all
	}
	for _, c := range []struct {
		what   string
		others []logbook.Note
		felt   int
		to     string
		sizing Sizing
		wanted float64
		equal  []string
	}{
		{"slight", nil, 1, "6.4", SmallestClear, -0.003, []string{"7", "6", "8"}},
		{"clear", nil, 2, "8", MultipleOfIt, -0.006, []string{"7", "6.4"}},
		{"strong, 9.5° is more than a third", nil, 3, "8", MultipleOfIt, -0.009, []string{"7"}},
		{"slight understeer", nil, -1, "3", SmallestClear, change(3), nil}, // the smallest clear, 2°, is more
		// o2 at 5°, o1 at 3°: oversteer grows with more wing, against what a wing does.
		{"against the wing", []logbook.Note{felt("1", "3", 1)}, 2, "8", MultipleOfIt, -0.006, []string{"7", "6.4"}},
		// o2 at 5° and o3 at 3°: a step of the scale is what lies between the two, and two are wanted.
		{"two notes, the other worse", []logbook.Note{felt("1", "3", 3)}, 2, "8", FromTwoNotes, -2 * change(3), []string{"7"}},
		// o1 at 5° and u1 at 9.5°: half-way.
		{"two notes, between", []logbook.Note{felt("1", "9.5", -1)}, 1, "7", FromTwoNotes, change(9.5) / 2, []string{"8", "6.4", "6"}},
		// o1 at 5° and u3 at 9.5°: a quarter of the way.
		{"two notes, near the one", []logbook.Note{felt("1", "9.5", -3)}, 1, "6", FromTwoNotes, change(9.5) / 4, []string{"6.4", "7"}},
		// n at 8°, where it is right.
		{"right at 8°", []logbook.Note{felt("1", "8", 0)}, 2, "8", FromTwoNotes, change(8), []string{"7", "6.4"}},
		// u1 at 6°, too much: nothing is clear from both.
		{"too much at 6°", []logbook.Note{felt("1", "6", -1)}, 1, "", SmallestClear, 0, nil},
		// o1 at 7° too: past that, and clearly.
		{"no better at 7°", []logbook.Note{felt("1", "7", 1)}, 1, "8", BeyondWhatWasSame, change(8), nil},
		// The nearest of two that were too much.
		{"too much at 8° and 9.5°", []logbook.Note{felt("1", "9.5", -1), felt("2", "8", -1)}, 1, "6.4", FromTwoNotes, change(8) / 2, []string{"6", "7"}},
	} {
		a, err := Next(table, append(slices.Clone(c.others), felt("n", "5", c.felt)), Wish{})
		if c.to == "" {
			if err != nil || a.To != nil || a.Finding != NoneBetween || a.TooMuch != "1" || a.Beyond.ID != "6" || math.Abs(a.Between-0.5) > 1e-9 {
				t.Errorf("%s: %+v, %v", c.what, a, err)
			}
			continue
		}
		if err != nil || a.To == nil || a.To.ID != c.to || a.Sizing != c.sizing || math.Abs(a.Wanted-c.wanted) > 1e-9 {
			t.Errorf("%s: %v by sizing %d, wanted %.5f, %v; want %s by %d, %.5f", c.what, a.To, a.Sizing, a.Wanted, err, c.to, c.sizing, c.wanted)
			continue
		}
		if got := equal(a); !slices.Equal(got, c.equal) {
			t.Errorf("%s: equal are %q, want %q", c.what, got, c.equal)
		}
		if want := a.To.Share - a.From.Share; math.Abs(a.Change-want) > 1e-12 || ClarityOf(a.Change, a.StdUnc) != Clear {
			t.Errorf("%s: changes by %g ± %g, want %g", c.what, a.Change, a.StdUnc, want)
		}
	}
	// u3 at 6° is three times as far off as o1 at 5°: a quarter of the way is wanted, and none is there.
	if a, _ := Next(table, []logbook.Note{felt("1", "6", -3), felt("n", "5", 1)}, Wish{}); a.Finding != NoneBetween || math.Abs(a.Between-0.25) > 1e-9 {
		t.Errorf("between by %g: %+v", a.Between, a)
	}
	// o1 still at 8°, but u1 at 7°: the nearer bound is the safer.
	if a, _ := Next(table, []logbook.Note{felt("1", "8", 1), felt("2", "7", -1), felt("n", "5", 2)}, Wish{}); a.To == nil || a.To.ID != "6" || a.TooMuch != "2" {
		t.Errorf("bounds that cross: %+v", a.To)
	}
	// Of o2 at 3° and n at 8°, the one that felt best makes the line; of n at 8° and u1 at 9.5° the one too much.
	if a, _ := Next(table, []logbook.Note{felt("1", "3", 3), felt("2", "8", 0), felt("3", "9.5", 1), felt("n", "5", 2)}, Wish{}); a.Second != "2" {
		t.Errorf("the line is through %q", a.Second)
	}
	if a, _ := Next(table, []logbook.Note{felt("1", "9.5", -1), felt("2", "8", 0), felt("n", "5", 1)}, Wish{}); a.Second != "1" || a.TooMuch != "1" {
		t.Errorf("the line is through %q", a.Second)
	}
	// u2 at 5° and o1 at 5.2°, which is no different, say the opposite.
	close := tableAt(t, 5, 5.2, 3, 1, -1, -3)
	if a, _ := Next(close, []logbook.Note{felt("1", "5.2", 1), felt("2", "5", -2)}, Wish{}); a.Finding != NotesContradict || a.Contradicts != [2]string{"1", "2"} {
		t.Errorf("two that are no different: %+v", a)
	}
	// u2 at 3° and u3 at 5° ask for two steps of 2° less wing, to -1°: past 3° no more than to 1°.
	if a, _ := Next(close, []logbook.Note{felt("1", "5", -3), felt("2", "3", -2)}, Wish{}); a.To == nil || a.To.ID != "1" || !a.Capped || a.Second != "1" {
		t.Errorf("far past what was driven: %+v", a)
	}
	// u3 at 5° with u1 at 3°, from 5°: one step of 1° past 3° is within that.
	if a, _ := Next(close, []logbook.Note{felt("1", "3", -1), felt("2", "5", -3)}, Wish{}); a.To == nil || a.Capped {
		t.Errorf("not so far: %+v", a)
	}
	// What breaks a limit, is stalled or lifts is no advice.
	row(6).Stalled, row(6.4).Breaches = true, []model.Breach{{Limit: model.LimitStall}}
	if a, _ := Next(table, []logbook.Note{felt("n", "5", 1)}, Wish{}); a.To == nil || a.To.ID != "7" {
		t.Errorf("past what cannot be run: %+v", a.To)
	}
	row(3).Downforce = -1
	if a, _ := Next(table, []logbook.Note{felt("n", "5", -1)}, Wish{}); a.To != nil || a.Finding != NoneFarEnough {
		t.Errorf("to one that lifts: %+v", a.To)
	}
	// Both ends short: no step to less downforce, whatever the front share.
	row(7).Downforce = row(5).Downforce - 1
	short := felt("n", "5", 1)
	short.Feel.Fast.Grip = -1
	if a, _ := Next(table, []logbook.Note{short}, Wish{}); a.To == nil || a.To.ID != "8" {
		t.Errorf("short of grip at both ends: %+v", a.To)
	}
}

// Of 6° to 7.5°, all between half and twice the wanted 1.5°, the one with the least work. None that takes a
// bolt out of a joint where another does not, whatever its size and what was asked for.
func TestLeastWorkAmongEquals(t *testing.T) {
	for _, c := range []struct {
		what string
		row  int // that keeps the bolts of 5°
		more int // a bolt that 5° has on top, and this row too; 0 for none
		to   string
	}{
		{"6.4° keeps the bolts", 3, 0, "6.4"},
		{"7° does", 4, 0, "7"},
		{"7.5° does", 5, 0, "7.5"},
		{"6.4° keeps all but one", 3, 2, "6"},
		{"only 7.5° keeps three", 3, 5, "7.5"},
	} {
		table := tableAt(t, 5, 5.5, 6, 6.4, 7, 7.5)
		now := table.Rows[0].Fits[0]
		table.Rows[c.row].Fits = []*holes.Fit{{Pairs: slices.Clone(now.Pairs), Play: now.Play}}
		if c.more > 0 {
			now.Pairs = append(now.Pairs, holes.Pair{Lower: 9, Upper: 1})
			table.Rows[c.more].Fits[0].Pairs = append(table.Rows[c.more].Fits[0].Pairs, holes.Pair{Lower: 8, Upper: 1})
		}
		for _, w := range []Wish{{}, {Height: true}} {
			a, err := Next(table, []logbook.Note{felt("n", "5", 1)}, w)
			if err != nil || a.To == nil || a.To.ID != c.to {
				t.Errorf("%s: %+v, %v; want %s", c.what, a.To, err, c.to)
			}
		}
	}
}

// The order among equals, by hand.
func TestOrderAmongEquals(t *testing.T) {
	c := func(id string, fewer, moved int, changed Changed, change float64) Candidate {
		r := &model.Row{Position: &model.Position{Setting: &holes.Setting{ID: id}}}
		return Candidate{Row: r, Change: change, Work: Work{Moved: moved, Fewer: fewer}, Changed: changed}
	}
	all := []Candidate{c("fewer", 1, 1, AngleAlone, -3), c("both", 0, 2, AngleAndHeight, -3), c("far", 0, 2, AngleAlone, -5), c("near", 0, 2, AngleAlone, -4),
		c("height", 0, 2, HeightAlone, -3.5), c("right", 0, 2, AngleAlone, -3.5), c("tall", 1, 0, HeightAlone, -3), c("work", 0, 3, AngleAlone, -3)}
	for i := range all {
		all[i].kept = Clear
	}
	tight := c("tight", 0, 2, AngleAlone, -3)
	tight.kept = NotSure
	all = append(all, tight)
	for w, want := range map[Wish]string{{}: "both right height near far tight work tall fewer", {Height: true}: "height both right near far tight work tall fewer"} {
		sorted := slices.Clone(all)
		slices.SortFunc(sorted, func(x, y Candidate) int { return x.compare(&y, -3, w) })
		got := ""
		for _, s := range sorted {
			got += " " + s.Row.ID
		}
		if got[1:] != want {
			t.Errorf("asked %+v: %s, want %s", w, got[1:], want)
		}
	}
	at := func(height, angle float64) *model.Position {
		return &model.Position{Height: height, Angle: angle * math.Pi / 180}
	}
	for _, r := range []struct {
		height, angle float64
		want          Changed
	}{{1205, 4, AngleAlone}, {1210, 0.5, HeightAlone}, {1190, -0.7, AngleAndHeight}, {1200, 0, AngleAlone}} {
		if got := ChangedBetween(at(1200, 0), at(r.height, r.angle)); got != r.want {
			t.Errorf("to %g mm, %g°: %d, want %d", r.height, r.angle, got, r.want)
		}
	}
}

// By hand from 8°, where a third of the downforce is 4.3° and o1 wants 1.5° more: the least work decides from
// 0.75° to 3°, to within 0.33° (3.35° with the curve's bend); beyond it and short of it the nearest, with what is
// alike with that. No bolt is moved for the row that is named, two for the others.
func TestRuleByHand(t *testing.T) {
	for _, c := range []struct {
		what            string
		angles          []float64
		felt            int
		least           float64 // the row with the least work
		to              string
		rule            Rule
		lighter, nearer string
	}{
		{"the nearest", []float64{9, 9.6, 11}, 1, 0, "9.6", LeastOfSize, "", ""},
		{"less work at twice the size", []float64{9, 9.6, 11}, 1, 11, "11", LeastOfSize, "", "9.6"},
		{"alike with twice the size", []float64{9, 9.6, 11.3}, 1, 11.3, "11.3", LeastOfSize, "", "9.6"},
		{"more than twice", []float64{9, 9.6, 11.6}, 1, 11.6, "9.6", LeastOfSize, "11.6", ""},
		{"less work, alike with the nearest", []float64{9.6, 9.8}, 1, 9.8, "9.8", LeastOfSize, "", ""},
		{"the smallest clear is what is wanted", []float64{12, 12.2}, 1, 12.2, "12.2", LeastOfSize, "", ""},
		{"strong, none but short", []float64{9, 9.2, 8.8}, 3, 0, "9.2", NearestShort, "", ""},
		{"strong, none but short, one alike", []float64{9, 9.2, 8.8}, 3, 9, "9", NearestShort, "", ""},
		{"strong, less work still shorter", []float64{9, 9.2, 8.8}, 3, 8.8, "9.2", NearestShort, "8.8", ""},
		// u3 at 11°: a quarter of the way is wanted, 0.75°; the least work decides up to 1.83°.
		{"none but beyond", []float64{11, 10, 10.2}, 1, 0, "10", NearestBeyond, "", ""},
		{"none but beyond, one alike", []float64{11, 10, 10.2}, 1, 10.2, "10.2", NearestBeyond, "", ""},
	} {
		table := tableAt(t, append([]float64{8}, c.angles...)...)
		for i := range table.Rows {
			if r := &table.Rows[i]; r.ID == name(c.least) {
				at, _ := table.Index("8")
				r.Fits = []*holes.Fit{{Pairs: slices.Clone(table.Rows[at].Fits[0].Pairs)}}
			}
		}
		notes := []logbook.Note{felt("n", "8", c.felt)}
		if c.rule == NearestBeyond {
			notes = append([]logbook.Note{felt("1", "11", -3)}, notes...)
		}
		a, err := Next(table, notes, Wish{})
		id := func(c *Candidate) string {
			if c == nil {
				return ""
			}
			return c.Row.ID
		}
		if err != nil || a.To == nil || a.To.ID != c.to || a.Rule != c.rule || id(a.Lighter) != c.lighter || id(a.Nearer) != c.nearer {
			t.Errorf("%s: to %v by rule %d, lighter %q, nearer %q, %v; wanted %.4f", c.what, a.To, a.Rule, id(a.Lighter), id(a.Nearer), err, a.Wanted)
		}
	}
}

// Worse in fast corners than in slow ones: the wing changes the difference only. o3 against o1 is two
// steps, with the other note's line too: o3 at 5° and o1 at 8° make the whole way the wanted one.
func TestWingsPartByHand(t *testing.T) {
	table := tableAt(t, 5, 6, 7, 8)
	n := felt("n", "5", 3)
	n.Feel.Slow = logbook.Whole(1)
	a, _ := Next(table, []logbook.Note{n}, Wish{})
	if a.WingsPart != 2 || math.Abs(a.Wanted+0.006) > 1e-9 {
		t.Errorf("the wing's part %g, wanted %g of %g", a.WingsPart, a.Wanted, a.Smallest)
	}
	a, _ = Next(table, []logbook.Note{felt("1", "8", 1), n}, Wish{})
	if want := table.Rows[3].Share - table.Rows[0].Share; a.Sizing != FromTwoNotes || math.Abs(a.Wanted-want) > 1e-9 {
		t.Errorf("wanted %g by %d, want %g", a.Wanted, a.Sizing, want)
	}
	n.Feel.Slow = logbook.Whole(-1) // the other way: the wing changes what is felt in fast corners
	if a, _ = Next(table, []logbook.Note{n}, Wish{}); a.WingsPart != 3 {
		t.Errorf("the wing's part %g, want 3", a.WingsPart)
	}
}
