package calibrate

import (
	"math"

	"stanchion/model"
)

// residuals is what is left of each reading; of a level turned end for end of both together.
func residuals(s *solution, readings []model.Reading) []Residual {
	nan := math.NaN()
	all := make([]Residual, len(readings))
	for i, r := range readings {
		all[i] = Residual{Reading: r, Off: nan, Heights: Heights{nan, nan, nan}, Times: nan}
	}
	for _, e := range s.set.eqs {
		if e.reading < 0 {
			continue
		}
		left := s.residual(e)
		r := &all[e.reading]
		switch e.of {
		case levelFirst:
			r.Off = left
		case levelTurned:
			r.Off = (r.Off + left) / 2
		case tapeQuarter:
			r.Heights.Quarter = left
		case tapeLeading:
			r.Heights.Leading = left
		default:
			r.Heights.Trailing = left
		}
	}
	return all
}
