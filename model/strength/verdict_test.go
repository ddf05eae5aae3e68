package strength_test

import (
	"math"
	"strings"
	"testing"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/carfile"
	"stanchion/model/drill"
	"stanchion/model/given"
	"stanchion/model/modeltest"
	"stanchion/model/strength"
	"stanchion/model/units"
	"stanchion/model/words"
)

// checked returns the frame of a car after a change of it.
func checked(t *testing.T, c *model.Car, change func(c *model.Car)) *strength.Analysis {
	t.Helper()
	if change != nil {
		change(c)
	}
	f, err := strength.New(c)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func coupe(t *testing.T) *model.Car {
	t.Helper()
	c, err := carfile.Demo("coupe")
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// "Passes" is never said of a plate that straight cuts do not describe, of one that is
// not known, of a wing on more than two uprights, or of settings without forces; what is
// not checked leads the headline.
func TestNoPassWithoutACheck(t *testing.T) {
	rect := func(x0, z0, x1, z1 float64) []plane.Point {
		return []plane.Point{{X: x0, Z: z0}, {X: x1, Z: z0}, {X: x1, Z: z1}, {X: x0, Z: z1}}
	}
	for name, row := range map[string]struct {
		change func(c *model.Car)
		want   string
	}{
		"the demo itself":     {nil, ""},
		"material not given":  {func(c *model.Car) { c.Parts[1].Material = "" }, "upright (material not given)"},
		"material not known":  {func(c *model.Car) { c.Parts[1].Material = "unobtainium" }, "upright (material not known)"},
		"thickness not given": {func(c *model.Car) { c.Parts[0].Thickness = given.Number{} }, "bracket (thickness not given)"},
		"outline not given":   {func(c *model.Car) { c.Parts[1].Outline = nil }, "upright (outline not given)"},
		"grade not given":     {func(c *model.Car) { c.Joints[1].Grade = "" }, "joint head (grade not given)"},
		"wing's mass":         {func(c *model.Car) { c.Wing.Mass = given.Number{} }, "wing (mass not given)"},
		"holes wider than the bolts' heads": {func(c *model.Car) {
			for i, h := range c.Parts[1].Holes {
				if h.Joint == "foot" {
					c.Parts[1].Holes[i].D = 14
				}
			}
		}, "upright (its hole k1 is as wide as the bolt's head"},
		"a hole beyond oversize": {func(c *model.Car) { c.Parts[2].Holes[0].D = 11.1 }, "wing (its hole F is too wide for the bolt"},
		"an oversize hole":       {func(c *model.Car) { c.Parts[2].Holes[0].D = 10.9 }, ""},
		"slower than is shown":   {func(c *model.Car) { c.Speed = c.DesignSpeed.Value() + 1 }, "[speed] design (below the chosen speed)"},
		"what holds it":          {func(c *model.Car) { c.Parts[0].Held = given.Number{} }, "bracket (what holds it on the car is not given)"},
		"inserts":                {func(c *model.Car) { c.Joints[1].NutShear = given.Number{} }, "wing inserts (the maker's allowable load is not given)"},
		"rivet nuts":             {func(c *model.Car) { c.Joints[0].Nut = model.RivetNut }, "joint foot (rivet nuts: the maker's allowable load is not given)"},
		"tapped":                 {func(c *model.Car) { c.Joints[0].Nut = model.TappedHole }, ""},
		"held above its bolts":   {func(c *model.Car) { c.Parts[0].Held = given.Is(140) }, "bracket (held above its bolts"},
		"a bracket to the rear": {func(c *model.Car) {
			c.Parts[0].Outline = append(rect(-400, -80, 82, 147)[:3:3], plane.Point{X: -22, Z: 147}, plane.Point{X: -22, Z: -20}, plane.Point{X: -400, Z: -20})
		}, "bracket (not solved as it is drawn: the load does not run along it)"},
		"a forked foot": {func(c *model.Car) {
			c.Parts[1].Outline = []plane.Point{{X: -22, Z: -22}, {X: 20, Z: -22}, {X: 25, Z: 200}, {X: 35, Z: 200}, {X: 40, Z: -22}, {X: 82, Z: -22}, {X: 100, Z: 250}, {X: 172, Z: 405}, {X: 172, Z: 592}, {X: -24, Z: 592}}
		}, "upright (not solved as it is drawn: a straight cut meets it in more than one piece)"},
		"a deep notch": {func(c *model.Car) {
			c.Parts[1].Outline = []plane.Point{{X: -22, Z: -22}, {X: 82, Z: -22}, {X: 100, Z: 200}, {X: -10, Z: 240}, {X: 100, Z: 280}, {X: 172, Z: 405}, {X: 172, Z: 592}, {X: -24, Z: 592}, {X: -24, Z: 300}}
		}, "upright (not solved as it is drawn: the straight line between its bolts runs outside the plate)"},
	} {
		f := checked(t, coupe(t), row.change)
		s := f.All(false)
		head := words.ScopeHeadline(f, s, units.Metric)
		switch {
		case row.want == "":
			if s.Verdict() != strength.Passes || !strings.HasPrefix(head, "PASSES THESE CHECKS") {
				t.Errorf("%s: %v, %s", name, s.Verdict(), head)
			}
		case s.Verdict() == strength.Passes || strings.Contains(head, "PASSES") || !strings.Contains(head, row.want):
			t.Errorf("%s: %v, %s; want %q", name, s.Verdict(), head, row.want)
		case s.Verdict() == strength.NotChecked && !strings.HasPrefix(head, "NOT CHECKED: "):
			t.Errorf("%s: what is not checked does not lead: %s", name, head)
		}
		if s.Worst.Row != nil {
			one := checked(t, coupe(t), row.change)
			r, err := one.Of(s.Worst.Row)
			if err != nil {
				t.Fatal(err)
			}
			if v := r.Verdict(); (v == strength.Passes) != (row.want == "") {
				t.Errorf("%s: the setting alone %v: %s", name, v, words.ResultHeadline(one, r, units.Metric))
			}
		}
	}
}

// A swan neck, an arch that hangs down to the wing's bolts, is not said to pass by formulas of
// beams: only when it is solved as it is drawn.
func TestSwanNeckIsSolved(t *testing.T) {
	c, err := carfile.Load("../../testdata/cars/swan-neck.toml")
	if err != nil {
		t.Fatal(err)
	}
	f := checked(t, c, nil)
	s := f.All(true)
	if head := words.ScopeHeadline(f, s, units.Metric); s.Verdict() == strength.Passes || !strings.Contains(head, "upright (") {
		t.Errorf("%v: %s", s.Verdict(), head)
	}
	for i := range f.Table.Rows {
		if r, err := f.Of(&f.Table.Rows[i]); err != nil || r.Verdict() == strength.Passes {
			t.Errorf("%s: %v, %v", f.Table.Rows[i].ID, r.Verdict(), err)
		}
	}
	if s, err = f.SolveAll(t.Context(), true, strength.MostSolved); err != nil || s.Solved != 1 || s.Verdict() != strength.Passes {
		t.Errorf("solved: %v, %s, %v", s.Verdict(), words.ScopeHeadline(f, s, units.Metric), err)
	}
}

// Settings without forces are counted, and keep the whole from passing.
func TestSettingsWithoutForcesAreSaid(t *testing.T) {
	c, err := carfile.Load("../../testdata/cars/hatch.toml")
	if err != nil {
		t.Fatal(err)
	}
	f := checked(t, c, nil)
	s := f.All(false)
	if s.NoForces != 11 || s.Verdict() == strength.Passes || !strings.Contains(words.ScopeHeadline(f, s, units.Metric), "11 of 54 settings (no forces") {
		t.Errorf("%d without forces, %s", s.NoForces, words.ScopeHeadline(f, s, units.Metric))
	}
}

// A load beyond its allowable does not hold, whatever else is not checked, and what is
// not checked is still said.
func TestFailureOutranksWhatIsOpen(t *testing.T) {
	f := checked(t, coupe(t), func(c *model.Car) { c.Mounting.LoadFactor, c.Joints[1].Grade = given.Is(5), "" })
	s := f.All(false)
	if head := words.ScopeHeadline(f, s, units.Metric); s.Verdict() != strength.DoesNotHold || !strings.HasPrefix(head, "DOES NOT HOLD: ") || !strings.Contains(head, "Not checked: joint head (grade not given)") {
		t.Errorf("%v: %s", s.Verdict(), head)
	}
}

// Where a new hole is OK by the rules that it is tried with, strength finds no spacing or
// edge distance too small for it, in any setting that uses it.
func TestOneRuleForSpacing(t *testing.T) {
	c := coupe(t)
	table, err := c.Map(c.Speed)
	if err != nil {
		t.Fatal(err)
	}
	used := 0
	for z := 380.0; z < 560; z += 7 {
		for _, x := range []float64{-2, 60, 147, 149.5} {
			h := drill.NewHole{Part: 1, Hole: holes.Hole{ID: "N", X: x, Z: z, D: 8.4, Joint: "head"}}
			if _, broken := drill.Broken(drill.HoleRules(&c.Parts[1], h.Hole)); broken {
				continue
			}
			tr, err := drill.Try(t.Context(), table, h)
			if err != nil {
				t.Fatal(err)
			}
			f := checked(t, drill.With(c, h), nil)
			for _, i := range tr.Added {
				r, err := f.Of(f.Table.RowAt(tr.Table.Rows[i].Position))
				if err != nil {
					continue
				}
				used++
				for _, k := range r.Checks {
					if k.Layout && k.At == "N" && k.Utilisation() > 1 {
						t.Errorf("hole at %g, %g is OK by its rules, and %s is %.2f of %.2f mm", x, z, k.What, k.Capacity, k.Demand)
					}
				}
			}
		}
	}
	if used == 0 {
		t.Error("no hole is used: the test tells nothing")
	}
}

// Hole spacing is a rule of the drawing and no strength: what is used is the largest of
// the checks of loads.
func TestUsedIsTheLargest(t *testing.T) {
	r := strength.Result{Checks: []strength.Check{{What: "spacing", Layout: true, Demand: 2, Capacity: 1}, {What: "a", Demand: 0.3, Capacity: 1}, {What: "b", Demand: 0.7, Capacity: 1}, {What: "c", Demand: 0.5, Capacity: 1}}}
	if c, ok := r.Used(); !ok || c.What != "b" {
		t.Errorf("%q %v, want b", c.What, ok)
	}
	if _, ok := (strength.Result{Checks: r.Checks[:1]}).Used(); ok {
		t.Error("a rule is used strength")
	}
}

// The setting that comes closest is that of looking at all ways of bolting all settings
// that break no limit, one after the other.
func TestScopeAgainstLookingAtAll(t *testing.T) {
	for _, demo := range []string{"coupe", "roadster"} {
		f := checked(t, modeltest.Car(t, demo), func(c *model.Car) {
			if !c.DesignSpeed.Known() {
				c.DesignSpeed = given.Is(200 / 3.6)
			}
		})
		for _, every := range []bool{false, true} {
			asked, worst := 0, -1.0
			for i := range f.Table.Rows {
				if r := &f.Table.Rows[i]; !every && r.Breaks() {
					continue
				}
				asked++
				for _, r := range f.Table.Ways(i) {
					res, err := f.Of(r)
					if err != nil { // no forces
						continue
					}
					for _, c := range res.Checks {
						worst = max(worst, c.Weight())
					}
				}
			}
			s := f.All(every)
			got := -1.0
			for _, c := range s.Worst.Checks {
				got = max(got, c.Weight())
			}
			if s.Asked != asked || math.Abs(got-worst) > 1e-9 {
				t.Errorf("%s, all %v: %d settings, worst %.4f; looking at all %d, %.4f", demo, every, s.Asked, got, asked, worst)
			}
		}
	}
}

// Where power and drag area make the car faster than the design speed, the page says that nothing
// is checked up there; where they do not, or are not given, it says nothing of it.
func TestTopSpeedAboveDesignSpeed(t *testing.T) {
	for design, said := range map[float64]bool{230: true, 300: false} {
		f := checked(t, coupe(t), func(c *model.Car) { c.DesignSpeed = given.Is(design * units.KPH) })
		r, err := f.Of(&f.Table.Rows[5])
		if err != nil {
			t.Fatal(err)
		}
		page := strings.Join(words.StrengthLines(f, r, nil, units.Metric, 12), "\n")
		if strings.Contains(page, "nothing is checked") != said {
			t.Errorf("design speed %.0f km/h:\n%s", design, page)
		}
		f.Car.Power = given.Number{}
		if page := strings.Join(words.StrengthLines(f, r, nil, units.Metric, 12), "\n"); strings.Contains(page, "nothing is checked") {
			t.Errorf("without power:\n%s", page)
		}
	}
}
