package tui

import (
	"fmt"
	"math"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/carfile"
)

// manyCar is the demo car with so many holes that it has about n settings, far
// enough apart to be drilled.
func manyCar(tb testing.TB, n int) *model.Car {
	tb.Helper()
	car, err := carfile.Demo("coupe")
	if err != nil {
		tb.Fatal(err)
	}
	rows := 6
	for ; rows < 60 && (rows-2)*7 < n; rows++ {
	}
	bracket, upright := &car.Parts[0], &car.Parts[1]
	bracket.Holes, upright.Holes = nil, append([]holes.Hole(nil), upright.Holes...)
	for i := range rows {
		z := 25 * float64(i)
		bracket.Holes = append(bracket.Holes,
			holes.Hole{ID: fmt.Sprintf("a%d", i), X: 0, Z: z, D: 8.4}, holes.Hole{ID: fmt.Sprintf("b%d", i), X: 60, Z: z, D: 8.4})
	}
	for k := 0; (rows-2)*(7+k)*8/5 < n; k++ { // each a pair of its own, square to the others
		z := 600 + 19*float64(k)
		turn := float64(k%24-12) * plane.Deg
		upright.Holes = append(upright.Holes, holes.Hole{ID: fmt.Sprintf("f%d", k), X: 0, Z: z, D: 8.4, Joint: "head"},
			holes.Hole{ID: fmt.Sprintf("r%d", k), X: 150 * math.Cos(turn), Z: z + 150*math.Sin(turn), D: 8.4, Joint: "head"})
	}
	return car
}

// frameOfKey is one key and the frame that it draws, there and back.
func frameOfKey(m Model, left bool) Model {
	k := tea.KeyMsg{Type: tea.KeyRight}
	if left {
		k = tea.KeyMsg{Type: tea.KeyLeft}
	}
	next, _ := m.Update(k)
	m = next.(Model)
	_ = m.View()
	return m
}

func BenchmarkKeyToFrame(b *testing.B) {
	for _, n := range []int{28, 1000, 10_000} {
		b.Run(fmt.Sprintf("%d", n), func(b *testing.B) {
			m := openedCar(b, manyCar(b, n), 200, 60)
			b.ReportMetric(float64(len(m.table.Rows)), "settings")
			b.ReportAllocs()
			left := false
			for b.Loop() {
				left = !left
				m = frameOfKey(m, left)
			}
		})
	}
}

// Every picture at 10,000 settings: the home screen small and large, the maps by place and of holes, the side
// view, with something kept.
func BenchmarkEveryPicture(b *testing.B) {
	car := manyCar(b, 10_000)
	for _, s := range []struct {
		name string
		w, h int
		keys []string
	}{
		{"home-80x24", 80, 24, nil}, {"home-250x70", 250, 70, nil}, {"home-kept", 200, 60, []string{" ", "right"}}, {"map", 200, 60, []string{"t"}},
		{"map-share", 200, 60, []string{"t", "2"}}, {"table", 200, 60, []string{"t", "t"}}, {"side", 200, 60, []string{"Z"}}, {"moves", 200, 60, []string{" ", "8"}},
		{"why", 120, 40, []string{"y"}}, {"all", 120, 40, []string{"enter"}}, {"strength", 120, 40, []string{"s"}}, {"phone", 50, 20, nil},
	} {
		b.Run(s.name, func(b *testing.B) {
			m := keys(b, openedCar(b, car, s.w, s.h), s.keys...)
			b.ReportAllocs()
			left := false
			for b.Loop() {
				left = !left
				m = frameOfKey(m, left)
			}
		})
	}
}

// How much a frame allocates is held here, since times are not: a screen that takes
// twice as much with a hundred times as many settings has gone wrong.
func TestFrameAllocatesLittle(t *testing.T) {
	small, large := openedCar(t, manyCar(t, 100), 200, 60), openedCar(t, manyCar(t, 10_000), 200, 60)
	allocs := func(m Model) float64 {
		left := false
		return testing.AllocsPerRun(6, func() { left = !left; m = frameOfKey(m, left) })
	}
	few, many := allocs(small), allocs(large)
	t.Logf("%.0f allocations a frame with %d settings, %.0f with %d", few, len(small.table.Rows), many, len(large.table.Rows))
	if few > 12_000 {
		t.Errorf("%.0f allocations a frame, at most 12000", few)
	}
	if many > 3*few {
		t.Errorf("%.0f allocations a frame with many settings, %.0f with few", many, few)
	}
}
