package strength

import (
	"context"
	"slices"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/modeltest"
)

// BenchmarkManyCorners checks all settings of the demo car, those that the formulas leave open solved, with so many corners on its upright's edge as a traced outline has.
func BenchmarkManyCorners(b *testing.B) {
	c := *modeltest.Car(b, "coupe")
	c.Parts = slices.Clone(c.Parts)
	c.Parts[1].Outline = many(&c.Parts[1], 310)
	for b.Loop() {
		f, err := New(&c)
		if err != nil {
			b.Fatal(err)
		}
		solved.held, solved.responses = nil, nil
		s, err := f.SolveAll(context.Background(), false, MostSolved)
		if err != nil {
			b.Fatal(err)
		}
		if used, ok := s.Worst.Used(); ok {
			b.ReportMetric(used.Utilisation(), "used")
		}
	}
}

// many is a part's outline with n corners: its own edges parted alike.
func many(p *model.Part, n int) (ring []plane.Point) {
	each := n / len(p.Outline)
	for i, a := range p.Outline {
		way := p.Outline[(i+1)%len(p.Outline)].Sub(a).Times(1 / float64(each))
		for k := range each {
			ring = append(ring, a.Add(way.Times(float64(k))))
		}
	}
	return ring
}
