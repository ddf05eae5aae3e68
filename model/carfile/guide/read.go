package guide

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model/fastener"
	"stanchion/model/pattern"
	"stanchion/model/toml"
	"stanchion/model/units"
)

// read reads a number, in mm, kg, km/h or °.
func (q Question) read(text string, u units.System) (x float64, err error) {
	switch q.kind {
	case aLength:
		x, err = units.Lengths.Parse(text, u.LengthUnit())
	case aMass:
		x, err = units.Masses.Parse(text, u.MassUnit())
	case aSpeed:
		x, err = units.Speeds.Parse(text, u.SpeedUnit())
		x /= units.KPH
	case anAngle:
		x, err = units.Angles.Parse(text, "deg")
		x /= plane.Deg
	case aCount:
		n, wrong := strconv.Atoi(strings.TrimSpace(text))
		if x = float64(n); wrong != nil || x < q.lo || x > q.hi {
			return 0, fmt.Errorf("%s; it must be a whole number from %g to %g", text, q.lo, q.hi)
		}
	}
	if err == nil && !q.allows(x) {
		err = q.outside(text, u)
	}
	return x, err
}

// allows reports whether a number is within what it may be.
func (q Question) allows(x float64) bool { return x >= q.lo-1e-9 && x <= q.hi+1e-9 }

// outside says what a number may be.
func (q Question) outside(text string, u units.System) error {
	return fmt.Errorf("%s; it must be %s to %s %s", text, toml.Decimal(q.lo/q.size(u), 1), toml.Decimal(q.hi/q.size(u), 1), q.Unit(u))
}

// measures takes a typed list of lengths apart: spaces, commas or semicolons stand between them,
// an inch's fraction belongs to the number before, and words on edges to the number behind.
func measures(text string) (all []string) {
	var now []string
	for _, w := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' || r == ';' || r == '\t' }) {
		switch {
		case len(all) > 0 && len(now) == 0 && strings.Contains(w, "/") && wholeNumber(all[len(all)-1]):
			all[len(all)-1] += " " + w
			continue
		case len(all) > 0 && len(now) == 0 && unitAlone(w):
			all[len(all)-1] += " " + w
			continue
		}
		now = append(now, w)
		if _, edge := pattern.EdgesNamed(strings.ToLower(w)); !edge {
			all, now = append(all, strings.Join(now, " ")), nil
		}
	}
	if now != nil {
		all = append(all, strings.Join(now, " "))
	}
	return all
}

func wholeNumber(s string) bool {
	f := strings.Fields(s)
	_, err := strconv.Atoi(f[len(f)-1])
	return err == nil
}

func unitAlone(s string) bool { _, ok := units.Lengths[s]; return ok }

// edged reads a length that may have a word on edges before it.
func edged(text string, u units.System) (mm float64, by pattern.Edges, err error) {
	word, rest, two := strings.Cut(strings.TrimSpace(text), " ")
	if e, ok := pattern.EdgesNamed(strings.ToLower(word)); ok && two {
		by, text = e, rest
	}
	mm, err = units.Lengths.Parse(text, u.LengthUnit())
	return mm, by, err
}

// readSpan reads a distance of two holes of diameter d and returns that of their centres, mm.
func readSpan(text string, d float64, u units.System) (float64, error) {
	mm, by, err := edged(text, u)
	if err != nil {
		return 0, err
	}
	return pattern.Centre(mm, d, d, by), nil
}

// readPlace reads how far behind and how far above another hole a hole is, mm.
func readPlace(text string, d float64, u units.System) (p plane.Point, err error) {
	if commaWithin(text) {
		return p, fmt.Errorf("%s; use a decimal point, or put a space between the two lengths", text)
	}
	all := measures(text)
	if len(all) != 2 {
		return p, fmt.Errorf("%s; give two lengths, how far behind and how far above, such as 0 420", text)
	}
	if p.X, err = readSpan(all[0], d, u); err != nil {
		return p, err
	}
	if p.Z, err = readSpan(all[1], d, u); err != nil {
		return p, err
	}
	if !(math.Abs(p.X) <= 3000 && math.Abs(p.Z) <= 3000) {
		return p, fmt.Errorf("%s; a hole is at most %s from another", text, u.Length(3000))
	}
	return p, nil
}

// named is a hole told by its place, from two edges of the plate or from another hole.
type named struct {
	id string
	at plane.Point
	d  float64
}

// readPlaces reads a list of holes, "A 18 452, B 18 487": the name, how far behind the front edge
// or hole, and how far above the lower one; near and far before a length say to which edge of the
// hole it goes. "d A 10.5" gives a hole a diameter of its own.
func readPlaces(text string, d float64, u units.System) (all []named, err error) {
	own := map[string]float64{}
	items := pattern.Items(text)
	for _, item := range items {
		if w := measures(item); strings.EqualFold(w[0], "d") && len(w) == 3 {
			x, err := units.Lengths.Parse(w[2], u.LengthUnit())
			if err != nil || !(x > 0 && x < 200) {
				return nil, fmt.Errorf("%s; write d, the hole and its diameter, such as d A 10.5", item)
			}
			own[w[1]] = x
		}
	}
	for _, item := range items {
		w := measures(item)
		if strings.EqualFold(w[0], "d") && len(w) == 3 {
			continue
		}
		if len(w) != 3 || !pattern.Named(w[0]) {
			return nil, fmt.Errorf("%s; write the hole's name, how far behind and how far above, with decimal points, such as A 18 452", item)
		}
		h := named{id: w[0], d: d}
		if x, ok := own[h.id]; ok {
			h.d = x
		}
		for i, to := range []*float64{&h.at.X, &h.at.Z} {
			mm, by, err := edged(w[i+1], u)
			if err != nil {
				return nil, fmt.Errorf("%s: %w", item, err)
			}
			if *to = pattern.FromEdge(mm, h.d, by); !(math.Abs(*to) <= 3000) {
				return nil, fmt.Errorf("%s; a hole is at most %s from another", item, u.Length(3000))
			}
		}
		all = append(all, h)
	}
	if len(all) == 0 {
		return nil, fmt.Errorf("no holes; write them as A 18 452, B 18 487")
	}
	if len(all) > 200 {
		return nil, fmt.Errorf("%d holes; give at most 200 at once", len(all))
	}
	return all, nil
}

// lowest and highest are what a wing's height above ground lies between, mm.
const lowest, highest = 100, 3000

// readHeights reads heights above ground, mm.
func readHeights(text string, u units.System) (all []float64, err error) {
	if commaWithin(text) {
		return nil, fmt.Errorf("%s; use a decimal point, or put spaces between the heights", text)
	}
	for _, w := range measures(text) {
		x, err := units.Lengths.Parse(w, u.LengthUnit())
		if err != nil {
			return nil, err
		}
		if !(x > lowest && x < highest) {
			return nil, fmt.Errorf("%s; a height must be more than %s and less than %s", w, u.Length(lowest), u.Length(highest))
		}
		all = append(all, x)
	}
	if len(all) == 0 {
		return nil, fmt.Errorf("%s; give one height or several, such as 1240 1280", text)
	}
	return all, nil
}

// commaWithin reports whether a comma stands between two digits: a decimal or thousands comma, or one between two numbers.
func commaWithin(text string) bool {
	for i := 1; i+1 < len(text); i++ {
		if text[i] == ',' && isDigit(text[i-1]) && isDigit(text[i+1]) {
			return true
		}
	}
	return false
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// readBolt finds a size that the guide knows holes for.
func readBolt(text string) (fastener.Size, error) {
	s, ok := fastener.Lookup(text)
	if !ok || s.D < 5 || s.D > 12.8 {
		return s, fmt.Errorf("%s; use M5, M6, M8, M10 or M12, or 1/4 to 1/2 in UNC or UNF", text)
	}
	return s, nil
}
