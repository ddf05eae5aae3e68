package model

import (
	"math"
	"sort"
)

// Level is the settings within limits at about one height.
type Level struct {
	Height    float64 // mm, the mean
	Low, High float64 // rad, least and largest angle
	AngleStep float64 // rad, widest between neighbouring angles
	ForceStep float64 // N, widest between neighbouring downforces
	Count     int
	angles    []float64
}

// levelGap is how far apart heights are that count as different levels, mm.
const levelGap = 8.0

// Levels sorts the rows within limits by height.
func (t *Table) Levels() []Level {
	var all []Level
	var rows []*Row
	flush := func() {
		if len(rows) > 0 {
			all = append(all, levelOf(rows))
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

func levelOf(rows []*Row) Level {
	l := Level{Count: len(rows)}
	var forces []float64
	for _, r := range rows {
		l.Height += r.Height / float64(len(rows))
		l.angles, forces = append(l.angles, r.Angle), append(forces, r.Downforce)
	}
	sort.Float64s(l.angles)
	sort.Float64s(forces)
	l.Low, l.High = l.angles[0], l.angles[len(l.angles)-1]
	for i := 1; i < len(rows); i++ {
		l.AngleStep = max(l.AngleStep, l.angles[i]-l.angles[i-1])
		l.ForceStep = max(l.ForceStep, forces[i]-forces[i-1])
	}
	return l
}
