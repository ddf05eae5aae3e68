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
// up to the stall or down to where the data end; ok is false where none does.
func (t *Table) TurnFor(r *Row, downforce float64) (by float64, ok bool) {
	const step = 0.25 * math.Pi / 180
	sign := 1.0
	if downforce < r.Downforce {
		sign = -1
	}
	if math.IsNaN(downforce - r.Downforce) {
		return 0, false
	}
	reaches := func(by float64) (reached, known bool) {
		x := t.Turned(r, by)
		return sign*(x.Downforce-downforce) >= 0, !math.IsNaN(x.Downforce) && !x.Stalled
	}
	lo := 0.0
	for hi := 0.0; math.Abs(hi) < math.Pi/3; hi += sign * step {
		reached, known := reaches(hi)
		if !known {
			return 0, false
		}
		if reached {
			for range 40 {
				if mid := (lo + hi) / 2; func() bool { ok, _ := reaches(mid); return ok }() {
					hi = mid
				} else {
					lo = mid
				}
			}
			return hi, true
		}
		lo = hi
	}
	return 0, false
}

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
