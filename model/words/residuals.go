package words

import (
	"fmt"
	"math"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/calibrate"
	"stanchion/model/choose"
	"stanchion/model/units"
)

// mostNumbered is up to how many readings are listed with their numbers on one line.
const mostNumbered = 12

// standsOut reports whether a reading is worth a line of its own.
func standsOut(r calibrate.Residual) bool {
	return r.Suspect || r.Disagree || r.Times >= choose.ClearFrom
}

// residualLines says which readings are off, or which is most where none is.
func residualLines(t *model.Table, d calibrate.Datum, u units.System) (lines []string) {
	worst, fit := -1, 0
	for i, r := range d.Residuals {
		switch {
		case standsOut(r):
			lines = append(lines, ResidualLine(t, d, i, u))
		case !math.IsNaN(r.Times):
			if fit++; worst < 0 || r.Times > d.Residuals[worst].Times {
				worst = i
			}
		}
	}
	if len(lines) > 0 {
		lines = append([]string{"Readings that stand out from what all say together:"}, lines...)
	}
	if worst >= 0 && len(d.Residuals) > 1 {
		r := d.Residuals[worst]
		text := fmt.Sprintf("%s: most off is reading %d, %s, %.1f times its ±", fits(fit, len(d.Residuals)), worst+1, readingName(t, r.Reading), r.Times)
		if by := offBy(r, u); r.Times >= leastTold && by != "" {
			text += ": " + by
		}
		lines = append(lines, text+".")
	}
	if d.Checked() {
		lines = append(lines, thresholdLine(d))
	}
	return lines
}

// numberedReadings is all readings with their numbers; none for one or many.
func numberedReadings(t *model.Table, d calibrate.Datum) []string {
	if n := len(d.Residuals); n < 2 || n > mostNumbered {
		return nil
	}
	var names []string
	for i, r := range d.Residuals {
		names = append(names, fmt.Sprintf("%d %s", i+1, readingName(t, r.Reading)))
	}
	return []string{"Readings: " + strings.Join(names, "; ") + "."}
}

// leastTold is from how many times its ± it is said by what a reading that fits is off.
const leastTold = 0.5

// fits says how many of the readings fit.
func fits(fit, all int) string {
	switch {
	case fit == 1 && all > 1:
		return "One reading fits"
	case fit == all:
		return fmt.Sprintf("All %d readings fit", all)
	}
	return fmt.Sprintf("%d of %d readings fit", fit, all)
}

// offBy is what of a reading is how far off.
func offBy(r calibrate.Residual, u units.System) string {
	var parts []string
	if !math.IsNaN(r.Off) {
		parts = append(parts, fmt.Sprintf("angle off by %s (read to ±%.1f°)", signedDegrees(r.Off), r.AngleStdUnc()/plane.Deg))
	}
	for _, h := range []struct {
		what string
		off  float64
	}{{"height", r.Heights.Quarter}, {"leading edge", r.Heights.Leading}, {"trailing edge", r.Heights.Trailing}} {
		if !math.IsNaN(h.off) {
			parts = append(parts, fmt.Sprintf("%s off by %s (read to ±%s)", h.what, signedLength(h.off, u), u.Dimension(r.HeightStdUnc())))
		}
	}
	return strings.Join(parts, ", ")
}

// ReadingList is a line for each reading, with its number: what was read, and by how much it is off where that is worth
// it.
func ReadingList(t *model.Table, d calibrate.Datum, u units.System) (lines []string) {
	for i, r := range d.Residuals {
		if standsOut(r) {
			lines = append(lines, ResidualLine(t, d, i, u))
			continue
		}
		text := fmt.Sprintf("%d  %s:  %s", i+1, readingName(t, r.Reading), wasRead(r.Reading, u))
		if !math.IsNaN(r.Times) {
			text += ", fits"
		}
		lines = append(lines, text)
	}
	return lines
}

// wasRead is what was read, shortly.
func wasRead(r model.Reading, u units.System) string {
	var parts []string
	if a, ok := r.Angle.Get(); ok {
		text := fineDegrees(a)
		if back, ok := r.Turned.Get(); ok {
			text += " and turned " + fineDegrees(back)
		}
		parts = append(parts, text)
	}
	for _, h := range []struct {
		what string
		mm   float64
	}{{"h", r.Height.Value()}, {"le", r.Leading.Value()}, {"te", r.Trailing.Value()}} {
		if !math.IsNaN(h.mm) {
			parts = append(parts, h.what+" "+u.Dimension(h.mm))
		}
	}
	return strings.Join(parts, ", ")
}

// ResidualLine is one reading against the fit.
func ResidualLine(t *model.Table, d calibrate.Datum, i int, u units.System) string {
	r := d.Residuals[i]
	text := fmt.Sprintf("%d  %s:  %s", i+1, readingName(t, r.Reading), offBy(r, u))
	if !math.IsNaN(r.Times) {
		text += fmt.Sprintf("  %.1f times its ±", r.Times)
	}
	switch {
	case r.Suspect && r.Slip == calibrate.SlipTurning:
		text += "  SUSPECT: the two ways round give another zero of the level than the other readings on this floor; left out; read it again"
	case r.Suspect:
		text += "  SUSPECT: does not fit the rest; left out; read it again, or check that these are its holes"
	case r.Disagree:
		text += "  DISAGREES with others"
	}
	return text
}

// thresholdLine says from when on a reading is suspect.
func thresholdLine(d calibrate.Datum) string {
	return fmt.Sprintf("A reading that is off by more than %.1f times its ± is suspect; with %d cross-checks, sound readings raise that alarm at most %.0f times in 100.", d.Threshold,
		d.Tests, 100*calibrate.FalseAlarm)
}
