package strength

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"stanchion/model/given"
)

// Published coefficients of continuous beams under an even load on equal spans: reactions 0.375, 1.25,
// 0.375 w l on two spans; 0.4, 1.1, 1.1, 0.4 on three; 0.393, 1.143, 0.929, 1.143, 0.393 on four.
// Source: AISC, "Manual of Steel Construction", beam diagrams; as in the three-moment theorem.
func TestSharesOfEqualSpans(t *testing.T) {
	for _, c := range []struct {
		at   []float64
		want []float64
	}{
		{[]float64{-500, 500}, []float64{0.5, 0.5}},
		{[]float64{-500, 0, 500}, []float64{0.1875, 0.625, 0.1875}},
		{[]float64{-600, -200, 200, 600}, []float64{0.4 / 3, 1.1 / 3, 1.1 / 3, 0.4 / 3}},
		{[]float64{-600, -300, 0, 300, 600}, []float64{0.392857 / 4, 1.142857 / 4, 0.928571 / 4, 1.142857 / 4, 0.392857 / 4}},
	} {
		got := Shares(c.at, c.at[len(c.at)-1]-c.at[0])
		for i := range got {
			if math.Abs(got[i]-c.want[i]) > 1e-6 {
				t.Errorf("%v: %v, want %v", c.at, got, c.want)
				break
			}
		}
	}
	// By hand, two supports 600 apart under a beam of 1000: half each; off to one side by 100, levers 0.5 ± 100/600.
	if got := Shares([]float64{-200, 400}, 1000); math.Abs(got[0]-400.0/600) > 1e-9 {
		t.Errorf("%v", got)
	}
}

// Whatever stands where, reactions balance the load and its moment.
func TestSharesBalance(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		n := rapid.IntRange(2, 6).Draw(r, "n")
		at := []float64{rapid.Float64Range(-700, -100).Draw(r, "first")}
		for range n - 1 {
			at = append(at, at[len(at)-1]+rapid.Float64Range(50, 280).Draw(r, "l"))
		}
		span := 2 * math.Max(-at[0], at[n-1])
		sum, moment := 0.0, 0.0
		for i, s := range Shares(at, span) {
			sum, moment = sum+s, moment+s*at[i]
		}
		if math.Abs(sum-1) > 1e-9 || math.Abs(moment) > 1e-6*span {
			r.Errorf("%v under %g: sum %g, moment %g", at, span, sum, moment)
		}
	})
}

// The further load cases by hand, on one of two uprights of the demo car: braking pushes the wing's
// 6.2 kg forward with 1.2 g and takes no help of the drag; a hand pushes down with 200 N at its end, sideways
// with half; one upright takes 60 % of the wing in a slide; from behind the wing is a plate at its angle.
func TestFurtherCasesByHand(t *testing.T) {
	f := frame(t, "coupe")
	r := &f.Table.Rows[5]
	of := func(name string) map[string]Load {
		got := map[string]Load{}
		for _, k := range cases {
			if k.name == name {
				for _, l := range f.wingLoads(r, k, 0) {
					got[l.What] = l.Load
				}
			}
		}
		return got
	}
	near := func(what string, have, want float64) {
		t.Helper()
		if math.Abs(have-want) > 1e-6*math.Max(1, math.Abs(want)) {
			t.Errorf("%s %.4f, by hand %.4f", what, have, want)
		}
	}
	weight := 6.2 * 9.80665 * 0.75
	near("braking", of("hard braking")["mass of the wing"].Rear, -1.2*weight)
	near("drag", of("hard braking")["air on the wing"].Rear, 0)
	near("downforce", of("hard braking")["air on the wing"].Up, -r.Downforce*0.75)
	down := of("a hand pushing down on the wing's end")
	near("hand", down["hand on the wing"].Up, -300*(370.0+740)/740) // at the wing's end, uprights 740 mm apart
	near("no air", float64(len(down)), 2)
	near("at the rear edge", down["hand on the wing"].At.X, r.Pose.X+280*math.Cos(r.Angle))
	near("sideways", of("a hand pushing the wing sideways")["hand on the wing"].Side, 150)
	near("it stands", of("a hand pushing the wing sideways")["mass of the wing"].Side, 0)
	near("uneven", of("sliding, one upright taking more than its share")["air on the wing"].Up, -r.Downforce*1.5*0.6)
	back := of("a spin, the air from behind")["air on the wing, from behind"]
	aspect := 1480.0 / 280
	v := r.Flow.Ratio * f.Table.Speed
	n := 0.5 * f.Table.Density * v * v * 1.480 * 0.280 * math.Min(1.17, 2*math.Pi*aspect/(2+math.Sqrt(aspect*aspect+4))*math.Abs(r.Attack)) * 0.75
	near("from behind", math.Hypot(back.Rear, back.Up), n)
	if r.Angle > 0 && (back.Up < 0 || back.Rear > 0) {
		t.Errorf("air from behind pushes a wing whose rear is high by %.0f N up and %.0f N rearwards", back.Up, back.Rear)
	}
}

// Three uprights: the middle one of two equal spans bears 62.5 %, and that is said.
func TestThreeUprights(t *testing.T) {
	f := frame(t, "coupe")
	car := *f.Car
	car.Mounting.Uprights = given.Is(3)
	g, err := New(&car)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(g.Share-0.625) > 1e-9 {
		t.Errorf("share %.4f", g.Share)
	}
	car.Mounting.UprightAt = []float64{-400, 0, 400} // of 1480
	if g, err = New(&car); err != nil || g.Share >= 0.625 || g.Share < 1.0/3-0.2 {
		t.Errorf("with overhangs %.4f, %v", g.Share, err)
	}
}
