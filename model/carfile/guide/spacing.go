package guide

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model/pattern"
	"stanchion/model/units"
)

// How the spacing of holes on an arc is measured, as it is typed.
const (
	byChord  = "chord"  // straight from hole to hole
	byLength = "length" // along the arc
)

// spacingExample is how spacings on an arc are typed.
const spacingExample = "4 chord 20 20 15, or 4 length 20 in 6"

// spaced reports whether places on an arc are told by their spacing, not by angles alone.
func spaced(text string) bool {
	return slices.ContainsFunc(strings.Fields(strings.ToLower(text)), func(w string) bool { return w == byChord || w == byLength || w == "arc" })
}

// arcAngles reads where holes of diameter d on an arc are and returns their angles in degrees: angles as readAngles has
// them, or the first hole's angle and the spacing from each hole to the next, "4 chord 20 20 15" straight from hole to
// hole or "4 length 20 in 6" along the arc, six holes in all. A word on edges goes with chord; down turns the arc about.
func arcAngles(text string, radius, d float64, u units.System) ([]float64, error) {
	if !spaced(text) {
		all, err := readAngles(text)
		if err != nil {
			err = fmt.Errorf("%w; for spacings in %s put chord or length before them, such as 4 chord 20 20 15", err, u.LengthUnit())
		}
		return all, err
	}
	words := strings.Fields(strings.NewReplacer("°", " ", ",", " ", ";", " ").Replace(strings.ToLower(text)))
	wrong := func() ([]float64, error) {
		return nil, fmt.Errorf("%q; give the first hole's angle, chord or length, and the spacings, such as %s", text, spacingExample)
	}
	if commaWithin(text) {
		return nil, fmt.Errorf("%q; put spaces between the spacings, and use decimal points", text)
	}
	sign := 1.0
	if i := slices.Index(words, "down"); i >= 0 {
		words, sign = slices.Delete(words, i, i+1), -1
	}
	if len(words) < 3 {
		return wrong()
	}
	first, ok := degreesOf(words[0])
	by := words[1]
	if by == "arc" {
		by = byLength
	}
	if !ok || by != byChord && by != byLength {
		return wrong()
	}
	rest, n := words[2:], 0
	if k := len(rest); k > 2 && rest[k-2] == "in" {
		var err error
		if n, err = strconv.Atoi(rest[k-1]); err != nil || n < 2 || n > maxAngles {
			return nil, fmt.Errorf("%q; after in write how many holes there are, from 2 to %d", text, maxAngles)
		}
		rest = rest[:k-2]
	}
	spacings := measures(strings.Join(rest, " "))
	if n > 0 && len(spacings) != 1 {
		return nil, fmt.Errorf("%q; with in give one spacing, or else each of them", text)
	}
	if len(spacings) >= maxAngles {
		return nil, fmt.Errorf("%d spacings; give at most %d", len(spacings), maxAngles-1)
	}
	for len(spacings) < n-1 {
		spacings = append(spacings, spacings[0])
	}
	all := []float64{first}
	for _, s := range spacings {
		mm, edges, err := edged(s, u)
		if err != nil {
			return nil, err
		}
		if edges != pattern.Centres && by == byLength {
			return nil, fmt.Errorf("%q; along the arc only centre to centre can be given; with a caliper use chord", text)
		}
		mm = pattern.Centre(mm, d, d, edges)
		turn := pattern.LengthTurn(mm, radius)
		if by == byChord {
			turn = pattern.ChordTurn(mm, radius)
		}
		switch {
		case !(mm > 0):
			return nil, fmt.Errorf("%q; a spacing must be more than 0", text)
		case math.IsNaN(turn):
			return nil, fmt.Errorf("%s; on a radius of %s a chord is at most %s", s, u.Dimension(radius), u.Dimension(2*radius))
		}
		all = append(all, all[len(all)-1]+sign*turn/plane.Deg)
	}
	if span := math.Abs(all[len(all)-1] - all[0]); span >= 360 {
		return nil, fmt.Errorf("%q goes %.0f° round; check the spacing and the radius of %s", text, span, u.Dimension(radius))
	}
	return all, nil
}

// anglesOf reads a question's angles, those of a part's arc by its radius.
func (q Question) anglesOf(text string, a Answers, u units.System) ([]float64, error) {
	if q.part == 0 {
		return readAngles(text)
	}
	d := a.diameter(q.part-1, u)
	radius, err := readSpan(a[key(q.part, q.group, "radius")], d, u)
	if err != nil && spaced(text) {
		return nil, fmt.Errorf("the radius is missing: go back and give it")
	}
	return arcAngles(text, radius, d, u)
}

// whichRows reads how many rows or columns there are, "6", or which of an evenly spaced pattern, "1,3,5,7" or
// "1-3 5", and returns their numbers, rising, from 1.
func whichRows(text string, most int) ([]int, error) {
	wrong := fmt.Errorf("%s; it must be a whole number from 1 to %d, how many there are, or which of an even pattern, such as 1,3,5,7 or 1-3 5", text, most)
	fields := strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' || r == ';' })
	if len(fields) == 1 && !strings.ContainsAny(text, "-,;") {
		n, err := strconv.Atoi(fields[0])
		if err != nil || n < 1 || n > most {
			return nil, wrong
		}
		all := make([]int, n)
		for i := range all {
			all[i] = i + 1
		}
		return all, nil
	}
	var all []int
	for _, f := range fields {
		from, to, span := strings.Cut(f, "-")
		lo, err := strconv.Atoi(from)
		hi := lo
		if span && err == nil {
			hi, err = strconv.Atoi(to)
		}
		if err != nil || lo < 1 || hi < lo || hi > most || len(all) > 0 && lo <= all[len(all)-1] {
			return nil, wrong
		}
		for i := lo; i <= hi; i++ {
			all = append(all, i)
		}
	}
	if len(all) == 0 {
		return nil, wrong
	}
	return all, nil
}

// rowPlaces are where rows are between the first and the last, which are so far apart, mm.
func rowPlaces(rows []int, firstToLast float64) []float64 {
	all := make([]float64, len(rows))
	if span := rows[len(rows)-1] - rows[0]; span > 0 {
		for i, r := range rows {
			all[i] = firstToLast * float64(r-rows[0]) / float64(span)
		}
	}
	return all
}

// rowsListed says which rows there are: "4 of 7: 1, 3, 5, 7"; how many, where none is left out.
func rowsListed(rows []int) string {
	last := rows[len(rows)-1]
	if last == len(rows) {
		return strconv.Itoa(len(rows))
	}
	var all []string
	for _, r := range rows {
		all = append(all, strconv.Itoa(r))
	}
	return fmt.Sprintf("%d of %d: %s", len(rows), last, strings.Join(all, ", "))
}

// several reports whether there is more than one row: true until it is answered.
func several(text string) bool {
	rows, err := whichRows(text, maxRows)
	return err != nil || len(rows) > 1
}
