package calibrate

import (
	"math"
	"slices"
	"testing"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/given"
)

// jointed is flat with two joints: both settings have one way of bolting the foot in common, with 0.3·√3° of play, and
// one of the head each, with 0.4·√3°: u is 0.3° of the foot and 0.4° of a head, together 0.5°.
func jointed() *model.Table {
	t := flat()
	foot := &holes.Fit{Pairs: []holes.Pair{{Lower: 0, Upper: 0}}, Play: 0.3 * math.Sqrt(3) * plane.Deg}
	for i := range t.Rows {
		t.Rows[i].Setting.Fits = []*holes.Fit{foot, {Pairs: []holes.Pair{{Lower: i, Upper: i}}, Play: 0.4 * math.Sqrt(3) * plane.Deg}}
		t.Rows[i].Setting.Play = 0.7 * math.Sqrt(3) * plane.Deg
	}
	return t
}

// By hand, with readings of 0.2° each:
//
//	one setting, one side, n times    √(0.5² + 0.2²/n)
//	two settings, one side            √(0.3² + (0.4² + 0.2²)/2), as the foot stays bolted
//	left and right, n times each      √((0.5² + 0.2²/n)/2), and twist √2 times the root of the sum
//	the middle once                   √(0.5² + 0.2²)
//	the same setting bolted anew      √((0.5² + 0.2²)/2)
//
// One side only allows for half of a twist of 0.5° as well.
func TestPlayIsSharedByHand(t *testing.T) {
	nan := math.NaN()
	side := func(id, side string) model.Reading {
		return reading(id, map[string]float64{"a": 2, "b": 6}[id], nan, side)
	}
	anew := func(r model.Reading) model.Reading {
		r.Rebolted = true
		return r
	}
	l, r, m := side("a", "left"), side("a", "right"), side("a", "")
	one := 0.25 // °, half of UsualTwist
	for _, c := range []struct {
		what         string
		all          []model.Reading
		angle, twist float64 // ±, °; 0 for no twist
		inPlay       float64 // of the twist
		allowed      float64
	}{
		{what: "left", all: []model.Reading{l}, angle: math.Sqrt(0.25 + 0.04), allowed: one},
		{what: "left four times", all: []model.Reading{l, l, l, l}, angle: math.Sqrt(0.25 + 0.01), allowed: one},
		{what: "left of two settings", all: []model.Reading{l, side("b", "left")}, angle: math.Sqrt(0.09 + 0.10), allowed: one},
		{what: "left bolted anew", all: []model.Reading{l, anew(l)}, angle: math.Sqrt(0.29 / 2), allowed: one},
		{what: "both sides", all: []model.Reading{l, r}, angle: math.Sqrt(0.29 / 2), twist: math.Sqrt(2 * 0.29), inPlay: math.Sqrt(2 * 0.25)},
		{what: "both sides twice", all: []model.Reading{l, r, l, r}, angle: math.Sqrt(0.27 / 2), twist: math.Sqrt(2 * 0.27), inPlay: math.Sqrt(2 * 0.25)},
		{what: "both sides of two settings", all: []model.Reading{l, r, side("b", "left"), side("b", "right")}, angle: math.Sqrt((0.09 + 0.10) / 2), twist: math.Sqrt(2 * 0.19),
			inPlay: math.Sqrt(2 * (0.09 + 0.08))},
		{what: "both sides, bolted anew", all: []model.Reading{l, r, anew(l), r}, angle: math.Sqrt(0.29 / 4), twist: math.Sqrt(2 * 0.29 / 2), inPlay: math.Sqrt(2 * 0.25 / 2)},
		{what: "the middle", all: []model.Reading{m}, angle: math.Sqrt(0.29)},
		{what: "the middle twice", all: []model.Reading{m, m}, angle: math.Sqrt(0.27)},
	} {
		d, err := fitReadings(jointed(), c.all)
		if want := math.Hypot(c.angle, c.allowed); err != nil || off(d.AngleStdUnc/plane.Deg-want, 1e-6) {
			t.Errorf("%s: %v, ± %.4f°, want %.4f°", c.what, err, d.AngleStdUnc/plane.Deg, want)
		}
		if c.twist > 0 && (off(d.TwistStdUnc/plane.Deg-c.twist, 1e-6) || off(PlayInTwist(jointed(), d)/plane.Deg-c.inPlay, 1e-6)) {
			t.Errorf("%s: twist ± %.4f° of which %.4f°, want %.4f and %.4f°", c.what, d.TwistStdUnc/plane.Deg, PlayInTwist(jointed(), d)/plane.Deg, c.twist, c.inPlay)
		}
	}
	if d, _ := fitReadings(jointed(), []model.Reading{l}); !math.IsNaN(PlayInTwist(jointed(), d)) {
		t.Error("one side has a twist")
	}
}

// By hand: a tape with a lever of 400 mm has 400 times the play of the level beside it, 0.5° = 0.0087266 rad or
// 3.4907 mm, as one error: with both, the height is known to 2 mm and 400 mm of what the level is read to, 0.2° =
// 1.3963 mm, since the play of the two goes out.
func TestPlayGoesOutBetweenLevelAndTape(t *testing.T) {
	r := reading("a", 2, 1200, "")
	d, err := fitReadings(jointed(), []model.Reading{r})
	if want := math.Hypot(2, 400*0.2*plane.Deg); err != nil || off(d.ZStdUnc-want, 1e-6) {
		t.Errorf("%v: ± %.4f mm, want %.4f mm", err, d.ZStdUnc, want)
	}
	r.Angle = given.Number{}
	d, err = fitReadings(jointed(), []model.Reading{r, r})
	if want := math.Hypot(2/math.Sqrt2, 400*0.5*plane.Deg); err != nil || off(d.ZStdUnc-want, 1e-6) {
		t.Errorf("tape alone, twice: %v, ± %.4f mm, want %.4f mm", err, d.ZStdUnc, want)
	}
}

// The middle goes with its sides: it and the left of one setting have half of u² in common, so that their
// mean is known to u²·(1 + 1 + 2/2)/4 of play and no better.
func TestMiddleGoesWithItsSides(t *testing.T) {
	row := &jointed().Rows[0]
	variance := func(with ...[]share) float64 {
		by := map[string]float64{}
		unc := map[string]float64{}
		for _, all := range with {
			for _, s := range all {
				by[s.key] += s.by / float64(len(with))
				unc[s.key] = s.stdUnc
			}
		}
		sum := 0.0
		for key := range by {
			sum += math.Pow(by[key]*unc[key]/plane.Deg, 2)
		}
		return sum
	}
	l, r, m := playOf(row, "left", 0), playOf(row, "right", 0), playOf(row, "", 0)
	for want, with := range map[float64][][]share{0.25: {m}, 0.1875: {m, l}, 0.125: {l, r}} {
		if got := variance(with...); off(got-want, 1e-9) {
			t.Errorf("%d of them: %.4f, want %.4f", len(with), got, want)
		}
	}
	if again := playOf(row, "left", 1); slices.ContainsFunc(again, func(s share) bool { return s.key == l[0].key || s.key == l[1].key }) {
		t.Error("bolted anew has the play of before")
	}
	row.Fits[1].Play = 0
	if n := len(playOf(row, "left", 0)); n != 1 {
		t.Errorf("a joint without play counts: %d", n)
	}
}
