package plane

import (
	"fmt"
)

func ExampleArea() {
	// By hand: a right triangle with legs 30 and 40 mm has 600 mm², its middle a third
	// along each leg.
	mm2, middle := Area([]Point{{0, 0}, {30, 0}, {0, 40}})
	fmt.Printf("%.0f mm², %.2f, %.2f\n", mm2, middle.X, middle.Z)
	// Output: 600 mm², 10.00, 13.33
}

func ExampleArc() {
	// By hand: half a circle, bulge 1, over a chord of 10 mm.
	centre, radius := Arc(Point{0, 0}, Point{10, 0}, 1)
	fmt.Printf("radius %.1f mm about %.1f, %.1f\n", radius, centre.X, centre.Z)
	// Output: radius 5.0 mm about 5.0, 0.0
}
