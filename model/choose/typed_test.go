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

// A front share is 0 to 100 %, and what is asked at least is not more than at most: equal is not a clash.
func TestWhatCannotBeAsked(t *testing.T) {
	for text, ok := range map[string]bool{"0": true, "100": true, "100.1": false, "-1": false, "150": false} {
		_, err := readShare(text)
		_, then := readShareAt(text+"@180km/h", units.Metric)
		if (err == nil) != ok || (then == nil) != ok || !ok && !strings.Contains(err.Error(), "0 to 100 %") {
			t.Errorf("%q: %v, %v", text, err, then)
		}
	}
	for _, a := range AskedList() {
		most, is := strings.CutSuffix(a.Flag, "-max")
		var c Criteria
		if err := a.Read(&c, "5", units.Metric); !is || err != nil {
			continue
		}
		for _, b := range AskedList() {
			if b.Flag != most+"-min" {
				continue
			}
			for text, want := range map[string]bool{"4": false, "5": false, "6": true} {
				with := c
				if err := b.Read(&with, text+b.Bare(units.Metric), units.Metric); err != nil {
					t.Fatal(err)
				}
				if err := a.Read(&with, "5"+a.Bare(units.Metric), units.Metric); err != nil {
					t.Fatal(err)
				}
				if least, high, clash := with.Clash(); clash != want || clash && (least != b.Flag || high != a.Flag) {
					t.Errorf("%s %s with %s 5: %v, %q, %q", b.Flag, text, a.Flag, clash, least, high)
				}
			}
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
