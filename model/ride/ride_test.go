package ride

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"

	"stanchion/model/logged"
)

// Pearson's data with York's weights: slope −0.480533407 ± 0.05799, intercept 5.47991022 ± 0.29497, χ² 11.86635.
// Source: D. York et al., Am. J. Phys. 72 (2004) 367, tables I and II.
func TestYorkPublished(t *testing.T) {
	x := []float64{0, 0.9, 1.8, 2.6, 3.3, 4.4, 5.2, 6.1, 6.5, 7.4}
	y := []float64{5.9, 5.4, 4.4, 4.6, 3.5, 3.7, 2.8, 2.8, 2.4, 1.5}
	wx := []float64{1000, 1000, 500, 800, 200, 80, 60, 20, 1.8, 1}
	wy := []float64{1, 1.8, 4, 8, 20, 20, 70, 70, 100, 500}
	ux, uy := make([]float64, 10), make([]float64, 10)
	for i := range wx {
		ux[i], uy[i] = 1/math.Sqrt(wx[i]), 1/math.Sqrt(wy[i])
	}
	l, err := York(x, y, ux, uy)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ got, want, within float64 }{{l.B, -0.480533407, 1e-6}, {l.A, 5.47991022, 1e-6}, {l.BStdUnc, 0.05799, 1e-4}, {l.AStdUnc, 0.29497, 1e-4}, {l.ChiSquared, 11.86635, 1e-4}} {
		if math.Abs(c.got-c.want) > c.within {
			t.Errorf("%.8f, want %.8f", c.got, c.want)
		}
	}
}

// By hand: pieces on a line of 0.002 mm per (m/s)², each 0.5 mm lower for a m/s² of speeding up, give just that.
func TestFitByHand(t *testing.T) {
	var all []piece
	for i := range 30 {
		v := 20 + float64(i)
		a := float64(i%3) - 1
		all = append(all, piece{square: v * v, squareUnc: 1, height: -100 + 0.002*v*v + 0.5*a, along: a})
	}
	s, err := Sink{}.fit(all)
	if err != nil || math.Abs(s.Slope-0.002) > 1e-9 || math.Abs(s.Squat-0.5) > 1e-9 || s.Pieces != 30 || s.Slow != 20 || s.Fast != 49 {
		t.Errorf("%v: %+v", err, s)
	}
	if mm, std := s.At(50); math.Abs(mm-5) > 1e-6 || math.Abs(std-2500*s.StdUnc) > 1e-12 {
		t.Errorf("%g ± %g mm at 50 m/s, want 5", mm, std)
	}
	if _, err := (Sink{}).fit(all[:5]); err == nil {
		t.Error("five pieces are enough")
	}
}

// recorded is a recording of a car that goes up and down a straight between 20 and 55 m/s and corners and brakes in between, as CSV. slope is in
// mm per (m/s)² for the front axle, a third of it at the rear.
func recorded(random *rand.Rand, slope float64, laps int, travel bool) string {
	var b strings.Builder
	front, rear := "Front Ride [mm]", "Rear Ride [mm]"
	if travel {
		front, rear = "Front Damper [mm]", "Rear Damper [mm]"
	}
	fmt.Fprintf(&b, "Time [s],Speed [m/s],%s,%s,Lat Acc [g],Brake [bar]\n", front, rear)
	t, rough := 0.0, 0.0
	row := func(v, a, side, brake float64) {
		rough = 0.8*rough + 1.2*random.NormFloat64() // bumps, over a quarter of a second
		f := slope*v*v - 0.3*a + rough
		r := slope/3*v*v + 0.4*a + rough
		if !travel {
			f, r = 100-f, 110-r
		} else {
			f, r = 20+f/1.25, 25+r/1.25
		}
		fmt.Fprintf(&b, "%.2f,%.3f,%.2f,%.2f,%.3f,%.1f\n", t, v, f, r, side, brake)
		t += 0.05
	}
	for range laps {
		v := 20.0
		for v < 55 {
			a := 2.5 * (1 - v/70)
			row(v, a, 0.02*random.NormFloat64(), 0)
			v += a * 0.05
		}
		for v > 30 { // it coasts, which tells squat and sink apart
			a := -0.15 - 4e-4*v*v
			row(v, a, 0, 0)
			v += a * 0.05
		}
		for v > 20 {
			row(v, -9, 0, 40)
			v -= 9 * 0.05
		}
		for range 80 {
			row(20, 0, 1, 0)
		}
	}
	return b.String()
}

// Of many recordings of an invented car the sink at 50 m/s lies within its uncertainty as often as it says, by ride heights and by dampers.
// RIDE_DRIVES=500 runs more.
func TestIntervalsHoldTheTruth(t *testing.T) {
	drives := 24
	if n, err := strconv.Atoi(os.Getenv("RIDE_DRIVES")); err == nil && n > 0 {
		drives = n
	}
	random := rand.New(rand.NewPCG(2, 3))
	n, one, two, width := 0, 0, 0, 0.0
	for k := range drives {
		slope := 0.001 + 0.002*random.Float64()
		travel := k%2 == 1
		l, err := logged.Read(strings.NewReader(recorded(random, slope, 4, travel)), nil, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range []struct {
			axle Axle
			want float64
		}{{Front, slope * 2500}, {Rear, slope / 3 * 2500}} {
			s, err := Of([]*logged.Log{l}, c.axle, Ratios{1.25, 1.25})
			if err != nil {
				t.Fatal(err)
			}
			mm, std := s.At(50)
			n++
			width += std
			if math.Abs(mm-c.want) < std {
				one++
			}
			if math.Abs(mm-c.want) < 1.96*std {
				two++
			}
			if math.Abs(mm-c.want) > 4.5*std || s.FromTravel != travel {
				t.Errorf("%+v: %.2f ± %.2f mm, truly %.2f", s, mm, std, c.want)
			}
		}
	}
	a, b := 100*float64(one)/float64(n), 100*float64(two)/float64(n)
	t.Logf("%.1f %% and %.1f %% of %d within one and two, ± %.2f mm", a, b, n, width/float64(n))
	chance := 3 * 100 / math.Sqrt(float64(n))
	if math.Abs(a-68.3) > max(8, 0.466*chance) || math.Abs(b-95) > max(4, 0.218*chance) {
		t.Errorf("%.1f %% and %.1f %% of %d within one and two", a, b, n)
	}
	if _, err := Of([]*logged.Log{{}}, Front, Ratios{}); err == nil {
		t.Error("a sink without a ride height")
	}
}
