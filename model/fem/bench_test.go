package fem

import (
	"fmt"
	"testing"
)

// BenchmarkPlate is a plate made ready, loaded at its head, and under one load, by the side of
// its cells.
func BenchmarkPlate(b *testing.B) {
	for _, h := range []float64{8, 6, 4} {
		b.Run(fmt.Sprintf("%gmm", h), func(b *testing.B) {
			p := straight()
			for b.Loop() {
				s, err := New(Plate{p.shape, p.t, 70000, 0.3, 2.7e-9}, Foot{Bolts: p.foot}, h)
				if err != nil {
					b.Fatal(err)
				}
				r, err := s.On(p.head)
				if err != nil {
					b.Fatal(err)
				}
				if _, err := r.Under(r.of(p.load), true); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
