package carfile

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"stanchion/aero"
	"stanchion/holes/plane"
	"stanchion/model"
)

const hatchTable = `table = "hatch-wing.csv"`

// What is on the wing, how the flow was measured and what the body is like: each key taken in, with
// its unit.
func TestKeysOfTheAir(t *testing.T) {
	c, err := patched(t, hatchTable, "section = \"naca 4412\"\ngurney = 4.5\nsurface = \"dirty\"")
	if err != nil {
		t.Fatal(err)
	}
	if g, ok := c.Wing.Gurney.Get(); !ok || g != 4.5 || c.Wing.Surface != aero.Dirty || !c.Wing.SurfaceGiven {
		t.Errorf("gurney %v, surface %v", c.Wing.Gurney, c.Wing.Surface)
	}
	if c, err = patched(t, "[limits]", "[uncertainty]\nset_with_level = true\n[limits]"); err != nil || !c.Uncertainty.SetWithLevel {
		t.Errorf("set with a level: %v", err)
	}
	c, err = patched(t, hatchTable, `section = "naca 4412"`)
	if err != nil || c.Wing.Surface != aero.Used || c.Wing.SurfaceGiven || !assumes(c, "surface of the wing", "used") {
		t.Errorf("a wing without a surface: %v, %v, %v", c.Wing.Surface, c.Assumed, err)
	}
}

// A shape of the body is taken for the flow only where none was measured, and is listed as assumed;
// what [uncertainty] says leads.
func TestFlowByTheShapeOfTheBody(t *testing.T) {
	const body = "[body]\nshape = \"fastback\"\nwidth = 1500\noutline = [ [-700, 1290], [560, 980], [600, 350] ]\n"
	c, err := patched(t, "[limits]", body+"[limits]")
	if err != nil || c.FlowGuessed || c.BodyWidth.Value() != 1500 || c.BodyShape != model.Fastback {
		t.Errorf("with a flow of its own: guessed %v, width %v, %v", c.FlowGuessed, c.BodyWidth, err)
	}
	data := strings.Split(minimalWithFlow(t), "[[flow]]")[0]
	c, err = Parse("car.toml", []byte(data+body), nil)
	if err != nil {
		t.Fatal(err)
	}
	p, _ := c.Flow.At(0)
	if !c.FlowGuessed || c.FlowMeasured() || math.Abs(p.Angle-5*plane.Deg) > 1e-12 || p.Ratio != 0.96 || math.Abs(p.AngleStdUnc-2.5*plane.Deg) > 1e-12 || p.RatioStdUnc != 0.05 {
		t.Errorf("flow behind a fastback %+v", p)
	}
	if !assumes(c, "flow angle at the wing", "5° ± 2.5°") || !assumes(c, "speed ratio at the wing", "0.96 ± 0.05") {
		t.Errorf("assumed: %v", c.Assumed)
	}
	c, err = Parse("car.toml", []byte(data+body+"[uncertainty]\nflow_angle = 1.2\nspeed_ratio = 0.02\n"), nil)
	if p, _ = c.Flow.At(0); err != nil || p.AngleStdUnc != 0 || p.RatioStdUnc != 0 || math.Abs(c.Uncertainty.FlowAngle-1.2*plane.Deg) > 1e-12 {
		t.Errorf("with [uncertainty] %+v, %v", p, err)
	}
}

func assumes(c *model.Car, what, value string) bool {
	for _, a := range c.Assumed {
		if a.What == what && a.Value == value {
			return true
		}
	}
	return false
}

// minimalWithFlow is a small sound car file whose flow stands last.
func minimalWithFlow(t *testing.T) string {
	t.Helper()
	return `format = 1
name = "plain"
[car]
wheelbase = 2500
front_axle_mass = 600
rear_axle_mass = 550
roof_height = 1300
[speed]
chosen = 160
[[part]]
name = "upright"
fixed = { x = 400, z = 1200, angle = 0 }
holes = [ { id = "a", x = 0, z = 0, d = 8.4 }, { id = "b", x = 100, z = 0, d = 8.4 } ]
[[part]]
name = "wing"
holes = [ { id = "F", x = 50, z = 10, d = 8.4 }, { id = "R", x = 150, z = 10, d = 8.4 } ]
[[joint]]
name = "head"
lower = "upright"
upper = "wing"
bolt = "M8"
[wing]
span = 1400
chord = 250
section = "naca 4412"
[[flow]]
above_roof = -100
flow_angle = 3
flow_angle_band = 0.5
speed_ratio = 0.9
speed_ratio_band = 0.03
[[flow]]
above_roof = 100
flow_angle = 1
flow_angle_band = 0.3
speed_ratio = 1.0
speed_ratio_band = 0.01
`
}

// Bands of the flow's points, half-way between two of them by straight lines: by hand 0.4° and 0.02.
func TestBandsOfTheFlow(t *testing.T) {
	c, err := Parse("car.toml", []byte(minimalWithFlow(t)), nil)
	if err != nil {
		t.Fatal(err)
	}
	if p, ok := c.Flow.At(0); !ok || math.Abs(p.AngleStdUnc-0.4*plane.Deg) > 1e-12 || math.Abs(p.RatioStdUnc-0.02) > 1e-12 || math.Abs(p.Angle-2*plane.Deg) > 1e-12 {
		t.Errorf("half-way %+v", p)
	}
}

func TestFaultsOfTheAir(t *testing.T) {
	section := "section = \"naca 4412\"\n"
	for _, row := range []struct{ name, with, want string }{
		{"a flap too high", section + "gurney = 12", "wing: gurney is 12.00 mm, 4.8 % of the chord; tests reach 3 %: give at most 7.44 mm"},
		{"less than none", section + "gurney = -1", "gurney is -1 mm; it must be 0 for none, or more"},
		{"a surface", section + `surface = "matt"`, `wing: surface is "matt"; it must be "clean", "used" or "dirty"`},
		{"a flap on a table", hatchTable + "\ngurney = 5", "gurney beside a table of the whole wing; remove it"},
		{"dirt on a table", hatchTable + "\nsurface = \"used\"", "surface beside a table of the whole wing; remove it"},
		{"a second element", section + `flap = "naca 6412"`, "flap: a wing of more than one element cannot be worked out from its sections; give table"},
		{"two elements", section + "elements = 2", "elements: a wing of more than one element"},
	} {
		_, err := patched(t, hatchTable, row.with)
		if err == nil || !strings.Contains(err.Error(), row.want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v\nwant %s", row.name, err, row.want)
		}
	}
	const body = "[body]\noutline = [ [-700, 1290], [560, 980], [600, 350] ]\n"
	for with, want := range map[string]string{
		body + "shape = \"coupe\"\n": `body: shape is "coupe"; it must be "notchback", "fastback" or "squareback"`,
		body + "width = 0\n":         "body: width is 0 mm; it must be 500 to 3000 mm",
	} {
		if _, err := patched(t, "[limits]", with+"[limits]"); err == nil || !strings.Contains(err.Error(), want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%v\nwant %s", err, want)
		}
	}
	half := strings.Replace(minimalWithFlow(t), "flow_angle_band = 0.3\n", "", 1)
	if _, err := Parse("car.toml", []byte(half), nil); err == nil || !strings.Contains(err.Error(), "flow 2: flow_angle_band is missing; give it on all points of the flow or on none") {
		t.Errorf("a band on one point only: %v", err)
	}
}

// Published coordinates, in the frame of their own chord, stay as they are, in chords or per cent, though
// the points of a cambered section reach ahead of 0; what was traced lies anywhere.
func TestNominalCoordinatesStay(t *testing.T) {
	n, err := aero.ParseNaca("naca 6412")
	if err != nil {
		t.Fatal(err)
	}
	for scale, moved := range map[[2]float64]bool{{1, 0}: false, {100, 0}: false, {280, 0}: true, {280, 15}: true} {
		var text strings.Builder
		for _, p := range n.Outline(60) {
			fmt.Fprintf(&text, "%.6f %.6f\n", scale[0]*p.X+scale[1], scale[0]*p.Y)
		}
		got, faults := ReadOutline("x.dat", []byte(text.String()))
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		off := 0.0
		for i, p := range n.Outline(60) {
			off = max(off, math.Abs(got[i].X-p.X), math.Abs(got[i].Y-p.Y))
		}
		if moved != (off > 1e-4) {
			t.Errorf("%g times as large, %g on: off by %.6f chords", scale[0], scale[1], off)
		}
	}
}
