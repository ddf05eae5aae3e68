package guide

import (
	"errors"
	"fmt"
	"strings"

	"stanchion/model/carfile"
	"stanchion/model/units"
)

// maxAnswer is the longest answer, in bytes: a list of distances takes some hundred.
const maxAnswer = 2000

// Check reads one answer; the error says what to type. given are the other answers.
func (q Question) Check(text string, given Answers, u units.System) error {
	text = strings.TrimSpace(text)
	if len(text) > maxAnswer || strings.IndexFunc(text, units.Hidden) >= 0 {
		return fmt.Errorf("use printable characters, at most %d", maxAnswer)
	}
	switch {
	case text == "" && q.Optional:
		return nil
	case text == "":
		return errors.New(q.needed(u))
	case leftOpen(text) && q.open != nil:
		return q.fits(given.With(q.Key, Open), u)
	case leftOpen(text) && q.Optional:
		return errors.New("leave it blank: it is then not in the file")
	case leftOpen(text):
		return errors.New("this cannot be left open: nothing may be put in its place; esc leaves, and keeps the answers")
	}
	var err error
	switch q.kind {
	case aChoice:
		if c, ok := q.choice(text); ok {
			text = c.Word
		} else {
			err = errors.New(q.needed(u))
		}
	case aLength, aMass, aSpeed, anAngle, aCount:
		_, err = q.read(text, u)
	case aBolt:
		_, err = readBolt(text)
	case aSection:
		if _, wrong := carfile.Parse("section", []byte(strings.Replace(sectionFile, "naca 4412", tomlInner(text), 1)), nil); wrong != nil {
			err = fmt.Errorf("%s; use naca with four or five digits", text)
		}
	case aSpan:
		var mm float64
		if mm, err = readSpan(text, given.diameter(q.part-1, u), u); err == nil && !q.allows(mm) {
			err = q.outside(text, u)
		}
	case aPlace:
		_, err = readPlace(text, given.diameter(q.part-1, u), u)
	case aPivot:
		known := false
		for _, s := range given.holesOf(q.part-1, u) {
			known = known || s.ID == text && s.group < q.group
		}
		if _, wrong := readPlace(text, given.diameter(q.part-1, u), u); !known {
			err = wrong
		}
	case whichOf:
		_, err = whichRows(text, int(q.hi))
	case someAngles:
		_, err = q.anglesOf(text, given, u)
	case somePlaces:
		_, err = readPlaces(text, given.diameter(q.part-1, u), u)
	case someLengths:
		_, err = readHeights(text, u)
	}
	if err != nil {
		return err
	}
	return q.fits(given.With(q.Key, text), u)
}

// needed says what to type where nothing was.
func (q Question) needed(u units.System) string {
	switch {
	case q.kind == aChoice:
		return fmt.Sprintf("type a number from %d to %d", q.Number(0), q.Number(len(q.Choices)-1))
	case q.open != nil:
		return fmt.Sprintf("type it, or ? to leave it open: %s is then assumed, and marked", q.Assumes(u))
	}
	return "type it; nothing is put in its place"
}

// fits looks whether an answer goes with the others.
func (q Question) fits(with Answers, u units.System) error {
	switch q.Key {
	case "wing_rear":
		if with.length("wing_rear", 0, u) < with.length("wing_front", 0, u)+20 {
			return fmt.Errorf("%s; it must be at least %s behind the front bolt", with[q.Key], u.Length(20))
		}
	case "design":
		if chosen, ok := find("speed", with, u); ok {
			v, err := q.read(with[q.Key], u)
			if w, wrong := chosen.read(with.orOpen(chosen, u), u); err == nil && wrong == nil && v < w {
				return fmt.Errorf("%s; it must be at least the speed of the figures, %s", with[q.Key], u.Speed(w*units.KPH))
			}
		}
	case "wing_more":
		for _, h := range with.wingHoles(u) {
			if clash := clashes(h, with.wingHoles(u)[:h.group]); clash != nil {
				return clash
			}
		}
	}
	switch {
	case q.Key == "wing_d":
		return with.narrow("head", with.diameter(-1, u), u)
	case q.part > 0 && q.group == 0 && q.View == ViewPart:
		return with.narrow(with.boltOf(q.part-1), with.diameter(q.part-1, u), u)
	case q.part > 0 && q.group > 0 && with[q.Key] == allWord:
		return with.enough(q.part-1, u)
	case q.kind == aPivot:
		return with.pivotFault(q, u)
	case q.part > 0 && q.group > 0:
		return with.groupFault(q.part-1, q.group, u)
	}
	return nil
}

// shank is the thickness of a joint's bolts, mm, and their name.
func (a Answers) shank(joint string, u units.System) (mm float64, name string) {
	s, err := readBolt(a.text("bolt."+joint, u))
	if err != nil {
		return 0, ""
	}
	return s.D, s.Name
}

// narrow says that bolts do not go through holes of a width.
func (a Answers) narrow(joint string, d float64, u units.System) error {
	if mm, name := a.shank(joint, u); d < mm-1e-6 {
		return fmt.Errorf("%s is too narrow for %s; measure it again, or go back to the bolts", u.Fine(d), name)
	}
	return nil
}

// enough says that a part has too few holes for the bolts of a joint.
func (a Answers) enough(part int, u units.System) error {
	js := a.joints()
	for i := max(part-1, 0); i <= part && i < len(js); i++ {
		shank, name := a.shank(js[i], u)
		want, n := 2, 0
		if x := a.number("count."+js[i], u); x > 2 {
			want = int(x)
		}
		for _, h := range a.holesOf(part, u) {
			if (h.Joint == "" || h.Joint == js[i]) && h.D >= shank-1e-6 {
				n++
			}
		}
		if n < want {
			return fmt.Errorf("the %s has %s %s, and the %s has %s for them; enter the others too", js[i], units.Count(want, "bolt"), name, a.parts()[part], units.Count(n, "hole"))
		}
	}
	return nil
}

// pivotFault says that a pivot would overlap a hole that was told before: its name is then meant.
func (a Answers) pivotFault(q Question, u units.System) error {
	before, _ := a.upTo(q.part-1, q.group-1, u)
	d := a.diameter(q.part-1, u)
	p, err := readPlace(a[q.Key], d, u)
	if err != nil || len(before) == 0 {
		return a.groupFault(q.part-1, q.group, u)
	}
	p = before[0].At().Add(p)
	for _, s := range before {
		if x := s.At().Distance(p); x < (s.D+d)/2 {
			return fmt.Errorf("that is within %s of hole %s; if it is that hole, type %s", u.Dimension(x), s.ID, s.ID)
		}
	}
	return a.groupFault(q.part-1, q.group, u)
}

// groupFault is what is wrong with one go of a part's holes; nil while it is not told whole.
func (a Answers) groupFault(part, group int, u units.System) error {
	if _, err := a.upTo(part, group, u); err != nil && !errors.Is(err, errMissing) {
		return err
	}
	return nil
}

// orOpen is an answer, or what is assumed in its place as text.
func (a Answers) orOpen(q Question, u units.System) string {
	if text := a[q.Key]; text != "" && !leftOpen(text) {
		return text
	}
	return q.Assumes(u)
}

// sectionFile is a car file that a section is tried in.
const sectionFile = `format = 1
name = "x"
car = { wheelbase = 2500, front_axle_mass = 600, rear_axle_mass = 550, roof_height = 1300 }
speed = { chosen = 160 }
part = [ { name = "a", fixed = { x = 0, z = 900, angle = 0 }, holes = [ { id = "1", x = 0, z = 0, d = 8.4 }, { id = "2", x = 100, z = 0, d = 8.4 } ] },
  { name = "wing", holes = [ { id = "1", x = 0, z = 0, d = 8.4 }, { id = "2", x = 100, z = 0, d = 8.4 } ] } ]
joint = [ { name = "head", lower = "a", upper = "wing", bolt = "M8" } ]
wing = { span = 1400, chord = 250, section = "naca 4412" }
`
