package plane

import (
	"fmt"
)

func ExamplePoseFromPairs() {
	// S. Umeyama, IEEE PAMI 13 (1991), worked example: points (0,0), (1,0),
	// (0,2) onto (0,0), (-1,0), (0,2) turn by -33.690°.
	a := []Point{{0, 0}, {1, 0}, {0, 2}}
	b := []Point{{0, 0}, {-1, 0}, {0, 2}}
	fmt.Printf("%.3f°\n", PoseFromPairs(b, a).Turn/Deg)
	// Output: -33.690°
}
