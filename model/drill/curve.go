package drill

import (
	"context"
	"math"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
)

// Curve is where a new hole of a part can be so that the part above goes on with one bolt through a hole
// that exists and one through the new one: an arc about the existing hole.
type Curve struct {
	Part    int
	Partner int // the existing hole of the part
	Through int // the hole of the part above whose bolt goes into the partner
	Moving  int // the hole of the part above whose bolt goes into the new hole
}

// Curves lists the curves for a new hole of a part, by its holes: of holes that the joint may use and
// that take its bolt, each with every two holes of the part above.
func Curves(c *model.Car, part int) []Curve {
	var all []Curve
	if part < 0 || part >= len(c.Joints) {
		return nil
	}
	joint, upper := c.Joints[part], c.Parts[part+1].Holes
	for p, h := range c.Parts[part].Holes {
		if h.Joint != "" && h.Joint != joint.Name || !h.Takes(joint.Shank) {
			continue
		}
		for u := range upper {
			for v := range upper {
				if u != v && upper[u].At().Distance(upper[v].At()) > joint.Shank {
					all = append(all, Curve{part, p, u, v})
				}
			}
		}
	}
	return all
}

// At is the place of the new hole for a turn of the part above against this one, rad: with a the arm
// from the one bolt to the other in the part above, partner + turned(a).
func (k Curve) At(c *model.Car, turn float64) plane.Point {
	upper := c.Parts[k.Part+1].Holes
	arm := upper[k.Moving].At().Sub(upper[k.Through].At())
	return c.Parts[k.Part].Holes[k.Partner].At().Add(plane.Pose{Turn: turn}.Apply(arm))
}

// Nearest is the turn at which the curve comes nearest to a place, and how far it misses it there, mm.
func (k Curve) Nearest(c *model.Car, at plane.Point) (turn, off float64) {
	upper := c.Parts[k.Part+1].Holes
	arm := upper[k.Moving].At().Sub(upper[k.Through].At())
	to := at.Sub(c.Parts[k.Part].Holes[k.Partner].At())
	return plane.Wrap(to.Angle() - arm.Angle()), math.Abs(to.Length() - arm.Length())
}

// Holds is how a place on a curve stands.
type Holds int

// How places stand.
const (
	TooNear     Holds = iota // a rule about edges or spacing is broken
	AddsNothing              // it can be drilled and gives nothing that there is not
	NewStep                  // it can be drilled and gives a setting that can be told from all that exist
)

// Place is one place along a curve.
type Place struct {
	Turn  float64 // rad, of the part above
	Angle float64 // rad, of the chord to the ground, with the joints below as they are
	Holds Holds
}

// Along judges places along a curve, from one turn to another, n of them. lean is what the angle to the ground
// is over the turn.
func (k Curve) Along(ctx context.Context, e *Existing, hole holes.Hole, from, to, lean float64, n int) ([]Place, error) {
	places := make([]Place, n)
	for i := range places {
		turn := from
		if n > 1 {
			turn += (to - from) * float64(i) / float64(n-1)
		}
		at := k.At(e.Table.Car, turn)
		hole.X, hole.Z = at.X, at.Z
		places[i] = Place{Turn: turn, Angle: turn + lean}
		if _, broken := Broken(HoleRules(&e.Table.Car.Parts[k.Part], hole)); broken {
			continue
		}
		useful, err := e.usefulCount(ctx, NewHole{k.Part, hole})
		if err != nil {
			return nil, err
		}
		places[i].Holds = AddsNothing
		if useful > 0 {
			places[i].Holds = NewStep
		}
	}
	return places, nil
}
