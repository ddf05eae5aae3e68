package advise

import (
	"errors"
	"strings"
	"testing"

	"stanchion/holes"
	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/drill"
	"stanchion/model/given"
	"stanchion/model/logbook"
	"stanchion/model/modeltest"
	"stanchion/model/strength"
)

// Of the steps that count as equal the first that is no weaker than now, by hand: H does not hold, N is
// not checked, P passes; the setting noted, the step, then the equal ones.
func TestNoWeakerByHand(t *testing.T) {
	verdicts := map[byte]strength.Verdict{'H': strength.DoesNotHold, 'N': strength.NotChecked, 'P': strength.Passes}
	for _, c := range []struct {
		verdicts string
		to       int // which step is taken, from 0
		weaker   bool
		passed   int
	}{
		{"PP", 0, false, 0}, {"NP", 0, false, 0}, {"HN", 0, false, 0}, {"NN", 0, false, 0},
		{"PNHP", 2, false, 2}, {"PNN", 0, true, 0}, {"NHN", 1, false, 1}, {"PH", 0, true, 0}, {"HHP", 0, false, 0},
		{"PNNNNNP", 5, false, 5}, {"PNNNNNNP", 0, true, 0}, // further on none is looked at
	} {
		row := func(i int) *model.Row {
			return &model.Row{Position: &model.Position{Setting: &holes.Setting{ID: string(rune('a' + i))}}}
		}
		var a Advice
		a.From = row(0)
		for i := 1; i < len(c.verdicts); i++ {
			a.Equal = append(a.Equal, choose.Candidate{Row: row(i)})
		}
		a.Candidate, a.To, a.Equal = a.Equal[0], a.Equal[0].Row, a.Equal[1:]
		err := a.weigh(func(r *model.Row) (strength.Verdict, error) { return verdicts[c.verdicts[r.ID[0]-'a']], nil })
		if err != nil || int(a.To.ID[0]-'b') != c.to || a.Row != a.To || a.Weaker() != c.weaker || len(a.PassedOver) != c.passed || len(a.Equal) != len(c.verdicts)-2-c.to {
			t.Errorf("%s: step %s, weaker %v, passed over %d, equal %d, %v", c.verdicts, a.To.ID, a.Weaker(), len(a.PassedOver), len(a.Equal), err)
		}
	}
	var a Advice
	a.From = new(model.Row)
	if err := a.weigh(func(*model.Row) (strength.Verdict, error) { return 0, errors.New("ended") }); err == nil {
		t.Error("an error is lost")
	}
}

func felt(id, setting string, balance int) logbook.Note {
	n := logbook.Blank()
	n.ID, n.Setting, n.Feel.Fast = id, setting, logbook.Whole(balance)
	return n
}

// On the demo, 6.3° understeers and 2.3° oversteers, with nothing clearly between: a hole gives it. The
// verdict of a step stands beside that of the setting noted.
func TestHoleBetween(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	id := func(words ...string) string { return table.Named(words)[0].ID }
	low, high := id("3", "B1"), id("3", "A2")
	d := &Drill{Part: len(table.Car.Parts) - 2, D: 8.4, Grid: 0.5}
	d.Joint = drill.DefaultJoint(table.Car, d.Part)
	a, err := Next(t.Context(), table, []logbook.Note{felt("1", high, -1), felt("2", low, 1)}, choose.Wish{}, d)
	if err != nil || a.Finding != choose.NoneBetween || a.Hole == nil || a.Hole.Found == nil {
		t.Fatalf("%+v, %v", a.Advice, err)
	}
	r, x, y := a.Hole.Row, a.From, a.Beyond
	b := a.Hole.Found.Table.Budget(r)
	for _, o := range []*model.Row{x, y} {
		if choose.ClarityOf(r.Share-o.Share, model.DifferenceStdUnc(b, table.Budget(o)).Share) != choose.Clear {
			t.Errorf("front share %.4f is not clear of %.4f", r.Share, o.Share)
		}
	}
	if !(r.Share < x.Share && r.Share > y.Share) || !r.Within() || r.Stalled || !strings.Contains(r.ID, a.Hole.Found.Holes[0].ID) {
		t.Errorf("%s: %.4f, between %.4f and %.4f", r.ID, r.Share, y.Share, x.Share)
	}
	if a, err = Next(t.Context(), table, []logbook.Note{felt("1", high, -1), felt("2", low, 1)}, choose.Wish{}, nil); err != nil || a.Hole != nil {
		t.Errorf("without a drill: %+v, %v", a.Hole, err)
	}
	if a, err = Next(t.Context(), table, []logbook.Note{felt("1", high, 2)}, choose.Wish{}, d); err != nil || !a.Proposes() || a.Hole != nil || a.Now != strength.Passes || a.Proposed != strength.Passes {
		t.Errorf("%+v, now %v, proposed %v, %v", a.Advice, a.Now, a.Proposed, err)
	}
	above := *table
	above.Speed = 2 * a.Analysis.Table.Speed
	if a, err = Next(t.Context(), &above, []logbook.Note{felt("1", high, 2)}, choose.Wish{}, d); err != nil || a.Proposed != strength.NotChecked || a.Weaker() {
		t.Errorf("above the design speed: %v, %v, %v", a.Now, a.Proposed, err)
	}
}

// Without a design speed nothing is checked: a step is proposed all the same, and why stands beside it.
func TestWithoutDesignSpeed(t *testing.T) {
	car := *modeltest.Car(t, "coupe")
	car.DesignSpeed = given.Number{}
	table := modeltest.TableOf(t, &car)
	a, err := Next(t.Context(), table, []logbook.Note{felt("1", table.Named([]string{"3", "A2"})[0].ID, 2)}, choose.Wish{}, nil)
	if err != nil || !a.Proposes() || a.Analysis != nil || a.Proposed != strength.NotChecked || !errors.Is(a.WhyUnchecked, strength.ErrNoSpeed) {
		t.Errorf("%+v, proposed %v, %v, %v", a.Advice, a.Proposed, a.WhyUnchecked, err)
	}
}
