package design

import (
	"context"
	"math"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/given"
)

// Where the front holes may be, fore and aft.
const (
	reach = 140.0 // mm either way of the middle of the foot, for the middle between the wing's bolts
	slide = 20.0  // mm, by which places are tried
	room  = 80.0  // mm, that the front holes have
)

// foreAndAft returns where in the plate's frame the front holes may be: as wished, or where the wing keeps most limits of place
// (gap to body and lid, opening of the lid, top, rear) at its least, middle and greatest angle, as near over the foot as goes. The plate tried
// is the hull of the foot and those holes.
func (f *frame) foreAndAft(ctx context.Context, t foot) (lo, hi float64, err error) {
	if lo, hi, ok := f.besideKept(); ok {
		return lo, hi, nil
	}
	if x, given := f.wish.Behind.Get(); given {
		at := f.ground.Inverse().Apply(plane.Point{X: x, Z: f.wish.Heights[0]})
		return at.X - f.wish.BehindWithin, at.X + f.wish.BehindWithin, nil
	}
	middle := middleOf(t.holes).X - f.pitch/2
	if !f.limited() {
		return middle - room/2, middle + room/2, nil
	}
	n := int(2*reach/slide) + 1
	if f.curve, err = f.car.SolveWing(f.car.Speed); err != nil {
		return 0, 0, err
	}
	broken := make([]int, n)
	for i := range broken {
		if err := ctx.Err(); err != nil {
			return 0, 0, err
		}
		if broken[i], err = f.broken(t, middle-reach+float64(i)*slide); err != nil {
			return 0, 0, err
		}
	}
	wide := int(room / slide)
	best, least, far := 0, math.MaxInt, math.Inf(1)
	for i := 0; i+wide < n; i++ {
		sum := 0
		for _, b := range broken[i : i+wide+1] {
			sum += b
		}
		off := math.Abs(-reach + (float64(i)+float64(wide)/2)*slide)
		if sum < least || sum == least && off < far {
			best, least, far = i, sum, off
		}
	}
	lo = middle - reach + float64(best)*slide
	return lo, lo + room, nil
}

// limited reports whether the car has limits that the place of the wing can break.
func (f *frame) limited() bool {
	l := f.car.Limits
	return l.Top.Known() || l.Rear.Known() || l.Gap.Known() || l.Overhang.Known() || l.LidOpening.Known()
}

// broken counts the settings that break a limit of place with a front hole at x of the plate's frame.
func (f *frame) broken(t foot, x float64) (int, error) {
	mid := (f.wish.Low + f.wish.High) / 2
	p := pattern{frame: f, foot: t}
	for l, h := range f.wish.Heights[:1] {
		s := t.stands[l]
		z := (h - f.heightOf(s.Apply(plane.Point{X: x}), mid)) / math.Cos(f.lean()+s.Turn)
		front := plane.Point{X: x, Z: z}
		p.head.fronts = []plane.Point{front}
		for _, a := range []float64{f.wish.Low, mid, f.wish.High} {
			p.head.rears = append(p.head.rears, f.rearOf(front, a))
		}
	}
	car := p.car()
	car.BodyWidth = given.Number{} // what the body does to the air takes long and moves nothing
	places, err := car.Positions()
	if err != nil {
		return 0, err
	}
	table := model.NewTable(car, places, f.curve, car.Speed)
	n := 0
	for i := range table.Rows {
		for _, b := range table.Rows[i].Breaches {
			if b.Limit != model.LimitStall {
				n++
			}
		}
	}
	return n, nil
}
