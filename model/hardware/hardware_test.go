package hardware_test

import (
	"math"
	"testing"

	"stanchion/holes"
	"stanchion/model"
	"stanchion/model/fastener"
	"stanchion/model/given"
	"stanchion/model/hardware"
	"stanchion/model/modeltest"
)

// The demo car by hand: through 10 mm of bracket and 8 of upright an M8 takes 18 + 2·1.6 of washers + 6.8 of
// nut + 2 threads of 1.25 = 30.5 mm, so 35; its 22 mm of thread begin where 13 are left, before the plane
// between the parts at 9.6 mm plus the run-out of five threads.
func TestDemoByHand(t *testing.T) {
	c := modeltest.Car(t, "coupe")
	table := modeltest.TableOf(t, c)
	js := hardware.Of(c, *table.Rows[5].Setting)
	if len(js) != 2 || js[0].Name != "foot" || js[0].Count != 4 || js[0].Length != 35 || js[0].Grip != 18 || js[0].Washers != 2 {
		t.Fatalf("%+v", js)
	}
	if !js[0].ThreadSheared || !js[0].Tightened || len(js[0].Crowded) != 0 {
		t.Errorf("%+v", js[0])
	}
	if js[1].Nut != model.Insert || !math.IsNaN(js[1].Length) || js[1].Count != 2 {
		t.Errorf("head: %+v", js[1])
	}
	list := hardware.List(c, []holes.Setting{*table.Rows[5].Setting, *table.Rows[6].Setting}, 2)
	want := map[hardware.What]int{hardware.Nuts: 8, hardware.Washers: 2*(8+2) + 0}
	got := map[hardware.What]int{}
	bolts := 0
	for _, i := range list {
		if i.What == hardware.Bolts {
			bolts += i.Count
			continue
		}
		got[i.What] = i.Count
	}
	if bolts != 12 || got[hardware.Nuts] != want[hardware.Nuts] || got[hardware.Washers] != want[hardware.Washers] {
		t.Errorf("%d bolts, %v, want 12, %v: %+v", bolts, got, want, list)
	}
}

// What has no room: M8 washers of 16 mm overlap at 15 mm apart, and a spanner of 1.4·13 + 2 = 20.2 mm does not
// go in beside a head whose corners are 15.0 mm across at 17; a washer 7 mm from an edge hangs over it.
func TestNoRoom(t *testing.T) {
	c := modeltest.Car(t, "coupe")
	table := modeltest.TableOf(t, c)
	s := *table.Rows[5].Setting
	clash := func(move func(p *model.Part)) map[hardware.Clash]hardware.Crowd {
		d := *c
		d.Parts = append([]model.Part(nil), c.Parts...)
		d.Parts[0].Holes = append([]holes.Hole(nil), c.Parts[0].Holes...)
		move(&d.Parts[0])
		found := map[hardware.Clash]hardware.Crowd{}
		for _, k := range hardware.Of(&d, s)[0].Crowded {
			found[k.What] = k
		}
		return found
	}
	used := s.Fits[0].Pairs
	near := func(mm float64) func(p *model.Part) {
		return func(p *model.Part) {
			a := p.Holes[used[0].Lower]
			p.Holes[used[1].Lower].X, p.Holes[used[1].Lower].Z = a.X+mm, a.Z
		}
	}
	if k, ok := clash(near(15))[hardware.WashersOverlap]; !ok || k.Need != 16 || math.Abs(k.Have-15) > 1e-9 {
		t.Errorf("washers: %+v", k)
	}
	if k, ok := clash(near(17))[hardware.SpannerBlocked]; !ok || math.Abs(k.Need-(10.1+7.5056)) > 1e-3 {
		t.Errorf("spanner: %+v", k)
	}
	if found := clash(near(30)); len(found) != 0 {
		t.Errorf("with room: %+v", found)
	}
	edge := clash(func(p *model.Part) { p.Holes[used[0].Lower].X = p.Outline[0].X + 7 })
	if k, ok := edge[hardware.WasherOverEdge]; !ok || k.Part != "bracket" || math.Abs(k.Have-7) > 1e-9 || k.Need != 8 {
		t.Errorf("edge: %+v", k)
	}
}

// A tapped bracket takes a bolt through the upright, its washer and the bracket: 8 + 1.6 + 10 = 19.6 mm, of which 16 is sold.
func TestTapped(t *testing.T) {
	c := modeltest.Car(t, "coupe")
	table := modeltest.TableOf(t, c)
	c.Joints[0].Nut = model.TappedHole
	if j := hardware.Of(c, *table.Rows[5].Setting)[0]; j.Length != 16 || j.Washers != 1 {
		t.Errorf("%+v", j)
	}
	c.Parts[1].Thickness = given.Number{}
	if j := hardware.Of(c, *table.Rows[5].Setting)[0]; !math.IsNaN(j.Length) {
		t.Errorf("without a thickness %+v", j)
	}
}

func TestMetals(t *testing.T) {
	c := modeltest.Car(t, "coupe")
	table := modeltest.TableOf(t, c)
	c.Joints[0].Grade = "A2-70"
	j := hardware.Of(c, *table.Rows[5].Setting)[0]
	if len(j.Metals) != 2 || j.Metals[1].Part != "upright" || j.Metals[1].Corrosion != fastener.PlateCorrodes {
		t.Errorf("%+v", j.Metals)
	}
	for name, want := range map[string]fastener.Kind{"EN AW-6082-T6": fastener.Aluminium, "5083-H111": fastener.Aluminium, "S355J2": fastener.CarbonSteel,
		"AISI 304": fastener.Stainless, "1.4301": fastener.Stainless, "birch ply": fastener.UnknownKind, "": fastener.UnknownKind} {
		if got := fastener.KindOfPlate(name); got != want {
			t.Errorf("%q: %v, want %v", name, got, want)
		}
	}
}
