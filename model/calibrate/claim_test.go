package calibrate_test

import (
	"math"
	"testing"

	"stanchion/model"
	"stanchion/model/calibrate"
	"stanchion/model/given"
	"stanchion/model/modeltest"
)

// By hand: 1200 N on 0.35 m² in air of 1.204 kg/m³ needs CL = 1200/(½·1.204·v²·0.35),
// 2.28 at 50 m/s.
func TestClaim(t *testing.T) {
	c := modeltest.Plain(t)
	c.Claim = model.Claim{Downforce: given.Is(1200)}
	a, err := calibrate.CheckClaim(c, []float64{30, 50, 60, 63, 66, 70, 80})
	if err != nil {
		t.Fatal(err)
	}
	rho := c.Air.Density()
	for _, r := range a.Rows {
		if want := 1200 / (0.5 * rho * r.Speed * r.Speed * 0.35); math.Abs(r.Needed-want) > 1e-9 {
			t.Errorf("%.0f m/s needs CL %.4f, want %.4f", r.Speed, r.Needed, want)
		}
	}
	// The curve's top is 0.075·17 + 0.1875 = 1.4625 at 17°: 50 m/s (2.28) is not
	// credible, 70 m/s (1.16) is.
	if a.Rows[1].Credible() || !a.Rows[5].Credible() {
		t.Errorf("50 m/s credible %v, 70 m/s %v", a.Rows[1].Credible(), a.Rows[5].Credible())
	}
	// By hand: 1.05·1.4625 is needed at √(1200/(½·1.2041·0.35·1.5356)) = 60.9 m/s,
	// 0.8·1.4625 at 69.8 m/s.
	if math.Abs(a.Likely[0]-60.9) > 0.1 || math.Abs(a.Likely[1]-69.8) > 0.1 {
		t.Errorf("likely %.1f to %.1f m/s, want 60.9 to 69.8", a.Likely[0], a.Likely[1])
	}
	// Two standard uncertainties above it, 1.10·1.4625, at 60.9·√(1.05/1.10) = 59.5 m/s.
	if math.Abs(a.From-59.5) > 0.1 {
		t.Errorf("not credible below %.1f m/s, want 59.5", a.From)
	}
}

// By hand: 135 kW on 0.64 m² in air of 1.204 kg/m³ are ∛(270000/(1.204·0.64)) = 70.5 m/s, uncertain by a third of
// √(10² + 5²) = 11.2 %, 2.6 m/s.
func TestTopOf(t *testing.T) {
	c := modeltest.Plain(t)
	c.Uncertainty.Power, c.Uncertainty.DragArea = 0.10, 0.05
	c.Power, c.DragArea, c.DesignSpeed = given.Is(135000), given.Is(0.64), given.Is(75)
	top := calibrate.TopOf(c)
	if math.Abs(top.Speed-70.5) > 0.1 || math.Abs(top.StdUnc-2.6) > 0.05 || top.By != calibrate.TopByPower || top.Below(73) || !top.Below(73.3) {
		t.Errorf("by power and drag area: %+v", top)
	}
	c.Power = given.Number{}
	if top = calibrate.TopOf(c); top.Speed != 75 || top.By != calibrate.TopByDesign || top.Below(75) || !top.Below(75.1) {
		t.Errorf("by the design speed: %+v", top)
	}
	c.DesignSpeed = given.Number{}
	if top = calibrate.TopOf(c); math.Abs(top.Speed*3.6-280) > 1e-9 || top.By != calibrate.TopAsUsual {
		t.Errorf("not known: %+v", top)
	}
}
