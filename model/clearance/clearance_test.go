package clearance

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"stanchion/holes/plane"
)

// box is an upright rectangle.
func box(x0, z0, x1, z1 float64) []plane.Point {
	return []plane.Point{{X: x0, Z: z0}, {X: x1, Z: z0}, {X: x1, Z: z1}, {X: x0, Z: z1}}
}

func near(a, b float64) bool { return math.Abs(a-b) < 1e-3 }

// A lid 400 mm long with its hinge at its front edge opens rearwards up.
var boot = Lid{Hinge: plane.Point{}, Outline: []plane.Point{{X: 10}, {X: 400}}, Open: 80 * plane.Deg}

func ExampleCar_Gap() {
	// By hand: a post from 300, 300 up: its foot is √(300² + 300²) = 424.26 mm from the hinge,
	// 24.26 mm beyond the lid's reach of 400 mm, at 45°. With 30 mm wanted the lid opens as
	// far as its edge is 30 mm from there: cos φ = (400² + 424.26² − 30²)/(2·400·424.26), φ =
	// 2.454°, so to 42.546°.
	post := Shape{Name: "upright", Kind: Upright, Outline: box(300, 300, 310, 900)}
	g := Car{Lid: boot}.Gap([]Shape{post}, 30)
	fmt.Printf("%.2f mm from %s to %s at %.1f°; opens to %.3f° of %.0f°, stopped by the %s\n",
		g.Distance, g.From, g.To, g.Turn/plane.Deg, g.Lid.To/plane.Deg, g.Lid.Of/plane.Deg, g.Lid.Stop)
	// Output: 24.26 mm from upright to lid at 45.0°; opens to 42.546° of 80°, stopped by the upright
}

func TestGapToTheBody(t *testing.T) {
	car := Car{Body: box(0, 0, 500, 100)}
	wing := Shape{Name: "wing", Outline: box(200, 140, 300, 160)}
	plate := Shape{Name: "end plate", Outline: box(200, 125, 300, 160)}
	up := Shape{Name: "upright", Kind: Upright, Outline: box(240, 50, 260, 140)}
	bracket := Shape{Name: "bracket", Kind: FixedPart, Outline: box(230, 90, 270, 120)}
	g := car.Gap([]Shape{wing, plate, up, bracket, {Name: "part without an outline"}}, 0)
	if !near(g.Distance, 25) || g.From != "end plate" || g.To != "body" || !slices.Equal(g.Through, []string{"upright"}) || !g.Known() {
		t.Errorf("%+v; want 25 mm from the end plate, the upright through the body, the bracket not counted", g)
	}
	if !near(g.Shut.Distance, 25) || g.Shut.From != "end plate" {
		t.Errorf("shut: %+v", g.Shut)
	}
	if g.Lid.Of != 0 || g.Lid.Stop != "" {
		t.Errorf("a lid that is not there: %+v", g.Lid)
	}
	// A wing in the body touches it: only uprights pass through.
	if g := car.Gap([]Shape{{Name: "wing", Outline: box(200, 90, 300, 160)}}, 0); g.Distance != 0 || g.From != "wing" || g.Through != nil {
		t.Errorf("%+v; want the wing to touch", g)
	}
	// An upright that stays above the body is held to its distance.
	if g := car.Gap([]Shape{{Name: "upright", Kind: Upright, Outline: box(240, 107, 260, 140)}}, 0); !near(g.Distance, 7) || g.Through != nil {
		t.Errorf("%+v; want 7 mm", g)
	}
}

func TestGapToTheLid(t *testing.T) {
	// A plate at 300 to 320, 100 up: the lid meets its near corner, √(300² + 100²) = 316 mm
	// from the hinge, at atan(100/300) = 18.435° or the corner at 320: atan(100/320) = 17.354°.
	plate := Shape{Name: "end plate", Outline: box(300, 100, 320, 200)}
	g := Car{Lid: boot}.Gap([]Shape{plate}, 0)
	if g.Distance != 0 || g.To != "lid" || math.Abs(g.Turn/plane.Deg-17.354) > 0.01 || !near(g.Lid.To, g.Turn) || g.Lid.Stop != "end plate" {
		t.Errorf("touches at %.3f°, opens to %.3f°, %q; want 17.354°", g.Turn/plane.Deg, g.Lid.To/plane.Deg, g.Lid.Stop)
	}
	// Shut, it is 100 mm away.
	if !near(g.Shut.Distance, 100) || g.Shut.To != "lid" {
		t.Errorf("shut: %+v", g.Shut)
	}
	// Out of reach nothing stops it, and what is further than wanted shut is not looked at.
	far := Shape{Name: "wing", Outline: box(300, 600, 320, 700)}
	g = Car{Lid: boot}.Gap([]Shape{far}, 50)
	if want := math.Hypot(300, 600) - 400; !near(g.Distance, want) || g.Lid.Stop != "" || !near(g.Lid.To, 80*plane.Deg) || g.Shut.To != "" {
		t.Errorf("%+v; want %.2f mm and a lid that opens fully", g, want)
	}
	// A lid that swings the other way is stopped from below.
	down := Lid{Outline: boot.Outline, Open: -60 * plane.Deg}
	below := Shape{Name: "end plate", Outline: box(300, -200, 320, -100)}
	g = Car{Lid: down}.Gap([]Shape{below}, 10)
	if g.Distance != 0 || g.Lid.Stop != "end plate" || !(g.Lid.To > 14*plane.Deg && g.Lid.To < 17.354*plane.Deg) || !near(g.Lid.Of, 60*plane.Deg) {
		t.Errorf("%+v; want it stopped before 17.354° by 10 mm", g)
	}
}

func TestSlottedLid(t *testing.T) {
	up := Shape{Name: "upright", Kind: Upright, Outline: box(200, -50, 220, 300)}
	bracket := Shape{Name: "bracket", Kind: FixedPart, Outline: box(200, -50, 220, 20)}
	if g := (Car{Lid: boot}).Gap([]Shape{up}, 0); g.Distance != 0 || g.Turn != 0 || g.Lid.To != 0 {
		t.Errorf("%+v; want the upright to touch the shut lid", g)
	}
	slotted := boot
	slotted.Slotted = true
	if g := (Car{Lid: slotted}).Gap([]Shape{up, bracket}, 0); g.Known() {
		t.Errorf("%+v; want uprights to pass through the slots", g)
	}
	if g := (Car{Lid: slotted}).Gap([]Shape{{Name: "wing", Outline: box(200, -5, 220, 5)}}, 0); g.Distance != 0 {
		t.Errorf("%+v; want the wing to touch a slotted lid all the same", g)
	}
	if g := (Car{Lid: boot}).Gap([]Shape{bracket}, 0); g.Distance != 0 {
		t.Errorf("%+v; want the fixed part to be held to the lid", g)
	}
}

// Of two shapes as near, the one that is met earlier is named.
func TestTheEarlierContactIsNamed(t *testing.T) {
	a := Shape{Name: "late", Outline: box(300, 200, 320, 300)}
	b := Shape{Name: "early", Outline: box(300, 50, 320, 60)}
	if g := (Car{Lid: boot}).Gap([]Shape{a, b}, 0); g.From != "early" || g.Lid.Stop != "early" {
		t.Errorf("%+v", g)
	}
}

func TestWhatIsThere(t *testing.T) {
	if (Car{}).Known() || !(Car{Body: box(0, 0, 1, 1)}).Known() || !(Car{Lid: boot}).Known() {
		t.Error("a body or a lid is something to keep clear of, nothing is not")
	}
	// Turned a quarter about the origin, the lid's edge at 400, 0 lies at 0, 400.
	c := Car{Body: box(0, 0, 2, 1), Lid: boot}.Placed(plane.Pose{Turn: 90 * plane.Deg, X: 5})
	if p := c.Lid.Outline[1]; !near(p.X, 5) || !near(p.Z, 400) || !near(c.Lid.Hinge.X, 5) || !near(c.Body[1].Z, 2) {
		t.Errorf("placed: %+v", c)
	}
	if p := boot.Opened(30 * plane.Deg)[1]; !near(p.X, 400*math.Cos(30*plane.Deg)) || !near(p.Z, 200) {
		t.Errorf("opened by 30° the edge is at %v", p)
	}
}

// By hand: a panel 2 mm thick whose face is level at 500 mm, from x 100; an upright 40 mm
// wide that leans by 10 mm over 100 mm: between 498 and 500 mm it reaches from 149.8 to 190.
func TestSlotByHand(t *testing.T) {
	leaning := func(x float64) []plane.Point {
		return []plane.Point{{X: x, Z: 0}, {X: x + 40, Z: 0}, {X: x + 140, Z: 1000}, {X: x + 100, Z: 1000}}
	}
	p := Panel{Name: "deck", X: 100, Z: 500, Thickness: 2, Clearance: 3}
	s, ok := p.Slot("upright", 8, [][]plane.Point{leaning(100)}, plane.Pose{})
	if !ok || !near(s.From, 49.8) || !near(s.To, 90) || !near(s.Length(), 46.2) || !near(s.Width, 14) || s.Settings != 1 || s.Panel != "deck" || s.Part != "upright" {
		t.Errorf("%+v", s)
	}
	if !near(s.MinFrom, s.From) || !near(s.MinTo, s.To) {
		t.Errorf("one setting needs all of it: %+v", s)
	}
	// A second setting 10 mm further back: 49.8 to 100 in all, 59.8 to 90 in both.
	s, _ = p.Slot("upright", 8, [][]plane.Point{leaning(100), leaning(110)}, plane.Pose{})
	if !near(s.From, 49.8) || !near(s.To, 100) || !near(s.MinFrom, 59.8) || !near(s.MinTo, 90) || s.Settings != 2 {
		t.Errorf("%+v", s)
	}
	// One that ends below the panel does not pass through.
	if _, ok := p.Slot("upright", 8, [][]plane.Point{box(100, 0, 140, 490)}, plane.Pose{}); ok {
		t.Error("a part below the panel needs a slot")
	}
	// One whose end lies within the sheet does, by its corners alone.
	if s, ok := p.Slot("upright", 8, [][]plane.Point{box(120, 498.5, 130, 499.5)}, plane.Pose{}); !ok || !near(s.From, 20) || !near(s.To, 30) {
		t.Errorf("%+v, %v", s, ok)
	}
	// The car turned, the panel turns with it: by 90° about the origin the panel stands.
	s, ok = p.Slot("upright", 8, [][]plane.Point{box(-600, 120, -400, 130)}, plane.Pose{Turn: 90 * plane.Deg})
	if !ok || !near(s.From, 20) || !near(s.To, 30) {
		t.Errorf("turned: %+v, %v", s, ok)
	}
	// On a slope of 45° a post 10 mm wide takes 10·√2 mm of the face, and the sheet's thickness
	// of 2 mm as much more in front.
	p.Slope = 45 * plane.Deg
	s, _ = p.Slot("upright", 8, [][]plane.Point{box(100, 0, 110, 1000)}, plane.Pose{})
	if !near(s.To, 10*math.Sqrt2) || !near(s.From, -2) {
		t.Errorf("on a slope: %+v", s)
	}
}
