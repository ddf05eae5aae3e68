package logbook

import (
	"errors"
	"fmt"
)

// Check names what in a note cannot both be: fields of a feel that contradict each other, and a setting
// that was only bolted on and yet felt; nil for none.
func (n *Note) Check() error {
	if n.Fitted && n.Feel.Known() {
		return errors.New("a setting that is only bolted on (fitted) was not felt yet: note it as fitted, or how it felt")
	}
	return n.Feel.Check()
}

// Corrected drops from the feel of a note that is corrected what newly given fields stand in for: the grips of
// the ends where the corner is given and they are not, and the other way round.
func (f *Feel) Corrected(fast, fastEnds, slow, slowEnds bool) {
	for _, c := range []struct {
		corner      *Corner
		front, rear *int
		given, ends bool
	}{{&f.Fast, &f.FrontFast, &f.RearFast, fast, fastEnds}, {&f.Slow, &f.FrontSlow, &f.RearSlow, slow, slowEnds}} {
		switch {
		case c.given && !c.ends:
			*c.front, *c.rear = NoFeel, NoFeel
		case c.ends && !c.given:
			*c.corner = noCorner
		}
	}
}

// Check names two fields that contradict each other: a balance and the grips of the ends that say the
// opposite or, of one that is neutral, differ by two steps; and the grip of both ends together.
func (f Feel) Check() error {
	for _, c := range []struct {
		kind        string
		corner      Corner
		front, rear int
	}{{"fast", f.Fast, f.FrontFast, f.RearFast}, {"slow", f.Slow, f.FrontSlow, f.RearSlow}} {
		if err := c.corner.check(c.kind, c.front, c.rear); err != nil {
			return err
		}
	}
	return nil
}

func (c Corner) check(kind string, front, rear int) error {
	grips := fmt.Sprintf("grip %s/%s front/rear", SpellGrip(front), SpellGrip(rear))
	if b, ok := c.balance(); ok && c.phased() {
		ends, known := ofEnds(front, rear)
		switch {
		case known:
		case rear == -3: // no front has less, so that it cannot understeer
			known, ends = b < 0, 1
		case front == -3:
			known, ends = b > 0, -1
		}
		if known && (b*ends < 0 || b == 0 && (ends >= 2 || ends <= -2) || ends == 0 && (b >= 2 || b <= -2)) {
			return fmt.Errorf("%s in %s corners and %s, which is %s, contradict each other: give one of them", BalanceWord(b), kind, grips, steer(int(ends)))
		}
	}
	if c.Grip == NoFeel || front == NoFeel || rear == NoFeel {
		return nil
	}
	if c.Grip == 0 && front < 0 && rear < 0 || c.Grip < 0 && front >= 0 && rear >= 0 {
		return fmt.Errorf("%s of both ends in %s corners and %s contradict each other: give one of them", gripWords[c.Grip], kind, grips)
	}
	return nil
}
