package plane

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"
)

// By hand: an L, 30 wide and 20 high at the foot, 10 wide up to 50, with its corner at
// 10, 5. Level cuts leave the foot's width below 25 and the post's above it; an upright
// cut, its normal to the rear, runs downwards, so that heights count negative.
func TestCutByHand(t *testing.T) {
	for _, c := range []struct {
		frame Frame
		at    float64
		want  []Span
	}{
		{Level, 15, []Span{{10, 40}}},
		{Level, 40, []Span{{10, 20}}},
		{Level, 60, nil},
		{Frame{Normal: Point{X: 1}}, 15, []Span{{-55, -5}}},
		{Frame{Origin: Point{10, 5}, Normal: Point{X: 1}}, 20, []Span{{-20, 0}}},
	} {
		if got := Cut(ell, c.frame, c.at); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%v at %g: %v, want %v", c.frame, c.at, got, c.want)
		}
	}
	if got := Cut([]Point{{0, 0}, {30, 0}, {30, 40}, {20, 40}, {20, 10}, {10, 10}, {10, 40}, {0, 40}}, Level, 20); !reflect.DeepEqual(got, []Span{{0, 10}, {20, 30}}) {
		t.Errorf("a fork: %v", got)
	}
}

// What cuts leave, times their distance, is the area.
func TestCutsAddUpToTheArea(t *testing.T) {
	area, _ := Area(ell)
	frame := Frame{Origin: Point{3, -7}, Normal: Point{math.Cos(0.7), math.Sin(0.7)}}
	const step = 1e-3
	sum := 0.0
	for at := -100.0; at < 100; at += step {
		for _, s := range Cut(ell, frame, at) {
			sum += (s.To - s.From) * step
		}
	}
	if math.Abs(sum-area) > 0.1 {
		t.Errorf("%.3f mm² in strips, %g mm² in all", sum, area)
	}
}

func TestFrameAndBack(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	for range 100 {
		a := 2 * math.Pi * r.Float64()
		f := Frame{Origin: Point{r.Float64(), r.Float64()}, Normal: Point{math.Cos(a), math.Sin(a)}}
		p := Point{100 * r.Float64(), 100 * r.Float64()}
		if d := f.Point(f.In(p)).Distance(p); d > 1e-9 {
			t.Fatalf("%v comes back %g mm off", p, d)
		}
	}
	if along, across := (Frame{Normal: Point{Z: 1}}).Resolve(Point{3, 4}); along != 4 || across != 3 {
		t.Errorf("3 to the rear and 4 up: %g along, %g across", along, across)
	}
}

func TestWithoutByHand(t *testing.T) {
	metal := []Span{{0, 10}, {20, 30}}
	for _, c := range []struct {
		out  Span
		want []Span
	}{
		{Span{4, 6}, []Span{{0, 4}, {6, 10}, {20, 30}}},
		{Span{8, 22}, []Span{{0, 8}, {22, 30}}},
		{Span{-1, 10}, []Span{{20, 30}}},
		{Span{10, 20}, metal},
		{Span{-5, 40}, nil},
	} {
		if got := Without(metal, c.out); !reflect.DeepEqual(got, c.want) {
			t.Errorf("without %v: %v, want %v", c.out, got, c.want)
		}
	}
}

func TestBoxAndEdgesByHand(t *testing.T) {
	if lo, hi := Box(ell); lo != (Point{10, 5}) || hi != (Point{40, 55}) {
		t.Errorf("the box of the L: %v to %v", lo, hi)
	}
	if lo, hi := Box(nil); lo != (Point{}) || hi != (Point{}) {
		t.Errorf("the box of nothing: %v to %v", lo, hi)
	}
	if c := Centroid([]Point{{1, 2}, {3, 6}}); c != (Point{2, 4}) {
		t.Errorf("centroid %v", c)
	}
	for n, want := range []int{0, 1, 1, 3, 4} {
		got := 0
		for range Edges(ell[:n]) {
			got++
		}
		if got != want {
			t.Errorf("%d corners have %d edges, want %d", n, got, want)
		}
	}
	for range Edges(ell) {
		break // an early end asks for no more
	}
}
