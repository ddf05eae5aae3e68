package units

import (
	"fmt"
	"math"
	"testing"
)

func ExampleUnit_Parse() {
	for _, t := range []string{"160km/h", "100 mph", "45m/s", "72"} {
		v, err := Speeds.Parse(t, "km/h")
		fmt.Printf("%.3f m/s %v\n", v, err)
	}
	_, err := Speeds.Parse("90knots", "km/h")
	fmt.Println(err)
	// Output:
	// 44.444 m/s <nil>
	// 44.704 m/s <nil>
	// 45.000 m/s <nil>
	// 20.000 m/s <nil>
	// "90knots" has the unit "knots"; use one of km/h, kmh, kph, m/s, mph
}

// By definition 1 kgf = 9.80665 N, 1 lbf = 4.4482216152605 N.
func TestForces(t *testing.T) {
	for text, want := range map[string]float64{"700N": 700, "70kgf": 686.4655, "155lbf": 689.4743503653775} {
		if got, err := Forces.Parse(text, "N"); err != nil || math.Abs(got-want) > 1e-9 {
			t.Errorf("%s = %.6f N, %v; want %.6f", text, got, err, want)
		}
	}
}

func TestFixed(t *testing.T) {
	for _, row := range []struct {
		x    float64
		n    int
		want string
	}{{-0.04, 1, "0.0"}, {-0.06, 1, "−0.1"}, {math.NaN(), 1, NotGiven}, {1342.4, 0, "1342"}} {
		if got := Fixed(row.x, row.n); got != row.want {
			t.Errorf("Fixed(%g, %d) = %q, want %q", row.x, row.n, got, row.want)
		}
	}
	if got := Signed(0.01, 1) + " " + Signed(3, 0) + " " + Signed(-3, 0); got != "0.0 +3 −3" {
		t.Error(got)
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"160km/h", "", "1e999", "1,5 mm", "°", "-3deg", "NaN", "0x10mm"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, u := range []Unit{Speeds, Lengths, Forces, Angles} {
			v, err := u.Parse(s, "mm")
			if err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
				t.Errorf("%q parsed as %g", s, v)
			}
		}
	})
}

func ExampleCount() {
	fmt.Println(Count(0, "setting"), Count(1, "setting"), Count(2, "setting"))
	// Output: 0 settings 1 setting 2 settings
}
