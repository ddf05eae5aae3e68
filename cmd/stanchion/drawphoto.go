package main

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"stanchion/holes/plane"
	"stanchion/model/figures"
	"stanchion/model/files"
	"stanchion/model/photo"
	"stanchion/model/units"
	"stanchion/model/words"
)

// photoFlags are what drawing onto a photograph takes.
type photoFlags struct{ file, front, rear, tyre string }

func (f *photoFlags) add(c *cobra.Command) {
	c.Flags().StringVar(&f.file, "photo", "", "with --setting: draw it onto the photograph in `FILE`, .png or .jpg")
	c.Flags().StringVar(&f.front, "front-wheel", "", "centre of the near front wheel on the photograph, `X,Y` in dots, or X,Y,ACROSS,UP with the half axes of its ellipse")
	c.Flags().StringVar(&f.rear, "rear-wheel", "", "centre of the near rear wheel, `X,Y` or X,Y,ACROSS,UP")
	c.Flags().StringVar(&f.tyre, "tyre", "", "radius of the tyres as they stand, `LENGTH` (default: 315 mm; measured on the picture with both ellipses)")
}

// given reports whether any of them is.
func (f *photoFlags) given() bool {
	return f.file != "" || f.front != "" || f.rear != "" || f.tyre != ""
}

// maxPhoto is the largest photograph that is read, bytes.
const maxPhoto = 100 << 20

// defaultTyre is the radius of a tyre, mm. Common practice, no source: road tyres are 600 to 660 mm across.
const defaultTyre = 315

// onPhoto draws a setting onto a photograph.
func (f *drawFlags) onPhoto(path string) (data []byte, what string, err error) {
	t, err := tableOf(path, f.speed)
	if err != nil {
		return nil, "", err
	}
	r, from, err := f.rows(t)
	if err != nil {
		return nil, "", err
	}
	u := shown(t.Car)
	front, err := readWheel("--front-wheel", f.photo.front)
	if err != nil {
		return nil, "", err
	}
	rear, err := readWheel("--rear-wheel", f.photo.rear)
	if err != nil {
		return nil, "", err
	}
	tyre := float64(defaultTyre)
	if f.photo.tyre != "" {
		if tyre, err = units.Lengths.Parse(f.photo.tyre, u.LengthUnit()); err != nil {
			return nil, "", fmt.Errorf("--tyre %w", err)
		}
		if !(tyre >= 200 && tyre <= 500) {
			return nil, "", fmt.Errorf("--tyre %s; it must be %s to %s", f.photo.tyre, u.Length(200), u.Length(500))
		}
	}
	raw, err := files.Read(f.photo.file, maxPhoto)
	if err != nil {
		return nil, "", fmt.Errorf("--photo %s: %w", f.photo.file, plain(err))
	}
	img, err := photo.Read(raw)
	if err != nil {
		return nil, "", fmt.Errorf("--photo %s: %w", f.photo.file, err)
	}
	if b := img.Bounds(); !onPicture(front, b.Dx(), b.Dy()) || !onPicture(rear, b.Dx(), b.Dy()) {
		return nil, "", fmt.Errorf("--photo %s has %d by %d dots, and a wheel lies outside of it", f.photo.file, b.Dx(), b.Dy())
	}
	view, err := photo.Fit(front, rear, t.Car.Wheelbase, tyre)
	if err != nil {
		return nil, "", err
	}
	drawn := []photo.Drawn{{Row: r}}
	figure := func(k figures.Key) string { return words.LongFigure(t, r, figures.Get(k), u) }
	notes := []string{fmt.Sprintf("A drawing on a photograph: %s, setting %s, %s° to level ground, quarter chord %s up", t.Car.Name,
		t.Name(r.Setting), units.Fixed(r.Angle/plane.Deg, 1), u.Length(r.Height)),
		"At " + u.Speed(t.Speed) + " downforce " + figure(figures.Downforce) + ", front share " + figure(figures.FrontShare)}
	if from != nil {
		drawn = append([]photo.Drawn{{Row: from, Faint: true}}, drawn...)
		notes = append(notes, words.Changes(t, from, r, u)...)
	}
	notes = append(notes, "An estimate for choosing a setting, not approval of the wing or its mounting.")
	data, err = photo.Paint(img, view, t.Car, drawn, notes)
	how := "taken as square to the car: give the wheels' ellipses to correct the perspective"
	if view.Corrected {
		how = "perspective corrected; tyres of " + u.Length(view.Tyre) + " radius"
	}
	return data, "setting " + t.Name(r.Setting) + " on the photograph, " + how, err
}

func onPicture(w photo.Wheel, width, height int) bool {
	return w.X >= 0 && w.Y >= 0 && w.X <= float64(width) && w.Y <= float64(height)
}

// readWheel reads a wheel: its centre, and the half axes of its ellipse where they are given.
func readWheel(flag, text string) (photo.Wheel, error) {
	if text == "" {
		return photo.Wheel{}, errors.New(flag + " is missing: give the centre of the wheel on the photograph as X,Y in dots")
	}
	parts := strings.Split(text, ",")
	var x [4]float64
	for i, p := range parts {
		v, err := strconv.ParseFloat(strings.TrimSpace(p), 64)
		if err != nil || math.IsNaN(v) || math.IsInf(v, 0) || i > 3 {
			return photo.Wheel{}, fmt.Errorf("%s %q; give X,Y, or X,Y,ACROSS,UP, in dots of the photograph", flag, text)
		}
		x[i] = v
	}
	if n := len(parts); n != 2 && n != 4 || n == 4 && !(x[2] > 0 && x[3] > 0) {
		return photo.Wheel{}, fmt.Errorf("%s %q; give X,Y, or X,Y,ACROSS,UP, in dots of the photograph", flag, text)
	}
	return photo.Wheel{X: x[0], Y: x[1], Across: x[2], Up: x[3]}, nil
}
