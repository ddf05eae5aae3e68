package drawing

import (
	"math"
	"testing"

	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"golang.org/x/image/font/sfnt"
	"pgregory.net/rapid"
)

var black = [3]uint8{}

// ink is how much of the canvas is covered, in pixels.
func inkOn(c *canvas) (sum float64) {
	for i := 0; i < len(c.img.Pix); i += 4 {
		sum += float64(255-c.img.Pix[i]) / 255
	}
	return sum
}

// By hand: a line of 100 pixels, 8 wide, with a round end of radius 4 at both ends, covers 800 + 16 pi = 850.3 pixels.
func TestStrokeByHand(t *testing.T) {
	c := newCanvas(200, 300)
	c.stroke([]spot{{40, 50.5}, {140, 50.5}}, false, 8, nil, black)
	if got, want := inkOn(c), 800+16*math.Pi; math.Abs(got-want) > 6 {
		t.Errorf("covers %.1f pixels, not %.1f", got, want)
	}
	if c.img.RGBAAt(90, 50).R != 0 || c.img.RGBAAt(90, 60).R != 255 {
		t.Error("the line is not where it was drawn")
	}
}

// A corner has no spike: nothing is further from the line than half its width.
func TestNoSpikes(t *testing.T) {
	c := newCanvas(300, 300)
	c.stroke([]spot{{20, 150}, {200, 150}, {20, 160}}, false, 10, nil, black)
	for x := 206; x < 300; x++ {
		for y := range 300 {
			if c.img.RGBAAt(x, y).R != 255 {
				t.Fatalf("ink at %d, %d: beyond the round corner", x, y)
			}
		}
	}
}

// A disc that is drawn in several bands of rows covers pi r².
func TestDiscByHand(t *testing.T) {
	c := newCanvas(500, 500)
	c.fill([][]spot{disc(spot{250, 250}, 200)}, black)
	if got, want := inkOn(c), math.Pi*200*200; math.Abs(got/want-1) > 0.005 {
		t.Errorf("covers %.0f pixels, not %.0f", got, want)
	}
}

// By hand: 10 on and 5 off along 40 pixels is 0–10, 15–25, 30–40.
func TestDashesByHand(t *testing.T) {
	got := dashed([]spot{{0, 0}, {22, 0}, {40, 0}}, []float64{10, 5})
	want := [][2]float64{{0, 10}, {15, 25}, {30, 40}}
	if len(got) != len(want) {
		t.Fatalf("%d pieces, not %d: %v", len(got), len(want), got)
	}
	for i, piece := range got {
		if a, b := piece[0].x, piece[len(piece)-1].x; math.Abs(a-want[i][0]) > 1e-9 || math.Abs(b-want[i][1]) > 1e-9 {
			t.Errorf("piece %d from %g to %g, not %v", i, a, b, want[i])
		}
	}
}

// Glyphs: the middle of a zero is white, and a text is as wide as its glyphs' advances: Liberation Sans has 0.556 em for each digit
// (its hmtx table: 1139 of 2048 units).
func TestGlyphs(t *testing.T) {
	face, err := sfnt.Parse(liberationsansregular.TTF)
	if err != nil {
		t.Fatal(err)
	}
	shapes, width, err := outlines(face, "00", 100)
	if err != nil || math.Abs(width-2*100*1139.0/2048) > 0.1 {
		t.Errorf("width %.2f, %v", width, err)
	}
	c := newCanvas(200, 200)
	for _, s := range shapes {
		for i := range s {
			s[i].y += 150
		}
	}
	c.fill(shapes, black)
	if c.img.RGBAAt(28, 115).R != 255 {
		t.Error("the zero is filled")
	}
	if c.img.RGBAAt(28, 150).R == 255 {
		t.Error("the zero has no lower edge")
	}
}

// A line is drawn wherever it runs over the canvas, whatever lies outside of it.
func TestAnythingCanBeStroked(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coordinate := rapid.Float64Range(-500, 500)
		at := rapid.Custom(func(t *rapid.T) spot { return spot{coordinate.Draw(t, "x"), coordinate.Draw(t, "y")} })
		line := rapid.SliceOfN(at, 0, 6).Draw(t, "line")
		c := newCanvas(60, 40)
		width := rapid.Float64Range(3, 20).Draw(t, "width")
		c.stroke(line, rapid.Bool().Draw(t, "closed"), width, nil, black)
		for _, p := range line {
			if p.x > 1 && p.x < 59 && p.y > 1 && p.y < 39 && c.img.RGBAAt(int(p.x), int(p.y)).R > 40 {
				t.Fatalf("no ink at %v, where the line goes", p)
			}
		}
	})
}
