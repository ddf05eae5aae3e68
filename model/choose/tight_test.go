package choose_test

import (
	"math"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/given"
	"stanchion/model/modeltest"
)

// A limit that is kept by less than twice its uncertainty is named, one that is kept by more is not: the top by the
// tape's 2 mm and what the angle does to it, the stall margin by the budget's, against the stall itself where no
// limit is given.
func TestTightLimitsByHand(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	r := &table.Rows[choose.Start(table)]
	b := table.Budget(r)
	limits := func(l model.Limits) map[model.Limit]choose.Tight {
		car := *table.Car
		car.Limits, car.Body, car.Lid.Outline = l, nil, nil
		other := *table
		other.Car = &car
		found := map[model.Limit]choose.Tight{}
		for _, k := range choose.TightLimits(&other, r, &b) {
			found[k.Limit] = k
		}
		return found
	}
	// The highest point is so far behind the middle of the bolts as this turn says.
	turned := *r.Setting
	const small = 1e-4
	holes := table.Car.Parts[len(table.Car.Parts)-1].Holes
	var middle plane.Point
	pairs := r.Fits[len(r.Fits)-1].Pairs
	for _, p := range pairs {
		middle.X, middle.Z = middle.X+holes[p.Upper].X/float64(len(pairs)), middle.Z+holes[p.Upper].Z/float64(len(pairs))
	}
	turned.Pose = plane.About(r.Setting.Pose.Apply(middle), small).Then(r.Setting.Pose)
	at := table.Car.PositionOf(&turned)
	lever := (at.Top - r.Top) / small
	want := math.Hypot(2, lever*b.Contribution.Angle)
	for by, tight := range map[float64]bool{0.5: true, 1.9: true, 2.2: false} {
		k, is := limits(model.Limits{Top: given.Is(r.Top + by*want)})[model.LimitTop]
		if is != tight {
			t.Errorf("top %.1f of its %.2f mm below the limit: named %v", by, want, is)
		}
		if is && (math.Abs(k.StdUnc-want) > 0.03*want || k.Have != r.Top || math.Abs(k.Inside()-by) > 0.05*by) {
			t.Errorf("top: %+v, want ± %.2f mm", k, want)
		}
	}
	for by, tight := range map[float64]bool{0.5: true, 1.9: true, 2.1: false} {
		least := r.StallMargin - by*b.Margin
		k, is := limits(model.Limits{StallMargin: given.Is(least)})[model.LimitStall]
		if is != tight || is && (k.StdUnc != b.Margin || k.Allowed != least) {
			t.Errorf("stall margin %.1f of its ± above the limit: %v, %+v", by, is, k)
		}
	}
	if _, is := limits(model.Limits{})[model.LimitStall]; is != (r.StallMargin < 2*b.Margin) {
		t.Errorf("%.1f° ± %.1f° to the stall without a limit: %v", r.StallMargin/plane.Deg, b.Margin/plane.Deg, is)
	}
	if _, is := limits(model.Limits{Rear: given.Is(r.Rear + 100)})[model.LimitRear]; is {
		t.Error("100 mm to the rear limit are near it")
	}
}

// Which figure tells two settings apart.
func TestApartInByHand(t *testing.T) {
	a, b := &model.Row{}, &model.Row{}
	a.Downforce, b.Downforce, a.Share, b.Share = 400, 430, 0.5, 0.496
	for _, c := range []struct {
		force, share float64
		want         [2]choose.Clarity
	}{
		{10, 0.01, [2]choose.Clarity{choose.Clear, choose.NoClearDifference}},
		{31, 0.002, [2]choose.Clarity{choose.NoClearDifference, choose.Clear}},
		{20, 0.003, [2]choose.Clarity{choose.NotSure, choose.NotSure}},
		{math.NaN(), 0.001, [2]choose.Clarity{choose.NotKnown, choose.NotKnown}},
	} {
		force, share := choose.ApartIn(a, b, model.Contribution{Moved: model.Moved{Downforce: c.force, Share: c.share}})
		if force != c.want[0] || share != c.want[1] {
			t.Errorf("± %g N, ± %g: %v and %v, want %v", c.force, c.share, force, share, c.want)
		}
	}
}
