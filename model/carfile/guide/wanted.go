package guide

import (
	"math"
	"slices"
	"strings"

	"stanchion/model/toml"
	"stanchion/model/units"
)

// evenWithin is by how much steps between angles may differ that count as even, degrees.
const evenWithin = 0.05

// DesignCommand is the command that finds the holes of an upright for what was wanted; what was not said stands in capitals.
func DesignCommand(a Answers, file string, u units.System) string {
	words := []string{"stanchion design", file}
	heights, err := readHeights(a["want_heights"], u)
	if err != nil || len(heights) == 0 {
		words = append(words, "--height H")
	}
	for _, h := range heights {
		words = append(words, "--height "+toml.Decimal(h/u.LengthSize(), 2))
	}
	angles, err := readAngles(a["want_angles"])
	if err != nil || len(angles) == 0 {
		return strings.Join(append(words, "--angle-max A --step A"), " ")
	}
	slices.Sort(angles)
	angles = slices.Compact(angles)
	least, step := math.Inf(1), 0.0
	for i := 1; i < len(angles); i++ {
		least, step = min(least, angles[i]-angles[i-1]), max(step, angles[i]-angles[i-1])
	}
	if len(angles) > 2 && step-least > evenWithin {
		for _, a := range angles {
			words = append(words, "--angle "+toml.Decimal(a, 2))
		}
		return strings.Join(words, " ")
	}
	if step == 0 {
		step = 1 // one angle: any step does
	}
	return strings.Join(append(words, "--angle-min "+toml.Decimal(angles[0], 2), "--angle-max "+toml.Decimal(angles[len(angles)-1], 2),
		"--step "+toml.Decimal(math.Ceil(step*100-1e-6)/100, 2)), " ")
}
