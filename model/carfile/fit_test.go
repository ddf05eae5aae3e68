package carfile

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"

	"stanchion/holes/plane"
	"stanchion/model"
)

// withFit is the start file with a table [fit].
func withFit(fit string) []byte {
	return []byte(strings.Replace(string(Start()), "[limits]", "[fit]\n"+fit+"\n[limits]", 1))
}

const soundFit = `readings = 16
lift_factor = 0.9
flow_angle = 1.5
rear_downforce_area = -0.2
covariance_of = [ "lift_factor", "flow_angle", "rear_downforce_area" ]
covariance = [ [ 0.0009, -0.01, 0.0001 ], [ -0.01, 0.25, 0 ], [ 0.0001, 0, 0.0004 ] ]`

// A fit is taken into the car: by hand 0.9 of the lift, 1.5° more of flow angle, −0.2 m² at the rear instead
// of the 0 that is assumed where nothing is given, which is then no longer assumed.
func TestFitIsTaken(t *testing.T) {
	car, err := Parse("c.toml", withFit(soundFit), nil)
	if err != nil {
		t.Fatal(err)
	}
	p, _ := car.Flow.At(0)
	e := car.TrackFit.Estimate
	if e == nil || math.Abs(car.TrackFit.Off(model.LiftFactor)+0.1) > 1e-12 || math.Abs(p.Angle/plane.Deg-1.5) > 1e-9 || math.Abs(car.RearDownforceArea+0.2) > 1e-12 || e.Readings != 16 {
		t.Fatalf("%+v, flow angle %.3f°, rear %.3f m²", e, p.Angle/plane.Deg, car.RearDownforceArea)
	}
	if std, _ := e.StdUnc(model.FlowAngleOff); math.Abs(std/plane.Deg-0.5) > 1e-9 {
		t.Errorf("flow angle ±%.4f°, want 0.5°", std/plane.Deg)
	}
	if cov := e.Cov.At(0, 1) / plane.Deg; math.Abs(cov+0.01) > 1e-12 {
		t.Errorf("covariance of lift and flow %.5f°, want −0.01°", cov)
	}
	for _, a := range car.Assumed {
		if a.What == "rear_downforce_area" {
			t.Error("the rear's own area is assumed still")
		}
	}
	if car.Uncertainty.FrontOwn != model.MissingOwnStdUnc {
		t.Errorf("own lift in front, not given, is known to ±%g m²", car.Uncertainty.FrontOwn)
	}
}

// Each fault has one line with its place, and what to do.
func TestFaultsOfFit(t *testing.T) {
	replace := func(old, with string) string { return strings.Replace(soundFit, old, with, 1) }
	for what, c := range map[string]struct{ fit, says string }{
		"an unknown name":        {replace(`"flow_angle",`, `"flow_angel",`), `covariance_of holds the text "flow_angel"; did you mean "flow_angle"?`},
		"a name twice":           {replace(`"flow_angle",`, `"lift_factor",`), `covariance_of holds "lift_factor" twice`},
		"not symmetric":          {replace("-0.01, 0.25", "-0.02, 0.25"), "covariance of flow_angle and lift_factor differs from that of lift_factor and flow_angle"},
		"not positive definite":  {replace("0.25", "0.0001"), "the covariance is not positive definite"},
		"a negative variance":    {replace("0.0004", "-0.0004"), "the covariance is not positive definite"},
		"a row too few":          {replace(", [ 0.0001, 0, 0.0004 ]", ""), "covariance has 2 rows; covariance_of names 3 unknowns"},
		"a number too few":       {replace("[ 0.0001, 0, 0.0004 ]", "[ 0.0001, 0 ]"), "row 3 of covariance, rear_downforce_area, has 2 numbers; give 3"},
		"a text in it":           {replace("0.25", `"wide"`), `covariance of flow_angle and flow_angle is the text "wide"`},
		"no covariance":          {strings.Split(soundFit, "covariance =")[0], "covariance is missing; give 3 rows of 3 numbers"},
		"no names":               {"covariance = [ [ 1 ] ]", "covariance_of is missing"},
		"a value missing":        {replace("lift_factor = 0.9", ""), "lift_factor is missing; covariance_of names it"},
		"a value without a row":  {soundFit + "\ndrag_factor = 1.1", "drag_factor is not in covariance_of"},
		"a factor beyond":        {replace("= 0.9", "= 9"), "lift_factor is 9; it must be 0.2 to 3"},
		"both kinds":             {soundFit + "\ndownforce = 0.9", "downforce beside covariance_of; they tell the same twice"},
		"a rate of no car":       {"front_rate = 50\ncovariance_of = [ \"front_rate\" ]\ncovariance = [ [ 1 ] ]", "front_rate in [fit], and none in [car]"},
		"an unknown key":         {soundFit + "\nlift = 1", `unknown key "lift"`},
		"no flow left":           {"speed_ratio = -0.75\ncovariance_of = [ \"speed_ratio\" ]\ncovariance = [ [ 0.01 ] ]", ""},
		"readings that are none": {replace("= 16", "= 1.5"), "readings is 1.5; it must be a whole number"},
	} {
		_, err := Parse("c.toml", withFit(c.fit), nil)
		if c.says == "" {
			if err != nil {
				t.Errorf("%s: %v", what, err)
			}
			continue
		}
		if err == nil || !strings.Contains(err.Error(), c.says) || strings.Count(err.Error(), "\n") > 0 || !strings.HasPrefix(err.Error(), "c.toml:") {
			t.Errorf("%s: %v, want one line with %q", what, err, c.says)
		}
	}
}

// What is written is what is read, in the place of the table that was there, and all else stays.
func TestFitGoesInAndComesBack(t *testing.T) {
	plain, err := Parse("c.toml", Start(), nil)
	if err != nil {
		t.Fatal(err)
	}
	of := []model.Unknown{model.LiftFactor, model.FlowAngleOff, model.RearOwnArea}
	cov := mat.NewSymDense(3, []float64{0.0009, -0.0002, 1e-4, -0.0002, 0.0003, 2e-5, 1e-4, 2e-5, 0.0004})
	e, err := model.NewEstimate(of, []float64{-0.0712345, 0.012, -0.13}, cov)
	if err != nil {
		t.Fatal(err)
	}
	e.Readings = 8
	for what, text := range map[string]string{
		"without one": string(Start()), "in the middle": string(withFit(soundFit)), "at the end": string(Start()) + "\n[fit]\nreadings = 0",
		"with Windows' line ends": strings.ReplaceAll(string(withFit(soundFit)), "\n", "\r\n"), "without a last line end": strings.TrimRight(string(Start()), "\n"),
	} {
		edits, err := SetFit([]byte(text), plain, e, map[model.Unknown]float64{model.LiftFactor: 0.05})
		if err != nil {
			t.Fatalf("%s: %v", what, err)
		}
		after := string(Apply([]byte(text), edits))
		car, err := Parse("c.toml", []byte(after), nil)
		if err != nil {
			t.Fatalf("%s: %v", what, err)
		}
		got := car.TrackFit.Estimate
		for i := range of {
			if math.Abs(got.Value[i]/e.Value[i]-1) > 1e-4 {
				t.Errorf("%s: %s off by %g, want %g", what, of[i].Key(), got.Value[i], e.Value[i])
			}
			for k := range of {
				if math.Abs(got.Cov.At(i, k)/cov.At(i, k)-1) > 1e-6 {
					t.Errorf("%s: covariance %d, %d is %g, want %g", what, i, k, got.Cov.At(i, k), cov.At(i, k))
				}
			}
		}
		if got.Readings != 8 || strings.Count(after, "\n[fit]") != 1 || !strings.Contains(after, "± 0.03, ± 0.05 before") {
			t.Errorf("%s: %d readings; %s", what, got.Readings, after[strings.Index(after, "[fit]"):])
		}
		if strings.Contains(text, "\r\n") != strings.Contains(after, "\r\n") || strings.Count(after, "\r\n") > 0 && strings.Count(after, "\n") != strings.Count(after, "\r\n") {
			t.Errorf("%s: line ends are mixed", what)
		}
		for _, l := range strings.Split(text, "\n") {
			if l = strings.TrimRight(l, "\r"); !strings.HasPrefix(l, "readings") && !strings.Contains(soundFit, l) && !strings.Contains(after, l) {
				t.Errorf("%s: the line %q is lost", what, l)
			}
		}
	}
	for _, text := range []string{string(Start()) + "\n", strings.Replace(string(Start()), "format = 1", "format = 1\nfit.downforce = 0.9", 1)} {
		if _, err := SetFit([]byte(text), plain, e, nil); (err == nil) != !strings.Contains(text, "fit.downforce") {
			t.Errorf("dotted keys: %v", err)
		}
	}
}
