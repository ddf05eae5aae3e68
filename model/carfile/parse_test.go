package carfile

import (
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/fastener"
	"stanchion/model/units"
)

const cars = "../../testdata/cars"

// A car file written by somebody else reads as its builder meant it.
func TestHatch(t *testing.T) {
	car, err := Load(filepath.Join(cars, "hatch.toml"))
	if err != nil {
		t.Fatal(err)
	}
	if car.Name != "Grey hatch" || car.Wheelbase != 2512 || math.Abs(car.Speed-150/3.6) > 1e-12 || len(car.Parts) != 3 || car.Parts[2].Name != "wing" {
		t.Errorf("read as %+v", car)
	}
	if math.Abs(car.Fixed.Turn/plane.Deg+2.6) > 1e-12 {
		t.Errorf("bracket at %.3f°, want -2.6°", car.Fixed.Turn/plane.Deg)
	}
	if len(car.Warnings) == 0 || !strings.Contains(car.Warnings[0].In(units.Metric), `holes "A1" and "A2"`) {
		t.Errorf("warnings %q, want the holes 7.5 mm apart that overlap", car.Warnings)
	}
}

func TestTenFaultsGiveTenLines(t *testing.T) {
	_, err := Load(filepath.Join(cars, "ten-faults.toml"))
	want := []string{
		":6:13: car: wheelbase is -2500 mm; it must be more than 0",
		":7:19: car: front_axle_mass is NaN; it must be a finite number in kg",
		`:9:1: car: unknown key "roof_heigth"; did you mean "roof_height"?`,
		":13:12: air: humidity is 140 %; it must be 0 to 100",
		":16:11: a comma inside a number; use a decimal point, not a comma",
		`:23:10: hole "1" of part "bracket": hole 1 has this id already; use each id once in a part`,
		`:24:3: hole "3" of part "bracket": z is missing; give a number in mm`,
		`:28:41: hole "F" of part "wing": d is 0 mm; it must be more than 0`,
		`:28:77: hole "R" of part "wing": d is the text "8.4"; it must be a number in mm`,
		`:34:8: joint "head": bolt is "M7"; use one of ` + fastener.Names(),
	}
	if err == nil {
		t.Fatal("no faults")
	}
	got := strings.Split(err.Error(), "\n")
	if len(got) != len(want) {
		t.Errorf("%d lines, want %d:\n%s", len(got), len(want), err)
		return
	}
	for i := range want {
		if !strings.HasSuffix(got[i], "ten-faults.toml"+want[i]) {
			t.Errorf("line %d: %s\nwant      %s", i+1, got[i], want[i])
		}
	}
}

// patched reads the hatch with one piece of its text replaced.
func patched(t *testing.T, old, with string) (*model.Car, error) {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(cars, "hatch.toml"))
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(data), old) {
		t.Fatalf("the sample has no %q", old)
	}
	return Parse("car.toml", []byte(strings.Replace(string(data), old, with, 1)), func(name string) ([]byte, error) {
		return os.ReadFile(filepath.Join(cars, name))
	})
}

func TestFaults(t *testing.T) {
	for _, row := range []struct{ name, old, with, want string }{
		{"newer format", "format = 1", "format = 2", "car.toml:2:10: format is 2; this stanchion reads format 1"},
		{"missing table", "[speed]\nchosen = 150\ndesign = 220", "", "car.toml:1:1: table [speed] is missing"},
		{"missing key", "chosen = 150", "", "speed: chosen is missing; give a number in km/h"},
		{"unknown table", "[limits]", "[limit]", `unknown key "limit"; did you mean "limits"?`},
		{"spelling of another case", "wheelbase = 2512", "Wheelbase = 2512", `car: unknown key "Wheelbase"; did you mean "wheelbase"?`},
		{"infinite", "drag_area = 0.68", "drag_area = inf", "car: drag_area is +Inf; it must be a finite number"},
		{"escape sequence", `name = "Grey hatch"`, `name = "\u001b[31mred"`, `name is "\x1b[31mred", with characters that do not print`},
		{"no such part", `upper = "wing"`, `upper = "wnig"`, `joint "head": there is no part "wnig"`},
		{"no chain", `lower = "upright"`, `lower = "bracket"`, `part "bracket" carries joint "foot" already; make it a chain`},
		{"two fixed", `thickness = 8`, `fixed = { x = 0, z = 0, angle = 0 }`, `part "upright": fixed to the car, as part "bracket" is; give fixed on exactly one part`},
		{"bolt too large", "bolt = \"M8\"\ngrade = \"8.8\"\n\n[[joint]]", "bolt = \"M12\"\n[[joint]]", `an M12 bolt passes through no hole of part "bracket", the largest is 8.4 mm`},
		{"hole for no joint", `joint = "head"`, `joint = "haed"`, `reserved for joint "haed", which is not at this part`},
		{"no wing data", `table = "hatch-wing.csv"`, "", "wing: section is missing; give one of"},
		{"two sources", `table = "hatch-wing.csv"`, "table = \"hatch-wing.csv\"\nsection = \"naca 4412\"", "both section and table"},
		{"no such file", "hatch-wing.csv", "gone.csv", `table "gone.csv" cannot be read (no such file or directory)`},
		{"bad section", `table = "hatch-wing.csv"`, `section = "naca 99"`, `section "naca 99"; use`},
		{"duplicate key", "wheelbase = 2512", "wheelbase = 2512\nwheelbase = 2513", "not TOML"},
		{"one flow height twice", "above_roof = 0", "above_roof = -150", "two flow points at one height"},
		{"list of the wrong thing", "outline = [ [-18, -18],", "outline = [ [-18],", "outline corner 1 is not a point"},
	} {
		_, err := patched(t, row.old, row.with)
		if err == nil || !strings.Contains(err.Error(), row.want) {
			t.Errorf("%s: %v\nwant %s", row.name, err, row.want)
			continue
		}
		var f Fault
		if !errors.As(err, &f) || f.File == "" {
			t.Errorf("%s: %T holds no Fault", row.name, err)
		}
		if n := len(strings.Split(err.Error(), "\n")); n != 1 && row.name != "bolt too large" { // two parts, two lines
			t.Errorf("%s: %d lines:\n%v", row.name, n, err)
		}
	}
}

// Inches, pounds and mph are converted at this door: the same car in either
// units is the same car.
func TestUnitsAtTheDoor(t *testing.T) {
	const inches = `format = 1
name = "inches"
[units]
length = "in"
mass = "lb"
speed = "mph"
[car]
wheelbase = 100
front_axle_mass = 1000
rear_axle_mass = 1000
roof_height = 50
[speed]
chosen = 100
[[part]]
name = "post"
fixed = { x = 10, z = 40, angle = 2 }
holes = [ { id = "a", x = 0, z = 0, d = 0.33 }, { id = "b", x = 4, z = 0, d = 0.33 } ]
[[part]]
name = "wing"
holes = [ { id = "F", x = 1, z = 1, d = 0.33 }, { id = "R", x = 5, z = 1, d = 0.33 } ]
[[joint]]
name = "j"
lower = "post"
upper = "wing"
bolt = "M8"
[wing]
span = 50
chord = 10
section = "naca 4412"
[[flow]]
above_roof = 2
flow_angle = 3
`
	car, err := Parse("in.toml", []byte(inches), nil)
	if err != nil {
		t.Fatal(err)
	}
	flow, _ := car.Flow.At(0.0508)
	for _, row := range []struct {
		what      string
		got, want float64
	}{
		{"wheelbase, mm", car.Wheelbase, 2540},
		{"front mass, kg", car.FrontMass, 453.59237},
		{"speed, m/s", car.Speed, 44.704},
		{"hole, mm", car.Parts[0].Holes[1].X, 101.6},
		{"diameter, mm", car.Parts[0].Holes[1].D, 8.382},
		{"fixed x, mm", car.Fixed.X, 254},
		{"span, mm", car.Wing.Span, 1270},
		{"flow angle, °", flow.Angle / plane.Deg, 3},
	} {
		if math.Abs(row.got-row.want) > 1e-9 {
			t.Errorf("%s = %g, want %g", row.what, row.got, row.want)
		}
	}
}

func TestByteOrderMarkAndWindowsLines(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(cars, "hatch.toml"))
	if err != nil {
		t.Fatal(err)
	}
	odd := "\uFEFF" + strings.ReplaceAll(string(data), "\n", "\r\n")
	if _, err := Parse("car.toml", []byte(odd), func(name string) ([]byte, error) { return os.ReadFile(filepath.Join(cars, name)) }); err != nil {
		t.Error(err)
	}
}

func TestCurveFaults(t *testing.T) {
	for _, row := range []struct{ text, want string }{
		{"", "w.csv:1:1: no header line"},
		{"alpha,cl,cd\n1,2,3", `w.csv:1:1: unknown column "alpha"`},
		{"alpha_deg,cl\n1,2", "column cd is missing"},
		{"alpha_deg,cl,cd\n0,0.1,0.01\n0,0.2,0.01", "w.csv:3:1: alpha_deg is 0 after 0; put the angles in ascending order"},
		{"alpha_deg;cl;cd\n0;0,1;0.01\n1;0.2;0.01", `w.csv:2:3: cl is "0,1"; give a number with a decimal point`},
		{"alpha_deg,cl,cd\n0,0.1,-0.01\n1,0.2,0.01", "cd is -0.01; it must be 0 to 10"},
		{"alpha_deg,cl,cd\n0,0.1,0.01", "1 rows of numbers; give at least 2"},
		{"alpha_deg,cl,cd\n0,\x1b[2J,0.01\n1,0.2,0.01", `cl is "\x1b[2J"`},
	} {
		_, faults := ReadCurve("w.csv", []byte(row.text))
		if !strings.Contains(faults.Error(), row.want) || strings.Contains(faults.Error(), "\x1b") {
			t.Errorf("%q: %s\nwant %s", row.text, faults.Error(), row.want)
		}
	}
	c, faults := ReadCurve("w.csv", []byte("# made up\n cl , alpha_deg, cd \r\n0.5,0,0.02 # here\r\n0.7,2,0.03\r\n"))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if k, ok := c.At(1 * plane.Deg); !ok || math.Abs(k.CL-0.6) > 1e-12 || !math.IsNaN(k.CM) {
		t.Errorf("halfway: %+v %v, want cl 0.6 and no cm", k, ok)
	}
}

// The order of joints in the file does not matter, that of the chain does.
func TestChainOrder(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(cars, "hatch.toml"))
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	foot := strings.Index(text, "[[joint]]\nname = \"foot\"")
	head := strings.Index(text, "[[joint]]\nname = \"head\"")
	wing := strings.Index(text, "[wing]")
	swapped := text[:foot] + text[head:wing] + text[foot:head] + text[wing:]
	car, err := Parse("car.toml", []byte(swapped), func(name string) ([]byte, error) { return os.ReadFile(filepath.Join(cars, name)) })
	if err != nil {
		t.Fatal(err)
	}
	if car.Joints[0].Name != "foot" || car.Joints[1].Name != "head" {
		t.Errorf("joints %v", car.Joints)
	}
}

func FuzzParse(f *testing.F) {
	for _, name := range Demos() {
		_, files, err := DemoFiles(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(files[name+".toml"]))
	}
	f.Add("[[part]]\nholes=[{}]\n[car]\n")
	f.Add("a.b=1\n[a]\n[[a]]")
	f.Fuzz(func(t *testing.T, text string) {
		car, err := Parse("f", []byte(text), func(string) ([]byte, error) { return nil, errors.New("none") })
		if (car == nil) == (err == nil) {
			t.Fatalf("car %v, error %v", car, err)
		}
		if err != nil && strings.ContainsFunc(err.Error(), func(r rune) bool { return r != '\n' && units.Hidden(r) }) {
			t.Fatalf("an unprintable message: %q", err)
		}
	})
}

func FuzzCurve(f *testing.F) {
	f.Add("alpha_deg,cl,cd\n0,0.1,0.01\n1,0.2,0.01\n")
	f.Add("alpha_deg;cl;cd;cm\n0;;0.01;\n")
	f.Fuzz(func(t *testing.T, text string) {
		c, faults := ReadCurve("f", []byte(text))
		if lo, hi := c.Range(); len(faults) == 0 && !(lo < hi) {
			t.Fatalf("no faults and a range of %g to %g", lo, hi)
		}
	})
}

func FuzzOutline(f *testing.F) {
	f.Add("name\n1 0\n0.5 0.1\n0 0\n0.5 -0.1\n1 0\n")
	f.Add("x\n10. 10.\n\n0 0\n1 0\n")
	var b strings.Builder
	for i := range 60 {
		a := 2 * math.Pi * float64(i) / 60
		fmt.Fprintf(&b, "%g %g\n", (1+math.Cos(a))/2, 0.06*math.Sin(a))
	}
	f.Add(b.String())
	f.Fuzz(func(t *testing.T, text string) {
		p, faults := ReadOutline("f", []byte(text))
		if (p == nil) == (len(faults) == 0) {
			t.Fatalf("%d points and %d faults", len(p), len(faults))
		}
		for _, v := range p {
			if math.IsNaN(v.X) || math.IsNaN(v.Y) {
				t.Fatalf("a point that is none: %v", v)
			}
		}
	})
}
