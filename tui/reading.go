package tui

import (
	"errors"
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/calibrate"
	"stanchion/model/given"
	"stanchion/model/units"
	"stanchion/model/words"
)

func (m Model) typeReading() (Model, tea.Cmd) {
	return m.prompt("measured", "angle, height if read, left or right: "+m.readingExample(), Model.typedReading)
}

// readingExample is a reading as it can be typed, in the units on the screen.
func (m Model) readingExample() string {
	return "6.4 " + strings.ReplaceAll(m.units.Length(1342), " ", "") + " left"
}

// typedReading takes what was measured with the current setting bolted on, and
// shows what all readings together say before anything is changed.
func (m Model) typedReading(text string) (Model, tea.Cmd, error) {
	r := model.Reading{Setting: m.row().ID}
	for _, word := range strings.Fields(text) {
		if word == "left" || word == "right" {
			if r.Side != "" {
				return m, nil, errors.New("left and right are both given; give one of them")
			}
			r.Side = word
			continue
		}
		if a, err := units.Angles.Parse(word, "deg"); err == nil && !r.Angle.Known() {
			r.Angle = given.Is(a)
			continue
		}
		h, err := units.Lengths.Parse(word, m.units.LengthUnit())
		if err != nil && strings.Contains(word, ",") {
			return m, nil, err
		}
		if err != nil || r.Height.Known() {
			return m, nil, fmt.Errorf("%q; give an angle, a height, and left or right", word)
		}
		r.Height = given.Is(h)
	}
	if !r.Angle.Known() {
		return m, nil, errors.New("no angle; type 6.4, or " + m.readingExample())
	}
	readings := append(append([]model.Reading(nil), m.car.Readings...), r)
	d, err := calibrate.FitDatum(m.table, readings)
	if err != nil {
		return m, nil, err
	}
	page := func(m Model) []string {
		lines := []string{titleStyle.Render("what the readings say of the " + m.car.Parts[0].Name), ""}
		lines = append(lines, words.DatumLines(m.table, d, m.units)...)
		return append(lines, "", "enter applies the correction until you quit. To keep it, add this to the car file and run stanchion datum --write:", "",
			"[[measured]]", fmt.Sprintf("setting = %q", r.Setting), fmt.Sprintf("angle = %.2f", r.Angle.Value()/plane.Deg), measuredHeight(r, m.car.System()), measuredSide(r))
	}
	return m.with(pageMode{lines: page, accept: &d}), nil, nil
}

// measuredHeight is the line of a height in a car file, in the file's own units.
func measuredHeight(r model.Reading, file units.System) string {
	height, ok := r.Height.Get()
	if !ok {
		return ""
	}
	if file.Inches() {
		return fmt.Sprintf("height = %.3f", height/file.LengthSize())
	}
	return fmt.Sprintf("height = %.1f", height)
}

func measuredSide(r model.Reading) string {
	if r.Side == "" {
		return ""
	}
	return fmt.Sprintf("side = %q", strings.ToLower(r.Side))
}

// acceptReading takes the correction that the page shows. It is on top of one
// taken before, which the angles shown already have in them.
func (m Model) acceptReading(d calibrate.Datum) (Model, tea.Cmd) {
	if m.datum != nil {
		d = m.datum.Plus(d)
	}
	m, _ = m.leave()
	m = m.remember("the correction")
	m.datum = &d
	m.message = "the correction applies until you quit; it is not in the car file"
	return m.ask(m.laidOn(m.base), nil)
}
