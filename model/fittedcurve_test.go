package model_test

import (
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/mat"

	"stanchion/model"
	"stanchion/model/modeltest"
)

var ofTheCurve = map[string]model.Unknown{
	model.FromSlope: model.LiftFactor, model.FromMaxLift: model.MaxLiftFactor, model.FromSectionDrag: model.DragFactor, model.FromZeroLift: model.ZeroLiftOff,
	model.FromStallAngle: model.StallAngleOff, model.FromSurface: model.SurfaceOff, model.FromGurney: model.GurneyOff,
}

// fitOf is a fit with unknowns of the curve off by so many of their prior standard uncertainties.
func fitOf(t *testing.T, table *model.Table, times func() float64) *model.Estimate {
	t.Helper()
	var of []model.Unknown
	var value, variance []float64
	for _, u := range slices.Sorted(maps.Values(ofTheCurve)) {
		if p := table.Prior(u); p > 0 {
			x := times() * p
			switch u {
			case model.LiftFactor, model.MaxLiftFactor, model.DragFactor: // as [fit] may have them
				x = min(max(x, model.MinFit-1), model.MaxFit-1)
			}
			of, value, variance = append(of, u), append(value, x), append(variance, p*p)
		}
	}
	cov := mat.NewSymDense(len(of), nil)
	for i, v := range variance {
		cov.SetSym(i, i, v)
	}
	e, err := model.NewEstimate(of, value, cov)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// Whatever a fit finds of the curve within its prior, up to twice that: slope and zero lift are off by what it says, no
// setting that was 4° and more below its stall, less what the stall moves, is stalled, and no such setting's
// downforce moves by more than four times what the budget says of the same offsets. FIT_DRAWS=200 draws
// more.
func TestFittedCurveIsWhatTheFitSays(t *testing.T) {
	draws := 3
	if n, err := strconv.Atoi(os.Getenv("FIT_DRAWS")); err == nil && n > 0 {
		draws = n
	}
	for _, name := range []string{"coupe", "saloon", "roadster"} {
		table := modeltest.Table(t, name)
		random := rand.New(rand.NewPCG(3, uint64(len(name))))
		plain := table.Wing
		checked := 0
		for _, times := range []float64{0, 0.5, 1, 2} {
			for range draws {
				e := fitOf(t, table, func() float64 { return times * random.NormFloat64() })
				if times == 0 { // a common one, which left a dip before the stall once
					for i, u := range e.Of {
						e.Value[i] = map[model.Unknown]float64{model.LiftFactor: 0.00115, model.MaxLiftFactor: -0.02669, model.StallAngleOff: 0.403633 * math.Pi / 180, model.SurfaceOff: -0.193657}[u]
					}
				}
				car := table.Car.Fitted(e)
				w, err := car.SolveWing(table.Speed)
				if err != nil {
					t.Fatal(err)
				}
				off := func(u model.Unknown) float64 { return car.TrackFit.Off(u) }
				zero := plain.ZeroLift - off(model.ZeroLiftOff) - off(model.GurneyOff)*plain.GurneyZero
				if slope := plain.Slope * (1 + off(model.LiftFactor)); math.Abs(w.Slope/slope-1) > 1e-9 || math.Abs(w.ZeroLift-zero) > 1e-9 {
					t.Errorf("%s, %v: slope %.4f per rad from %.5f rad, want %.4f from %.5f", name, e.Value, w.Slope, w.ZeroLift, slope, zero)
				}
				// and the points themselves have them
				if z, slope := w.Curve.Straight(); math.Abs(slope/w.Slope-1) > 0.05 || math.Abs(z-w.ZeroLift) > 0.01 {
					t.Errorf("%s, %v: the curve's points have slope %.4f per rad from %.5f rad, the fit says %.4f from %.5f", name, e.Value, slope, z, w.Slope, w.ZeroLift)
				}
				after := model.NewTable(car, nil, w, table.Speed)
				for i := range table.Rows {
					r := &table.Rows[i]
					moved := math.Max(0, table.StallAt(r.Position)-after.StallAt(r.Position))
					if math.IsNaN(r.Downforce) || !(r.StallMargin > 0.07+moved) {
						continue
					}
					checked++
					now := after.RowAt(r.Position)
					if now.StallMargin < 0 {
						t.Errorf("%s, %v: %s is stalled, its margin was %.1f°", name, e.Value, r.ID, r.StallMargin*180/math.Pi)
					}
					linear := 0.0
					for _, p := range table.Budget(r).Parts {
						if u, ok := ofTheCurve[p.What]; ok {
							linear += math.Abs(p.Moved.Downforce * off(u) / table.Prior(u))
						}
					}
					if by := math.Abs(now.Downforce - r.Downforce); by > 4*linear+1 {
						t.Errorf("%s, %v: %s makes %.0f N, %.0f N before: ±%.0f N is what the budget has", name, e.Value, r.ID, now.Downforce, r.Downforce, linear)
					}
				}
			}
		}
		if checked < 20 {
			t.Errorf("%s: %d settings checked", name, checked)
		}
		t.Logf("%s: %d settings of fits", name, checked)
	}
}
