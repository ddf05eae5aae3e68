package design

import (
	"context"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model/modeltest"
)

func wanted() Wish {
	return Wish{Heights: []float64{1240, 1280, 1320}, HeightWithin: 10, Low: 0, High: 12 * plane.Deg, Step: 1.5 * plane.Deg, EndWithin: 0.5 * plane.Deg}
}

// BenchmarkHead is one search of a head for a foot that tilts.
func BenchmarkHead(b *testing.B) {
	f, err := newFrame(modeltest.Car(b, "coupe"), wanted())
	if err != nil {
		b.Fatal(err)
	}
	up, _ := f.upright(context.Background())
	feet, _ := f.tilted(context.Background(), up, []float64{1.5 * plane.Deg})
	for b.Loop() {
		c := f.newCover(feet[0], f.wish.Step, -85, -5)
		if _, _, err := c.search(context.Background(), 1, usual, 12); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkFeet is the search for feet that tilt.
func BenchmarkFeet(b *testing.B) {
	f, err := newFrame(modeltest.Car(b, "coupe"), wanted())
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		up, _ := f.upright(context.Background())
		if _, err := f.tilted(context.Background(), up, []float64{1.5 * plane.Deg, 3 * plane.Deg}); err != nil {
			b.Fatal(err)
		}
	}
}
