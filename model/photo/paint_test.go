package photo

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"slices"
	"strings"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model/modeltest"
)

// plain is a picture of one colour.
func plain(w, h int, c color.Color) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			img.Set(x, y, c)
		}
	}
	return img
}

// The wing is where it belongs: measured back on the picture, the section reaches from nose to tail of the chord
// as the view puts them, to two dots; what it comes from is an outline, and the rest of the picture is left alone.
func TestWingIsToScale(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	r, _ := table.Find("4:k1+10:k2+6:k3+12:k4/B:F+B2:R")
	v, err := Fit(Wheel{X: 200, Y: 700}, Wheel{X: 1100, Y: 700}, table.Car.Wheelbase, 315)
	if err != nil {
		t.Fatal(err)
	}
	data, err := Paint(plain(1600, 900, color.White), v, table.Car, []Drawn{{Row: r}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	outline, _ := table.Car.Wing.Outline()
	lo, hi := 1e9, -1e9
	for _, p := range outline {
		x, _ := v.At(r.Pose.Apply(p))
		lo, hi = min(lo, x), max(hi, x)
	}
	left, right := 1<<30, -1
	for y := range 900 {
		for x := range 1600 {
			if cr, _, cb, _ := img.At(x, y).RGBA(); cb>>8 > 0xb0 && cr>>8 < 0x60 { // the wing's blue, nothing else's
				left, right = min(left, x), max(right, x)
			}
		}
	}
	if float64(left) < lo-2 || float64(left) > lo+3 || float64(right) > hi+2 || float64(right) < hi-20 { // the tail is thinner than its outline
		t.Errorf("the section is drawn from %d to %d, it is from %.1f to %.1f", left, right, lo, hi)
	}
	if c := color.NRGBAModel.Convert(img.At(100, 100)).(color.NRGBA); c != (color.NRGBA{0xff, 0xff, 0xff, 0xff}) {
		t.Errorf("the picture is changed where nothing is drawn: %v", c)
	}
	before, err := Paint(plain(1600, 900, color.White), v, table.Car, []Drawn{{Row: r, Faint: true}}, []string{"a note"})
	if err != nil || bytes.Equal(before, data) {
		t.Errorf("what it comes from looks the same: %v", err)
	}
	img, _ = png.Decode(bytes.NewReader(before))
	if cr, _, _, _ := img.At(2, 905).RGBA(); cr>>8 > 0x80 || img.Bounds().Dy() < 920 {
		t.Error("there is no band for the notes below the picture")
	}
}

// A cut-out of the upright is an opening: what was on the picture is seen through it, and beside it the
// plate is drawn.
func TestCutoutIsAnOpening(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	window := []plane.Point{{X: 10, Z: 100}, {X: 70, Z: 100}, {X: 70, Z: 350}, {X: 10, Z: 350}}
	r := &table.Rows[0]
	v, err := Fit(Wheel{X: 200, Y: 900}, Wheel{X: 1100, Y: 900}, table.Car.Wheelbase, 315)
	if err != nil {
		t.Fatal(err)
	}
	for range 2 { // either way round
		slices.Reverse(window)
		table.Car.Parts[1].Cutouts = [][]plane.Point{window}
		data, err := Paint(plain(1600, 1100, color.White), v, table.Car, []Drawn{{Row: r}}, nil)
		if err != nil {
			t.Fatal(err)
		}
		img, err := png.Decode(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		at := func(x, z float64) color.NRGBA {
			px, py := v.At(table.Car.PartPoses(r.Setting)[1].Apply(plane.Point{X: x, Z: z}))
			return color.NRGBAModel.Convert(img.At(int(px), int(py))).(color.NRGBA)
		}
		if c := at(40, 225); c != (color.NRGBA{0xff, 0xff, 0xff, 0xff}) {
			t.Errorf("in the opening there is %v", c)
		}
		if c := at(40, 380); c.R > 0xd0 {
			t.Errorf("above it there is %v", c)
		}
	}
}

// Pictures are read as PNG and JPEG, upright as the camera was held; what is none, or too large, is said.
func TestReadPictures(t *testing.T) {
	var b bytes.Buffer
	img := plain(40, 20, color.White)
	for y := range 20 {
		for x := range 10 {
			img.Set(x, y, color.Black) // its left quarter
		}
	}
	if err := jpeg.Encode(&b, img, nil); err != nil {
		t.Fatal(err)
	}
	whole := b.Bytes()
	held := func(how byte) []byte {
		tiff := []byte{'I', 'I', 42, 0, 8, 0, 0, 0, 1, 0, 0x12, 0x01, 3, 0, 1, 0, 0, 0, how, 0, 0, 0, 0, 0, 0, 0}
		exif := append([]byte("Exif\x00\x00"), tiff...)
		n := len(exif) + 2
		return append(append([]byte{0xFF, 0xD8, 0xFF, 0xE1, byte(n >> 8), byte(n)}, exif...), whole[2:]...)
	}
	for how, want := range map[byte]struct{ w, h, x, y int }{1: {40, 20, 2, 10}, 3: {40, 20, 37, 10}, 6: {20, 40, 10, 2}, 8: {20, 40, 10, 37}} {
		got, err := Read(held(how))
		if err != nil {
			t.Fatal(err)
		}
		if size := got.Bounds().Size(); size.X != want.w || size.Y != want.h {
			t.Errorf("held %d: %v", how, size)
		}
		if r, _, _, _ := got.At(want.x, want.y).RGBA(); r>>8 > 0x40 {
			t.Errorf("held %d: the dark quarter is not at %d, %d", how, want.x, want.y)
		}
	}
	for name, data := range map[string][]byte{"no picture": []byte("no picture"), "cut short": whole[:len(whole)/2], "empty": nil} {
		if _, err := Read(data); err == nil || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Nothing that is no picture brings it down.
func FuzzRead(f *testing.F) {
	var b bytes.Buffer
	_ = png.Encode(&b, plain(3, 2, color.White))
	f.Add(b.Bytes())
	f.Add([]byte{0xFF, 0xD8, 0xFF, 0xE1, 0, 20, 'E', 'x', 'i', 'f', 0, 0, 'M', 'M', 0, 42, 0, 0, 0, 8, 0, 1})
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 1<<16 {
			return
		}
		if how := orientation(data); how < 0 || how > 1<<16 {
			t.Errorf("held %d", how)
		}
		if len(data) < 2000 {
			_, _ = Read(data)
		}
	})
}

// A picture of three by two dots, each of its own grey, turned as cameras are held: by hand
//
//	1 2 3    upside down 6 5 4    a quarter clockwise 4 1    the other way 3 6
//	4 5 6                3 2 1                        5 2                  2 5
//	                                                  6 3                  1 4
func TestTurnedByHand(t *testing.T) {
	img := image.NewGray(image.Rect(10, 20, 13, 22)) // not at the origin
	for i := range 6 {
		img.SetGray(10+i%3, 20+i/3, color.Gray{Y: uint8(i + 1)})
	}
	for how, want := range map[int][][]uint8{1: {{1, 2, 3}, {4, 5, 6}}, 3: {{6, 5, 4}, {3, 2, 1}}, 6: {{4, 1}, {5, 2}, {6, 3}}, 8: {{3, 6}, {2, 5}, {1, 4}}} {
		got := upright(img, how)
		b := got.Bounds()
		if b.Dx() != len(want[0]) || b.Dy() != len(want) {
			t.Errorf("held %d: %v", how, b)
			continue
		}
		for y, row := range want {
			for x, grey := range row {
				if c := color.GrayModel.Convert(got.At(b.Min.X+x, b.Min.Y+y)).(color.Gray); c.Y != grey {
					t.Errorf("held %d: at %d, %d is %d, want %d", how, x, y, c.Y, grey)
				}
			}
		}
	}
}

// The orientation is found behind other segments, in both byte orders and behind other entries, and only in the
// header.
func TestOrientationByHand(t *testing.T) {
	segment := func(kind byte, body []byte) []byte {
		n := len(body) + 2
		return append([]byte{0xFF, kind, byte(n >> 8), byte(n)}, body...)
	}
	join := func(parts ...[]byte) (all []byte) {
		for _, p := range parts {
			all = append(all, p...)
		}
		return all
	}
	little := []byte{'I', 'I', 42, 0, 8, 0, 0, 0, 2, 0, 0x0F, 0x01, 2, 0, 1, 0, 0, 0, 9, 0, 0, 0, 0x12, 0x01, 3, 0, 1, 0, 0, 0, 6, 0, 0, 0}
	big := []byte{'M', 'M', 0, 42, 0, 0, 0, 8, 0, 1, 0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, 8, 0, 0}
	exif := []byte("Exif\x00\x00")
	start := []byte{0xFF, 0xD8}
	for _, c := range []struct {
		what string
		data []byte
		want int
	}{
		{"behind another segment", join(start, segment(0xE0, []byte("JFIF\x00")), segment(0xE1, append(exif, little...))), 6},
		{"big end first", join(start, segment(0xE1, append(exif, big...))), 8},
		{"behind the picture's own head", join(start, segment(0xDA, []byte{1, 2}), segment(0xE1, append(exif, big...))), 1},
		{"cut short", join(start, segment(0xE1, append(exif, big...))[:20]), 1},
		{"a directory beyond the end", join(start, segment(0xE1, append(exif, 'I', 'I', 42, 0, 200, 0, 0, 0))), 1},
		{"another kind of segment", join(start, segment(0xE1, append([]byte("Exix\x00\x00"), big...))), 1},
		{"no JPEG", []byte("\x89PNG"), 1},
		{"nothing", nil, 1},
	} {
		if got := orientation(c.data); got != c.want {
			t.Errorf("%s: %d, want %d", c.what, got, c.want)
		}
	}
}

// An outline is as thick as it should be and no thicker, on a level and on an upright side alike.
func TestOutlineByHand(t *testing.T) {
	v := View{a: 1, b: 0, d: 1, e: 100} // a mm is a dot, the ground at 100
	p := painter{image.NewNRGBA(image.Rect(0, 0, 100, 100)), v, 2}
	p.outline([]plane.Point{{X: 20, Z: 20}, {X: 80, Z: 20}, {X: 80, Z: 80}, {X: 20, Z: 80}}, lineColour)
	dark := func(x, y int) bool { return p.NRGBAAt(x, y).A > 0x80 }
	for _, at := range [][2]int{{50, 79}, {50, 80}, {50, 20}, {20, 50}, {80, 50}, {18, 50}} {
		if !dark(at[0], at[1]) {
			t.Errorf("the outline is not at %v", at)
		}
	}
	for _, at := range [][2]int{{50, 50}, {50, 75}, {50, 84}, {15, 50}, {25, 50}, {85, 50}} {
		if dark(at[0], at[1]) {
			t.Errorf("the outline is at %v", at)
		}
	}
}
