package pace

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"stanchion/model/logged"
)

// flat is a CSV of a car that comes near to a speed with a time constant of 12 s for so long, and brakes.
func flat(t *testing.T, top, seconds float64) *logged.Log {
	var b strings.Builder
	b.WriteString("time,speed m/s\n")
	now := 0.0
	for ; now < seconds; now += 0.1 {
		fmt.Fprintf(&b, "%.1f,%.4f\n", now, top-30*math.Exp(-now/12))
	}
	for v := top; v > 20; v -= 0.8 {
		fmt.Fprintf(&b, "%.1f,%.4f\n", now, v)
		now += 0.1
	}
	l, err := logged.Read(strings.NewReader(b.String()), nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// A car that still gains has no top speed; one that is near to it has it, with what is left to come in it.
func TestOnlyWhereItNoLongerGains(t *testing.T) {
	if _, err := TopOf([]*logged.Log{flat(t, 60, 30)}); !errors.Is(err, ErrGains) {
		t.Error(err)
	}
	top, err := TopOf([]*logged.Log{flat(t, 60, 70)})
	if err != nil || math.Abs(top.Speed-60) > 0.2 || top.BothWays || top.StdUnc < airShare*windUnknown || top.StdUnc > 2 {
		t.Errorf("%v: %+v", err, top)
	}
}

// By hand: 61 m/s there and 59 m/s back are 60, in a wind of 1/(2/3) = 1.5 m/s.
func TestBothWaysByHand(t *testing.T) {
	there, back := flat(t, 61, 120), flat(t, 59, 120)
	for i := range there.Samples {
		there.Samples[i].X, there.Samples[i].Y = 0, float64(i)
	}
	for i := range back.Samples {
		back.Samples[i].X, back.Samples[i].Y = 0, -float64(i)
	}
	top, err := TopOf([]*logged.Log{there, back})
	if err != nil || !top.BothWays || math.Abs(top.Speed-60) > 0.05 || math.Abs(top.Wind-1.5) > 0.05 || top.StdUnc > 0.6 {
		t.Errorf("%v: %+v", err, top)
	}
}

// By hand: at 30 m/s with 12 000 N of weight, 200 N more of downforce that goes with v²: μ(W + kv²) = mv²/r has v² = μW/(m/r − μk), so that with
// k₁ v² = 1000 N and k₂ = 1.2·k₁ v rises to 30·√((m/r − μk₁)/(m/r − μk₂)), m/r = μ·13 000/900.
func TestGainedByHand(t *testing.T) {
	const v, w, l = 30.0, 12000.0, 1000.0
	k := l / (v * v)
	m := (w + l) / (v * v) // m/(μ·r)
	exact := v*math.Sqrt((m-k)/(m-1.2*k)) - v
	if got := Gained(v, w, l, 200); math.Abs(got-0.25) > 1e-9 || math.Abs(got/exact-1) > 0.02 {
		t.Errorf("%.4f m/s, want 0.25, exactly %.4f", got, exact)
	}
}

func TestCornerByHand(t *testing.T) {
	l := &logged.Log{}
	for lap := range 2 {
		for i := range 41 {
			s := logged.Sample{T: float64(100*lap + i), X: float64(10*i - 200), Y: 0}
			s.At[logged.Speed] = 30 + float64(lap) + math.Abs(float64(i)-21)
			s.Break = i == 0
			l.Samples = append(l.Samples, s)
		}
	}
	all, err := Corner(l, 0, 20)
	if err != nil || len(all) != 2 || all[0] != (Pass{21, 30}) || all[1] != (Pass{121, 31}) {
		t.Errorf("%v: %v", err, all)
	}
	if _, err := Corner(l, 0, 500); !errors.Is(err, ErrPlace) {
		t.Error(err)
	}
}
