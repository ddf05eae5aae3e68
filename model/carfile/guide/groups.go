package guide

import (
	"fmt"
	"strings"
)

// The ways in which some of a part's holes are told in one go.
const (
	byRows      = "rows"
	byPlaces    = "places"
	byArc       = "arc"
	bySlot      = "slot"
	byArcSlot   = "curved"
	byDistances = "distances"
	byDrawing   = "drawing"
)

// maxGroups is in how many goes the holes of a part can be told.
const maxGroups = 12

// key is that of an answer about a group of a part's holes, both counted from 1.
func key(part, group int, what string) string { return fmt.Sprintf("p%d.%d.%s", part, group, what) }

// part asks for the holes of the i-th part, in as many goes as they take.
func (k *asker) part(i int, parts []string) {
	name, n := parts[i], i+1
	k.ask(Question{Key: fmt.Sprintf("p%d.d", n), Name: name + "'s hole diameter", Ask: fmt.Sprintf("How wide are the %s's holes for bolts?", name),
		How: "Their diameter, by caliper. A hole of another width is entered with its place.", kind: aLength, open: k.a.overBolt(k.a.boltOf(i), k.u),
		lo: 4, hi: 30, View: ViewPart, part: n})
	for g := 1; g <= maxGroups; g++ {
		q := Question{Key: key(n, g, "how"), Name: name + "'s holes", Ask: fmt.Sprintf("How do you want to enter the holes of the %s?", name),
			How: "You can enter them in several steps: a grid now, an arc next.", kind: aChoice, View: ViewPart, part: n, group: g, Choices: []Choice{
				{byRows, "rows and columns"}, {byPlaces, "each by its place, from two edges or from a hole"},
				{byArc, "on an arc about a pivot"}, {bySlot, "a straight slot"}, {byArcSlot, "a curved slot about a pivot"},
				{byDistances, "by distances between holes alone"}, {byDrawing, "from a drawing: DXF, SVG or CSV"}}}
		if g > 1 {
			q.Ask = fmt.Sprintf("Has the %s more holes?", name)
			q.Choices = append([]Choice{{allWord, "no more holes"}}, q.Choices[:len(q.Choices)-1]...)
		}
		k.ask(q)
		how := k.a[q.Key]
		if how == "" || how == allWord {
			return
		}
		k.group(i, g, how, name)
	}
}

// group asks for one go of a part's holes.
func (k *asker) group(i, g int, how, name string) {
	n, js := i+1, k.a.joints()
	ask := func(q Question, what string) {
		q.Key, q.View, q.part, q.group = key(n, g, what), ViewPart, n, g
		k.ask(q)
	}
	if i > 0 && i < len(js) {
		how := "Enter the holes of the foot first, then those of the head."
		if g == 1 {
			how += " Foot holes entered in rows are named k1, k2 …"
		}
		ask(Question{Name: "for the joint", Ask: fmt.Sprintf("What are these holes of the %s for?", name), How: how,
			kind: aChoice, Choices: []Choice{{js[i-1], "the " + js[i-1] + ": what it stands on"}, {js[i], "the " + js[i] + ": what it carries"}, {"both", "either of them"}}}, "joint")
	}
	first := k.a.origin(i, k.u)
	from := fmt.Sprintf("Two lengths: how far behind hole %s of the %s, and how far above it, centre to centre, such as 0 420. "+
		"In front and below are negative; along and square to the rows of its foot.", first, name)
	place := func(what, ask string) Question {
		return Question{Name: what, Ask: ask, How: from, kind: aPlace, Mark: MarkPlace}
	}
	span := func(name, ask string, mark Mark) Question {
		return Question{Name: name, Ask: ask, How: "Centre to centre, or with a word before it: inner 51.6 between the edges that face each other, outer 68.4 over both holes.",
			kind: aSpan, lo: 5, hi: 3000, Mark: mark}
	}
	switch how {
	case byRows:
		ask(Question{Name: "rows", Ask: "How many rows, one above the other?", How: "Rows lie along the part's foot. Where some of an even pattern are not drilled, say which are: 1,3,5,7.", kind: whichOf, lo: 1, hi: maxRows, Mark: MarkUp}, "rows")
		ask(Question{Name: "columns", Ask: "How many holes in a row?", How: "From the front to the rear; or which of an even pattern: 1,2,4.", kind: whichOf, lo: 1, hi: maxRows, Mark: MarkAlong}, "columns")
		if several(k.a[key(n, g, "rows")]) {
			ask(span("first to last row", "How far is it from the first to the last row?", MarkUp), "up")
		}
		if several(k.a[key(n, g, "columns")]) {
			ask(span("first to last hole of a row", "And from the first to the last hole of a row?", MarkAlong), "along")
		}
		if g > 1 {
			ask(place("place of these rows", "Where is the lowest front hole of these rows?"), "at")
		}
	case byPlaces:
		how := "From the front and the lower edge, or from any one hole: name, how far behind, how far above, such as A 18 452, B 18 487. " +
			"near 14 and far 22 go to an edge of the hole; d B 10.5 is a width of its own."
		if g > 1 {
			how += fmt.Sprintf(" From edges, give %s too: it ties them to the holes before; else they are measured from %s.", first, first)
		}
		ask(Question{Name: "places", Ask: "Which holes, and where?", How: how, kind: somePlaces}, "places")
	case byArc:
		pivot := place("pivot", "Where is the pivot?")
		pivot.kind, pivot.How = aPivot, "The name of a hole that is entered already; or t"+strings.TrimPrefix(from, "T")
		if g > 1 {
			ask(pivot, "pivot")
		}
		ask(span("radius", "How far are the arc's holes from the pivot?", MarkRadius), "radius")
		ask(Question{Name: "angles", Ask: "At which angles are they?", How: "Of the line from the pivot to each hole against the rows of the foot, its rear end higher positive: " + angleExample +
			". Or the first angle and the spacing from hole to hole: 4 chord 20 20 15 straight across, 4 length 20 in 6 along the arc, 6 holes; chord inner 11.6 by caliper; down for a falling arc.",
			kind: someAngles, Mark: MarkAngles}, "angles")
	case bySlot:
		if g > 1 {
			ask(place("slot's first end", "Where is the middle of the slot's front or lower end?"), "at")
		}
		ask(Question{Name: "length of the slot", Ask: "How long is the slot?", How: "Between the middles of its ends, or over all: outer 48.4.", kind: aSpan, lo: 1, hi: 1000, Mark: MarkSlot}, "long")
		ask(Question{Name: "direction of the slot", Ask: "Which way does it run?", How: "0 is straight behind, 90 straight up, along and square to the rows of the foot.",
			kind: anAngle, lo: -90, hi: 180, Mark: MarkSlot}, "turn")
	case byArcSlot:
		pivot := place("pivot", "Where is the pivot?")
		pivot.kind, pivot.How = aPivot, "The name of a hole that is entered already; or t"+strings.TrimPrefix(from, "T")
		if g > 1 {
			ask(pivot, "pivot")
		}
		ask(span("radius", "How far is the middle line of the slot from the pivot?", MarkRadius), "radius")
		ask(Question{Name: "ends of the slot", Ask: "At which two angles are the middles of its ends?", How: "Of the line from the pivot to each end against the rows of the foot, its rear end higher positive: 0 12. Or the first and how far it is to the other: 0 chord 25, or 0 length 25 along the arc.",
			kind: someAngles, Mark: MarkAngles}, "angles")
	case byDistances:
		if g == 1 {
			ask(Question{Name: "direction", Ask: "How does the second hole lie to the first that you will name?", How: "That is the direction of the rows, which the part's angle goes by.",
				kind: aChoice, Choices: []Choice{{"behind", "straight behind it"}, {"above", "straight above it"}}}, "way")
		}
		ask(Question{Name: "distances", Ask: "Which distances between which holes?",
			How: "Such as 1-2 60, 2-4 inner 31.6, 1-3 72.1 tape, 3 above: caliper and centre to centre where nothing is said. " +
				"inner, outer, near, far go to the holes' edges; above, below, behind or ahead says on which side of the first two a hole is.",
			kind: someDistances}, "distances")
	case byDrawing:
		ask(Question{Name: "drawing", Ask: "Which file?", How: "A DXF, SVG or CSV of this part at 1:1, its front on the left and its foot level. Its lowest front hole is the one that its place is asked of.",
			kind: aDrawing}, "drawing")
	}
}
