package calibrate_test

import (
	"math"
	"strings"
	"testing"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/calibrate"
	"stanchion/model/given"
	"stanchion/model/modeltest"
)

// By hand: left and right of one setting, each a level turned end for end and read to 0.2°, tell an angle
// to 0.2/√2 = 0.1414° each and its difference to 0.2°; play of 2·asin(1/240) = 0.4775° adds √2·0.4775/√3 =
// 0.3899°, together 0.438°. It is twice that from 0.876° on, and more than a usual twist of 0.5°; without
// play from 0.5° on, where 0.4° is twice its 0.2° but no more than usual.
func TestSidesDiffer(t *testing.T) {
	for _, c := range []struct {
		apart, play float64 // °
		unc, inPlay float64
		differ      bool
	}{
		{3.4, 0.4775, 0.438, 0.3899, true}, {-3.4, 0.4775, 0.438, 0.3899, true}, {0.90, 0.4775, 0.438, 0.3899, true}, {0.85, 0.4775, 0.438, 0.3899, false},
		{0.52, 0, 0.2, 0, true}, {0.45, 0, 0.2, 0, false}, {0.3, 0, 0.2, 0, false}, {0, 0, 0.2, 0, false},
	} {
		table := modeltest.Table(t, "saloon")
		i, _ := table.Index("P:F+p2:R")
		row := &table.Rows[i]
		row.Position.Setting = &holes.Setting{ID: row.ID, Play: c.play * plane.Deg}
		read := func(side string, off float64) model.Reading {
			a := row.Angle + off*plane.Deg
			return model.Reading{Setting: row.ID, Side: side, Angle: given.Is(a), Turned: given.Is(a), ReadingStdUnc: given.Is(0.2 * plane.Deg)}
		}
		d, err := calibrate.FitDatum(table, []model.Reading{read("left", 1+c.apart/2), read("right", 1-c.apart/2)})
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(d.Twist/plane.Deg-c.apart) > 1e-6 || math.Abs(d.TwistStdUnc/plane.Deg-c.unc) > 0.001 || math.Abs(calibrate.PlayInTwist(table, d)/plane.Deg-c.inPlay) > 0.001 {
			t.Errorf("%+v: %.3f ± %.4f°, %.4f° of play", c, d.Twist/plane.Deg, d.TwistStdUnc/plane.Deg, calibrate.PlayInTwist(table, d)/plane.Deg)
		}
		if d.SidesDiffer() != c.differ || d.Twisted() != c.differ || d.Leaning() {
			t.Errorf("%+v: differ %v", c, d.SidesDiffer())
		}
	}
}

// By hand: heights read to 2 mm on either side tell their difference to √2·2 = 2.83 mm and what play adds;
// 4 mm is usual.
func TestLeaning(t *testing.T) {
	for lean, want := range map[float64]bool{12: true, -12: true, 5: false, 0: false} {
		d := calibrate.Datum{Twist: math.NaN(), TwistStdUnc: math.NaN(), Lean: lean, LeanStdUnc: 2.83}
		if d.Leaning() != want || d.SidesDiffer() != want || d.Twisted() {
			t.Errorf("lean %g mm ± 2.83: %v", lean, d.Leaning())
		}
	}
	if d := (calibrate.Datum{Lean: 3.9, LeanStdUnc: 0.5}); d.Leaning() {
		t.Error("3.9 mm is no more than usual")
	}
}

// A tape with its edges swapped is told as that: on 280 mm of chord 1311 and 1263 are −9.87°, the holes give
// 10.31°. Where swapping does not fit, or the angle is small, it is not.
func TestSwappedEdges(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	var row *model.Row
	for i := range table.Rows {
		if r := &table.Rows[i]; math.Abs(r.Angle/plane.Deg-10.3) < 0.1 {
			row = r
		}
	}
	if row == nil {
		t.Fatal("no setting at 10.3°")
	}
	lead, trail := calibrate.LeadingEdge(row.Position).Z, calibrate.TrailingEdge(table.Car, row.Position).Z
	for _, c := range []struct {
		le, te float64
		want   string
	}{{trail, lead, "look swapped; type le"}, {trail - 3, lead + 2, "look swapped"}, {lead, trail, ""}, {lead + 110, lead, "is it this setting?"}} {
		_, err := calibrate.FitDatum(table, []model.Reading{{Setting: row.ID, Leading: given.Is(c.le), Trailing: given.Is(c.te)}})
		if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("le %.0f te %.0f: %v, want %q", c.le, c.te, err, c.want)
		}
	}
}
