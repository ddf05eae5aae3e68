package choose

import (
	"math"
	"strings"
	"testing"

	"stanchion/model/units"
)

// What is typed is read as it is meant, and what is not gets one line that says what to type.
func TestReadTarget(t *testing.T) {
	for text, want := range map[string][2]float64{
		"44±0.5": {0.44, 0.005}, "44+-0.5%": {0.44, 0.005}, "49.9": {0.499, 0.01}, "49.9 %": {0.499, 0.01}, "-2.5pp ± 0.3pp": {-0.025, 0.003}, "−2.5±0": {-0.025, 0},
	} {
		got, err := ReadTarget(text, 0.01)
		if err != nil || math.Abs(got.Value.Value()-want[0]) > 1e-12 || math.Abs(got.Tolerance-want[1]) > 1e-12 {
			t.Errorf("%q: %+v, %v; want %v", text, got, err, want)
		}
	}
	for text, want := range map[string]string{
		"half": "is not a number in %", "49.9mm": `"49.9mm" is not a number in %`, "1% 2pp": "is not a number in %", "49.5%48": "is not a number in %",
		"44±-1": "must be 0 or more", "44±x": "is not a number in %", "49,9": "decimal point", "": "is not a number in %",
	} {
		if _, err := ReadTarget(text, 0.01); err == nil || !strings.Contains(err.Error(), want) || strings.Contains(err.Error(), "8ft") {
			t.Errorf("%q: %v", text, err)
		}
	}
	for text, want := range map[string][3]float64{"48±1@180km/h": {50, 0.48, 0.01}, "48 at 90": {25, 0.48, ShareTolerance}} {
		got, err := readShareAt(text, units.Metric)
		if err != nil || math.Abs(got.Speed-want[0]) > 1e-9 || math.Abs(got.Share.Value.Value()-want[1]) > 1e-12 || math.Abs(got.Share.Tolerance-want[2]) > 1e-12 {
			t.Errorf("%q: %+v, %v", text, got, err)
		}
	}
}

// Every hint of the form is something that may be typed, in either system of units.
func TestHintsCanBeTyped(t *testing.T) {
	for _, u := range []units.System{units.Metric, units.Imperial} {
		for _, a := range AskedList() {
			var c Criteria
			if err := a.Read(&c, strings.Split(a.Hint(u), ",")[0], u); err != nil {
				t.Errorf("%s: %v", a.Name, err)
			}
			if (c.NeedsFrom()) != (a.Flag == "keep-height" || a.Flag == "keep-foot" || a.Flag == "moves-max") {
				t.Errorf("%s needs the setting on the car: %v", a.Name, c.NeedsFrom())
			}
		}
	}
}
