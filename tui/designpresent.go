package tui

import (
	"math"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model/choose"
	"stanchion/model/design"
	"stanchion/model/units"
)

// presentLevels are the levels of the settings that are shown, at most as many as heights can be asked for: the lowest and the highest,
// and others evenly between them.
func presentLevels(m Model) []choose.Level {
	if m.table == nil {
		return nil
	}
	all := choose.Levels(m.table)
	if n := len(all); n > design.MostHeights {
		var some []choose.Level
		for i := range design.MostHeights {
			some = append(some, all[i*(n-1)/(design.MostHeights-1)])
		}
		all = some
	}
	return all
}

func presentHeights(m Model) string {
	var texts []string
	for _, l := range presentLevels(m) {
		texts = append(texts, m.units.LengthFigure(l.Height))
	}
	if texts == nil {
		return ""
	}
	return strings.Join(texts, ", ") + " " + m.units.LengthUnit()
}

// presentAngle is the least or largest of an angle over all levels; "" where it is no angle.
func presentAngle(of func(choose.Level) float64, better func(a, b float64) float64) func(m Model) string {
	return func(m Model) string {
		found := math.NaN()
		for i, l := range presentLevels(m) {
			if x := of(l); i == 0 {
				found = x
			} else {
				found = better(found, x)
			}
		}
		if math.IsNaN(found) || math.IsInf(found, 0) {
			return ""
		}
		return units.Fixed(found/plane.Deg, 1) + "°"
	}
}

// presentWish fills the lines with what the car has, and what is usual.
func (m Model) presentWish() (lines []wishLine) {
	for _, f := range wishFields() {
		l := wishLine{}
		switch {
		case f.present != nil:
			if l.text = f.present(m); l.text != "" {
				l.from = fromCar
			}
		case f.usual != nil:
			l = wishLine{f.usual(m.units), fromUse}
		}
		lines = append(lines, l)
	}
	return lines
}
