package model

import "math"

// Turned returns the row of a place with the wing turned further by an angle in rad about its
// quarter chord, as if a hole were there for it.
func (t *Table) Turned(r *Row, by float64) *Row {
	p := *r.Position
	p.Angle += by
	return t.RowAt(&p)
}

// TurnFor returns the least turn in rad from a row at which the wing makes so much downforce, N,
// up to the stall; ok is false where none does.
func (t *Table) TurnFor(r *Row, downforce float64) (by float64, ok bool) {
	up := downforce > r.Downforce
	lo, hi := 0.0, r.StallMargin
	if !up {
		lowest, _ := t.Wing.Curve.Range()
		hi = lowest - r.Attack + rounding
	}
	if math.IsNaN(hi) || math.IsNaN(downforce-r.Downforce) || up && hi <= 0 {
		return 0, false
	}
	reaches := func(by float64) bool {
		d := t.Turned(r, by).Downforce
		return up && d >= downforce || !up && d <= downforce
	}
	if !reaches(hi) {
		return 0, false
	}
	for range 50 {
		if mid := (lo + hi) / 2; reaches(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi, true
}

// rounding is an angle by which to stay within the data, rad.
const rounding = 1e-9

// WithGurney returns the table of the same places for a wing with another Gurney flap, mm high; 0
// for none. The error says why there is none.
func (t *Table) WithGurney(mmHigh float64) (*Table, error) {
	car := *t.Car
	car.Wing = car.Wing.WithGurney(mmHigh)
	w, err := car.SolveWing(t.Speed)
	if err != nil {
		return nil, err
	}
	places := make([]Position, len(t.Rows))
	for i := range t.Rows {
		places[i] = *t.Rows[i].Position
	}
	with := NewTable(&car, places, w, t.Speed)
	with.naming = t.naming
	return with, nil
}
