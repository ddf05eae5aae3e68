package strength

import (
	"context"
	"testing"

	"stanchion/model/modeltest"
)

// BenchmarkSolve is a setting of the demo car with its plates solved as they are drawn: with nothing made
// ready, and on bolts whose plates are.
func BenchmarkSolve(b *testing.B) {
	c := modeltest.Car(b, "coupe")
	b.Run("first", func(b *testing.B) {
		for b.Loop() {
			solved.held, solved.responses = nil, nil
			f, err := New(c)
			if err != nil {
				b.Fatal(err)
			}
			if _, err := f.Solve(context.Background(), &f.Table.Rows[5]); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("next", func(b *testing.B) {
		f, err := New(c)
		if err != nil {
			b.Fatal(err)
		}
		i := 5
		for b.Loop() {
			if _, err := f.Solve(context.Background(), &f.Table.Rows[i]); err != nil {
				b.Fatal(err)
			}
			f.memory.results.Clear()
			solved.responses = nil
		}
	})
}
