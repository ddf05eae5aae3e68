package carfile

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"stanchion/model"
	"stanchion/model/toml"
)

// fitMeanings say what each key of [fit] is, behind its unit.
var fitMeanings = map[model.Unknown]string{
	model.LiftFactor: "× the wing's lift where its curve is straight", model.FlowAngleOff: "added to the flow angle at the wing",
	model.SpeedRatioOff: "added to the speed ratio at the wing", model.FrontOwnArea: "takes the place of that in [car]",
	model.RearOwnArea: "takes the place of that in [car]", model.DragFactor: "× the wing's own drag", model.MaxLiftFactor: "× the wing's maximum CL",
	model.ZeroLiftOff: "by which the zero-lift angle is lower", model.StallAngleOff: "added to the angle of maximum CL",
	model.SurfaceOff: "of its band cleaner than half-way between clean and dirty", model.GurneyOff: "of its band more than expected of the Gurney flap",
	model.AngleReadingOff: "that the angle was read too small", model.BodyPartOff: "added to the part of the lift on the body, 0.5",
	model.WakeFactor: "× the lift lost in the uprights' wake", model.FrontAxleRate: "takes the place of that in [car]",
	model.RearAxleRate: "takes the place of that in [car]", model.OwnDragArea: "takes the place of that in [car]", model.WheelPower: "takes the place of that in [car]",
}

// SetFit returns the edit that puts a fit in the place of the table [fit] of a sound car file, or at its
// end. car is the car as the file has it without a fit, before what each unknown was known to. All else
// of the file stays. The error says why it cannot be done.
func SetFit(text []byte, car *model.Car, e *model.Estimate, before map[model.Unknown]float64) ([]Edit, error) {
	doc := editable(text)
	shift := len(text) - len(doc)
	nl := "\n"
	if bytes.Contains(doc, []byte("\r\n")) {
		nl = "\r\n"
	}
	body := fitText(car, e, before, nl)
	from, to, err := fitSpan(doc)
	if err != nil {
		return nil, err
	}
	if from >= 0 {
		return []Edit{{from + shift, to + shift, body}}, nil
	}
	if len(doc) > 0 && doc[len(doc)-1] != '\n' {
		body = nl + body
	}
	return []Edit{{len(text), len(text), nl + body + nl}}, nil
}

// fitSpan is from the header of [fit] to the end of the line of its last value; -1 where there is none.
func fitSpan(doc []byte) (from, to int, err error) {
	at := toml.Locate(string(doc))
	last := -1
	for path, end := range at.To {
		if strings.HasPrefix(path, "fit.") {
			last = max(last, end)
		}
	}
	header, there := at.Key["fit"]
	switch {
	case !there && last < 0:
		return -1, -1, nil
	case !there:
		return -1, -1, errors.New("[fit] is written as dotted keys; remove them first")
	}
	from = lineStart(doc, header.Line)
	if !bytes.HasPrefix(bytes.TrimSpace(doc[from:]), []byte("[")) {
		return -1, -1, errors.New("[fit] is written on one line; remove it first")
	}
	to = max(last, from)
	if n := bytes.IndexByte(doc[to:], '\n'); n >= 0 {
		to += n
		if to > from && doc[to-1] == '\r' {
			to--
		}
	} else {
		to = len(doc)
	}
	return from, to, nil
}

// lineStart returns where a line begins, counted from 1.
func lineStart(doc []byte, line int) int {
	at := 0
	for range line - 1 {
		n := bytes.IndexByte(doc[at:], '\n')
		if n < 0 {
			return len(doc)
		}
		at += n + 1
	}
	return at
}

// fitText spells a fit: each value with its unit and one standard uncertainty, then the covariance.
func fitText(car *model.Car, e *model.Estimate, before map[model.Unknown]float64, nl string) string {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+nl, args...) }
	line("[fit]                        # what the track told, by stanchion note fit: remove this table to be without it")
	line("readings = %d", e.Readings)
	if in := car.TrackFit.Inputs; in != "" {
		line("fitted_to = %s       # what the rest of the file was then", toml.Quote(in))
	}
	var names []string
	sizes := make([]float64, len(e.Of))
	for i, u := range e.Of {
		unit, size := u.FileUnit()
		sizes[i] = size
		names = append(names, toml.Quote(u.Key()))
		std := math.Sqrt(e.Cov.At(i, i)) / size
		was := ""
		if x := before[u] / size; x > 0 {
			was = fmt.Sprintf(", ± %s before", significant(x, 2))
		}
		if unit != "" {
			unit += " "
		}
		line("%-20s = %-11s # %s± %s%s: %s", u.Key(), significant((car.Nominal(u)+e.Value[i])/size, 6), unit, significant(std, 2), was, fitMeanings[u])
	}
	line("# Rows and columns of the covariance, in the units above.")
	line("covariance_of = [ %s ]", strings.Join(names, ", "))
	line("covariance = [")
	for i, u := range e.Of {
		var cells []string
		for k := range e.Of {
			cells = append(cells, significant(e.Cov.At(i, k)/(sizes[i]*sizes[k]), 8))
		}
		line("  [ %s ], # %s", strings.Join(cells, ", "), u.Key())
	}
	b.WriteString("]")
	return b.String()
}

// significant spells a number with so many significant digits.
func significant(x float64, digits int) string {
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'e', digits-1, 64), 64)
	if a := math.Abs(rounded); a != 0 && (a < 1e-4 || a >= 1e7) {
		return strconv.FormatFloat(rounded, 'e', -1, 64)
	}
	return strconv.FormatFloat(rounded+0, 'f', -1, 64)
}
