package drawing

import (
	"bytes"
	"image"
	"image/png"
	"math"
	"testing"

	"stanchion/holes/plane"
)

// By hand: with a frame of 100 by 60 mm, a place is (16 + x) and (16 + 60 - z) mm from the upper left corner, 150/25.4 pixels to the mm.
// A circle, an arc by a bulge of 1 (half a circle) and a text that is read from the right leave ink where they belong.
func TestPNGPlaces(t *testing.T) {
	d := &Drawing{}
	p := func(x, z float64) plane.Point { return plane.Point{X: x, Z: z} }
	d.path(Path{Points: []plane.Point{p(0, 0), p(100, 0), p(100, 60), p(0, 60)}, Closed: true, Pen: Outline})
	d.circle(p(30, 30), 12, Outline)
	d.path(Path{Points: []plane.Point{p(70, 20), p(70, 40)}, Bulges: []float64{1, 0}, Pen: Outline})
	d.write(Text{At: p(52, 30), Size: 8, Anchor: 1, Up: true, Text: "H", Pen: Outline})
	data, err := d.PNG()
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	dark := func(x, z float64) bool {
		k := 150 / 25.4
		at := image.Pt(int(math.Floor((16+x)*k)), int(math.Floor((16+60-z)*k)))
		r, _, _, _ := img.At(at.X, at.Y).RGBA()
		return r < 0x6000
	}
	for _, c := range []struct {
		x, z float64
		ink  bool
		what string
	}{
		{42, 30, true, "circle, right"}, {30, 18, true, "circle, below"}, {30 + 12*math.Sqrt2/2, 30 + 12*math.Sqrt2/2, true, "circle, between"},
		{30, 30, false, "its middle"}, {80, 30, true, "arc counter-clockwise from below"}, {60, 30, false, "the other side of the arc"},
		{50, 60, true, "frame"}, {49, 30, true, "bar of the letter, upright"}, {49, 34, false, "beside the letter"}, {51, 30, false, "between its legs"},
	} {
		if dark(c.x, c.z) != c.ink {
			t.Errorf("%s: ink is %v at %g, %g", c.what, !c.ink, c.x, c.z)
		}
	}
}
