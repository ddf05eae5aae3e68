package carfile

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/given"
	"stanchion/model/toml"
)

// corrected is a car whose part was turned by 0.37°, and is known to 0.226° instead of 0.3°.
func corrected(c *model.Car) *model.Car {
	next := *c
	before, u := c.AngleBefore()
	next.Fixed.Turn += 0.37 * plane.Deg
	next.Uncertainty.AngleReading = 0.226 * plane.Deg
	next.Before = model.AngleBefore{Turn: given.Is(before), StdUnc: u, Written: next.Fixed.Turn}
	return &next
}

// A correction is put into every sample, whatever tables it has, reads back as it was, with what was before, and put in
// again changes only what it has to; comments stay.
func TestSetDatumReadsBack(t *testing.T) {
	for name, text := range texts(t) {
		for _, added := range []string{"", "\n[uncertainty] # of mine\n# note\nspeed = 2\n", "\n[uncertainty]\nangle_reading = 0.25 # by hand\n", "\n[uncertainty]"} {
			if added != "" && bytes.Contains(text, []byte("\n[uncertainty]")) {
				continue
			}
			whole := append(slices.Clone(text), strings.ReplaceAll(added, "\n", ending(text))...)
			before, err := Parse(name, whole, openCars)
			if err != nil {
				t.Fatal(err)
			}
			want := corrected(before)
			after := Apply(whole, must(SetDatum(whole, want)))
			car, err := Parse(name, after, openCars)
			if err != nil {
				t.Fatalf("%s%s: %v", name, added, err)
			}
			turn, u := car.AngleBefore()
			if off := math.Abs(car.Fixed.Turn-want.Fixed.Turn) / plane.Deg; off > 0.0051 || math.Abs(car.Uncertainty.AngleReading/plane.Deg-0.226) > 1e-9 || car.Uncertainty.Default["angle_reading"] {
				t.Errorf("%s%s: %.4f° ± %.4f°", name, added, car.Fixed.Turn/plane.Deg, car.Uncertainty.AngleReading/plane.Deg)
			}
			if math.Abs(turn-before.Fixed.Turn) > 1e-8 || math.Abs(u-before.Uncertainty.AngleReading) > 1e-6 {
				t.Errorf("%s%s: before %.4f° ± %.4f°, was %.4f° ± %.4f°", name, added, turn/plane.Deg, u/plane.Deg, before.Fixed.Turn/plane.Deg, before.Uncertainty.AngleReading/plane.Deg)
			}
			for _, comment := range []string{"# of mine", "# note", "# by hand"} {
				if strings.Contains(added, comment) && bytes.Count(after, []byte(comment)) != 1 {
					t.Errorf("%s: %q is lost", name, comment)
				}
			}
			if bytes.Contains(text, []byte("\r\n")) != bytes.Contains(bytes.TrimPrefix(after, whole[:10]), []byte("\r\n")) {
				t.Errorf("%s: line ends", name)
			}
			again := Apply(after, must(SetDatum(after, car)))
			if minus, plus := Lines(after, again); len(minus) > 2 || len(plus) > 2 {
				t.Errorf("%s%s: put in again changes\n%s\nto\n%s", name, added, strings.Join(minus, "\n"), strings.Join(plus, "\n"))
			}
			if kept, _ := sound(t, again).AngleBefore(); math.Abs(kept-turn) > 1e-12 {
				t.Errorf("%s%s: before %.6f°, was %.6f°", name, added, kept/plane.Deg, turn/plane.Deg)
			}
		}
	}
}

// sound is a car of a file without faults.
func sound(t *testing.T, text []byte) *model.Car {
	t.Helper()
	c, err := Parse("car.toml", text, openCars)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// ending is how a text ends its lines.
func ending(text []byte) string {
	if bytes.Contains(text, []byte("\r\n")) {
		return "\r\n"
	}
	return "\n"
}

// Where an angle in the fixed part is not the one that was written, it was measured anew.
func TestMeasuredAnew(t *testing.T) {
	text := Start()
	car := sound(t, text)
	after := Apply(text, must(SetDatum(text, corrected(car))))
	fixed := car.Fixed
	fixed.Turn = 1.5 * plane.Deg
	anew := sound(t, Apply(after, must(SetFixed(after, fixed))))
	if turn, u := anew.AngleBefore(); math.Abs(turn/plane.Deg-1.5) > 1e-9 || math.Abs(u/plane.Deg-0.226) > 1e-9 {
		t.Errorf("%.3f° ± %.3f°", turn/plane.Deg, u/plane.Deg)
	}
}

// Tables that edits do not reach are said, and faults of [datum].
func TestDatumFaults(t *testing.T) {
	car := corrected(sound(t, Start()))
	for added, want := range map[string]string{
		"uncertainty = { speed = 2 }\n": "uncertainty is written on one line",
		"uncertainty.speed = 2\n":       "uncertainty is written as dotted keys",
	} {
		if _, err := SetDatum(append([]byte(added), Start()...), car); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s%v, want %s", added, err, want)
		}
	}
	for added, want := range map[string]string{
		"[datum]\nangle = 1\nbefore = 1":                       "datum: before_reading is missing",
		"[datum]\nangle = 1\nbefore_reading = 1":               "datum: before is missing",
		"[datum]\nangle = 200\nbefore = 1\nbefore_reading = 1": "datum: angle is 200°",
	} {
		if _, err := Parse("car.toml", []byte(string(Start())+"\n"+added+"\n"), openCars); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %s", added, err, want)
		}
	}
}

// Lines that did not change between two that did are not shown.
func TestLinesShowWhatChanged(t *testing.T) {
	minus, plus := Lines([]byte("a\nb\nc\nd\ne\n"), []byte("a\nB\nc\nd\nx\ne\ny\n"))
	if !slices.Equal(minus, []string{"b"}) || !slices.Equal(plus, []string{"B", "x", "y"}) {
		t.Errorf("%q, %q", minus, plus)
	}
	if minus, plus = Lines([]byte("a\n"), []byte("a\n")); len(minus)+len(plus) != 0 {
		t.Errorf("%q, %q", minus, plus)
	}
}

// A correction takes the angle's line out of what is assumed, however the list is laid out; other lines and comments stay.
func TestSetDatumTakesTheAngleOutOfAssumed(t *testing.T) {
	const angle = "\"bracket's angle: 0°\""
	for list, want := range map[string]string{
		"assumed = [\n  \"roof height: 1300 mm\", # later\n  " + angle + ",\n  \"span: 1400 mm\",\n]": "assumed = [\n  \"roof height: 1300 mm\", # later\n  \"span: 1400 mm\",\n]",
		"assumed = [\n  " + angle + ", # by eye\n]":                                                   "assumed = [\n]",
		"assumed = [\n  \"span: 1400 mm\",\n  " + angle + "\n]":                                       "assumed = [\n  \"span: 1400 mm\",\n]",
		"assumed = [" + angle + "]":                                                                   "assumed = []",
		"assumed = [" + angle + ", \"span: 1400 mm\"] # mine":                                         "assumed = [\"span: 1400 mm\"] # mine",
		"assumed = [\"span: 1400 mm\", " + angle + "]":                                                "assumed = [\"span: 1400 mm\"]",
		"assumed = [\"span: 1400 mm\", " + angle + ", \"chord: 250 mm\"]":                             "assumed = [\"span: 1400 mm\", \"chord: 250 mm\"]",
		"assumed = [\n  \"span: 1400 mm\"\n  , " + angle + "\n  , \"chord: 250 mm\"\n]":               "assumed = [\n  \"span: 1400 mm\"\n  , \"chord: 250 mm\"\n]",
		"assumed = [ \"the bracket's angle, by eye\" ]":                                               "assumed = [ \"the bracket's angle, by eye\" ]",
	} {
		for _, ending := range []string{"\n", "\r\n"} {
			for name, text := range texts(t) {
				if bytes.Contains(text, []byte("\r\n")) != (ending == "\r\n") || bytes.Contains(text, []byte("\nassumed")) || !bytes.Contains(text, []byte("\nformat")) {
					continue
				}
				in := func(list string) []byte {
					return bytes.Replace(text, []byte("\nformat"), []byte("\n"+strings.ReplaceAll(list, "\n", ending)+ending+"format"), 1)
				}
				whole := in(list)
				before := sound(t, whole)
				next := corrected(before)
				next.Before.Assumed = before.AngleAssumed()
				next.Assumed = slices.DeleteFunc(slices.Clone(next.Assumed), model.Assumption.OfFixedAngle)
				after := Apply(whole, must(SetDatum(whole, next)))
				if car := sound(t, after); car.AngleAssumed() || car.AngleBeforeAssumed() != next.Before.Assumed || len(car.Assumed) != len(next.Assumed) {
					t.Errorf("%s %q: %v", name, list, car.Assumed)
				}
				bare := corrected(sound(t, in(want)))
				bare.Before.Assumed = next.Before.Assumed
				if got := Apply(in(want), must(SetDatum(in(want), bare))); !bytes.Equal(after, got) {
					t.Errorf("%s %q: the list is not %q:\n%s", name, list, want, after)
				}
			}
		}
	}
	text := "format = 1\nassumed = [\n  " + angle + "\n  , \"span: 1400 mm\"\n]\n"
	if _, err := takeOutAngle([]byte(text), toml.Locate(text)); err == nil || !strings.Contains(err.Error(), "by hand") {
		t.Errorf("a list that cannot be edited: %v", err)
	}
}
