package calibrate

import (
	"math"

	"stanchion/model/choose"
)

// sameSpeed is within which part of each other two speeds count as one.
const sameSpeed = 0.02

// Disagree reports whether the readings in use, or they and the car file, do not agree as a whole.
func (l *Learned) Disagree() bool { return l.Widened > 1 }

// Apart lists the readings in use of the same axle with the same setting at the same speed, or of its top speed,
// that lie clearly apart.
func (l *Learned) Apart() (all []TrackReading) {
	for i := range l.Readings {
		for k := range l.Readings {
			if l.Readings[i].clearlyApart(&l.Readings[k]) {
				all = append(all, l.Readings[i])
				break
			}
		}
	}
	return all
}

// Disagreeing lists the readings that stand against each other where readings do not agree as a whole: those
// of the same axle with the same setting at the same speed that lie clearly apart, or else those that lie
// clearly off the car file and all others; none where no reading stands out.
func (l *Learned) Disagreeing() (all []TrackReading) {
	if !l.Disagree() {
		return nil
	}
	if all = l.Apart(); len(all) > 0 {
		return all
	}
	for _, r := range l.Readings {
		if !r.Suspect && math.Abs(r.Off) >= choose.ClearFrom {
			all = append(all, r)
		}
	}
	return all
}

// clearlyApart reports whether two readings in use are of the same thing and clearly different.
func (r *TrackReading) clearlyApart(s *TrackReading) bool {
	return !r.Suspect && !s.Suspect && r.Kind == s.Kind && r.Setting == s.Setting && math.Abs(r.Speed-s.Speed) <= sameSpeed*r.Speed &&
		math.Abs(r.Measured-s.Measured) >= choose.ClearFrom*math.Hypot(r.StdUnc, s.StdUnc)
}
