package model

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"sync"

	"stanchion/aero"
	"stanchion/aero/deck"
)

// DeckEffect is what the wing does to the body below it and the body to the wing: somewhere between
// two ends. The zero value is of a body that is not known.
type DeckEffect struct {
	Known     bool
	Low, High DeckEnd
	Off       float64 // by which the part between them is more than it was taken for, as fitted on track
}

// DeckEnd is one end of what can be expected, over the wing's downforce.
type DeckEnd struct {
	Lift   float64 // that the wing draws out of the body
	NoseUp float64 // m, moment of it about the ground point below the rear axle
	Rise   float64 // by which the wing's own lift grows, as a fraction
}

// At returns what lies at a part of the way from the low end to the high one, and as much further as
// a fit on track found.
func (e DeckEffect) At(part float64) DeckEnd {
	between := func(a, b float64) float64 { return a + (part+e.Off)*(b-a) }
	return DeckEnd{between(e.Low.Lift, e.High.Lift), between(e.Low.NoseUp, e.High.NoseUp), between(e.Low.Rise, e.High.Rise)}
}

// deckPart is where between the two ends the figures stand: in the middle, as nobody knows where.
const deckPart = 0.5

// deckPartStdUnc is one standard uncertainty of that: a rectangular distribution (JCGM 100:2008, 4.3.7).
var deckPartStdUnc = 1 / math.Sqrt(12)

// separatedDeck is what is left of the lift on a body whose deck and rear window are separated, of
// that with the flow attached and a solid wake.
// Common practice, no source: leaving out the suction behind the middle of the deck leaves a third.
const separatedDeck = 1.0 / 3

// effectOf makes the two ends: the high one has the flow attached and a wake that holds its shape, the
// low one is the lower of a wake that yields and of a separated deck.
func effectOf(e deck.Effect) DeckEffect {
	end := func(r deck.Reaction, part float64) DeckEnd {
		return DeckEnd{part * r.Lift, part * r.NoseUp, part * r.Rise}
	}
	low := end(e.Free, 1)
	if apart := end(e.Solid, separatedDeck); apart.Lift < low.Lift {
		low = apart
	}
	return DeckEffect{Known: true, Low: low, High: end(e.Solid, 1)}
}

// HasDeck reports whether the lift on the body can be worked out: body and width are given.
func (c *Car) HasDeck() bool { return len(c.Body) > 0 && c.BodyWidth.Known() }

// deckTold reports whether what the body does is in the figures: a downforce that was fitted on track
// has it in it already.
func (t *Table) deckTold() bool { return !t.Car.TrackFit.Downforce.Known() }

// DeckKnown reports whether the lift on the body is worked out for a row.
func (t *Table) DeckKnown(r *Row) bool { return r.Deck.Known && t.deckTold() }

// deckStep is how far apart the places are that are worked out, m; between them straight lines are
// within 0.006 of the downforce.
const deckStep = 0.06

// deckField is what wing and body do to each other over places, worked out where it is asked for.
type deckField struct {
	body     *deck.Deck
	err      error // why there is none
	planform aero.Planform
	angle    float64

	mu    sync.Mutex
	nodes map[[2]int]*deckNode
}

type deckNode struct {
	once   sync.Once
	effect deck.Effect
	ok     bool
}

// deckFields are kept for cars that differ in nothing that counts: a trial hole makes a new car.
var deckFields sync.Map

// deckField returns the field of the car's body and wing; nil where body or width are not given or
// cannot be worked with.
func (c *Car) deckField() *deckField {
	if !c.HasDeck() {
		return nil
	}
	body := c.Surroundings().Body
	key := fmt.Sprint(body, c.BodyWidth.Value(), c.Wing.planform())
	kept, _ := deckFields.LoadOrStore(key, sync.OnceValue(func() *deckField {
		b := deck.Body{Width: c.BodyWidth.Value() * mm}
		for _, p := range body {
			b.Profile = append(b.Profile, deck.Point{X: p.X * mm, Z: p.Z * mm})
		}
		b.Profile = append(b.Profile, b.Profile[0]) // wherever the outline begins
		d, err := deck.New(b)
		if err != nil {
			return &deckField{err: err}
		}
		return &deckField{body: d, planform: c.Wing.planform(), angle: usualAngle, nodes: map[[2]int]*deckNode{}}
	}))
	return kept.(func() *deckField)()
}

// usualAngle is the angle to the ground that the body is worked out with, rad: 5° more change the lift
// on it by 0.01 of the downforce.
const usualAngle = 6 * math.Pi / 180

func (f *deckField) node(at [2]int) *deckNode {
	f.mu.Lock()
	n, ok := f.nodes[at]
	if !ok {
		n = &deckNode{}
		f.nodes[at] = n
	}
	f.mu.Unlock()
	n.once.Do(func() {
		e, err := f.body.Under(f.planform, deck.Place{X: float64(at[0]) * deckStep, Z: float64(at[1]) * deckStep, Angle: f.angle})
		n.effect, n.ok = e, err == nil
	})
	return n
}

// cell returns the lower corner of the places about one, and how far in it lies.
func deckCell(x, z float64) (at [2]int, u, v float64) {
	i, k := math.Floor(x/deckStep), math.Floor(z/deckStep)
	return [2]int{int(i), int(k)}, x/deckStep - i, z/deckStep - k
}

// at interpolates between the four places about one, x and z in m; where one of them is too near the
// body, the place itself is worked out.
func (f *deckField) at(x, z float64) DeckEffect {
	cell, u, v := deckCell(x, z)
	var e DeckEffect
	for _, c := range [4]struct {
		at     [2]int
		weight float64
	}{
		{cell, (1 - u) * (1 - v)}, {[2]int{cell[0] + 1, cell[1]}, u * (1 - v)}, {[2]int{cell[0], cell[1] + 1}, (1 - u) * v},
		{[2]int{cell[0] + 1, cell[1] + 1}, u * v},
	} {
		n := f.node(c.at)
		if !n.ok {
			one, err := f.body.Under(f.planform, deck.Place{X: x, Z: z, Angle: f.angle})
			if err != nil {
				return DeckEffect{}
			}
			return effectOf(one)
		}
		corner := effectOf(n.effect)
		e.Low, e.High = e.Low.plus(corner.Low, c.weight), e.High.plus(corner.High, c.weight)
	}
	e.Known = true
	return e
}

func (e DeckEnd) plus(o DeckEnd, weight float64) DeckEnd {
	return DeckEnd{e.Lift + weight*o.Lift, e.NoseUp + weight*o.NoseUp, e.Rise + weight*o.Rise}
}

// prepare works out all places that positions need, on all processors.
func (f *deckField) prepare(places []Position) {
	wanted := map[[2]int]bool{}
	for i := range places {
		at, _, _ := deckCell(places[i].X*mm, places[i].Height*mm)
		for _, by := range [4][2]int{{0, 0}, {1, 0}, {0, 1}, {1, 1}} {
			wanted[[2]int{at[0] + by[0], at[1] + by[1]}] = true
		}
	}
	all := slices.Collect(maps.Keys(wanted))
	aero.OnAll(len(all), func(i int) { f.node(all[i]) })
}

// DeckFault says why body and width cannot be worked with; nil where they can, or are not given.
func (c *Car) DeckFault() error {
	if f := c.deckField(); f != nil {
		return f.err
	}
	return nil
}

// WhyNoDeck says why the lift on the body is not worked out for a row of a car whose body and width
// are given.
func (t *Table) WhyNoDeck(r *Row) error {
	f := t.field()
	switch {
	case f == nil:
		return nil
	case f.err != nil:
		return f.err
	}
	_, err := f.body.Under(f.planform, deck.Place{X: r.X * mm, Z: r.Height * mm, Angle: f.angle})
	return err
}

// Around completes a place that no setting has: with what the uprights of the row at hand do, and with
// what wing and body do to each other there.
func (t *Table) Around(p *Position, like *Row) {
	p.Struts, p.Deck = like.Struts, DeckEffect{}
	if f := t.field(); f != nil && f.err == nil {
		p.Deck = f.at(p.X*mm, p.Height*mm)
		p.Deck.Off = t.Car.TrackFit.Off(BodyPartOff)
	}
}

// decks gives places what wing and body do to each other there.
func (c *Car) decks(places []Position) {
	f := c.deckField()
	if f == nil || f.err != nil {
		return
	}
	f.prepare(places)
	for i := range places {
		places[i].Deck = f.at(places[i].X*mm, places[i].Height*mm)
		places[i].Deck.Off = c.TrackFit.Off(BodyPartOff)
	}
}
