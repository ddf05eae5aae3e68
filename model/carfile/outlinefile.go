package carfile

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"

	"stanchion/aero"
)

// Limits on outlines.
const (
	minPoints = 20
	maxPoints = 5000
)

// ReadOutline reads a section's outline: two numbers a line, x and y. Both
// common orders are taken: once around from the trailing edge over one side to
// the leading edge and back along the other; or a line with the two numbers of
// points, then the upper side and the lower side, each from the leading edge
// back. A first line of text, the section's name, and lines that begin with #
// are passed over. The points may be in any unit: they are turned and scaled so
// that the chord is 1. The result goes over the upper side first.
func ReadOutline(name string, data []byte) ([]aero.Vec, Faults) {
	points, faults := readPoints(name, data)
	if len(faults) == 0 {
		if err := crossing(points); err != "" {
			return nil, Faults{{name, 1, 1, err, onceAround, NotSound}}
		}
	}
	return points, faults
}

// onceAround is what to do about points that are no outline.
const onceAround = "give the outline once around, or the upper and the lower side, each from the leading edge back"

// readPoints is ReadOutline for points that may have been read so roughly that the sides cross near
// the trailing edge.
func readPoints(name string, data []byte) ([]aero.Vec, Faults) {
	rd := outlineReader{name: name}
	data = bytes.TrimPrefix(data, []byte("\uFEFF"))
	for n, line := range strings.Split(strings.ReplaceAll(string(data), "\r\n", "\n"), "\n") {
		rd.take(n+1, line)
		if len(rd.faults) > 20 || len(rd.points) > maxPoints {
			rd.fault(n+1, "too many faults or points to go on", fmt.Sprintf("use at most %d points", maxPoints))
			break
		}
	}
	if len(rd.faults) > 0 {
		return nil, rd.faults
	}
	points, err := rd.ordered()
	if err == "" {
		points, err = normal(points)
	}
	if err == "" {
		points = thinned(points)
	}
	if err != "" {
		return nil, Faults{{name, 1, 1, err, onceAround, NotSound}}
	}
	return points, nil
}

type outlineReader struct {
	name   string
	points []aero.Vec
	lines  []int
	counts [2]int // of the two sides, when the file says so
	faults Faults
}

func (r *outlineReader) fault(line int, what, do string) {
	r.faults = append(r.faults, Fault{r.name, line, 1, what, do, NotSound})
}

func (r *outlineReader) take(n int, line string) {
	if i := strings.IndexByte(line, '#'); i >= 0 {
		line = line[:i]
	}
	fields := strings.FieldsFunc(line, func(c rune) bool { return c == ' ' || c == '\t' || c == ',' || c == ';' })
	if len(fields) == 0 {
		return
	}
	var xy [2]float64
	ok := len(fields) == 2
	for i := 0; ok && i < 2; i++ {
		v, err := strconv.ParseFloat(fields[i], 64)
		ok = err == nil && !math.IsNaN(v) && math.Abs(v) < 1e6
		xy[i] = v
	}
	switch {
	case !ok && len(r.points) == 0 && len(r.faults) == 0 && r.counts[0] == 0 && len(r.lines) == 0:
		r.lines = append(r.lines, n) // the title
	case !ok:
		r.fault(n, fmt.Sprintf("%q is not a point", short(strings.TrimSpace(line))), "give two numbers, with decimal points")
	case len(r.points) == 0 && r.counts[0] == 0 && xy[0] >= 5 && xy[1] >= 5 && xy[0] == math.Trunc(xy[0]) && xy[1] == math.Trunc(xy[1]):
		r.counts = [2]int{int(xy[0]), int(xy[1])}
	default:
		r.points = append(r.points, aero.Vec{X: xy[0], Y: xy[1]})
	}
}

// ordered returns the points once around from the trailing edge.
func (r *outlineReader) ordered() (points []aero.Vec, wrong string) {
	p := r.points
	if len(p) < minPoints {
		return nil, fmt.Sprintf("%d points, at least %d are needed", len(p), minPoints)
	}
	if r.counts[0] > 0 {
		if r.counts[0]+r.counts[1] != len(p) {
			return nil, fmt.Sprintf("%d and %d points are announced, %d are there", r.counts[0], r.counts[1], len(p))
		}
		up, low := p[:r.counts[0]], p[r.counts[0]:]
		for i := len(up) - 1; i >= 0; i-- {
			points = append(points, up[i])
		}
		if low[0] == up[0] {
			low = low[1:]
		}
		return append(points, low...), ""
	}
	return append(points, p...), ""
}

// normal turns and scales an outline so that its chord runs from 0 to 1, with
// the upper side first, and leaves out points that repeat the one before.
func normal(points []aero.Vec) ([]aero.Vec, string) {
	n := len(points)
	tail := aero.Vec{X: (points[0].X + points[n-1].X) / 2, Y: (points[0].Y + points[n-1].Y) / 2}
	lead := 0
	for i, p := range points {
		if math.Hypot(p.X-tail.X, p.Y-tail.Y) > math.Hypot(points[lead].X-tail.X, points[lead].Y-tail.Y) {
			lead = i
		}
	}
	dx, dy := tail.X-points[lead].X, tail.Y-points[lead].Y
	chord := math.Hypot(dx, dy)
	if lead < 5 || lead > n-6 || chord == 0 {
		return nil, "the first and the last point are not at the trailing edge"
	}
	nose := points[lead]
	if tail.X > 0 && nominal(points, tail, nose) { // its own chord line, which published angles are from
		nose, dx, dy, chord = aero.Vec{}, tail.X, 0, tail.X
	}
	var out []aero.Vec
	area := 0.0
	for _, p := range points {
		x, y := p.X-nose.X, p.Y-nose.Y
		q := aero.Vec{X: (x*dx + y*dy) / chord / chord, Y: (y*dx - x*dy) / chord / chord}
		if k := len(out); k > 0 {
			if math.Hypot(q.X-out[k-1].X, q.Y-out[k-1].Y) < 1e-6 {
				continue
			}
			area += out[k-1].X*q.Y - q.X*out[k-1].Y
		}
		out = append(out, q)
	}
	if area < 0 { // the lower side came first
		for i, j := 0, len(out)-1; i < j; i, j = i+1, j-1 {
			out[i], out[j] = out[j], out[i]
		}
	}
	if math.Abs(area) < 0.02 {
		return nil, "the outline encloses next to nothing"
	}
	return out, ""
}

// nominal reports whether points lie in the frame of their own chord, as published coordinates do: the
// trailing edge at a whole chord, 1 or 100, on the axis, the nose at 0. A cambered section's points
// reach a little ahead of 0, and the one that is furthest from the trailing edge lies off the axis.
func nominal(points []aero.Vec, tail, nose aero.Vec) bool {
	for _, chord := range []float64{1, 100} {
		if math.Abs(tail.X-chord) < 2e-3*chord && math.Abs(tail.Y) < 2e-3*chord && math.Abs(nose.X) < 0.01*chord && math.Abs(nose.Y) < 0.03*chord {
			for _, p := range points {
				if math.Hypot(p.X, p.Y) < 2e-3*chord {
					return true
				}
			}
		}
	}
	return false
}

// enoughPoints is how many points of an outline are worth their time.
const enoughPoints = 200

// thinned leaves out every second point until there are few enough; both ends
// stay.
func thinned(p []aero.Vec) []aero.Vec {
	for len(p) > enoughPoints {
		var q []aero.Vec
		for i := range p {
			if i%2 == 0 || i == len(p)-1 {
				q = append(q, p[i])
			}
		}
		p = q
	}
	return p
}

// hangs reports whether an outline is drawn as the wing hangs on a car, with the
// lifting side down: its mean line then lies below the chord.
func hangs(p []aero.Vec) bool {
	sum := 0.0
	for _, v := range p {
		sum += v.Y
	}
	return sum < -0.002*float64(len(p))
}

// turnedOver returns an outline upside down, in the same order of sides.
func turnedOver(p []aero.Vec) []aero.Vec {
	q := make([]aero.Vec, len(p))
	for i, v := range p {
		q[len(p)-1-i] = aero.Vec{X: v.X, Y: -v.Y}
	}
	return q
}

// crossing says where an outline crosses itself.
func crossing(p []aero.Vec) string {
	side := func(a, b, c aero.Vec) float64 { return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X) }
	for i := range len(p) - 1 {
		for k := i + 2; k < len(p)-1; k++ {
			if i == 0 && k == len(p)-2 {
				continue // both end at the trailing edge
			}
			a, b, c, d := p[i], p[i+1], p[k], p[k+1]
			if side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0 {
				return fmt.Sprintf("the outline crosses itself near %.3f of the chord", a.X)
			}
		}
	}
	return ""
}
