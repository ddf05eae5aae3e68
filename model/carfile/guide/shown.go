package guide

import (
	"fmt"
	"slices"
	"strings"

	"stanchion/model/toml"
	"stanchion/model/units"
)

// Assumes spells what is assumed when the answer is left open.
func (q Question) Assumes(u units.System) string {
	x, number := q.open.(float64)
	if !number {
		return fmt.Sprint(q.open)
	}
	digits := 1
	if q.kind == aLength && u.Inches() {
		digits = 2
	}
	text := toml.Decimal(x/q.size(u), digits)
	switch unit := q.Unit(u); unit {
	case "":
		return text
	case "°":
		return text + unit
	default:
		return text + " " + unit
	}
}

// Shown is an answer as people read it back.
func (q Question) Shown(a Answers, u units.System) string {
	text := a[q.Key]
	switch {
	case text == "" && q.kind == somePlaces:
		return "none"
	case text == "":
		return "left out"
	case leftOpen(text) && q.open != nil:
		return "open, " + q.Assumes(u) + " assumed"
	}
	switch q.kind {
	case aChoice:
		for _, c := range q.Choices {
			if c.Word == text {
				return c.Text
			}
		}
	case aSpan:
		if mm, err := readSpan(text, a.diameter(q.part-1, u), u); err == nil && strings.IndexFunc(text, isLetter) == 0 {
			return text + ", " + u.Dimension(mm) + " between centres"
		}
	case someDistances, somePlaces, aDrawing:
		if q.part == 0 {
			return text
		}
		n, sure := 0, 0.0
		for _, h := range a.holesOf(q.part-1, u) {
			if h.group == q.group {
				n++
				sure = max(sure, h.stdUnc)
			}
		}
		said := units.Count(n, "hole")
		if sure > 0 {
			said += ", each to ±" + u.Fine(sure) + " or better"
		}
		return said
	case someAngles:
		if list, err := q.anglesOf(text, a, u); err == nil {
			return listed(list)
		}
	case someLengths:
		if said := q.Understood(text, a, u); said != "" {
			return said
		}
	case whichOf:
		if rows, err := whichRows(text, int(q.hi)); err == nil {
			return rowsListed(rows)
		}
	case aPlace, aPivot:
		if p, err := readPlace(text, a.diameter(q.part-1, u), u); err == nil {
			return u.Dimension(p.X) + " behind, " + u.Dimension(p.Z) + " above"
		}
	}
	return text
}

func isLetter(r rune) bool { return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' }

// Understood says how an answer that is being typed is read; "" where it cannot be read yet or
// says nothing that was not typed.
func (q Question) Understood(text string, a Answers, u units.System) string {
	text = strings.TrimSpace(text)
	if text == "" {
		return ""
	}
	if leftOpen(text) && q.open != nil {
		return "open, " + q.Assumes(u) + " assumed"
	}
	switch q.kind {
	case aLength, aMass, aSpeed, anAngle:
		x, err := q.read(text, u)
		if err != nil {
			return ""
		}
		digits := 1
		if q.kind == aLength && u.Inches() {
			digits = 3
		}
		unit := q.Unit(u)
		if unit != "°" {
			unit = " " + unit
		}
		return toml.Decimal(x/q.size(u), digits) + unit
	case aChoice:
		if c, ok := q.choice(text); ok {
			return c.Text
		}
	case aSpan:
		if mm, err := readSpan(text, a.diameter(q.part-1, u), u); err == nil && q.allows(mm) {
			return u.Dimension(mm) + " between centres"
		}
	case aPlace, aPivot:
		if p, err := readPlace(text, a.diameter(q.part-1, u), u); err == nil {
			return u.Dimension(p.X) + " behind, " + u.Dimension(p.Z) + " above"
		}
	case someAngles:
		if list, err := q.anglesOf(text, a, u); err == nil {
			return listed(list)
		}
	case whichOf:
		if rows, err := whichRows(text, int(q.hi)); err == nil {
			return rowsListed(rows)
		}
	case someLengths:
		if list, err := readHeights(text, u); err == nil {
			var all []string
			for _, x := range list {
				all = append(all, u.Length(x))
			}
			return units.Count(len(list), "height") + ": " + strings.Join(all, ", ")
		}
	case somePlaces:
		if list, err := readPlaces(text, a.diameter(q.part-1, u), u); err == nil {
			tied := 0
			if q.part > 0 {
				before, _ := a.upTo(q.part-1, q.group-1, u)
				for _, s := range before {
					if slices.ContainsFunc(list, func(h named) bool { return h.id == s.ID }) {
						tied++
					}
				}
			}
			if tied > 0 {
				return units.Count(len(list)-tied, "hole") + ", tied to what is entered already"
			}
			return units.Count(len(list), "hole")
		}
	}
	return ""
}
