package design

import (
	"cmp"
	"math"
	"slices"

	"stanchion/holes/plane"
	"stanchion/model"
)

// Level is what a proposal gives at one of the heights wanted.
type Level struct {
	Height   float64   // mm, wanted
	Rows     []int     // of the table: settings within the tolerance, by angle
	Angles   []float64 // rad, of these, those that are alike once
	Low      float64   // rad, of those
	High     float64
	Beyond   float64 // rad, the largest angle at this height, where it is beyond High
	Lowest   float64 // mm, of the settings
	Highest  float64
	Widest   float64 // rad, between neighbouring angles
	Named    bool    // angles are wanted by name
	Off      float64 // rad, by which the angle nearest to a named one is off, where that is most
	Given    bool    // the angles wanted are all there
	Breaking int     // settings of those wanted that break a limit
}

// alike is how near angles are that count as one, rad.
const alike = 0.05 * plane.Deg

// levels reads what is wanted out of the settings that the engine lists.
func (w *Wish) levels(t *model.Table) []Level {
	all := make([]Level, len(w.Heights))
	for i, h := range w.Heights {
		l := &all[i]
		l.Height = h
		for n := range t.Rows {
			r := &t.Rows[n]
			if math.Abs(r.Height-h) <= w.HeightWithin+0.05 && w.counts(r.Angle) {
				l.Rows = append(l.Rows, n)
			}
		}
		slices.SortFunc(l.Rows, func(a, b int) int { return cmp.Compare(t.Rows[a].Angle, t.Rows[b].Angle) })
		l.Lowest, l.Highest = math.Inf(1), math.Inf(-1)
		for _, n := range l.Rows {
			l.Lowest, l.Highest = min(l.Lowest, t.Rows[n].Height), max(l.Highest, t.Rows[n].Height)
			if a := t.Rows[n].Angle; len(l.Angles) == 0 || a-l.Angles[len(l.Angles)-1] > alike {
				l.Angles = append(l.Angles, a)
			}
			if t.Rows[n].Breaks() {
				l.Breaking++
			}
		}
		l.read(w)
	}
	return all
}

// read finds the steps among the angles that count: from the last that begins the range to the first that ends it.
func (l *Level) read(w *Wish) {
	if len(l.Angles) == 0 {
		return
	}
	if len(w.Angles) > 0 {
		l.readNamed(w)
		return
	}
	from, to := 0, len(l.Angles)-1
	for i, a := range l.Angles {
		if a <= w.Low+w.EndWithin+endRounding {
			from = i
		}
	}
	for i := len(l.Angles) - 1; i >= 0; i-- {
		if l.Angles[i] >= w.High-w.EndWithin-endRounding {
			to = i
		}
	}
	l.Low, l.High, l.Beyond = l.Angles[from], l.Angles[to], l.Angles[len(l.Angles)-1]
	l.Angles = l.Angles[from : to+1]
	from, to = 0, len(l.Angles)-1
	for i := from + 1; i <= to; i++ {
		l.Widest = max(l.Widest, l.Angles[i]-l.Angles[i-1])
	}
	l.Given = l.Low <= w.Low+w.EndWithin+endRounding && l.High >= w.High-w.EndWithin-endRounding && l.Widest <= w.Step+endRounding
}

// readNamed looks for an angle near each named one.
func (l *Level) readNamed(w *Wish) {
	l.Low, l.High = l.Angles[0], l.Angles[len(l.Angles)-1]
	l.Beyond, l.Named = l.High, true
	for i := 1; i < len(l.Angles); i++ {
		l.Widest = max(l.Widest, l.Angles[i]-l.Angles[i-1])
	}
	for _, a := range w.Angles {
		off := math.Inf(1)
		for _, b := range l.Angles {
			off = min(off, math.Abs(b-a))
		}
		l.Off = max(l.Off, off)
	}
	l.Given = l.Off <= w.AngleWithin+endRounding
}

// endRounding is by how much an angle may be off, rad: what a degree with one digit hides.
const endRounding = 0.02 * plane.Deg
