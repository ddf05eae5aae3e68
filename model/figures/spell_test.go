package figures

import (
	"math"
	"slices"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/units"
)

// By hand: values in mm, rad, N and fractions as people read them, in both systems.
func TestSpellByHand(t *testing.T) {
	for _, c := range []struct {
		key              Key
		x                float64
		metric, imperial string
		units            [2]string
	}{
		{Height, 1247.4, "1247", "49.11", [2]string{"mm", "in"}},
		{GroundAngle, 10.26 * plane.Deg, "10.3", "10.3", [2]string{"°", "°"}},
		{StallMargin, 2.24 * plane.Deg, "+2.2", "+2.2", [2]string{"°", "°"}},
		{StallMargin, -2.24 * plane.Deg, "−2.2", "−2.2", [2]string{"°", "°"}},
		{CL, 1.2345, "1.23", "1.23", [2]string{"", ""}},
		{CD, 0.09119, "0.091", "0.091", [2]string{"", ""}},
		{Downforce, 518, "518", "116", [2]string{"N", "lbf"}},
		{FrontChange, 25.4, "+25", "+6", [2]string{"N", "lbf"}},
		{FrontChange, -92, "−92", "−21", [2]string{"N", "lbf"}},
		{FrontChange, 0.2, "0", "0", [2]string{"N", "lbf"}},
		{FrontShare, 0.49, "49.0", "49.0", [2]string{"%", "%"}},
		{BalanceShift, -0.0316, "−3.2", "−3.2", [2]string{"pp", "pp"}},
		{BalanceShift, 0.0316, "+3.2", "+3.2", [2]string{"pp", "pp"}},
		{DragPower, 1340, "1.3", "1.3", [2]string{"kW", "kW"}},
		{Downforce, math.NaN(), "–", "–", [2]string{"N", "lbf"}},
	} {
		f := Get(c.key)
		if got := f.Spell(c.x, units.Metric); got != c.metric || f.Unit(units.Metric) != c.units[0] {
			t.Errorf("%s of %g: %s %s, want %s %s", c.key, c.x, got, f.Unit(units.Metric), c.metric, c.units[0])
		}
		if got := f.Spell(c.x, units.Imperial); got != c.imperial || f.Unit(units.Imperial) != c.units[1] {
			t.Errorf("%s of %g: %s %s, want %s %s", c.key, c.x, got, f.Unit(units.Imperial), c.imperial, c.units[1])
		}
	}
}

// A difference is that of the figures as they are shown; of percentages it is in points.
func TestChangeByHand(t *testing.T) {
	for _, c := range []struct {
		key         Key
		now, before float64
		want, unit  string
	}{
		{Downforce, 517.5, 391.4, "+127", "N"}, // 518 − 391
		{GroundAngle, 6.26 * plane.Deg, 10.24 * plane.Deg, "−3.9", "°"},
		{FrontShare, 0.4904, 0.4976, "−0.8", "pp"},
		{CL, 1.2, 1.2, "0.00", ""},
		{Height, 1247.4, 1221.6, "+25", "mm"},
	} {
		f := Get(c.key)
		if got := f.Change(c.now, c.before, units.Metric); got != c.want || f.ChangeUnit(units.Metric) != c.unit {
			t.Errorf("%s: %s %s, want %s %s", c.key, got, f.ChangeUnit(units.Metric), c.want, c.unit)
		}
	}
}

// Files have degrees, percent and points, rounded to the digits of their key.
func TestInFileByHand(t *testing.T) {
	for _, c := range []struct {
		key     Key
		x, want float64
	}{
		{GroundAngle, 10 * plane.Deg, 10}, {GroundAngle, 1, 57.2958}, {FrontShare, 0.4904567, 49.046}, {BalanceShift, -0.0316, -3.16},
		{Downforce, 518.126, 518.13}, {Height, 1247.12345, 1247.123}, {CL, 1.23456, 1.2346}, {CD, -0.000001, 0},
	} {
		if got := Get(c.key).InFile(c.x); math.Abs(got-c.want) > 1e-9 || got == 0 && math.Signbit(got) {
			t.Errorf("%s of %g: %g, want %g", c.key, c.x, got, c.want)
		}
	}
	if !math.IsNaN(Get(Downforce).InFile(math.NaN())) {
		t.Error("what is not known is a number in files")
	}
}

func TestKeysByHand(t *testing.T) {
	if k := Get(Downforce).StdKey(); k != "downforce_band_n" {
		t.Error(k)
	}
	if change, std := Get(FrontShare).ChangeKeys(); change != "front_share_pp" || std != "front_share_band_pp" {
		t.Error(change, std)
	}
	if f, ok := Find("front share"); !ok || f.Key != FrontShare || f.Heading() != "share" || Get(Height).Heading() != "height" {
		t.Error("front share is not found")
	}
	if _, ok := Find("lift"); ok {
		t.Error("lift is found")
	}
	std, ok := Get(CL).StdUncOf(model.Contribution{Moved: model.Moved{CL: 0.09}})
	if _, none := Get(CD).StdUncOf(model.Contribution{}); !ok || std != 0.09 || none {
		t.Error("CL has an uncertainty, CD none")
	}
	if got := Get(GroundAngle).SpellStdUnc(0.62*plane.Deg, units.Metric); got != "0.6" {
		t.Error(got)
	}
}

// Numbers in equations have four digits, and five decimals at most.
func TestNumbersInEquations(t *testing.T) {
	for _, c := range []struct {
		q    Quantity
		x    float64
		want string
	}{
		{Force, 516.613, "516.6"}, {Force, 12345.6, "12346"}, {Number, 0.0911934, "0.09119"}, {Number, 0.00001234, "0.00001"}, {Angle, 1.939 * plane.Deg, "1.939°"},
		{Number, 0, "0.000"}, {Density, 1.19234, "1.192"}, {Number, -1.5, "−1.500"}, {Number, math.NaN(), "–"},
	} {
		if got := (Symbol{Quantity: c.q}).text(c.x); got != c.want {
			t.Errorf("%g: %s, want %s", c.x, got, c.want)
		}
	}
}

// The largest contribution comes first, and together they are the whole.
func TestContributionsAddUp(t *testing.T) {
	all := table(t, "coupe")
	i := slices.IndexFunc(all.Rows, func(r model.Row) bool { return !math.IsNaN(r.Downforce) && !all.Budget(&r).Drawn })
	e := Explain(all, &all.Rows[i], Get(Downforce))
	sum := 0.0
	for i, c := range e.Contributions {
		sum = math.Hypot(sum, c.By)
		if i > 0 && c.By > e.Contributions[i-1].By {
			t.Errorf("%s with %g N comes after a smaller one", c.What, c.By)
		}
	}
	if math.Abs(sum-e.StdUnc) > 1e-9 || len(e.Contributions) < 5 || len(e.Inputs) == 0 || len(e.Sources()) == 0 {
		t.Errorf("%d contributions come to %g N of %g", len(e.Contributions), sum, e.StdUnc)
	}
	if e := Explain(all, &all.Rows[5], Get(Play)); !math.IsNaN(e.StdUnc) || len(e.Lines)+len(e.Contributions) > 0 {
		t.Errorf("play: %+v", e)
	}
}
