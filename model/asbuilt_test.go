package model_test

import (
	"math"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/modeltest"
)

// TestSidesByHand: the lever's bracket has its holes 100 mm apart. With the left rear one 0.4 mm higher than drawn, the left side has atan(0.4/100) = 0.2292° more, and
// the wing, by the mean of the sides, half of that.
func TestSidesByHand(t *testing.T) {
	c := modeltest.Lever(t, 0)
	before := modeltest.TableOf(t, c).Rows[0]
	c.Parts[0].Holes[1].Z = 0.2
	c.Parts[0].Built = map[string]model.AsBuilt{"q": {Drawn: plane.Point{X: 100}, Left: plane.Point{X: 100, Z: 0.4}, Right: plane.Point{X: 100}, LeftMeasured: true}}
	after := modeltest.TableOf(t, c).Rows[0]
	s := c.Sides(after.Setting)
	if twist := s.Twist() / plane.Deg; math.Abs(twist-0.2292) > 1e-4 {
		t.Errorf("twist %.4f°", twist)
	}
	if more := (after.Angle - before.Angle) / plane.Deg; math.Abs(more-0.1146) > 1e-4 {
		t.Errorf("the wing has %.4f° more", more)
	}
	// The bracket's holes are below the wing's by nothing: its quarter chord is 62.5 mm of 250 behind the leading edge, and its bolts are where Lever puts them.
	front := c.Parts[1].Holes[0].At()
	arm := c.Wing.Chord/4 - (front.X + 50) // mm behind the middle of the bolts, about which half of 0.4 mm is lifted
	if up := s.Higher(); math.Abs(up-(0.2+arm*0.4/100)) > 0.01 {
		t.Errorf("left %.3f mm higher, want %.3f", up, 0.2+arm*0.4/100)
	}
	if drawn := c.Parts[0].AsDrawn(); drawn.Holes[1].Z != 0 || c.Parts[0].Holes[1].Z != 0.2 {
		t.Errorf("drawn at %v", drawn.Holes[1])
	}
	if after.Breaks() || s.Left.Joint >= 0 {
		t.Errorf("bolts do not go in: %+v", after.Breaches)
	}
}

// TestBoltsThatDoNotGoInOnOneSide: a hole that is further back on the right by the clearances of both bolts and 0.5 mm
// misses by that.
func TestBoltsThatDoNotGoInOnOneSide(t *testing.T) {
	c := modeltest.Lever(t, 0)
	j := c.Joints[0]
	clearance := 2 * ((c.Parts[0].Holes[0].D+c.Parts[1].Holes[0].D)/2 - j.Shank)
	c.Parts[0].Holes[1].X += 0.3
	far := 100 + clearance + 0.5
	c.Parts[0].Built = map[string]model.AsBuilt{"q": {Drawn: plane.Point{X: 100}, Left: plane.Point{X: 100}, Right: plane.Point{X: far}, RightMeasured: true}}
	r := modeltest.TableOf(t, c).Rows[0]
	if len(r.Breaches) != 1 || r.Breaches[0].Limit != model.LimitBuilt || r.Breaches[0].From != "right" || math.Abs(r.Breaches[0].Have-0.5) > 1e-6 {
		t.Errorf("breaches %+v, want 0.5 mm on the right", r.Breaches)
	}
}
