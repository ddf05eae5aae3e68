package model

import (
	"math"
	"testing"

	"stanchion/aero/deck"
	"stanchion/holes/plane"
	"stanchion/model/given"
)

// By hand: attached with a solid wake 0.60 of the downforce; a wake that yields leaves 0.45, a
// separated deck 0.20: that is the low end. Where the yielding wake even pushes down, it is.
func TestEndsOfTheDeck(t *testing.T) {
	e := effectOf(deck.Effect{Solid: deck.Reaction{Lift: 0.60, NoseUp: -0.12, Rise: 0.09}, Free: deck.Reaction{Lift: 0.45, NoseUp: -0.10, Rise: 0.08}})
	if !e.Known || math.Abs(e.Low.Lift-0.20) > 1e-12 || math.Abs(e.Low.NoseUp+0.04) > 1e-12 || math.Abs(e.Low.Rise-0.03) > 1e-12 || e.High.Lift != 0.60 {
		t.Errorf("over the deck %+v", e)
	}
	if mid := e.At(deckPart); math.Abs(mid.Lift-0.40) > 1e-12 || math.Abs(mid.NoseUp+0.08) > 1e-12 || math.Abs(mid.Rise-0.06) > 1e-12 {
		t.Errorf("middle %+v", mid)
	}
	e = effectOf(deck.Effect{Solid: deck.Reaction{Lift: 0.16, Rise: 0.12}, Free: deck.Reaction{Lift: -0.19, Rise: -0.17}})
	if e.Low.Lift != -0.19 || e.Low.Rise != -0.17 || e.High.Lift != 0.16 {
		t.Errorf("behind the tail %+v", e)
	}
}

// Between the places that are worked out straight lines lie within 0.006 of the downforce of what is worked
// out there, and every place of a list gets the same as one on its own.
func TestDeckBetweenPlaces(t *testing.T) {
	c := &Car{
		Body:      []plane.Point{{X: -900, Z: 1262}, {X: -450, Z: 1270}, {X: 40, Z: 1046}, {X: 560, Z: 978}, {X: 600, Z: 640}, {X: -900, Z: 640}},
		BodyWidth: given.Is(1560), Wing: Wing{Span: 1480, Chord: 280},
	}
	f := c.deckField()
	if f == nil {
		t.Fatal("no field")
	}
	places := []Position{{X: 420, Height: 1225}, {X: 433, Height: 1268}, {X: 475, Height: 1310}}
	c.decks(places)
	for _, p := range places {
		one, err := f.body.Under(f.planform, deck.Place{X: p.X * mm, Z: p.Height * mm, Angle: usualAngle})
		if err != nil {
			t.Fatal(err)
		}
		want := effectOf(one)
		for what, pair := range map[string][2]float64{
			"most": {p.Deck.High.Lift, want.High.Lift}, "least": {p.Deck.Low.Lift, want.Low.Lift}, "rise": {p.Deck.High.Rise, want.High.Rise},
			"moment": {p.Deck.High.NoseUp, want.High.NoseUp},
		} {
			if math.Abs(pair[0]-pair[1]) > 0.006 {
				t.Errorf("%.0f, %.0f mm: %s %.4f, worked out there %.4f", p.X, p.Height, what, pair[0], pair[1])
			}
		}
	}
	if low, high := places[0].Deck.High.Lift, places[2].Deck.High.Lift; !(high < low) {
		t.Errorf("higher up the lift on the body is %.3f, lower down %.3f", high, low)
	}
	// Within the body nothing is known; without a width neither.
	buried := []Position{{X: -300, Height: 900}}
	c.decks(buried)
	if buried[0].Deck.Known {
		t.Errorf("within the body: %+v", buried[0].Deck)
	}
	c.BodyWidth = given.Number{}
	if c.HasDeck() || c.deckField() != nil {
		t.Error("a body without a width is worked out")
	}
}

func BenchmarkDeckOfABody(b *testing.B) {
	body := deck.Body{Width: 1.56, Profile: []deck.Point{{X: -0.9, Z: 1.262}, {X: -0.45, Z: 1.27}, {X: 0.04, Z: 1.046}, {X: 0.56, Z: 0.978}, {X: 0.6, Z: 0.64}}}
	for b.Loop() {
		if _, err := deck.New(body); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDeckAtAPlace(b *testing.B) {
	body := deck.Body{Width: 1.56, Profile: []deck.Point{{X: -0.9, Z: 1.262}, {X: -0.45, Z: 1.27}, {X: 0.04, Z: 1.046}, {X: 0.56, Z: 0.978}, {X: 0.6, Z: 0.64}}}
	d, err := deck.New(body)
	if err != nil {
		b.Fatal(err)
	}
	w := Wing{Span: 1480, Chord: 280, Plate: EndPlate{Length: 320, Height: 200, Ahead: 20}}
	for b.Loop() {
		if _, err := d.Under(w.planform(), deck.Place{X: 0.42, Z: 1.25, Angle: usualAngle}); err != nil {
			b.Fatal(err)
		}
	}
}
