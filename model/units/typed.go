package units

import (
	"fmt"
	"math"
	"sort"
	"strconv"
	"strings"
)

// Unit maps the spellings of a kind of unit to its size.
type Unit map[string]float64

// The kinds of quantity that can be typed.
var (
	Speeds    = Unit{"km/h": KPH, "kmh": KPH, "kph": KPH, "mph": MPH, "m/s": 1}
	Lengths   = Unit{"mm": 1, "cm": 10, "m": 1000, "in": Inch, "inch": Inch, "\"": Inch, "ft": Foot, "'": Foot}
	Forces    = Unit{"N": 1, "kN": 1000, "kgf": KGF, "kg": KGF, "lbf": LBF, "lb": LBF}
	Angles    = Unit{"deg": math.Pi / 180, "°": math.Pi / 180}
	Masses    = Unit{"kg": 1, "lb": Pound, "lbs": Pound}
	Pressures = Unit{"bar": 1, "psi": PSI, "kPa": 0.01}
)

// Parse reads a number with a unit, "160km/h" or "53 in"; a bare number is in the unit
// given. Numbers may have fractions, "106 1/4in", and a quantity may have several
// units, the larger first, "8' 10\"" or "8ft 10in". The result is in mm or SI. The
// error says what to type.
func (u Unit) Parse(text, bare string) (float64, error) {
	t := straight.Replace(strings.TrimSpace(text))
	if fixed, ok := pointed(t); ok {
		return 0, fmt.Errorf("%s; use a decimal point, not a comma: %s", quoted(text), fixed)
	}
	sum, last, sign := 0.0, math.Inf(1), 1.0
	if rest, ok := strings.CutPrefix(t, "-"); ok {
		sign, t = -1, strings.TrimSpace(rest)
	} else {
		t = strings.TrimSpace(strings.TrimPrefix(t, "+"))
	}
	for first := true; first || t != ""; first = false {
		number, rest := t, ""
		if i := strings.IndexFunc(t, func(r rune) bool { return !strings.ContainsRune("0123456789./ ", r) }); i >= 0 {
			number, rest = t[:i], t[i:]
		}
		x, ok := withFraction(number)
		if !ok || math.IsInf(x, 0) {
			return 0, fmt.Errorf("%s is not a number with a unit; type for example %s", quoted(text), u.example(bare))
		}
		unit := rest
		if i := strings.IndexAny(rest, "0123456789"); i >= 0 {
			unit = rest[:i]
		}
		rest = strings.TrimSpace(rest[len(unit):])
		unit = strings.TrimSpace(unit)
		if unit == "" {
			unit = bare
		}
		size, ok := u[unit]
		switch {
		case !ok:
			return 0, fmt.Errorf("%s has the unit %s; use one of %s", quoted(text), quoted(unit), u.names())
		case size >= last:
			return 0, fmt.Errorf("%s; give the larger unit first, such as 8ft 10in", quoted(text))
		case math.IsInf(x*size, 0):
			return 0, fmt.Errorf("%s is too large", quoted(text))
		}
		sum, last, t = sum+x*size, size, rest
	}
	return sign * sum, nil
}

// straight puts plain characters in the place of typeset ones.
var straight = strings.NewReplacer("−", "-", "′", "'", "’", "'", "″", "\"", "”", "\"", "''", "\"", "¼", " 1/4", "½", " 1/2", "¾", " 3/4",
	"⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8")

// pointed puts a point in the place of a decimal comma, if there is one.
func pointed(text string) (string, bool) {
	if !strings.Contains(text, ",") {
		return text, false
	}
	return strings.ReplaceAll(text, ",", "."), true
}

// withFraction reads "106", "0.25", "1/4" or "106 1/4".
func withFraction(text string) (float64, bool) {
	words := strings.Fields(text)
	if len(words) == 0 || len(words) > 2 {
		return 0, false
	}
	sum := 0.0
	for i, w := range words {
		over, under, fraction := strings.Cut(w, "/")
		x, err := strconv.ParseFloat(over, 64)
		if err != nil {
			return 0, false
		}
		if fraction {
			n, err := strconv.ParseUint(under, 10, 16)
			if err != nil || n == 0 || strings.Contains(over, ".") {
				return 0, false
			}
			x /= float64(n)
		}
		if i == 0 && len(words) == 2 && (fraction || strings.Contains(w, ".")) || i == 1 && (!fraction || x >= 1) {
			return 0, false
		}
		sum += x
	}
	return sum, true
}

// Temperature reads a temperature, "72F" or "22 °C", as °C; a bare number is in the
// unit given.
func Temperature(text, bare string) (float64, error) {
	t := strings.NewReplacer("°", "", " ", "", "deg", "").Replace(straight.Replace(strings.TrimSpace(text)))
	if fixed, ok := pointed(t); ok {
		return 0, fmt.Errorf("%s; use a decimal point, not a comma: %s", quoted(text), fixed)
	}
	unit := strings.TrimPrefix(bare, "°")
	for _, u := range []string{"C", "F"} {
		if rest, ok := strings.CutSuffix(t, u); ok {
			t, unit = rest, u
		}
	}
	x, err := strconv.ParseFloat(t, 64)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
		return 0, fmt.Errorf("%s is not a temperature; type for example 22C or 72F", quoted(text))
	}
	if unit == "F" {
		x = (x - 32) / 1.8
	}
	return x, nil
}

func (u Unit) example(bare string) string {
	if _, ok := u[bare]; ok && bare != "" {
		return "120" + bare
	}
	return "120"
}

func (u Unit) names() string {
	var all []string
	for n := range u {
		all = append(all, n)
	}
	sort.Strings(all)
	return strings.Join(all, ", ")
}

// quoted puts what was typed between quotes; feet and inches are marked by quotes too, so
// that these then differ from them.
func quoted(text string) string {
	if strings.ContainsAny(text, "\"'") && strings.IndexFunc(text, Hidden) < 0 {
		return "‘" + text + "’"
	}
	return strconv.Quote(text)
}
