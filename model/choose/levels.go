package choose

import (
	"math"
	"sort"

	"stanchion/model"
)

// Level is the settings within limits at about one height.
type Level struct {
	Height    float64 // mm, the mean
	Lowest    float64 // mm, the least of the heights that count as one
	Highest   float64 // mm
	Low, High float64 // rad, least and largest angle
	AngleStep float64 // rad, widest between neighbouring angles
	ForceStep float64 // N, widest between neighbouring downforces
	Count     int
	Angles    []float64
}

// levelGap is how far apart heights are that count as different levels, mm.
const levelGap = 8.0

// Levels sorts the rows within limits by height.
func Levels(t *model.Table) []Level {
	var all []Level
	var rows []*model.Row
	flush := func() {
		if len(rows) > 0 {
			all = append(all, LevelOf(rows))
		}
		rows = nil
	}
	last := math.Inf(-1)
	for i := range t.Rows { // in the order of height
		r := &t.Rows[i]
		if !r.Within() || r.Stalled {
			continue
		}
		if r.Height-last > levelGap {
			flush()
		}
		rows, last = append(rows, r), r.Height
	}
	flush()
	return all
}

// LevelOf takes rows, one at least, for one level.
func LevelOf(rows []*model.Row) Level {
	l := Level{Count: len(rows), Lowest: rows[0].Height, Highest: rows[0].Height}
	var forces []float64
	for _, r := range rows {
		l.Height += r.Height / float64(len(rows))
		l.Lowest, l.Highest = min(l.Lowest, r.Height), max(l.Highest, r.Height)
		l.Angles, forces = append(l.Angles, r.Angle), append(forces, r.Downforce)
	}
	sort.Float64s(l.Angles)
	sort.Float64s(forces)
	l.Low, l.High = l.Angles[0], l.Angles[len(l.Angles)-1]
	for i := 1; i < len(rows); i++ {
		l.AngleStep = max(l.AngleStep, l.Angles[i]-l.Angles[i-1])
		l.ForceStep = max(l.ForceStep, forces[i]-forces[i-1])
	}
	return l
}

// LevelAt returns the level that a height, mm, belongs to; nil for none.
func LevelAt(levels []Level, height float64) *Level {
	for i := range levels {
		if math.Abs(levels[i].Height-height) <= levelGap {
			return &levels[i]
		}
	}
	return nil
}
