// Package card answers: what stands on the card of a setting that is taped to the toolbox, and which settings get one? It
// holds the data of the cards; model/drawing puts them on paper and into a page for the phone.
package card

import (
	"context"
	"errors"
	"strings"
	"time"

	"stanchion/model"
	"stanchion/model/figures"
	"stanchion/model/hardware"
	"stanchion/model/strength"
	"stanchion/model/units"
	"stanchion/model/words"
)

// Set is the cards of a car that belong together, and what stands over them.
type Set struct {
	Car     string
	Air     string // at which speed and in which air
	Date    time.Time
	Units   units.System
	Table   *model.Table
	Assumed []words.NamedText
	Cards   []Card
	Heads   []string // of Over, with units
	Over    []Line   // all settings in question, those below in one place together
	Left    string   // which have no card, and how to get one; "" for none
	Checked string   // whether strength is, and for which speed
}

// Line is a setting in the overview.
type Line struct {
	Row   *model.Row
	Group string   // its lower joints' way of bolting
	Cells []string // one for each head
	Bolts string
	Marks string
	Card  bool // it has a card of its own
}

// Card is what stands on the card of one setting.
type Card struct {
	Row      *model.Row
	Title    string
	Marks    []string // across the card
	Against  []string // limits that it breaks, figures that are not known
	Joints   []Joint
	Set      []words.NamedText // what level, tape and gap gauge must read
	Does     []words.NamedText // what it does to the car
	Under    string            // what the plates' give does at speed; "" where it counts for nothing
	Sure     string
	Strength string
	Ticks    []string
	ID       string
}

// Joint is a joint on one side of the car.
type Joint struct{ Name, Holes, Bolts, Torque string }

// Wish is what cards are wanted of.
type Wish struct {
	Rows  []*model.Row // all in question
	Cards []*model.Row // those with a card of their own
	Over  int          // how many the overview lists at most: where there are more, those with a card
	Date  time.Time
	Units units.System
	File  string // as it was named, for what is left out
}

// Of makes the cards. The plates of each card's setting are solved, which takes about a second each; a done context
// ends it.
func Of(ctx context.Context, t *model.Table, w Wish) (*Set, error) {
	u := w.Units
	s := &Set{Car: t.Car.Name, Air: words.CardAir(t, u), Date: w.Date, Units: u, Table: t}
	for _, a := range t.Car.Assumed {
		s.Assumed = append(s.Assumed, words.NamedText{Name: a.What, Text: a.Value})
	}
	f, why := strength.Single(t.Car)
	s.Checked = words.CardsChecked(f, why, u)
	own := map[string]bool{}
	for _, r := range w.Cards {
		c, err := one(ctx, t, r, f, why, u)
		if err != nil {
			return nil, err
		}
		s.Cards = append(s.Cards, c)
		own[r.ID] = true
	}
	s.Heads = []string{"angle, °", "height, " + u.LengthUnit(), "downforce, " + u.ForceUnit(), "front share, %"}
	for _, r := range w.Rows {
		if len(w.Rows) > w.Over && !own[r.ID] {
			continue
		}
		if f != nil {
			_, _ = f.Enough(ctx, f.Table.RowAt(r.Position)) // the marks say what it found, or that it did not
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		s.Over = append(s.Over, line(t, r, f, u, own[r.ID]))
	}
	var left []string
	for _, r := range w.Rows {
		if !own[r.ID] {
			left = append(left, t.Name(r.Setting))
		}
	}
	s.Left = words.CardsLeft(left, len(w.Rows), w.File)
	return s, nil
}

func one(ctx context.Context, t *model.Table, r *model.Row, f *strength.Analysis, why error, u units.System) (Card, error) {
	c := Card{Row: r, Title: words.CardTitle(t, r), Against: words.Outside(r, u), ID: r.ID}
	if f != nil {
		turn, ok, err := f.TurnUnder(ctx, t, r)
		if errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
			return c, err
		}
		if ok {
			c.Under = words.UnderLoad(t, r, turn, u)
		}
	}
	c.Marks = words.CardMarks(f, t, r, u)
	c.Strength = "Strength " + words.Strength(f, why, r.Position, t.Speed, u)
	through := map[string]string{}
	for i, j := range t.Car.Joints {
		through[j.Name] = words.JointHoles(t.Car, r.Setting, i)
	}
	for _, j := range hardware.Of(t.Car, *r.Setting) {
		if j.Name != model.ChassisJoint { // it stays as it is, whatever the setting
			c.Joints = append(c.Joints, Joint{j.Name, through[j.Name], words.BoltOf(j, u), words.TorqueOf(f, j, u)})
		}
	}
	c.Set, c.Does, c.Sure = words.ToSet(t, r, u), words.DoesToCar(t, r, u), words.HowSure(t, r)
	c.Ticks = words.CardTicks(f, t, r, u)
	return c, nil
}

func line(t *model.Table, r *model.Row, f *strength.Analysis, u units.System, own bool) Line {
	l := Line{Row: r, Card: own, Bolts: strings.Join(words.BoltsInShort(t.Car, r.Setting), "; "),
		Marks: strings.Join(words.CardMarks(f, t, r, u), ", ")}
	l.Group, _ = t.NameParts(r.Setting)
	angle := figures.Get(figures.GroundAngle)
	l.Cells = append(l.Cells, angle.Spell(angle.Of(t, r), u))
	for _, k := range []figures.Key{figures.Height, figures.Downforce, figures.FrontShare} {
		l.Cells = append(l.Cells, words.BareFigure(t, r, figures.Get(k), u))
	}
	return l
}

// Titles are what the cards are of.
func (s *Set) Titles() []string {
	var all []string
	for i := range s.Cards {
		all = append(all, s.Table.Name(s.Cards[i].Row.Setting))
	}
	return all
}
