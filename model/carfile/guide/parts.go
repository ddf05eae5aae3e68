package guide

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model/pattern"
	"stanchion/model/units"
)

// overClearance is by how much holes are assumed to be wider than their bolts where that is left
// open, mm. Common practice, no source: ISO 273 fine has 8.4 mm for M8.
const overClearance = 0.4

// overBolt is the width in mm that is assumed of a joint's holes when it is left open.
func (a Answers) overBolt(joint string, u units.System) float64 {
	text := a["bolt."+joint]
	if leftOpen(text) || text == "" {
		text = "M8"
	}
	s, err := readBolt(text)
	if err != nil {
		s, _ = readBolt("M8")
	}
	return s.D + overClearance
}

// boltOf names the joint whose bolts a part's holes are taken to be for: the one that it carries.
func (a Answers) boltOf(part int) string {
	js := a.joints()
	if part < len(js) {
		return js[part]
	}
	return "head"
}

// diameter is the width of a part's holes, mm.
func (a Answers) diameter(part int, u units.System) float64 {
	if part < 0 {
		return a.length("wing_d", a.overBolt("head", u), u)
	}
	return a.length(fmt.Sprintf("p%d.d", part+1), a.overBolt(a.boltOf(part), u), u)
}

// length reads a length that was answered, mm; open where it was left open or is not answered yet.
func (a Answers) length(key string, open float64, u units.System) float64 {
	if x, err := units.Lengths.Parse(a[key], u.LengthUnit()); err == nil {
		return x
	}
	return open
}

// spot is one hole or slot of a part.
type spot struct {
	holes.Hole
	slot   *holes.Slot
	group  int     // in which it was told
	stdUnc float64 // mm; 0 where that is not known
}

// text spells a spot as a drawing's holes are kept among the answers, in mm.
func (s spot) text() string {
	f := func(x float64) string { return strconv.FormatFloat(math.Round(x*1e4)/1e4, 'f', -1, 64) }
	line := fmt.Sprintf("%s %s %s %s", s.ID, f(s.X), f(s.Z), f(s.D))
	switch {
	case s.slot == nil:
	case s.slot.Turn != 0:
		line += fmt.Sprintf(" arc %s %s %s", f(s.slot.Centre.X), f(s.slot.Centre.Z), f(s.slot.Turn/plane.Deg))
	default:
		line += fmt.Sprintf(" to %s %s", f(s.slot.To.X), f(s.slot.To.Z))
	}
	return line
}

// origin names the hole that the part's places are told from: its first; "1" or "A" before it is told.
func (a Answers) origin(part int, u units.System) string {
	if all, _ := a.upTo(part, 1, u); len(all) > 0 {
		return all[0].ID
	}
	return "1"
}

// holesOf returns a part's holes as far as they are told.
func (a Answers) holesOf(part int, u units.System) []spot {
	all, _ := a.resolve(part, u)
	return all
}

// errMissing says that a go is not told whole yet.
var errMissing = errors.New("is not told yet")

// resolve returns a part's holes as far as they are told; the error is what is wrong with the
// first go that cannot be used. It is errMissing where one is not told whole.
func (a Answers) resolve(part int, u units.System) ([]spot, error) { return a.upTo(part, maxGroups, u) }

// upTo is resolve for the first so many goes.
func (a Answers) upTo(part, groups int, u units.System) (all []spot, err error) {
	for g := 1; g <= groups; g++ {
		how := a[key(part+1, g, "how")]
		if how == "" || how == allWord {
			break
		}
		next, wrong := a.told(part, g, how, all, u)
		if wrong != nil {
			if err == nil {
				err = wrong
			}
			continue
		}
		for i := range next {
			next[i].group = g
			if clash := clashes(next[i], append(all, next[:i]...)); clash != nil {
				if err == nil {
					err = clash
				}
				next = next[:i]
				break
			}
		}
		all = append(all, next...)
	}
	if len(all) == 0 && err == nil {
		err = errMissing
	}
	return all, err
}

// clashes says whether a hole has another's name or place.
func clashes(s spot, all []spot) error {
	for _, o := range all {
		if o.ID == s.ID {
			return fmt.Errorf("hole %s is told twice; give each hole a name of its own", s.ID)
		}
		if d := o.At().Distance(s.At()); d < (o.D+s.D)/2-0.01 && o.slot == nil && s.slot == nil {
			return fmt.Errorf("holes %s and %s would overlap, %.1f mm between centres; check the lengths", o.ID, s.ID, d)
		}
	}
	return nil
}

// joint returns the joint that a go's holes are kept for; "" for any.
func (a Answers) joint(part, group int) string {
	js := a.joints()
	if part == 0 || part >= len(js) {
		return ""
	}
	if j := a[key(part+1, group, "joint")]; slices.Contains(js, j) {
		return j
	}
	return ""
}

// namer gives holes names that are not taken.
type namer struct {
	taken []spot
	given []string
	last  map[string]int // number of a prefix
}

func (n *namer) free(id string) bool {
	return !slices.Contains(n.given, id) && !slices.ContainsFunc(n.taken, func(s spot) bool { return s.ID == id })
}

// next is the first name that is free of a prefix with a number.
func (n *namer) next(prefix string) string {
	if n.last == nil {
		n.last = map[string]int{}
	}
	for {
		n.last[prefix]++
		if id := prefix + strconv.Itoa(n.last[prefix]); n.free(id) {
			return id
		}
	}
}

// letter is the first letter that is free.
func (n *namer) letter() string {
	for c := 'A'; c <= 'Z'; c++ {
		if n.free(string(c)) && n.free(string(c)+"1") {
			n.given = append(n.given, string(c))
			return string(c)
		}
	}
	return n.next("Z")
}

// prefix is what the names of a go's holes in rows begin with: numbers on the car's part, k at a foot, letters at a head.
func (a Answers) prefix(part, group int, n *namer) string {
	switch js := a.joints(); {
	case part == 0 && len(js) != 1 || a.is("road", Make):
		return ""
	case part > 0 && a.joint(part, group) == js[part-1]:
		return "k"
	}
	return n.letter()
}

// told returns the holes of one go; before are those told before it.
func (a Answers) told(part, g int, how string, before []spot, u units.System) (all []spot, err error) {
	get := func(what string) string { return a[key(part+1, g, what)] }
	d := a.diameter(part, u)
	names := &namer{taken: before}
	put := func(id string, at plane.Point) {
		all = append(all, spot{Hole: holes.Hole{ID: id, X: at.X, Z: at.Z, D: d, Joint: a.joint(part, g)}})
	}
	span := func(what string) (x float64) {
		if err == nil {
			if get(what) == "" {
				err = errMissing
			} else {
				x, err = readSpan(get(what), d, u)
			}
		}
		return x
	}
	at := func(what string) (p plane.Point) {
		if err == nil && len(before) > 0 {
			if get(what) == "" {
				err = errMissing
			} else if p, err = readPlace(get(what), d, u); err == nil {
				p = before[0].At().Add(p)
			}
		}
		return p
	}
	// pivot returns the pivot's place and name, putting a hole there unless there is one.
	pivot := func() (p plane.Point, name string) {
		for _, s := range before {
			if s.ID == strings.TrimSpace(get("pivot")) {
				return s.At(), s.ID
			}
		}
		if p, name = at("pivot"), names.letter(); err == nil {
			put(name, p)
		}
		return p, name
	}
	angles := func() (list []float64) {
		if err == nil {
			if get("angles") == "" {
				err = errMissing
				return nil
			}
			list, err = readAngles(get("angles"))
			for i := range list {
				list[i] *= plane.Deg
			}
		}
		return list
	}
	switch how {
	case byRows:
		rows, _ := strconv.Atoi(get("rows"))
		columns, _ := strconv.Atoi(get("columns"))
		if rows < 1 || columns < 1 {
			return nil, errMissing
		}
		if rows*columns > maxGrid {
			return nil, fmt.Errorf("%d holes; tell at most %d at once", rows*columns, maxGrid)
		}
		grid := pattern.Grid{Rows: rows, Columns: columns}
		if rows > 1 {
			grid.Up = span("up")
		}
		if columns > 1 {
			grid.Along = span("along")
		}
		from, prefix := at("at"), a.prefix(part, g, names)
		if err != nil {
			return nil, err
		}
		for _, p := range grid.Points() {
			put(names.next(prefix), from.Add(p))
		}
	case byPlaces:
		if get("places") == "" {
			return nil, errMissing
		}
		list, wrong := readPlaces(get("places"), d, u)
		if wrong != nil {
			return nil, wrong
		}
		shift := list[0].at.Times(-1) // the first is the part's origin
		if len(before) > 0 {
			shift = before[0].At()
			for _, h := range list {
				for _, s := range before {
					if s.ID == h.id {
						shift = s.At().Sub(h.at)
					}
				}
			}
		}
		for _, h := range list {
			if slices.ContainsFunc(before, func(s spot) bool { return s.ID == h.id }) {
				continue
			}
			put(h.id, h.at.Add(shift))
			all[len(all)-1].D = h.d
		}
	case byArc:
		p, name := pivot()
		radius, list := span("radius"), angles()
		if err != nil {
			return nil, err
		}
		for _, q := range pattern.Arc(p, radius, list) {
			put(names.next(name), q)
		}
	case bySlot:
		from, long, turn := at("at"), get("long"), get("turn")
		if err != nil || long == "" || turn == "" {
			return nil, errMissing
		}
		length, wrong := readSpan(long, d, u) // outer is over all: less one width
		angle, bad := units.Angles.Parse(turn, "deg")
		if wrong != nil || bad != nil {
			return nil, errors.Join(wrong, bad)
		}
		put(names.next("S"), from)
		sin, cos := math.Sincos(angle)
		all[0].slot = &holes.Slot{Hole: all[0].Hole, To: from.Add(plane.Point{X: length * cos, Z: length * sin}), Step: slotStep}
	case byArcSlot:
		p, _ := pivot()
		radius, list := span("radius"), angles()
		if err != nil {
			return nil, err
		}
		if len(list) != 2 || list[0] == list[1] {
			return nil, fmt.Errorf("%s; give the angles of its two ends, such as 0 12", get("angles"))
		}
		put(names.next("S"), pattern.Arc(p, radius, list[:1])[0])
		last := &all[len(all)-1]
		last.slot = &holes.Slot{Hole: last.Hole, Centre: p, Turn: list[1] - list[0], Step: slotStep}
	case byDistances:
		return a.byDistances(part, g, before, u)
	case byDrawing:
		return kept(get("drawing.holes"), a.joint(part, g))
	}
	return all, err
}

// maxGrid is how many holes rows and columns may have.
const maxGrid = 200

// slotStep is the largest distance of the places that are looked at in a slot, mm: that of car
// files which say nothing.
const slotStep = 2.0

// kept reads the holes of a drawing that was read already, as spot.text spells them.
func kept(text, joint string) (all []spot, err error) {
	for _, line := range pattern.Items(text) {
		w := strings.Fields(line)
		if len(w) < 4 {
			return nil, errMissing
		}
		n := make([]float64, len(w))
		for i := range w {
			n[i], _ = strconv.ParseFloat(w[i], 64)
		}
		s := spot{Hole: holes.Hole{ID: w[0], X: n[1], Z: n[2], D: n[3], Joint: joint}}
		switch {
		case len(w) == 7 && w[4] == "to":
			s.slot = &holes.Slot{Hole: s.Hole, To: plane.Point{X: n[5], Z: n[6]}, Step: slotStep}
		case len(w) == 8 && w[4] == "arc":
			s.slot = &holes.Slot{Hole: s.Hole, Centre: plane.Point{X: n[5], Z: n[6]}, Turn: n[7] * plane.Deg, Step: slotStep}
		}
		all = append(all, s)
	}
	if len(all) == 0 {
		return nil, errMissing
	}
	return all, nil
}

// byDistances places holes by the distances between them; those told before hold the frame.
func (a Answers) byDistances(part, g int, before []spot, u units.System) (all []spot, err error) {
	text := a[key(part+1, g, "distances")]
	if text == "" {
		return nil, errMissing
	}
	d := a.diameter(part, u)
	told, faults := pattern.Read(text, d, u.LengthUnit())
	if len(faults) > 0 {
		return nil, faults[0]
	}
	p := pattern.Problem{Told: told, Upwards: a.is(key(part+1, g, "way"), "above")}
	for _, s := range before {
		p.Known = append(p.Known, pattern.Place{ID: s.ID, At: s.At()})
	}
	if tied := slices.DeleteFunc(slices.Clone(before), func(s spot) bool { return !slices.Contains(told.Names, s.ID) }); len(before) > 0 && len(tied) < 2 {
		others := slices.DeleteFunc(slices.Clone(before), func(s spot) bool { return slices.Contains(told.Names, s.ID) })
		from := "another hole"
		if len(others) > 0 {
			from = others[0].ID
		}
		return nil, fmt.Errorf("the distances go to %s told before; measure from two of them at least, such as %s", units.Count(len(tied), "hole"), from)
	}
	solved, err := solve(p)
	if err != nil {
		return nil, err
	}
	if err := sayMisfit(solved, u); err != nil {
		return nil, err
	}
	if err := sayOpen(solved); err != nil {
		return nil, err
	}
	for _, s := range solved.Places {
		w := d
		if own, ok := told.Diameters[s.ID]; ok {
			w = own
		}
		all = append(all, spot{Hole: holes.Hole{ID: s.ID, X: s.At.X, Z: s.At.Z, D: w, Joint: a.joint(part, g)}, stdUnc: s.StdUnc})
	}
	return all, nil
}

// sayMisfit says which distance does not fit; nil for none.
func sayMisfit(s pattern.Solution, u units.System) error {
	m := s.Misfit
	if m == nil {
		return nil
	}
	or := ""
	if n := len(m.Or); n > 3 {
		return fmt.Errorf("the distances do not fit together, by %s; measure them again, and one more: then the wrong one can be told", u.Dimension(math.Abs(m.Centres-m.ShouldBe)))
	} else if n > 0 {
		or = " (or it is " + strings.Join(m.Or, ", ") + ")"
	}
	return fmt.Errorf("%s does not fit%s: between centres it is %s, by all the others %s ±%s; measure it again, or leave it out", m.Pair(), or,
		u.Dimension(m.Centres), u.Dimension(m.ShouldBe), u.Fine(max(m.Std, 0.1)))
}

// sayOpen says which hole the distances do not place, and what would; nil where all are placed.
func sayOpen(s pattern.Solution) error {
	if len(s.Open) == 0 {
		return nil
	}
	o := s.Open[0]
	plus, minus := "above", "below"
	if s.Rises {
		plus, minus = "behind", "ahead"
	}
	side := fmt.Sprintf("say on which side of the line %s-%s %s is: add %s %s, or %s %s", s.Line[0], s.Line[1], o.Hole, o.Hole, plus, o.Hole, minus)
	if o.Why == pattern.Mirrored {
		return fmt.Errorf("it may as well be mirrored; %s", side)
	}
	what := "hole " + o.Hole + " is not held by the distances"
	if o.Why == pattern.TwoSides {
		what = "hole " + o.Hole + " has two possible places"
	}
	var do []string
	if o.Ask[0] != "" {
		do = append(do, "measure "+o.Ask[0]+"-"+o.Ask[1]+" too")
	}
	if o.Side {
		do = append(do, side)
	}
	if do == nil {
		do = []string{"measure its distance to one more hole"}
	}
	return fmt.Errorf("%s; %s", what, strings.Join(do, ", or "))
}

// solve is pattern.Solve, which remembers its last answers: each picture and question asks for them anew.
func solve(p pattern.Problem) (pattern.Solution, error) {
	of := fmt.Sprint(p.Distances, p.Sides, p.Names, p.Known, p.Upwards)
	solvedLast.Lock()
	defer solvedLast.Unlock()
	for _, s := range solvedLast.all {
		if s.of == of {
			return s.is, s.err
		}
	}
	s := solvedOnce{of: of}
	s.is, s.err = pattern.Solve(p)
	solvedLast.all = append(solvedLast.all[max(0, len(solvedLast.all)-15):], s)
	return s.is, s.err
}

// solvedOnce is one problem and its answer.
type solvedOnce struct {
	of  string
	is  pattern.Solution
	err error
}

var solvedLast struct {
	sync.Mutex
	all []solvedOnce
}
