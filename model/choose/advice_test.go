package choose

import (
	"math"
	"strconv"
	"testing"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/logbook"
	"stanchion/model/modeltest"
)

// felt is a note on a setting with so much more grip in front than behind in fast corners.
func felt(id, setting string, front, rear int) logbook.Note {
	n := logbook.Blank()
	n.ID, n.Setting, n.Feel.FrontFast, n.Feel.RearFast = id, setting, front, rear
	return n
}

// Of the settings in the direction that is wanted, the nearest that a note found too much bounds
// the step: not one in the other direction, one felt the same way, one just right, half felt or
// gone.
func TestOvershotByHand(t *testing.T) {
	table := tableOf(at{"a", 0, 1200}, at{"b", 1, 1200}, at{"c", 2, 1200}, at{"d", -1, 1200})
	for i, share := range []float64{0.500, 0.495, 0.490, 0.505} {
		table.Rows[i].Share = share
	}
	half := felt("8", "b", -1, logbook.NoFeel)
	for _, c := range []struct {
		what    string
		notes   []logbook.Note
		balance int
		note    string
		change  float64
	}{
		{"none", nil, 1, "", math.Inf(1)},
		{"b understeers", []logbook.Note{felt("1", "b", -1, 1)}, 1, "1", 0.005},
		{"b and c understeer", []logbook.Note{felt("1", "c", -1, 1), felt("2", "b", -1, 1), felt("3", "c", -2, 1)}, 1, "2", 0.005},
		{"only c understeers", []logbook.Note{felt("1", "c", -1, 0), felt("2", "b", 1, 0)}, 1, "1", 0.010},
		{"b is right", []logbook.Note{felt("1", "b", 0, 0)}, 1, "", math.Inf(1)},
		{"d is the other way", []logbook.Note{felt("1", "d", -1, 1)}, 1, "", math.Inf(1)},
		{"half felt, and gone", []logbook.Note{half, felt("1", "gone", -1, 1)}, 1, "", math.Inf(1)},
		{"the other direction", []logbook.Note{felt("1", "d", 1, 0), felt("2", "b", 1, 0)}, -1, "1", 0.005},
	} {
		b := overshot(table, c.notes, &table.Rows[0], c.balance)
		if b.note != c.note || math.Abs(b.change-c.change) > 1e-12 && !math.IsInf(c.change, 1) || math.IsInf(c.change, 1) != math.IsInf(b.change, 1) {
			t.Errorf("%s: %+v, want note %q, change %g", c.what, b, c.note, c.change)
		}
	}
}

// By hand on the plain car: from 5° a step to less front share, so to more angle, must be larger
// than its own uncertainty. Of 5.2° (too little to tell), 8°, 8.01° (within half a step of 0.05 pp,
// with less work) and 11°, it is 8.01°; where 8.01° was found too much, none is left but those
// before it that can be told from it.
func TestSmallestStepByHand(t *testing.T) {
	table := tableAt(t, 5, 5.2, 8, 8.01, 11, 2)
	table.Rows[3].Fits = table.Rows[0].Fits // no bolt moves
	a := Advice{From: &table.Rows[0]}.from(table, 1, bound{math.Inf(1), nil, ""})
	if a.To == nil || a.To.ID != "8.01" {
		t.Errorf("to %v", a.To)
	}
	a = Advice{From: &table.Rows[0]}.from(table, -1, bound{math.Inf(1), nil, ""})
	if a.To == nil || a.To.ID != "2" {
		t.Errorf("the other way to %v", a.To)
	}
	// 11° was too much: what is short of it by more than is uncertain stays.
	k := &table.Rows[4]
	a = Advice{From: &table.Rows[0]}.from(table, 1, bound{wanted(1, k.Share-table.Rows[0].Share), k, "n"})
	if a.To == nil || a.To.ID != "8.01" || a.TooMuch != "n" {
		t.Errorf("short of 11°: %+v", a)
	}
	// 5.2° was too much: nothing lies between.
	k = &table.Rows[1]
	if a = (Advice{From: &table.Rows[0]}).from(table, 1, bound{wanted(1, k.Share-table.Rows[0].Share), k, "n"}); a.To != nil {
		t.Errorf("short of 5.2°: %+v", a.To)
	}
	// What breaks a limit, is stalled or lifts is no advice.
	table.Rows[2].Stalled, table.Rows[3].Breaches = true, []model.Breach{{Limit: model.LimitTop}}
	if a = (Advice{From: &table.Rows[0]}).from(table, 1, bound{math.Inf(1), nil, ""}); a.To == nil || a.To.ID != "11" {
		t.Errorf("past what cannot be run: %+v", a.To)
	}
}

// tableAt is a table of the plain car at 45 m/s with the wing at angles in degrees, 450 mm behind
// the axle, each bolted in its own way, with 0.4° of play.
func tableAt(t *testing.T, angles ...float64) *model.Table {
	t.Helper()
	car := modeltest.Plain(t)
	car.Parts, car.Joints = make([]model.Part, 2), make([]model.Joint, 1)
	car.Parts[1].Holes = []holes.Hole{{ID: "F"}, {ID: "R"}}
	for i := range 2 * len(angles) {
		car.Parts[0].Holes = append(car.Parts[0].Holes, holes.Hole{ID: strconv.Itoa(i)})
	}
	const play = 0.4 * plane.Deg
	var all []model.Position
	for i, a := range angles {
		fit := &holes.Fit{Pairs: []holes.Pair{{Lower: 2 * i, Upper: 0}, {Lower: 2*i + 1, Upper: 1}}, Play: play}
		s := &holes.Setting{ID: name(a), Play: play, Fits: []*holes.Fit{fit}}
		all = append(all, model.Position{Setting: s, X: 450, Height: 1300, Angle: a * plane.Deg})
	}
	w, err := car.SolveWing(45)
	if err != nil {
		t.Fatal(err)
	}
	return model.NewTable(car, all, w, 45)
}

func name(angle float64) string { return strconv.FormatFloat(angle, 'f', -1, 64) }
