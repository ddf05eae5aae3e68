package strength

import (
	"context"

	"stanchion/holes/plane"
	"stanchion/model"
)

// TellTurn is the change of the wing's angle under load from which it counts in a setting's figures, rad.
const TellTurn = 0.1 * plane.Deg

// TurnUnder returns by how much the plates turn the wing under the air of a row of a table, at the table's
// speed, and its weight, rad; ok is false where they cannot be solved, or not finely enough. It takes about
// a second for a setting that was not solved before.
func (f *Analysis) TurnUnder(ctx context.Context, t *model.Table, r *model.Row) (turn float64, ok bool, err error) {
	at := f.Table.RowAt(r.Position)
	res, err := f.Solve(ctx, at)
	if err != nil {
		return 0, false, err
	}
	if res.Solved == nil || len(res.Solved.Rigid) > 0 || res.Turn != res.Turn {
		return 0, false, nil
	}
	g := *f // the same plates, at the table's speed
	g.Table = t
	if loaded(r) != nil {
		return 0, false, nil
	}
	st := g.stance(r)
	_, bodies := g.bodies(st, cases[aloneCase])
	for part := range len(f.Car.Parts) - 1 {
		response, err := f.respond(ctx, st, part)
		if err != nil {
			return 0, false, err
		}
		turn += response.TurnUnder(g.onPlate(st, cases[aloneCase], part, bodies))
	}
	return turn / f.LoadFactor, true, nil
}
