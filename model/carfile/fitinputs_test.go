package carfile

import (
	"regexp"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"

	"stanchion/model"
)

// warnings are those of a car file's text, one a line.
func warnings(t *testing.T, text string) string {
	t.Helper()
	car, err := Parse("c.toml", []byte(text), nil)
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, w := range car.Warnings {
		all = append(all, w.In(car.System()))
	}
	return strings.Join(all, "\n")
}

// A fit knows what it was fitted to: where flow, areas, wing, angle or holes change afterwards it is called
// older, where only speed, air, limits, spelling or a maker's word do it is not.
func TestFitIsOlderThanTheFile(t *testing.T) {
	plain, err := Parse("c.toml", Start(), nil)
	if err != nil {
		t.Fatal(err)
	}
	e, err := model.NewEstimate([]model.Unknown{model.LiftFactor}, []float64{0.02}, mat.NewSymDense(1, []float64{0.0009}))
	if err != nil {
		t.Fatal(err)
	}
	edits, err := SetFit(Start(), plain, e, nil)
	if err != nil {
		t.Fatal(err)
	}
	text := string(Apply(Start(), edits))
	if !regexp.MustCompile(`(?m)^fitted_to = "[0-9a-f]{8}"`).MatchString(text) {
		t.Fatalf("no digest in %s", text[strings.Index(text, "[fit]"):])
	}
	const older = "[fit] is older than the rest of the file"
	if w := warnings(t, text); strings.Contains(w, older) {
		t.Fatalf("as written: %s", w)
	}
	replace := func(pattern, with string) string {
		t.Helper()
		out := regexp.MustCompile(pattern).ReplaceAllString(text, with)
		if out == text {
			t.Fatalf("nothing matches %q", pattern)
		}
		return out
	}
	for what, c := range map[string]struct {
		text  string
		older bool
	}{
		"another wheelbase":     {replace(`(?m)^wheelbase( *)= (\d+)`, "wheelbase = 2511"), true},
		"areas given":           {replace(`# front_downforce_area = -0.05`, "front_downforce_area = -0.05"), true},
		"another chord":         {replace(`(?m)^chord( *)= (\d+)`, "chord = 251"), true},
		"a point of flow":       {text + "\n[[flow]]\nabove_roof = 0\nflow_angle = 2\nspeed_ratio = 0.9\n", true},
		"a band":                {text + "\n[uncertainty]\nspeed_ratio = 0.02\n", true},
		"wheelbase as a float":  {replace(`(?m)^wheelbase( *)= (\d+)`, "wheelbase = $2.0"), false},
		"air":                   {replace(`(?m)^temperature( *)= (\d+)`, "temperature = 31"), false},
		"name":                  {replace(`"My car"`, `"Her car"`), false},
		"a maker's word":        {text + "\n[claim]\ndownforce = 500\nspeed = 180\n", false},
		"a fit of an older one": {replace(`(?m)^fitted_to.*`, ""), false},
	} {
		if w := warnings(t, c.text); strings.Contains(w, older) != c.older {
			t.Errorf("%s: older %v; warnings: %s", what, !c.older, w)
		}
	}
	if w := warnings(t, text+"\n[claim]\ndownforce = 500\nspeed = 180\n"); !strings.Contains(w, "the maker's figure is set aside") {
		t.Errorf("a claim beside a fit: %s", w)
	}
}

// Beside a fit the maker's figure does not scale the wing's curve.
func TestClaimIsSetAsideByAFit(t *testing.T) {
	const claim = "\n[claim]\ndownforce = 700\nspeed = 180\n"
	curve := func(text string) model.WingCurve {
		t.Helper()
		car, err := Parse("c.toml", []byte(text), nil)
		if err != nil {
			t.Fatal(err)
		}
		w, err := car.SolveWing(car.Speed)
		if err != nil {
			t.Fatal(err)
		}
		return w
	}
	with, without, plain := curve(string(withFit(soundFit))+claim), curve(string(withFit(soundFit))), curve(string(Start()))
	if with.MaxLift != without.MaxLift || with.LiftScale != 1 {
		t.Errorf("maximum CL %.4f with a claim, %.4f without; scaled by %.3f", with.MaxLift, without.MaxLift, with.LiftScale)
	}
	if scaled := curve(string(Start()) + claim); scaled.LiftScale == 1 || scaled.MaxLift == plain.MaxLift {
		t.Errorf("a claim without a fit scales by %.3f", scaled.LiftScale)
	}
}

// A covariance that knows nothing is a fault: by hand √1e9 = 31623.
func TestFitMustBeKnown(t *testing.T) {
	for fit, says := range map[string]string{
		"lift_factor = 1\ncovariance_of = [ \"lift_factor\" ]\ncovariance = [ [ 1e9 ] ]":  "lift_factor is known to ±31600 only, by the covariance; it must be ±0.5 or less",
		"lift_factor = 1\ncovariance_of = [ \"lift_factor\" ]\ncovariance = [ [ 0.26 ] ]": "lift_factor is known to ±0.51 only",
		"flow_angle = 1\ncovariance_of = [ \"flow_angle\" ]\ncovariance = [ [ 400 ] ]":    "flow_angle is known to ±20° only, by the covariance; it must be ±15° or less",
		"flow_angle = 1\ncovariance_of = [ \"flow_angle\" ]\ncovariance = [ [ 224 ] ]":    "",
	} {
		_, err := Parse("c.toml", withFit(fit), nil)
		if says == "" && err != nil || says != "" && (err == nil || !strings.Contains(err.Error(), says) || strings.Contains(err.Error(), "\n")) {
			t.Errorf("%q: %v, want one line with %q", fit, err, says)
		}
	}
}
