package photo

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	_ "image/jpeg" // photographs
	"image/png"
	"slices"

	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"

	"stanchion/holes/plane"
	"stanchion/model"
)

// MaxDots is how many dots a photograph may have.
const MaxDots = 64 << 20

// Read makes a picture of the bytes of a PNG or JPEG file, turned upright as a telephone says it was held.
func Read(data []byte) (image.Image, error) {
	head, _, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("it is no PNG or JPEG that can be read (%w)", err)
	}
	if n := head.Width * head.Height; n > MaxDots || n < 1 {
		return nil, fmt.Errorf("it has %d by %d dots; at most %d million can be drawn on", head.Width, head.Height, MaxDots>>20)
	}
	img, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("it is cut short or damaged (%w)", err)
	}
	return upright(img, orientation(data)), nil
}

// Drawn is a setting that is drawn onto a picture.
type Drawn struct {
	Row   *model.Row
	Faint bool // as an outline: what it comes from
}

// colours of what is drawn, for any ground: each line has a light edge.
var (
	wingColour  = color.NRGBA{R: 0x1f, G: 0x5f, B: 0xc8, A: 0xd0}
	plateColour = color.NRGBA{R: 0x1f, G: 0x5f, B: 0xc8, A: 0x60}
	partColour  = color.NRGBA{R: 0x50, G: 0x50, B: 0x50, A: 0xa0}
	lineColour  = color.NRGBA{R: 0x10, G: 0x10, B: 0x10, A: 0xff}
	faintColour = color.NRGBA{R: 0xe0, G: 0x80, B: 0x00, A: 0xff}
	bandColour  = color.NRGBA{R: 0x20, G: 0x20, B: 0x20, A: 0xff}
)

// Paint draws settings of a car onto a picture and writes what they are, line by line, below it; it returns a
// PNG.
func Paint(img image.Image, v View, c *model.Car, drawn []Drawn, notes []string) ([]byte, error) {
	b := img.Bounds()
	size := max(11, float64(b.Dx())/70) // of the letters, dots
	step := int(1.35 * size)
	out := image.NewNRGBA(image.Rect(0, 0, b.Dx(), b.Dy()+step*len(notes)+step/2*min(len(notes), 1)))
	draw.Draw(out, image.Rect(0, 0, b.Dx(), b.Dy()), img, b.Min, draw.Src)
	on := painter{out, v, max(1, float32(b.Dx())/1200)}
	for _, d := range drawn {
		on.setting(c, d)
	}
	if err := on.notes(notes, b.Dy(), size, step); err != nil {
		return nil, err
	}
	var data bytes.Buffer
	if err := png.Encode(&data, out); err != nil {
		return nil, err
	}
	return data.Bytes(), nil
}

// painter paints onto a picture.
type painter struct {
	*image.NRGBA
	view View
	line float32 // width of a line, dots
}

// setting draws uprights, end plate and section.
func (p painter) setting(c *model.Car, d Drawn) {
	poses := c.PartPoses(d.Row.Setting)
	shape := func(pose plane.Pose, points []plane.Point, fill color.NRGBA, openings ...[]plane.Point) {
		if len(points) < 3 {
			return
		}
		rings := [][]plane.Point{pose.ApplyAll(points)}
		for _, o := range openings {
			rings = append(rings, pose.ApplyAll(o))
		}
		if !d.Faint {
			p.fill(rings, fill)
		}
		for _, r := range rings {
			if d.Faint {
				p.outline(r, faintColour)
			} else {
				p.outline(r, lineColour)
			}
		}
	}
	if !d.Faint {
		for i := range c.Parts[:len(c.Parts)-1] {
			shape(poses[i], c.Parts[i].Outline, partColour, c.Parts[i].Cutouts...)
		}
	}
	outline, _ := c.Wing.Outline()
	shape(d.Row.Pose, c.Wing.PlateOutline(), plateColour)
	shape(d.Row.Pose, outline, wingColour)
}

// way returns a polygon of places on the car in dots of the picture.
func (p painter) way(points []plane.Point) [][2]float32 {
	all := make([][2]float32, len(points))
	for i, at := range points {
		x, y := p.view.At(at)
		all[i] = [2]float32{float32(x), float32(y)}
	}
	return all
}

// ink fills ways with a colour. Only the box around them is looked at: a photograph has millions of dots.
func (p painter) ink(ways [][][2]float32, c color.NRGBA) {
	all := p.Bounds()
	w, h := float32(all.Dx()), float32(all.Dy())
	left, top, right, bottom := w, h, float32(0), float32(0)
	for _, way := range ways {
		for _, at := range way {
			left, right = min(left, at[0]), max(right, at[0])
			top, bottom = min(top, at[1]), max(bottom, at[1])
		}
	}
	if !(left < w && top < h && right > 0 && bottom > 0) {
		return
	}
	box := image.Rect(int(max(left-1, 0)), int(max(top-1, 0)), int(min(right+2, w)), int(min(bottom+2, h)))
	x, y := float32(box.Min.X), float32(box.Min.Y)
	r := vector.NewRasterizer(box.Dx(), box.Dy())
	for _, way := range ways {
		for i, at := range way {
			if i == 0 {
				r.MoveTo(at[0]-x, at[1]-y)
			} else {
				r.LineTo(at[0]-x, at[1]-y)
			}
		}
		r.ClosePath()
	}
	r.Draw(p.NRGBA, box.Add(all.Min), image.NewUniform(c), image.Point{})
}

// fill fills an outline, the first of the rings, but for the openings in it. The rasterizer adds up
// how often a way goes around a dot, so that openings run the other way round.
func (p painter) fill(rings [][]plane.Point, c color.NRGBA) {
	var ways [][][2]float32
	around, _ := plane.Area(rings[0])
	for i, ring := range rings {
		if area, _ := plane.Area(ring); i > 0 && (area > 0) == (around > 0) {
			ring = slices.Clone(ring)
			slices.Reverse(ring)
		}
		ways = append(ways, p.way(ring))
	}
	p.ink(ways, c)
}

// outline draws the sides of a polygon, each as a thin rectangle.
func (p painter) outline(points []plane.Point, c color.NRGBA) {
	var ways [][][2]float32
	for i, a := range points {
		ax, ay := p.view.At(a)
		bx, by := p.view.At(points[(i+1)%len(points)])
		dx, dy := float32(bx-ax), float32(by-ay)
		l := sqrt(dx*dx + dy*dy)
		if l == 0 {
			continue
		}
		ox, oy := -dy/l*p.line, dx/l*p.line
		ways = append(ways, [][2]float32{
			{float32(ax) + ox, float32(ay) + oy}, {float32(bx) + ox, float32(by) + oy},
			{float32(bx) - ox, float32(by) - oy}, {float32(ax) - ox, float32(ay) - oy},
		})
	}
	p.ink(ways, c)
}

// notes writes lines on a dark band from a line of dots on, in letters of a size, so many dots from line to line.
func (p painter) notes(lines []string, top int, size float64, step int) error {
	if len(lines) == 0 {
		return nil
	}
	parsed, err := opentype.Parse(liberationsansregular.TTF)
	if err != nil {
		return err
	}
	face, err := opentype.NewFace(parsed, &opentype.FaceOptions{Size: size, DPI: 72})
	if err != nil {
		return err
	}
	draw.Draw(p.NRGBA, image.Rect(0, top, p.Bounds().Dx(), p.Bounds().Dy()), image.NewUniform(bandColour), image.Point{}, draw.Over)
	w := font.Drawer{Dst: p.NRGBA, Src: image.White, Face: face}
	for i, l := range lines {
		w.Dot = fixed.P(step/2, top+step*(i+1))
		w.DrawString(l)
	}
	return nil
}
