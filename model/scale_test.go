package model

import (
	"math"
	"strings"
	"testing"

	"stanchion/aero"
	"stanchion/holes/plane"
	"stanchion/model/given"
)

// With its speed, a credible claim scales the curve to the maker's lift; one
// that no wing can keep does not.
func TestClaimScales(t *testing.T) {
	c := plainTable(t, 0).Car
	polar := *c.Wing.Table
	c.Wing.Table, c.Wing.Polar, c.Wing.Source = nil, &polar, "p.csv"
	plain, err := c.SolveWing(50)
	if err != nil {
		t.Fatal(err)
	}
	q := 0.5 * c.Air.Density() * 50 * 50
	c.Claim = Claim{Downforce: given.Is(0.9 * plain.MaxLift * q * 0.35), Speed: given.Is(50)}
	scaled, err := c.SolveWing(50)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(scaled.MaxLift/plain.MaxLift-0.9) > 1e-3 {
		t.Errorf("largest lift %.3f, want 0.9 of %.3f", scaled.MaxLift, plain.MaxLift)
	}
	c.Claim.Downforce = given.Is(4 * c.Claim.Downforce.Value())
	wild, err := c.SolveWing(50)
	if err != nil {
		t.Fatal(err)
	}
	if wild.MaxLift != plain.MaxLift || len(wild.Notes) == 0 {
		t.Errorf("an incredible claim changes the largest lift to %.3f (%q)", wild.MaxLift, wild.Notes)
	}
}

// By hand, at 8° where CL is 0.975 and CD 0.06253, of which CL²/(π·5.6) = 0.05403 is induced:
// 0.8 of the downforce leaves 0.06253 − 0.36·0.05403 = 0.04308; 1.2 of the drag is 0.07504,
// or 0.05169 with both. The moment goes with the lift.
func TestTrackFitByHand(t *testing.T) {
	for _, c := range []struct {
		down, drag   Scale
		cl, cd, cm   float64
		says, saysNo string
	}{
		{NoScale(), NoScale(), 0.975, 0.06253, -0.09, "", "FITTED"},
		{Scale{0.8, 0.05}, NoScale(), 0.78, 0.04308, -0.072, "downforce × 0.80 ± 0.05", "drag"},
		{NoScale(), Scale{1.2, 0.1}, 0.975, 0.07504, -0.09, "drag × 1.20 ± 0.10", "downforce"},
		{Scale{0.8, 0.05}, Scale{1.2, 0.1}, 0.78, 0.05169, -0.072, "downforce × 0.80 ± 0.05 drag × 1.20 ± 0.10", "NaN"},
	} {
		car := plainTable(t, 0).Car
		car.TrackFit = TrackFit{Downforce: c.down, Drag: c.drag}
		w, err := car.SolveWing(45)
		if err != nil {
			t.Fatal(err)
		}
		k, _ := w.Curve.At(8 * plane.Deg)
		if math.Abs(k.CL-c.cl) > 1e-5 || math.Abs(k.CD-c.cd) > 1e-5 || math.Abs(k.CM-c.cm) > 1e-9 {
			t.Errorf("%v, %v: %+v, want %g, %g, %g", c.down, c.drag, k, c.cl, c.cd, c.cm)
		}
		if !strings.Contains(w.From, c.says) || strings.Contains(w.From, c.saysNo) {
			t.Errorf("%v, %v: it says %q", c.down, c.drag, w.From)
		}
	}
}

// Where a table gives less drag than the induced alone, at most nine tenths of it are taken
// as induced: of 0.02, 0.018; with 0.5 of the lift 0.02 − 0.75·0.018 = 0.0065 are left.
func TestScaledDragStaysPositive(t *testing.T) {
	car := plainTable(t, 0).Car
	curve, err := aero.NewCurve([]float64{0, 0.1, 0.2}, []float64{1, 1.1, 1.2}, []float64{0.02, 0.02, 0.02}, nil)
	if err != nil {
		t.Fatal(err)
	}
	half, err := car.scaled(curve, 0.5, 1)
	if err != nil {
		t.Fatal(err)
	}
	if k, _ := half.At(0.1); math.Abs(k.CD-0.0065) > 1e-9 || math.Abs(k.CL-0.55) > 1e-9 {
		t.Errorf("%+v", k)
	}
}

// A claim is credible up to two standard uncertainties above the maximum, and not past them;
// without a speed, without a figure or beside a table of the whole wing it changes nothing.
func TestWhatAClaimIsUsedFor(t *testing.T) {
	for needed, credible := range map[float64]bool{1.2: true, 1.3999: true, 1.4001: false} {
		if r := (ClaimRow{Needed: needed, MaxCL: 1.2, StdUnc: 0.1}); r.Credible() != credible {
			t.Errorf("CL %.4f needed of 1.2 ± 0.1: credible %v", needed, r.Credible())
		}
	}
	base := plainTable(t, 0).Car
	table := base.Wing.Table
	// By hand: 1000 N at 50 m/s on 0.35 m² need 1000/(½·1.2041·2500·0.35) = 1.8982.
	base.Claim = Claim{given.Is(1000), given.Is(50)}
	r, err := base.ClaimAt(50)
	if err != nil || math.Abs(r.Needed-1.8982) > 1e-3 || math.Abs(r.MaxCL-1.4625) > 1e-3 || math.Abs(r.StdUnc-0.0731) > 1e-3 {
		t.Errorf("%+v, %v", r, err)
	}
	for _, c := range []struct {
		claim Claim
		table bool
	}{{Claim{Downforce: given.Is(400)}, false}, {Claim{Speed: given.Is(50)}, false}, {Claim{given.Is(400), given.Is(50)}, true}} {
		car := *base
		car.Claim = Claim{}
		if !c.table {
			car.Wing.Table, car.Wing.Polar = nil, table
		}
		plain, err := car.SolveWing(50)
		if err != nil {
			t.Fatal(err)
		}
		car.Claim = c.claim
		if w, err := car.SolveWing(50); err != nil || w.MaxLift != plain.MaxLift || strings.Contains(w.From, "scaled") {
			t.Errorf("%+v: maximum CL %.4f, without it %.4f; %s", c.claim, w.MaxLift, plain.MaxLift, w.From)
		}
	}
}

// A claim scales figures where it is likely, and nowhere else: by hand, for 1.4625 ± 0.0731 at most
// 1.17 to 1.5356. One that is possible and above is kept for loads.
func TestOnlyALikelyClaimScales(t *testing.T) {
	base := plainTable(t, 0).Car
	polar := *base.Wing.Table
	base.Wing.Table, base.Wing.Polar = nil, &polar
	q := 0.5 * base.Air.Density() * 50 * 50
	for _, c := range []struct{ claimed, scale, more float64 }{{0.57, 1, 1}, {0.79, 1, 1}, {0.81, 0.81, 1}, {1.04, 1.04, 1}, {1.06, 1, 1.06}, {1.09, 1, 1.09}, {1.11, 1, 1}} {
		car := *base
		at, err := car.ClaimAt(50)
		if err != nil {
			t.Fatal(err)
		}
		car.Claim = Claim{given.Is(c.claimed * at.MaxCL * q * car.Wing.Area()), given.Is(50)}
		w, err := car.SolveWing(50)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(w.LiftScale-c.scale) > 1e-3 || math.Abs(w.ClaimScale-c.scale) > 1e-3 || math.Abs(w.ClaimedMore-c.more) > 1e-3 || len(w.Notes) == 0 {
			t.Errorf("a claim of %.2f of the maximum: lift × %.3f, loads × %.3f, %q", c.claimed, w.LiftScale, w.ClaimedMore, w.Notes)
		}
	}
}

// By hand: lift scaled by 0.8 to a claim is known to half of the disagreement, 0.1/0.8 = 0.125 of itself, and
// GivenLiftStdUnc of 0.05 as well: √(0.05² + 0.125²) = 0.1346. Unscaled it is 0.05.
func TestClaimWidensTheLift(t *testing.T) {
	for scale, want := range map[float64]float64{1: 0.05, 0: 0.05, 0.8: 0.1346, 1.05: 0.0554} {
		b := (&Table{Car: &Car{TrackFit: NoFit()}, Wing: WingCurve{ClaimScale: scale}}).sectionBands()
		if math.Abs(b.slope-want) > 1e-4 || math.Abs(b.top-want) > 1e-4 {
			t.Errorf("scaled by %g: slope ± %.4f, top ± %.4f, want %.4f", scale, b.slope, b.top, want)
		}
	}
}
