package guide

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/carfile"
	"stanchion/model/units"
)

// coupe are the answers of someone who measures the demo coupé's plates: the bracket by rows and
// columns, the upright's foot edge to edge, its head by places from two edges and by an arc.
func coupe() Answers {
	return Answers{
		"road": "exist", "name": "Measured", "wheelbase": "2480", "front_mass": "585", "rear_mass": "545", "roof": "1285",
		"parts": "two", "bolt.foot": "M8", "count.foot": "4", "bolt.head": "M8",
		"p1.d": "8.4", "p1.1.how": "rows", "p1.1.rows": "6", "p1.1.columns": "2", "p1.1.up": "outer 133.4", "p1.1.along": "inner 51.6", "p1.2.how": "all",
		"fixed_x": "330", "fixed_z": "790", "fixed_angle": "-2",
		"p2.d": "8.4", "p2.1.how": "rows", "p2.1.joint": "foot", "p2.1.rows": "2", "p2.1.columns": "2", "p2.1.up": "50", "p2.1.along": "60",
		"p2.2.how": "places", "p2.2.joint": "head", "p2.2.places": "k1 22 22, A near 17.8 near 437.8, B 22 492, C 22 542, A1 172 442, A2 170.5 462.9, A3 166.2 483.3, C1 171.9 547.2, C2 169.7 568",
		"p2.3.how": "arc", "p2.3.joint": "head", "p2.3.pivot": "B", "p2.3.radius": "inner 141.6", "p2.3.angles": "4.015 12.0", "p2.4.how": "all",
		"chord": "280", "wing_front": "62", "wing_front_up": "16", "wing_rear": "212", "wing_rear_up": "16", "wing_d": "8.4",
		"span": "1480", "section": "naca 4412", "plate_length": "320", "plate_height": "200", "wing_mass": "6.2", "speed": "160", "design": "255",
	}
}

// made is the car of answers that must do.
func made(t *testing.T, a Answers, u units.System) *model.Car {
	t.Helper()
	text, err := File(a, u)
	if err != nil {
		t.Fatal(err)
	}
	c, err := carfile.Parse("new", text, nil)
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return c
}

// The map of measured plates is that of the demo that they were measured of: every setting's
// angle within 0.05°, its height within 0.3 mm.
func TestMeasuredPlatesGiveTheDemosMap(t *testing.T) {
	demo, err := carfile.Demo("coupe")
	if err != nil {
		t.Fatal(err)
	}
	demo.RakeChange = 0
	sameMap(t, made(t, coupe(), units.Metric), demo)
}

// sameMap compares the settings of two cars.
func sameMap(t *testing.T, got, want *model.Car) {
	t.Helper()
	a, err := got.Positions()
	if err != nil {
		t.Fatal(err)
	}
	b, err := want.Positions()
	if err != nil {
		t.Fatal(err)
	}
	if len(a) != len(b) {
		t.Errorf("%d settings, want %d", len(a), len(b))
	}
	for _, w := range b {
		found := false
		for _, g := range a {
			found = found || math.Abs(g.Angle-w.Angle) < 0.05*plane.Deg && math.Abs(g.Height-w.Height) < 0.3
		}
		if !found {
			t.Errorf("no setting at %.2f° and %.1f mm", w.Angle/plane.Deg, w.Height)
		}
	}
}

// The same upright's head told by distances alone, from the foot's holes that are known by then.
func TestHeadByDistancesGivesTheDemosMap(t *testing.T) {
	demo, err := carfile.Demo("coupe")
	if err != nil {
		t.Fatal(err)
	}
	demo.RakeChange = 0
	at := map[string]plane.Point{}
	for _, h := range demo.Parts[1].Holes {
		at[h.ID] = h.At()
	}
	var items []string
	for _, h := range []string{"A", "B", "C", "A1", "A2", "A3", "B1", "B2", "C1", "C2"} {
		for _, k := range []string{"k1", "k2", "k3", "k4"} {
			items = append(items, fmt.Sprintf("%s-%s %.2f", k, h, at[h].Distance(at[k])))
		}
		if h != "A" {
			items = append(items, fmt.Sprintf("A-%s inner %.2f", h, at[h].Distance(at["A"])-8.4))
		}
	}
	a := coupe().With("p2.2.how", "distances").With("p2.2.distances", strings.Join(items, ", ")).With("p2.3.how", "all")
	sameMap(t, made(t, a, units.Metric), demo)
	text, _ := File(a, units.Metric)
	if !strings.Contains(string(text), "hole_position = 0.") {
		t.Error("how surely the holes are known is not in the file")
	}
	wrong := a.With("p2.2.distances", strings.Replace(a["p2.2.distances"], fmt.Sprintf("k3-B %.2f", at["B"].Distance(at["k3"])), "k3-B 425", 1))
	if _, err := File(wrong, units.Metric); err == nil || !strings.Contains(err.Error(), "k3-B does not fit") || !strings.Contains(err.Error(), "by all the others 420.0") {
		t.Errorf("a wrong distance: %v", err)
	}
}

// Nothing is put in that was not answered: blank is no answer, what is left open is listed, and
// holes cannot be left open.
func TestGuideInventsNothing(t *testing.T) {
	a := coupe()
	for _, q := range Questions(a, units.Metric) {
		err := q.Check("", a, units.Metric)
		if q.Optional != (err == nil) {
			t.Errorf("%s left blank: %v", q.Key, err)
		}
		if holes := q.kind == aSpan || q.kind == aPlace || q.kind == somePlaces && !q.Optional || q.kind == aCount && q.group > 0; holes && q.Check("?", a, units.Metric) == nil {
			t.Errorf("%s may be left open: it would invent holes", q.Key)
		}
	}
	if all := Assumed(a, units.Metric); len(all) != 0 {
		t.Errorf("all is answered, assumed %q", all)
	}
	if c := made(t, a, units.Metric); strings.Contains(fmt.Sprint(c.Assumed), "to be measured") {
		t.Errorf("assumed: %v", c.Assumed)
	}
	open := a.With("fixed_angle", "?").With("wheelbase", "?").With("p2.d", "?")
	for _, k := range []string{"plate_length", "plate_height", "wing_mass", "design"} {
		delete(open, k)
	}
	want := []string{"wheelbase: 2500 mm", "bracket's angle: 0°", "upright's hole diameter: 8.4 mm"}
	if got := Assumed(open, units.Metric); strings.Join(got, "|") != strings.Join(want, "|") {
		t.Errorf("assumed %q, want %q", got, want)
	}
	c := made(t, open, units.Metric)
	n := 0
	for _, k := range c.Assumed {
		for _, w := range want {
			if k.What+": "+k.Value == w {
				n++
			}
		}
	}
	if n != 3 || c.Wing.Mass.Known() || c.DesignSpeed.Known() || c.Wing.Plate.Length > 0 {
		t.Errorf("%d of 3 are in the file as assumed; mass %v, design %v, end plate %v", n, c.Wing.Mass, c.DesignSpeed, c.Wing.Plate)
	}
}

// What was not right says what is.
func TestGuideSaysWhatIsAllowed(t *testing.T) {
	a := coupe()
	for key, rows := range map[string]map[string]string{
		"road":          {"3": "a number from 1 to 2", "make": "", "1": "", "": "a number from 1 to 2"},
		"wheelbase":     {"12": "1500 to 4000 mm", "two": "not a number", "98in": "", "": "? to leave it open: 2500 mm", "?": ""},
		"p1.1.rows":     {"0": "whole number from 1 to 40", "3.5": "whole number", "?": "cannot be left open"},
		"bolt.foot":     {"M7": "M5, M6, M8, M10 or M12", "m10": "", "5/16in": "", "?": ""},
		"wing_rear":     {"65": "at least 20 mm behind"},
		"p1.1.along":    {"inner 52": "", "inner": "not a number", "4": "it must be 5 to 3000 mm", "outer 12": "it must be 5", "5.0": "would overlap"},
		"p2.3.angles":   {"0 1": "would overlap", "0 to 20 by 10": "", "0 to 20 in 3": "", "0 to 20 in 5": "two ways", "x": "angles in degrees", "4,5 12": "decimal points"},
		"p2.3.pivot":    {"Q": "two lengths", "A": "", "0 470.5": "if it is that hole, type B", "B": ""},
		"p2.2.places":   {"A": "A 18 452", "A 18 452, A 30 480": "entered twice", "A 22,5 442": "decimal points"},
		"design":        {"120": "at least the speed of the figures, 160 km/h", "160": "", "100mph": "", "": ""},
		"fixed_angle":   {"later": "", "-2.5deg": "", "95": "-90 to 90 °"},
		"section":       {"wortman": "four or five digits", "naca 23012": "", "?": ""},
		"name":          {"a\x1bb": "printable", "": "nothing is put in its place"},
		"p2.1.joint":    {"head": "", "x": "a number from 1 to 3"},
		"wing_front_up": {"?": "", "-12": "", "900": "-400 to 400 mm"},
	} {
		q, ok := find(key, a, units.Metric)
		if !ok {
			t.Errorf("no question %s", key)
		}
		for text, want := range rows {
			err := q.Check(text, a, units.Metric)
			if (err == nil) != (want == "") || err != nil && !strings.Contains(err.Error(), want) {
				t.Errorf("%s %q: %v, want %q", key, text, err, want)
			}
		}
	}
}

// Every way of telling holes, with the places worked out by hand.
func TestWaysOfTelling(t *testing.T) {
	base := Answers{"road": "exist", "parts": "one", "bolt.head": "M8", "p1.d": "8.4"}
	for name, row := range map[string]struct {
		a    Answers
		want string
	}{
		"rows": {Answers{"p1.1.how": "rows", "p1.1.rows": "2", "p1.1.columns": "3", "p1.1.up": "40", "p1.1.along": "100"},
			"A1 0 0 8.4; A2 50 0 8.4; A3 100 0 8.4; A4 0 40 8.4; A5 50 40 8.4; A6 100 40 8.4"},
		"rows and a slot": {Answers{"p1.1.how": "rows", "p1.1.rows": "1", "p1.1.columns": "2", "p1.1.along": "50", "p1.2.how": "slot", "p1.2.at": "10, 100", "p1.2.long": "outer 38.4", "p1.2.turn": "90"},
			"A1 0 0 8.4; A2 50 0 8.4; S1 10 100 8.4 to 10 130"},
		"an arc": {Answers{"p1.1.how": "arc", "p1.1.radius": "outer 108.4", "p1.1.angles": "0 30"}, "A 0 0 8.4; A1 100 0 8.4; A2 86.6025 50 8.4"},
		// A chord of the radius is 60°; along the arc 1.0472 of the radius is, too.
		"an arc by chords": {Answers{"p1.1.how": "arc", "p1.1.radius": "100", "p1.1.angles": "0 chord 100 51.7638"}, "A 0 0 8.4; A1 100 0 8.4; A2 50 86.6025 8.4; A3 0 100 8.4"},
		"an arc along it, falling": {Answers{"p1.1.how": "arc", "p1.1.radius": "100", "p1.1.angles": "60 length 52.35988 in 3 down"},
			"A 0 0 8.4; A1 50 86.6025 8.4; A2 86.6025 50 8.4; A3 100 0 8.4"},
		"an arc by caliper":           {Answers{"p1.1.how": "arc", "p1.1.radius": "100", "p1.1.angles": "0 chord inner 91.6"}, "A 0 0 8.4; A1 100 0 8.4; A2 50 86.6025 8.4"},
		"rows of an even pattern":     {Answers{"p1.1.how": "rows", "p1.1.rows": "1,3,5", "p1.1.columns": "1", "p1.1.up": "100"}, "A1 0 0 8.4; A2 0 50 8.4; A3 0 100 8.4"},
		"rows with one left out":      {Answers{"p1.1.how": "rows", "p1.1.rows": "1-2 4", "p1.1.columns": "1", "p1.1.up": "75"}, "A1 0 0 8.4; A2 0 25 8.4; A3 0 75 8.4"},
		"columns of an even pattern":  {Answers{"p1.1.how": "rows", "p1.1.rows": "1", "p1.1.columns": "2, 3, 5", "p1.1.along": "90"}, "A1 0 0 8.4; A2 30 0 8.4; A3 90 0 8.4"},
		"a curved slot by its length": {Answers{"p1.1.how": "places", "p1.1.places": "P 20 30", "p1.2.how": "curved", "p1.2.pivot": "P", "p1.2.radius": "100", "p1.2.angles": "0 chord 100"}, "P 0 0 8.4; S1 100 0 8.4 arc 0 0 60"},
		"a curved slot about a hole": {Answers{"p1.1.how": "places", "p1.1.places": "P 20 30", "p1.2.how": "curved", "p1.2.pivot": "P", "p1.2.radius": "100", "p1.2.angles": "0 12"},
			"P 0 0 8.4; S1 100 0 8.4 arc 0 0 12"},
		"places to edges of holes": {Answers{"p1.1.how": "places", "p1.1.places": "P 20 30, d Q 10, Q near 65 far 85"}, "P 0 0 8.4; Q 50 50 10"},
		"distances":                {Answers{"p1.1.how": "distances", "p1.1.way": "above", "p1.1.distances": "1-2 30, 1-3 40, 2-3 50, 3 behind"}, "1 0 0 8.4; 2 0 30 8.4; 3 40 0 8.4"},
	} {
		a := Answers{}
		for k, v := range base {
			a[k] = v
		}
		for k, v := range row.a {
			a[k] = v
		}
		all, err := a.resolve(0, units.Metric)
		var got []string
		for _, s := range all {
			got = append(got, strings.ReplaceAll(s.text(), "-0 ", "0 "))
		}
		if text := strings.Join(got, "; "); err != nil || text != row.want {
			t.Errorf("%s: %v\ngot  %s\nwant %s", name, err, text, row.want)
		}
	}
}

// Distances to holes told before need two of them: one would leave the direction open.
func TestDistancesFromHolesBefore(t *testing.T) {
	a := Answers{"road": "exist", "parts": "one", "bolt.head": "M8", "p1.d": "8.4", "p1.1.how": "rows", "p1.1.rows": "1", "p1.1.columns": "3", "p1.1.along": "120", "p1.2.how": "distances"}
	for text, want := range map[string]string{
		"A1-P 420, A1-Q 430, P-Q 60":                 "go to 1 hole entered before; measure from two of them at least, such as A2",
		"P-Q 60":                                     "go to 0 holes entered before",
		"A1-P 420, A3-P 420":                         "hole P has two possible places; say which side of the line from A1 to A3 hole P is on: add P above, or P below",
		"A1-P 420, A3-P 420, P above, A1-Q 430":      "hole Q cannot be placed by these distances; measure ",
		"A1-P 420, A3-P 420, P above":                "",
		"A1-P 60.1, A3-P 60.1, A2-P 60, P above":     "A2-P does not fit",
		"A1-P 420, A3-P 420, P above, A1-P 420 yard": "has the unit",
	} {
		err := a.With("p1.2.distances", text).groupFault(0, 2, units.Metric)
		if (err == nil) != (want == "") || err != nil && !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", text, err, want)
		}
	}
}

// A drawing's holes are kept from its lowest front hole on.
func TestFromDrawing(t *testing.T) {
	svg := `<svg width="200mm" viewBox="0 0 200 600"><circle cx="100" cy="500" r="4.2"/><circle cx="40" cy="500" r="4.2"/><circle cx="40" cy="100" r="5"/></svg>`
	for name, row := range map[string][2]string{
		"plate.svg": {svg, "H1 0 0 8.4; H2 60 0 8.4; H3 0 400 10"},
		"plate.csv": {"id,x,z,d\nA,10,20,8.4\nB,70,20,8.4\n", "A 0 0 8.4; B 60 0 8.4"},
	} {
		got, err := FromDrawing(name, []byte(row[0]), units.Metric)
		if err != nil || got != row[1] {
			t.Errorf("%s: %q, %v, want %q", name, got, err, row[1])
		}
	}
	for name, data := range map[string]string{"a.svg": "<svg/>", "a.png": "x", "a.csv": "x"} {
		if _, err := FromDrawing(name, []byte(data), units.Metric); err == nil {
			t.Errorf("%s passes", name)
		}
	}
	a := coupe().With("p1.1.how", "drawing").With("p1.1.drawing", "plate.svg").With("p1.1.drawing.holes", "2 0 0 8.4; 1 60 0 8.4; 3 0 50 8.4; 4 60 50 8.4")
	if c := made(t, a, units.Metric); len(c.Parts[0].Holes) != 4 {
		t.Errorf("%d holes", len(c.Parts[0].Holes))
	}
}

// The road to new plates writes what was answered, and no hole that nobody drilled.
func TestMakeWritesNoPlate(t *testing.T) {
	a := coupe().With("road", "make").With("bracket", "no").With("want_angles", "0 to 12 by 4").With("limit_top", "1450").With("bolt.head", "M6")
	if c := made(t, a, units.Metric); len(c.Parts) != 3 || len(c.Parts[0].Holes) != 0 || len(c.Parts[1].Holes) != 0 || c.Fixed.X != 330 {
		t.Errorf("without a bracket: %+v", c.Parts)
	}
	text, err := File(a, units.Metric)
	if err != nil {
		t.Fatal(err)
	}
	s := string(text)
	if !strings.Contains(s, "# wanted: 4 angles: 0, 4, 8, 12°\n") || !strings.Contains(s, "top = 1450") || !strings.Contains(s, "wheelbase       = 2480") {
		t.Errorf("it lacks what was answered:\n%s", s)
	}
	// With a bracket the upright is there, without a hole, and the file can be read; the command asks for what was wanted.
	a = a.With("bracket", "yes").With("bolt.head", "M6").With("want_heights", "1240 1280")
	c := made(t, a, units.Metric)
	if len(c.Parts) != 3 || len(c.Parts[1].Holes) != 0 || c.Joints[0].Bolt != "M8" || c.Joints[1].Bolt != "M6" || c.Joints[0].MinBolts != 4 {
		t.Errorf("with a bracket: %+v %+v", c.Parts, c.Joints)
	}
	text, _ = File(a, units.Metric)
	if want := "stanchion design THISFILE --height 1240 --height 1280 --angle-min 0 --angle-max 12 --step 4\n"; !strings.Contains(string(text), want) {
		t.Errorf("no %q in\n%s", want, text)
	}
	if got := DesignCommand(a.With("want_angles", "").With("want_heights", ""), "x", units.Metric); got != "stanchion design x --height H --angle-max A --step A" {
		t.Error(got)
	}
}

// Asked in inches, bare numbers are inches, pounds and mph, what was understood is echoed with
// its unit, and the file is in them.
func TestGuideInInches(t *testing.T) {
	u := units.Imperial
	a := coupe()
	for _, q := range Questions(a, u) {
		if unit := q.Unit(units.Metric); unit == "mm" || unit == "kg" || unit == "km/h" {
			if q.kind == aLength || q.kind == aMass || q.kind == aSpeed || q.kind == aSpan {
				a[q.Key] += unit
			}
		}
	}
	a["p2.2.how"], a["p2.3.how"] = "places", "all"
	a["p2.2.places"] = "k1 0.866 0.866, A 0.866 17.402, A1 6.772 17.402"
	a["wheelbase"], a["front_mass"], a["p1.1.along"], a["bolt.foot"], a["p1.d"] = "98 7/16", "1300", "2 3/8", "5/16in", "3/8"
	find := func(key string) Question { q, _ := find(key, a, u); return q }
	if got := find("wheelbase").Echo("98 7/16", u) + ", " + find("front_mass").Echo("1300", u) + ", " + find("speed").Echo("160km/h", u); got != "98 7/16 in, 1300 lb, 160km/h" {
		t.Error(got)
	}
	if err := find("wheelbase").Check("2500", a, u); err == nil || !strings.Contains(err.Error(), "59.1 to 157.5 in") {
		t.Error(err)
	}
	c := made(t, a, u)
	if math.Abs(c.Wheelbase-2500.3) > 0.1 || math.Abs(c.FrontMass-589.67) > 0.01 || c.System() != u || c.Joints[0].Bolt != "5/16-18 UNC" {
		t.Errorf("wheelbase %g mm, mass %g kg, bolt %s", c.Wheelbase, c.FrontMass, c.Joints[0].Bolt)
	}
	if h := c.Parts[0].Holes[1]; math.Abs(h.X-60.325) > 0.01 || math.Abs(h.D-9.525) > 0.01 {
		t.Errorf("hole 2 at %g, Ø %g", h.X, h.D)
	}
}

// Whatever is typed, questions, pictures and checks come to an end, and what passes writes a
// sound file.
func TestGuideTakesAnything(t *testing.T) {
	words := []string{"1", "0", "2", "0", "3", "0", "?", "0", "", "60", "0", "inner 51.6", "0 420", "A", "0 5 10", "0 to 20 by 5", "1-2 60, 1-3 80, 2-3 100, 3 above", "M8", "naca 4412", "A 18 452, B 90 452", "8.4", "-3", "x", "6", "0", "600", "2500", "160", "250", "1/0", ",;"}
	done := 0
	for seed := range 40 {
		r := rand.New(rand.NewPCG(uint64(seed), 3))
		a := Answers{"road": []string{Exist, Exist, Make}[seed%3]}
		for step := 1; step < 120; step++ {
			qs := Questions(a, units.Metric)
			if step >= len(qs) {
				break
			}
			q := qs[step]
			Draw(q, a, units.Metric)
			from := r.IntN(len(words))
			for i := range words {
				if w := words[(from+i)%len(words)]; q.Check(w, a, units.Metric) == nil {
					a[q.Key] = q.Echo(w, units.Metric)
					break
				}
			}
			q.Shown(a, units.Metric)
		}
		text, err := File(a, units.Metric)
		var faults carfile.Faults
		if err == nil && !Unplated(a) {
			if _, err := carfile.Parse("new", text, nil); err != nil {
				t.Fatalf("walk %d: %v\n%s", seed, err, text)
			}
		} else if errors.As(err, &faults) {
			t.Fatalf("walk %d: all answers pass, and the file does not: %v\n%v", seed, err, a)
		}
		if err == nil {
			done++
		}
	}
	if done < 5 {
		t.Errorf("%d files of 40 walks: the walks no longer reach the end", done)
	}
}

// Steps and counts are told apart, and what reads both ways is refused with the two ways to type it.
func TestAnglesThatReadOneWay(t *testing.T) {
	for text, want := range map[string]string{
		"0 to 12 by 2": "7 angles: 0, 2, 4 … 12°", "0 to 12 in 7": "7 angles: 0, 2, 4 … 12°", "12 to 0 by 4": "4 angles: 12, 8, 4, 0°", "-3° to 3° by 1.5": "5 angles: -3, -1.5, 0, 1.5, 3°",
		"0 to 16 in 3": "3 angles: 0, 8, 16°", "0 to 10 by 1.1111": "10 angles: 0, 1.11, 2.22 … 10°", "4": "1 angle: 4°", "0 to 12 by -2": "7 angles: 0, 2, 4 … 12°",
		"0 to 12 in 2":  "\"0 to 12 in 2\" can be read in two ways; type 0 to 12 by 2 for steps of 2°, or 0 to 12 by 12 for 2 angles",
		"0 to 10 in 10": "type 0 to 10 by 10 for steps of 10°, or 0 to 10 by 1.1111 for 10 angles", "12 to 0 in 4": "two ways", "-6 to 6 in 3": "two ways",
		"0 to 12 by 5": "steps of 5° do not end at 12°: the last one before it is 10°", "0 to 12 by 20": "more than there is", "0 to 12 by 0": "the step in degrees",
		"0 to 100 by 1": "101 angles; give at most 40", "0 to 0 by 1": "first and last", "0 to 12 in 2.5": "how many", "0 to 12 by x": "the step",
	} {
		got, err := readAngles(text)
		said := ""
		if err != nil {
			said = err.Error()
		} else if said = listed(got); said != want {
			t.Errorf("%q: %q, want %q", text, said, want)
		}
		if !strings.Contains(said, want) {
			t.Errorf("%q: %q, want %q", text, said, want)
		}
	}
}

// A comma within a number is a fault, and so is a height that no wing has.
func TestHeightsWanted(t *testing.T) {
	a := coupe().With("road", "make").With("bracket", "no")
	for _, c := range []struct {
		text, want string
		u          units.System
	}{
		{"1250, 1300", "", units.Metric}, {"1250 1300", "", units.Metric}, {"49 3/8, 51", "", units.Imperial}, {"1250mm", "", units.Imperial}, {"2999.9", "", units.Metric}, {"100.1", "", units.Metric},
		{"1,250 1300", "use a decimal point, or put spaces between", units.Metric}, {"1250,1300", "decimal point", units.Metric}, {"49,5", "decimal point", units.Imperial},
		{"100", "more than 100 mm and less than 3000 mm", units.Metric}, {"1250 3000", "3000; a height must be", units.Metric}, {"-1250", "more than", units.Metric}, {"1250 x", "not a number", units.Metric},
		{"1250", "more than", units.Imperial}, {",", "one height or several", units.Metric},
	} {
		q, _ := find("want_heights", a, c.u)
		if err := q.Check(c.text, a, c.u); (err == nil) != (c.want == "") || err != nil && !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v, want %q", c.text, err, c.want)
		}
	}
	q, _ := find("want_heights", a, units.Metric)
	if got := q.Understood("1250 1300", a, units.Metric); got != "2 heights: 1250 mm, 1300 mm" {
		t.Error(got)
	}
	if _, err := readPlace("0,420", 8.4, units.Metric); err == nil || !strings.Contains(err.Error(), "decimal point") {
		t.Errorf("a place with a comma within: %v", err)
	}
}

// What is left blank reads as left out, the end of a part's holes as such, and names that are given are said once.
func TestGuideWords(t *testing.T) {
	a := coupe().With("wing_mass", "").With("wing_more", "")
	for key, want := range map[string]string{"wing_mass": "left out", "wing_more": "none", "p1.2.how": "no more holes"} {
		q, ok := find(key, a, units.Metric)
		if got := q.Shown(a.With("p1.2.how", allWord), units.Metric); !ok || got != want {
			t.Errorf("%s: %q, want %q", key, got, want)
		}
	}
	said := 0
	for _, q := range Questions(a, units.Metric) {
		if strings.Contains(q.How, "named k1, k2 …") {
			said++
		}
	}
	if said != 1 {
		t.Errorf("k1 is explained %d times", said)
	}
}
