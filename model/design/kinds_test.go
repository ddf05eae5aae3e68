package design

import (
	"cmp"
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/modeltest"
)

// kinds are cars and wishes of each kind that a plate can be designed for.
var kinds = []struct {
	name string
	car  func(c *model.Car)
	wish func(w *Wish, rng *rand.Rand)
}{
	{"range", nil, nil},
	{"named", nil, func(w *Wish, rng *rand.Rand) {
		w.Angles, w.AngleWithin = []float64{0, w.High}, (0.2+0.3*rng.Float64())*plane.Deg
		for range rng.IntN(4) {
			w.Angles = append(w.Angles, rng.Float64()*w.High)
		}
	}},
	{"four parts", onChassis, nil},
	{"wing of three holes", threeHoles, nil},
	{"blank", nil, func(w *Wish, rng *rand.Rand) { w.Blank = Blank{250 + 200*rng.Float64(), 350 + 300*rng.Float64()} }},
	{"arc", onArc, func(w *Wish, _ *rand.Rand) { w.Heights, w.FootBolts = w.Heights[:1], 2 }},
}

// onChassis puts the bracket on a fixed part of its own, at heights 20 mm apart.
func onChassis(c *model.Car) {
	chassis := model.Part{Part: holes.Part{Name: "chassis"}}
	for row := range 3 {
		for i, x := range []float64{0, 60} {
			id := string(rune('a' + 2*row + i))
			chassis.Holes = append(chassis.Holes, holes.Hole{ID: id, X: x, Z: 20 * float64(row), D: 8.4})
		}
	}
	bracket := c.Parts[0]
	bracket.Holes = slices.Clone(bracket.Holes)
	for i := range bracket.Holes {
		bracket.Holes[i].Joint = c.Joints[0].Name
	}
	bracket.Holes = append(bracket.Holes, holes.Hole{ID: "u", X: 0, Z: -40, D: 8.4, Joint: "base"}, holes.Hole{ID: "v", X: 60, Z: -40, D: 8.4, Joint: "base"})
	base := c.Joints[0]
	base.Name, base.MinBolts = "base", 2
	c.Parts = append([]model.Part{chassis, bracket}, c.Parts[1:]...)
	c.Joints = append([]model.Joint{base}, c.Joints...)
	c.Fixed.Z += 40
}

// threeHoles gives the wing a hole between and ahead of its own.
func threeHoles(c *model.Car) {
	wing := &c.Parts[len(c.Parts)-1]
	wing.Holes = slices.Clone(wing.Holes)
	a, b := wing.Holes[0], wing.Holes[1]
	wing.Holes = append(wing.Holes, holes.Hole{ID: "M", X: a.X + 0.7*(b.X-a.X), Z: a.Z + 6, D: a.D})
}

// onArc gives the bracket a pivot and holes 4° apart on an arc about it.
func onArc(c *model.Car) {
	c.Parts = slices.Clone(c.Parts)
	bracket := &c.Parts[0]
	bracket.Holes = []holes.Hole{{ID: "P", D: 8.4}}
	for i := range 4 {
		sin, cos := math.Sincos(float64(4*i-6) * plane.Deg)
		bracket.Holes = append(bracket.Holes, holes.Hole{ID: "A" + string(rune('1'+i)), X: 300 * cos, Z: 300 * sin, D: 8.4})
	}
	c.Joints = slices.Clone(c.Joints)
	c.Joints[0].MinBolts = 2
}

func designed(t *testing.T, c *model.Car, w Wish, e effort) *Designed {
	t.Helper()
	d, err := design(context.Background(), c, w, e, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(d.Proposals) == 0 {
		t.Fatalf("no proposals: %d", d.Why)
	}
	for i := range d.Proposals {
		gives(t, &d.Proposals[i], d.Wish)
	}
	return d
}

// TestArcTurnsThePlate: a pivot and an arc of holes 4° apart take a plate with two holes at four angles, so that 0 to 12° by 4° want one front and
// one rear hole; that is what counting says too.
func TestArcTurnsThePlate(t *testing.T) {
	c := modeltest.Car(t, "coupe")
	onArc(c)
	d := designed(t, c, Wish{Heights: []float64{1240}, HeightWithin: 25, High: 12 * plane.Deg, Step: 4.2 * plane.Deg, EndWithin: 0.5 * plane.Deg, FootBolts: 2}, effort{30, 1})
	p := d.Proposals[0]
	if p.Foot != 2 || p.Fronts != 1 || p.Rears != 1 || d.Bound > p.Holes() || len(p.Tilts) < 4 {
		t.Errorf("%d holes at the foot, %d front and %d rear, tilted by %v; counting says %d", p.Foot, p.Fronts, p.Rears, p.Tilts, d.Bound)
	}
	// On rows, the same wish wants more.
	rows := modeltest.Car(t, "coupe")
	rows.Joints[0].MinBolts = 2
	if q := designed(t, rows, d.Wish, effort{30, 1}).Proposals[0]; q.Holes() <= p.Holes() {
		t.Errorf("%d holes on rows, %d on an arc", q.Holes(), p.Holes())
	}
}

// TestLowerJointSavesHoles: heights 20 mm apart, on rows 25 mm apart, want more holes at the foot than one for each bolt; with the bracket itself at
// heights 20 mm apart they do not.
func TestLowerJointSavesHoles(t *testing.T) {
	w := Wish{Heights: []float64{1240, 1260, 1280}, HeightWithin: 4, High: 0, Step: 4 * plane.Deg, EndWithin: plane.Deg}
	few := effort{20, 1}
	alone := designed(t, modeltest.Car(t, "coupe"), w, few)
	c := modeltest.Car(t, "coupe")
	onChassis(c)
	d := designed(t, c, w, few)
	if a, b := alone.Proposals[0].Foot, d.Proposals[0].Foot; a <= 4 || b != 4 || len(d.Places) != 3 || d.LowerWays != 3 {
		t.Errorf("%d holes at the foot on a fixed bracket, %d on one with %d of %d places", a, b, len(d.Places), d.LowerWays)
	}
	if p := d.Proposals[0].Plate(); p.Name != c.Parts[2].Name {
		t.Errorf("the plate is %q", p.Name)
	}
}

// TestWingPairs: of a wing with three holes the two are said that a plate was designed for; each pair is along the chord and longer ones come first.
func TestWingPairs(t *testing.T) {
	c := modeltest.Car(t, "coupe")
	threeHoles(c)
	f, err := newFrame(c, wanted())
	if err != nil {
		t.Fatal(err)
	}
	wing := c.Parts[2].Holes
	apart := func(p wingPair) float64 { return wing[p.front].At().Distance(wing[p.rear].At()) }
	if len(f.wingPairs) != 3 || !slices.IsSortedFunc(f.wingPairs, func(a, b wingPair) int { return cmp.Compare(apart(b), apart(a)) }) {
		t.Errorf("pairs %v", f.wingPairs)
	}
	d := designed(t, c, Wish{Heights: []float64{1250}, HeightWithin: 10, High: 5 * plane.Deg, Step: 5 * plane.Deg, EndWithin: 0.5 * plane.Deg}, effort{20, 1})
	for _, p := range d.Proposals {
		var front, rear plane.Point
		for _, h := range p.Car.Parts[2].Holes {
			switch h.ID {
			case p.WingHoles[0]:
				front = h.At()
			case p.WingHoles[1]:
				rear = h.At()
			}
		}
		if len(p.Car.Parts[2].Holes) != 3 || front.X >= rear.X || math.Abs(front.Distance(rear)-p.Pitch) > 1e-9 {
			t.Errorf("holes %v of %v, %g mm apart", p.WingHoles, p.Car.Parts[2].Holes, p.Pitch)
		}
	}
}
