package calibrate

import (
	"math"
	"testing"

	"stanchion/model"
	"stanchion/model/given"
	"stanchion/model/modeltest"
)

// A prediction is kept in degrees and percent.
func TestExpectedByHand(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	r := &table.Rows[3]
	e, b := Expected(table, r), table.Budget(r)
	for what, pair := range map[string][2]float64{
		"height": {e.Height, r.Height}, "angle": {e.Angle, r.Angle * 180 / math.Pi}, "CL": {e.CL, r.CL}, "downforce": {e.Downforce, r.Downforce}, "its ±": {e.DownforceStdUnc, b.Downforce},
		"drag": {e.Drag, r.Drag}, "its ±, too": {e.DragStdUnc, b.Drag}, "share": {e.Share, r.Share * 100}, "shift": {e.Shift, r.Shift * 100},
	} {
		if math.Abs(pair[0]-pair[1]) > 1e-12 {
			t.Errorf("%s %g, want %g", what, pair[0], pair[1])
		}
	}
}

// By hand for a maximum CL of 1.4625 on 0.35 m² in that air: 1000 N need 1.05 of it at 55.6 m/s and
// 0.8 of it at 63.7 m/s; at the maker's own 60 m/s CL 1.318, 0.901 of the maximum. Speeds that leave
// out both ends name no range; one end is enough.
func TestClaimByHand(t *testing.T) {
	car := modeltest.Plain(t)
	car.Claim = model.Claim{Downforce: given.Is(1000), Speed: given.Is(60)}
	for _, c := range []struct {
		from, to float64
		known    bool
	}{{30, 90, true}, {30, 56, true}, {63, 90, true}, {30, 55, false}, {64, 90, false}} {
		a, err := CheckClaim(car, []float64{c.from, c.to})
		if err != nil {
			t.Fatal(err)
		}
		if c.known == math.IsNaN(a.Likely[0]) || c.known && (math.Abs(a.Likely[0]-55.58) > 0.02 || math.Abs(a.Likely[1]-63.67) > 0.02) {
			t.Errorf("%g to %g m/s: likely %.2f to %.2f", c.from, c.to, a.Likely[0], a.Likely[1])
		}
		if len(a.Rows) != 2 || math.Abs(a.ImpliedCL-1.3182) > 1e-3 || math.Abs(a.ImpliedFactor-0.9014) > 1e-3 || !a.ImpliedCredible {
			t.Errorf("implied CL %.4f, factor %.4f, credible %v", a.ImpliedCL, a.ImpliedFactor, a.ImpliedCredible)
		}
	}
	car.Claim.Speed = given.Number{}
	if a, err := CheckClaim(car, []float64{30, 90}); err != nil || !math.IsNaN(a.ImpliedCL) || !math.IsNaN(a.ImpliedFactor) || a.ImpliedCredible {
		t.Errorf("without a speed: %+v, %v", a, err)
	}
	car.Claim.Speed = given.Is(45) // needs CL 2.34
	if a, err := CheckClaim(car, []float64{30, 90}); err != nil || a.ImpliedCredible {
		t.Errorf("at 45 m/s: %+v, %v", a, err)
	}
}
