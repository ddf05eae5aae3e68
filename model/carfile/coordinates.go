package carfile

import (
	"fmt"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/given"
	"stanchion/model/units"
)

// coordinates takes a section's outline. Points that were read off are smoothed by how well they were
// read: coordinates_reading, 0 for points that are exact, or where that is left out by their scatter.
func (r *reader) coordinates(t *table, w *model.Wing, file string, data []byte) {
	points, faults := readPoints(file, data)
	if len(faults) > 0 {
		r.faults = append(r.faults, faults...)
		return
	}
	if hangs(points) {
		points = turnedOver(points)
		r.warnings = append(r.warnings, units.Say("%s is drawn as the wing hangs on the car, and is read with its lifting side up", file))
	}
	w.Shape = points
	division, given := r.reading(t).Get()
	if !given || division > 0 {
		r.smoothed(t, w, file, division)
	}
	if err := crossing(w.Shape); err != "" {
		r.faults = append(r.faults, Fault{file, 1, 1, err, onceAround, NotSound})
		w.Shape = nil
	}
}

// reading takes how well the points of an outline were read, mm.
func (r *reader) reading(t *table) given.Number {
	return t.maybe("coordinates_reading", t.lengths(), notNegative)
}

// smoothed puts the smooth outline in the place of points that were read to a division, mm; 0 where
// nobody said.
func (r *reader) smoothed(t *table, w *model.Wing, file string, division float64) {
	if !(w.Chord > 0) {
		return // a fault of its own
	}
	traced, err := model.Trace(w.Shape, division/w.Chord)
	if err != nil && crossing(w.Shape) == "" {
		if division > 0 {
			t.fault("coordinates_reading", "coordinates_reading: %v", "", err)
		} else {
			r.faults = append(r.faults, Fault{file, 1, 1, err.Error(), "say by coordinates_reading how well the points were read, 0 for exact ones", NotSound})
		}
	}
	if err != nil || traced == nil {
		return
	}
	w.Traced, w.Shape = traced, traced.Fit.Points
	warn := func(format string, args ...any) { r.warnings = append(r.warnings, units.Say(format, args...)) }
	fit := traced.Fit
	for _, i := range fit.Misread {
		p := traced.Points[i]
		warn("%s: the point at x %s, y %s of the chord does not fit its neighbours and is left out: read it again", file,
			percent(p.X), percent(p.Y))
	}
	if fit.Estimated {
		warn("%s: its points scatter by ±%s about a smooth outline, which is fitted to them; say by coordinates_reading how well they were read, 0 for exact ones",
			file, units.ThinMM(fit.Reading*w.Chord))
	} else if fit.Reading > mostOfDivision*division/w.Chord {
		warn("%s: its points scatter by ±%s, more than reading to %s explains", file, units.ThinMM(fit.Reading*w.Chord),
			units.ThinMM(division))
	}
	if turned := fit.Turned; turned > turnedTold || turned < -turnedTold {
		warn("%s: the chord from the leading to the trailing edge lies %.1f° off that of the first and the last point; angles are measured from it",
			file, turned/plane.Deg)
	}
	if traced.MaxLift > roughlyTraced {
		warn("%s: read like this, its maximum CL is known to ±%.0f %% and its stall to ±%.1f° only: read it finer, or off a larger drawing", file,
			100*traced.MaxLift, traced.MaxAngle/plane.Deg)
	}
}

// What is told of a traced outline: a scatter of more than this part of the division, a chord line
// turned by more than this, rad, a maximum CL known worse than this part.
const (
	mostOfDivision = 1.0
	turnedTold     = 0.2 * plane.Deg
	roughlyTraced  = 0.05
)

func percent(x float64) string { return fmt.Sprintf("%.1f %%", 100*x) }
