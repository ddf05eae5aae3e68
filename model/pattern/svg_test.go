package pattern

import "testing"

// A viewBox of 200 units on 100 mm is half a mm a unit; y goes down in SVG, z up here. By hand:
// the first circle at 0.5·(20, −40), the second in a group that is moved by 10 and doubled:
// 0.5·(10 + 2·30) = 35 behind and 0.5·(2·40) = 40 below, 2·5 mm across; rotate(90) about the
// origin takes (50, 0) to (0, 50).
func TestCirclesOfSVGByHand(t *testing.T) {
	all, err := CirclesOfSVG([]byte(`<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg" width="100mm" viewBox="0 0 200 100">
<defs><circle cx="1" cy="1" r="1"/></defs><circle cx="20" cy="40" r="8.4"/><circle cx="20" cy="40" r="20"/>
<g transform="translate(10) scale(2)"><circle cx="30" cy="40" r="5"/></g><g transform="rotate(90)"><circle cx="50" r="4"/></g>
<ellipse cx="4" cy="4" rx="3" ry="9"/></svg>`))
	if err != nil || len(all) != 3 {
		t.Fatalf("%v, %v", all, err)
	}
	for i, want := range []Round{{D: 8.4}, {D: 10}, {D: 4}} {
		near(t, "d", all[i].D, want.D, 1e-9)
	}
	near(t, "x", all[0].At.X, 10, 1e-9)
	near(t, "z", all[0].At.Z, -20, 1e-9)
	near(t, "x in the group", all[1].At.X, 35, 1e-9)
	near(t, "z in the group", all[1].At.Z, -40, 1e-9)
	near(t, "x turned", all[2].At.X, 0, 1e-9)
	near(t, "z turned", all[2].At.Z, -25, 1e-9)
	for _, bad := range []string{"", "<svg><circle", "<html></html>"} {
		if all, err := CirclesOfSVG([]byte(bad)); err == nil && len(all) > 0 {
			t.Errorf("%q gives %v", bad, all)
		}
	}
	if _, err := CirclesOfSVG([]byte("<html></html>")); err == nil {
		t.Error("what is no SVG passes")
	}
}
