package carfile

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"

	"stanchion/aero"
	"stanchion/holes/plane"
	"stanchion/model/units"
)

// maxRows is the most rows a table of coefficients may have.
const maxRows = 20_000

// column is a column of a curve file.
type column struct {
	name   string
	must   bool
	lo, hi float64 // what its numbers may be
}

var columns = []column{
	{"alpha_deg", true, -180, 180},
	{"cl", true, -10, 10},
	{"cd", true, 0, 10},
	{"cm", false, -10, 10},
}

// ReadCurve reads a table of coefficients over the angle of attack: a header
// line that names the columns alpha_deg, cl, cd and, if there, cm in any
// order; then a line of numbers for each angle, ascending. Commas, semicolons
// or tabs separate; lines that begin with # are comments.
func ReadCurve(name string, data []byte) (aero.Curve, Faults) {
	rd := &curveReader{name: name, at: map[string]int{}, values: map[string][]float64{}}
	if len(data) > MaxSize {
		return aero.Curve{}, Faults{{File: name, What: "larger than 16 MiB", Do: "use a smaller table"}}
	}
	data = bytes.TrimPrefix(data, []byte("\uFEFF"))
	for n, line := range strings.Split(strings.ReplaceAll(string(data), "\r\n", "\n"), "\n") {
		if i := strings.IndexByte(line, '#'); i >= 0 {
			line = line[:i]
		}
		if strings.TrimSpace(line) == "" {
			continue
		}
		rd.line(n+1, line)
		if len(rd.faults) > 50 || len(rd.values["alpha_deg"]) > maxRows {
			rd.fault(n+1, 1, "too many faults or rows to go on", fmt.Sprintf("use at most %d rows", maxRows))
			break
		}
	}
	if !rd.header {
		rd.fault(1, 1, "no header line", "begin with a line that names the columns: alpha_deg,cl,cd or alpha_deg,cl,cd,cm")
	} else if len(rd.values["alpha_deg"]) < 2 && len(rd.faults) == 0 {
		rd.fault(rd.headerLine, 1, fmt.Sprintf("%d rows of numbers", len(rd.values["alpha_deg"])), "give at least 2")
	}
	if len(rd.faults) > 0 {
		return aero.Curve{}, rd.faults
	}
	alpha := make([]float64, len(rd.values["alpha_deg"]))
	for i, a := range rd.values["alpha_deg"] {
		alpha[i] = a * plane.Deg
	}
	curve, err := aero.NewCurve(alpha, rd.values["cl"], rd.values["cd"], rd.values["cm"])
	if err != nil {
		rd.fault(rd.headerLine, 1, err.Error(), "")
	}
	return curve, rd.faults
}

type curveReader struct {
	name       string
	header     bool
	headerLine int
	separator  string
	at         map[string]int // which field each column is
	fields     int
	values     map[string][]float64
	faults     Faults
}

func (r *curveReader) fault(line, col int, what, do string) {
	r.faults = append(r.faults, Fault{r.name, line, col, what, do, NotSound})
}

func (r *curveReader) line(n int, line string) {
	if !r.header {
		r.readHeader(n, line)
		return
	}
	if len(r.at) == 0 {
		return // the header could not be used
	}
	fields := strings.Split(line, r.separator)
	if len(fields) != r.fields {
		do := fmt.Sprintf("give %d, as in the header", r.fields)
		if r.separator == "," && len(fields) > r.fields {
			do += ", with decimal points"
		}
		r.fault(n, 1, fmt.Sprintf("%d columns", len(fields)), do)
		return
	}
	for _, c := range columns {
		i, ok := r.at[c.name]
		if !ok {
			continue
		}
		col := 1 + len([]rune(strings.Join(fields[:i], r.separator)))
		if i > 0 {
			col++
		}
		text := strings.TrimSpace(fields[i])
		x, err := strconv.ParseFloat(text, 64)
		switch {
		case err != nil || math.IsNaN(x) || math.IsInf(x, 0):
			r.fault(n, col, fmt.Sprintf("%s is %q", c.name, short(text)), "give a number with a decimal point")
			x = math.NaN()
		case x < c.lo || x > c.hi:
			r.fault(n, col, fmt.Sprintf("%s is %g", c.name, x), fmt.Sprintf("it must be %g to %g", c.lo, c.hi))
		}
		before := r.values[c.name]
		if c.name == "alpha_deg" && len(before) > 0 && x <= before[len(before)-1] {
			r.fault(n, col, fmt.Sprintf("alpha_deg is %g after %g", x, before[len(before)-1]), "put the angles in ascending order")
		}
		r.values[c.name] = append(before, x)
	}
}

func (r *curveReader) readHeader(n int, line string) {
	r.header, r.headerLine = true, n
	r.separator = ","
	for _, s := range []string{";", "\t"} {
		if strings.Contains(line, s) {
			r.separator = s
		}
	}
	var known []string
	for _, c := range columns {
		known = append(known, c.name)
	}
	col := 1
	fields := strings.Split(line, r.separator)
	for i, f := range fields {
		name := strings.ToLower(strings.TrimSpace(f))
		isKnown := false
		for _, k := range known {
			isKnown = isKnown || k == name
		}
		switch _, twice := r.at[name]; {
		case !isKnown:
			do := "known here: " + strings.Join(known, ", ")
			if k := nearest(name, known); k != "" {
				do = fmt.Sprintf("did you mean %q?", k)
			}
			r.fault(n, col, fmt.Sprintf("unknown column %q", short(name)), do)
		case twice:
			r.fault(n, col, fmt.Sprintf("column %s appears twice", name), "give it once")
		default:
			r.at[name] = i
		}
		col += len([]rune(f)) + 1
	}
	r.fields = len(fields)
	for _, c := range columns {
		if _, ok := r.at[c.name]; !ok && c.must {
			r.fault(n, 1, fmt.Sprintf("column %s is missing", c.name), "give alpha_deg, cl, cd and, if known, cm")
		}
	}
	if len(r.faults) > 0 {
		r.at = map[string]int{}
	}
}

// short cuts text from a file to what fits a message.
func short(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}

// rough names rows whose lift lies far off the line through their neighbours,
// as a slip of the keyboard makes it.
func rough(name string, c aero.Curve) []units.Phrase {
	var found []units.Phrase
	var alpha []float64
	var ks []aero.Coefficients
	for a, k := range c.Points() {
		alpha, ks = append(alpha, a), append(ks, k)
	}
	for i := 1; i < len(ks)-1; i++ {
		a0, a1, a2 := alpha[i-1], alpha[i], alpha[i+1]
		k0, k1, k2 := ks[i-1], ks[i], ks[i+1]
		between := k0.CL + (a1-a0)/(a2-a0)*(k2.CL-k0.CL)
		if d := k1.CL - between; math.Abs(d) > 0.25 && math.Abs(d) > 2*math.Abs(k2.CL-k0.CL) {
			found = append(found, units.Say("%s: cl is %g at %g°, %.2f off its neighbours", name, k1.CL, math.Round(a1/plane.Deg*100)/100, d))
		}
	}
	return found
}
