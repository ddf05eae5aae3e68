package plan_test

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"

	"stanchion/aero"
	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/given"
	"stanchion/model/modeltest"
	"stanchion/model/plan"
	"stanchion/model/strength"
)

// byFormulas is a wish whose strength is by formulas, which takes no time.
func byFormulas() plan.Wish {
	w := plan.Usual()
	w.Formulas = true
	return w
}

// sprung is a demo with springs.
func sprung(t *testing.T) *model.Table {
	car := *modeltest.Car(t, "coupe")
	car.FrontRate, car.RearRate = given.Is(60), given.Is(55)
	return modeltest.TableOf(t, &car)
}

// grade is 2 where all limits are kept by 2 standard uncertainties, 1 by one, else 0.
func grade(c plan.Candidate) float64 {
	least := 2.0
	for _, l := range c.Tight {
		least = min(least, math.Floor((l.Have-l.Allowed)/l.StdUnc))
	}
	return max(least, 0)
}

// Whatever is planned may be run: limits, stall, strength, a step of a third at most, changes that the breaks have time for, the safest first.
func TestPlannedIsSafe(t *testing.T) {
	for _, demo := range []string{"coupe", "saloon", "roadster"} {
		table := modeltest.Table(t, demo)
		for _, find := range []plan.Find{plan.Balance, plan.Drag} {
			for _, pause := range []float64{12, 60} {
				w := byFormulas()
				w.Find, w.Break, w.Sessions, w.Settings = find, pause, 7, 3
				p, err := plan.Make(context.Background(), table, w)
				if errors.Is(err, plan.ErrFew) || errors.Is(err, plan.ErrNoPower) {
					continue
				}
				if err != nil {
					t.Fatal(err)
				}
				first := p.Candidates[0]
				for _, c := range p.Candidates {
					if r := c.Row; !r.Within() || r.Stalled || r.Lifts() || c.Verdict == strength.DoesNotHold {
						t.Errorf("%s %s: %s is planned", demo, find.Key(), r.ID)
					}
					if c.Verdict == strength.Passes && first.Verdict != strength.Passes {
						t.Errorf("%s: the first setting does not pass, %s does", demo, c.Row.ID)
					}
					// By hand: the limit that is kept least, in standard uncertainties; under 1 is no difference, from 2 on it is clear.
					if c.Verdict == first.Verdict && grade(c) > grade(first) {
						t.Errorf("%s: %s keeps its limits more clearly than the first setting", demo, c.Row.ID)
					}
					if c.Verdict == first.Verdict && grade(c) == grade(first) && c.Row.Share < first.Row.Share-1e-12 {
						t.Errorf("%s: %s has more load at the rear than the first setting", demo, c.Row.ID)
					}
				}
				last := -1
				for i, s := range p.Runs {
					if i == 0 && s.Setting != 0 {
						t.Errorf("%s: the day starts with setting %d", demo, s.Setting)
					}
					if last >= 0 && s.Setting != last {
						n := choose.WorkOf(p.Candidates[last].Row.Setting, p.Candidates[s.Setting].Row.Setting).Moved
						if takes := 2*3*float64(n) + plan.CheckMinutes; takes > pause || math.Abs(takes-s.Change) > 1e-9 { // two uprights, 3 min for a bolt
							t.Errorf("%s: a change of %d bolts takes %.0f min, said %.0f, in a break of %.0f", demo, n, takes, s.Change, pause)
						}
					}
					last = s.Setting
				}
			}
		}
	}
}

// What readings tell, by hand: the rear sinks by what the rear axle's load changes over its rate, to within what the car's turn does to the
// wing; top speed by the cube root of drag areas; coast-downs by drag over pressure.
func TestTellsByHand(t *testing.T) {
	table := sprung(t)
	p, err := plan.Make(context.Background(), table, byFormulas())
	if err != nil {
		t.Fatal(err)
	}
	a, b := p.Candidates[0].Row, p.Candidates[1].Row
	q := aero.DynamicPressure(table.Density, table.Speed)
	area := table.Car.DragArea.Value()
	tells := p.Tells(1)
	for k, want := range map[plan.Kind]float64{
		plan.FrontRide: (b.Change.Front - a.Change.Front) / 60, plan.RearRide: (b.Change.Rear - a.Change.Rear) / 55,
		plan.Top:   math.Cbrt(2*table.Car.Power.Value()/table.Density) * (1/math.Cbrt(area+b.Drag/q) - 1/math.Cbrt(area+a.Drag/q)),
		plan.Coast: (b.Drag - a.Drag) / q,
	} {
		one := tells[k]
		if tolerance := 0.05*math.Abs(want) + 0.02; !one.Known || one.Kind != k || math.Abs(one.Expect-want) > tolerance {
			t.Errorf("%s: expected %.4f, want %.4f", k.Key(), one.Expect, want)
		}
	}
	// Two readings of 1.5 mm, each with a speed known to a part: its sink goes with the square.
	u := table.Car.Uncertainty
	if least := math.Sqrt2 * u.RideHeight; tells[plan.RearRide].Noise < least || tells[plan.RearRide].Noise > 1.5*least {
		t.Errorf("rear ride heights are read to ± %.2f, want a little above %.2f", tells[plan.RearRide].Noise, least)
	}
}

// A setting that the stall or a limit bars is named as barred, and no day is made of one setting.
func TestBarred(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	var good, stalled *model.Row
	for i := range table.Rows {
		switch r := &table.Rows[i]; {
		case r.Stalled:
			stalled = r
		case r.Within() && !r.Lifts():
			good = r
		}
	}
	w := byFormulas()
	w.Named = []*model.Row{good, stalled}
	_, err := plan.Make(context.Background(), table, w)
	if !errors.Is(err, plan.ErrBarred) || len(plan.BarredOf(err)) != 1 || plan.BarredOf(err)[0].Why != plan.WingStalled {
		t.Errorf("%v, %v", err, plan.BarredOf(err))
	}
}

// Sessions that were run stay, what is lost is left out, and the start of the day falls to the first session that is driven.
func TestPlannedAnew(t *testing.T) {
	table := modeltest.Table(t, "saloon")
	p, err := plan.Make(context.Background(), table, byFormulas())
	if err != nil {
		t.Fatal(err)
	}
	k := p.Keep(plan.Kept{})
	for n, s := range map[int]plan.State{1: plan.LostSession} {
		if err := k.Mark(n, s, ""); err != nil {
			t.Fatal(err)
		}
	}
	if err := k.Mark(2, plan.Run, ""); err != nil {
		t.Fatal(err)
	}
	w, gone := k.Follow(table)
	w.Formulas = true
	again, err := plan.Make(context.Background(), table, w)
	if err != nil || len(gone) > 0 {
		t.Fatal(err, gone)
	}
	r := again.Runs
	if r[0].Setting != -1 || r[0].Laps != 0 || r[1].State != plan.Run || r[1].Settle != plan.Installation || r[2].Settle != 0 {
		t.Errorf("runs %+v", r[:3])
	}
	if again.Contrasts[0].RunsA+again.Contrasts[0].RunsB != 5 || !(again.Contrasts[0].Seen > p.Contrasts[0].Seen) {
		t.Errorf("contrast %+v after one session less, before %+v", again.Contrasts[0], p.Contrasts[0])
	}
	// A day of two sessions drives both settings and claims nothing.
	w = byFormulas()
	w.Sessions = 2
	if p, err = plan.Make(context.Background(), table, w); err != nil || p.Contrasts[0].RunsB != 1 || !math.IsNaN(p.Contrasts[0].Seen) {
		t.Errorf("two sessions: %+v, %v", p.Contrasts, err)
	}
}

// Readings narrow what they are for, never the other way, and the more sessions the more.
func TestReadingsNarrow(t *testing.T) {
	table := sprung(t)
	last := math.Inf(1)
	for _, sessions := range []int{2, 6, 12} {
		w := byFormulas()
		w.Find, w.Sessions = plan.Downforce, sessions
		p, err := plan.Make(context.Background(), table, w)
		if err != nil {
			t.Fatal(err)
		}
		if r := p.Reading; !(r.After < r.Before) || r.After > last+1e-6 {
			t.Errorf("%d sessions: from ± %.2f N to ± %.2f N, with fewer ± %.2f N", sessions, r.Before, r.After, last)
		}
		last = p.Reading.After
	}
	if _, err := plan.Make(context.Background(), modeltest.Table(t, "coupe"), plan.Wish{}); err == nil {
		t.Error("an empty wish is planned")
	}
}

// The letters of a printed sheet hold for the day: once a session is over, settings stay in the order in which they were kept.
func TestLettersStay(t *testing.T) {
	table := modeltest.Table(t, "saloon")
	p, err := plan.Make(context.Background(), table, byFormulas())
	if err != nil {
		t.Fatal(err)
	}
	k := p.Keep(plan.Kept{})
	slices.Reverse(k.Settings)
	for over, first := range []string{p.Candidates[0].Row.ID, k.Settings[0]} { // before the first session the safest comes first
		if over > 0 {
			if err := k.Mark(over, plan.Run, ""); err != nil {
				t.Fatal(err)
			}
		}
		w, _ := k.Follow(table)
		w.Formulas = true
		again, err := plan.Make(context.Background(), table, w)
		if err != nil || again.Candidates[0].Row.ID != first {
			t.Errorf("with %d sessions over the first setting is %v, want %s; %v", over, again.Candidates[0].Row.ID, first, err)
		}
	}
}
