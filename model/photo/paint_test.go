package photo

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"strings"
	"testing"

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
