package words

import (
	"fmt"
	"math"
	"strings"

	"stanchion/model/logged"
	"stanchion/model/units"
)

// NeedColumns says which columns of a table cannot be told, and how to name them.
func NeedColumns(e *logged.NeedColumns) string {
	names := make([]string, 0, len(e.Names))
	for _, n := range e.Names[:min(len(e.Names), 60)] {
		if n != "" {
			names = append(names, n)
		}
	}
	list := units.Printable(strings.Join(names, ", "))
	if len(e.Names) > 60 {
		list += ", …"
	}
	what := strings.Join(e.Missing, " and ")
	if e.Unit {
		return fmt.Sprintf("the unit of %s is not said; its columns are %s: say it with --columns \"%s=NAME [km/h]\"", what, list, e.Missing[0])
	}
	return fmt.Sprintf("no column for %s can be told; its columns are %s: say which with --columns \"%s=NAME\"", what, list, e.Missing[0])
}

// Span spells seconds as h:mm:ss or mm:ss.
func Span(s float64) string {
	n := int(math.Round(s))
	if n >= 3600 {
		return fmt.Sprintf("%d:%02d:%02d h", n/3600, n/60%60, n%60)
	}
	return fmt.Sprintf("%d:%02d min", n/60, n%60)
}

// LoggedSpan says what kind of recording it is, how long and how fine.
func LoggedSpan(l *logged.Log) string {
	text := fmt.Sprintf("%s, %s in %s", l.Format, units.Count(l.Told.Read, "sample"), Span(l.Span()))
	if !l.Begun.IsZero() {
		text += ", begun " + l.Begun.Format("2006-01-02 15:04:05") + " UTC"
	}
	if s := float64(l.Told.Read-1) / l.Span(); s > 0 && !math.IsInf(s, 0) && l.Told.Gaps == 0 {
		text += fmt.Sprintf(", %.3g a second", s)
	}
	if len(l.Samples) < l.Told.Read {
		text += fmt.Sprintf("; averaged over %.2g s", l.Step)
	}
	return text
}

// LoggedChannels lists the channels with their ranges and where each comes from.
func LoggedChannels(l *logged.Log, u units.System) (lines []string) {
	for ch := range logged.Channels {
		if !l.Has[ch] {
			continue
		}
		lo, hi := math.Inf(1), math.Inf(-1)
		for i := range l.Samples {
			if x := l.Samples[i].At[ch]; !math.IsNaN(x) {
				lo, hi = min(lo, x), max(hi, x)
			}
		}
		var from []string
		for _, c := range l.Columns {
			if c.Of == ch {
				from = append(from, units.Printable(c.Name))
			}
		}
		text := fmt.Sprintf("%-26s %s", ch, channelRange(ch, lo, hi, u))
		switch {
		case len(from) > 0:
			text += "  from " + strings.Join(from, " + ")
		case ch == logged.Speed && l.SpeedFromPosition:
			text += fmt.Sprintf("  worked out from positions, ± %s %s", units.Fixed(u.SpeedFigure(l.SpeedStdUnc), 1), u.SpeedUnit())
		}
		lines = append(lines, text)
	}
	return lines
}

func channelRange(ch logged.Channel, lo, hi float64, u units.System) string {
	span := func(f func(float64) string, unit string) string { return f(lo) + " to " + f(hi) + unit }
	fixed := func(digits int) func(float64) string { return func(x float64) string { return units.Fixed(x, digits) } }
	switch ch {
	case logged.Speed:
		return span(func(x float64) string { return units.Fixed(u.SpeedFigure(x), 0) }, " "+u.SpeedUnit())
	case logged.Lat, logged.Lon:
		return span(fixed(5), "°")
	case logged.Elevation, logged.Distance:
		return span(fixed(0), " m")
	case logged.FrontRide, logged.RearRide, logged.FrontTravel, logged.RearTravel:
		return span(u.DimensionFigure, " "+u.LengthUnit())
	case logged.LongAcc, logged.LatAcc:
		return span(func(x float64) string { return units.Fixed(x/units.Gravity, 2) }, " g")
	}
	return span(fixed(0), "")
}

// LoggedUnused names the columns of a table that are not used; "" for none.
func LoggedUnused(l *logged.Log) string {
	if len(l.Unused) == 0 {
		return ""
	}
	list := l.Unused
	more := ""
	if len(list) > 12 {
		more = fmt.Sprintf(" and %d more", len(list)-12)
		list = list[:12]
	}
	return "Not used: " + units.Printable(strings.Join(list, ", ")) + more + "."
}

// LoggedLeft says what was left out of a recording, and what is odd about it.
func LoggedLeft(l *logged.Log) (lines []string) {
	t := &l.Told
	if n := t.Sum(); n > 0 {
		var parts []string
		for why, k := range t.Left {
			if k > 0 {
				parts = append(parts, fmt.Sprintf("%s %d×", logged.Reason(why), k))
			}
		}
		text := fmt.Sprintf("left out, %s: %s.", units.Count(n, "time"), strings.Join(parts, ", "))
		var named []string
		for _, f := range t.First {
			one := fmt.Sprintf("line %d", f.Line)
			if f.Column != "" {
				one += ", " + units.Printable(f.Column)
			}
			one += ": " + f.Why.String()
			if f.Text != "" {
				one += " \"" + units.Printable(f.Text) + "\""
			}
			named = append(named, one)
		}
		lines = append(lines, text+" First: "+strings.Join(named, "; ")+".")
	}
	if t.Resets > 0 {
		lines = append(lines, fmt.Sprintf("its clock was set back %s; what follows is taken to come after what was before.", units.Count(t.Resets, "time")))
	}
	if t.Gaps > 0 {
		lines = append(lines, fmt.Sprintf("%s of more than %d s without samples, the longest %s s.", units.Count(t.Gaps, "gap"), logged.LongestStep, units.Fixed(t.Gap, 1)))
	}
	if t.CutAt > 0 {
		lines = append(lines, fmt.Sprintf("from line %d on it cannot be read (%s); what stands before counts.", t.CutAt, units.Printable(t.CutWhy)))
	}
	return lines
}

// LoggedTells says what a recording can tell, and what is missing for more.
func LoggedTells(l *logged.Log) []string {
	var can, not []string
	say := func(ok bool, what, lacks string) {
		if ok {
			can = append(can, what)
		} else {
			not = append(not, what+" (no "+lacks+")")
		}
	}
	speed := l.Has[logged.Speed]
	say(l.Has[logged.Lat], "laps and corners", "positions")
	say(speed, "coast-downs and top speed", "speed")
	say(speed && (l.Has[logged.FrontRide] || l.Has[logged.RearRide] || l.Has[logged.FrontTravel] || l.Has[logged.RearTravel]), "sink of the axles", "ride heights or damper travels")
	var lines []string
	if len(can) > 0 {
		lines = append(lines, "It can tell: "+strings.Join(can, ", ")+".")
	}
	if len(not) > 0 {
		lines = append(lines, "It cannot tell: "+strings.Join(not, ", ")+".")
	}
	return lines
}

// LapRemark says what kind of lap it is, and its sectors.
func LapRemark(l logged.TimedLap) string {
	var parts []string
	switch l.Mark {
	case logged.OutLap:
		parts = append(parts, "out-lap")
	case logged.InLap:
		parts = append(parts, "in-lap")
	}
	if l.Gap {
		parts = append(parts, "samples are missing")
	}
	if len(l.Sectors) > 0 {
		var times []string
		for _, s := range l.Sectors {
			if math.IsNaN(s) {
				times = append(times, "–")
			} else {
				times = append(times, LapTime(s))
			}
		}
		parts = append(parts, "sectors "+strings.Join(times, " "))
	}
	return strings.Join(parts, ", ")
}
