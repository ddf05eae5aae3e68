package calibrate

import (
	"math"

	"stanchion/model/choose"
)

// sameSpeed is within which part of each other two speeds count as one.
const sameSpeed = 0.02

// Disagree reports whether readings stand against each other and nothing decides between them, or the readings and
// the car file do not agree as a whole.
func (l *Learned) Disagree() bool { return l.Widened > 1 || len(l.undecided()) > 0 }

// Disagreeing lists the readings that stand against each other: two of the same axle with the same setting at the
// same speed, or of its top speed, that lie clearly apart with no third, also where one of them was left out; or
// else, where readings and file do not agree as a whole, those clearly off the rest. None where no reading stands out.
func (l *Learned) Disagreeing() (all []TrackReading) {
	if all = l.undecided(); len(all) > 0 || l.Widened <= 1 {
		return all
	}
	for _, r := range l.Readings {
		if !r.Suspect && math.Abs(r.Off) >= choose.ClearFrom {
			all = append(all, r)
		}
	}
	return all
}

// undecided lists the readings of one thing that there are two of, clearly apart: which of them is wrong cannot be told.
func (l *Learned) undecided() (all []TrackReading) {
	for i := range l.Readings {
		r := &l.Readings[i]
		alike, apart := 0, false
		for k := range l.Readings {
			if s := &l.Readings[k]; k != i && r.ofTheSame(s) {
				alike++
				apart = math.Abs(r.Measured-s.Measured) >= choose.ClearFrom*math.Hypot(r.StdUnc, s.StdUnc)
			}
		}
		if alike == 1 && apart {
			all = append(all, *r)
		}
	}
	return all
}

// ofTheSame reports whether two readings are of the same thing. Top speeds with one setting are, whatever they were.
func (r *TrackReading) ofTheSame(s *TrackReading) bool {
	return r.Kind == s.Kind && r.Setting == s.Setting && (!r.Kind.AtSpeed() || math.Abs(r.Speed-s.Speed) <= sameSpeed*max(r.Speed, s.Speed))
}
