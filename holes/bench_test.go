package holes

import (
	"math"
	"testing"

	"stanchion/holes/plane"
)

// comb makes an upright of n holes: a column of pivots and beside each a short
// arc, the pattern that people drill.
func comb(n int) Part {
	p := Part{Name: "upright"}
	for k := 0; len(p.Holes) < n; k++ {
		z := 12.5 * float64(k)
		p.Holes = append(p.Holes, Hole{ID: "p", Z: z, D: 8.4})
		for a := 0; a < 4 && len(p.Holes) < n; a++ {
			turn := (float64(a)*4 - 6) * deg
			p.Holes = append(p.Holes, Hole{ID: "a", X: 96 * math.Cos(turn), Z: z + 96*math.Sin(turn), D: 8.4})
		}
	}
	return p
}

func benchmarkFits(b *testing.B, upright, wing Part) {
	b.ReportAllocs()
	n := 0
	for b.Loop() {
		fits, err := Fits(upright, wing, m8("head"))
		if err != nil {
			b.Fatal(err)
		}
		n = len(fits)
	}
	b.ReportMetric(float64(n), "fits")
}

func BenchmarkFits60x2(b *testing.B) {
	benchmarkFits(b, comb(60), plate("w", 8.4, plane.Point{X: 0, Z: 0}, plane.Point{X: 96, Z: 0}))
}

func BenchmarkFits400x4(b *testing.B) {
	benchmarkFits(b, comb(400), plate("w", 8.4, plane.Point{X: 0, Z: 0}, plane.Point{X: 96, Z: 0}, plane.Point{X: 0, Z: 12.5}, plane.Point{X: 96, Z: 12.5}))
}

func BenchmarkSettings100k(b *testing.B) {
	bracket := Part{Name: "bracket"}
	for k := range 60 {
		bracket.Holes = append(bracket.Holes, Hole{ID: "b", Z: 7.3 * float64(k), D: 8.4}, Hole{ID: "c", X: 40, Z: 7.3 * float64(k), D: 8.4})
	}
	foot := m8("foot")
	foot.MinBolts = 2
	upright := comb(400)
	for i := range upright.Holes {
		upright.Holes[i].Joint = "head"
	}
	upright.Holes = append(upright.Holes, Hole{ID: "k1", D: 8.4, X: 3, Joint: "foot"}, Hole{ID: "k2", D: 8.4, X: 43, Joint: "foot"})
	c := Chain{[]Part{bracket, upright, plate("w", 8.4, plane.Point{X: 0, Z: 0}, plane.Point{X: 96, Z: 0})}, []Joint{foot, m8("head")}}
	b.ReportAllocs()
	n := 0
	for b.Loop() {
		all, err := c.Settings()
		if err != nil {
			b.Fatal(err)
		}
		n = len(all)
	}
	b.ReportMetric(float64(n), "settings")
}
