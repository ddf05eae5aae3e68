package guide

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"stanchion/model/pattern"
	"stanchion/model/toml"
	"stanchion/model/units"
)

const maxAngles = 40

// angleExample is how angles are typed.
const angleExample = "-2 6 14, or 0 to 12 by 2"

// readAngles reads angles in degrees: "-2 6 14"; "0 to 12 by 2", in steps of 2° from the first to the last; or
// "0 to 12 in 7", seven evenly, where that cannot be taken for steps of 7°.
func readAngles(text string) ([]float64, error) {
	clean := strings.ToLower(strings.NewReplacer("°", " ", ";", " ", ", ", " ", "−", "-").Replace(text + " "))
	if strings.Contains(clean, ",") {
		return nil, fmt.Errorf("%q; put spaces between the angles, and use decimal points", text)
	}
	words := strings.Fields(clean)
	if len(words) == 5 && words[1] == "to" && (words[3] == "by" || words[3] == "in") {
		return readSpread(text, words)
	}
	if len(words) == 0 || len(words) > maxAngles {
		return nil, fmt.Errorf("%q; give one to %d angles in degrees, such as %s", text, maxAngles, angleExample)
	}
	var all []float64
	for _, w := range words {
		x, ok := degreesOf(w)
		if !ok {
			return nil, fmt.Errorf("%q; give angles in degrees, such as %s", text, angleExample)
		}
		all = append(all, x)
	}
	return all, nil
}

func degreesOf(word string) (float64, bool) {
	x, err := strconv.ParseFloat(word, 64)
	return x, err == nil && math.Abs(x) <= 180
}

// stepsOff is by how much a number of steps may miss the last angle, °: steps are typed rounded.
const stepsOff = 0.005

// readSpread reads "0 to 12 by 2" or "0 to 12 in 7", taken apart.
func readSpread(text string, words []string) ([]float64, error) {
	first, ok := degreesOf(words[0])
	last, too := degreesOf(words[2])
	span := math.Abs(last - first)
	if !ok || !too || span == 0 {
		return nil, fmt.Errorf("%q; write it as 0 to 12 by 2: first and last angle, and the step in degrees", text)
	}
	ends := words[0] + " to " + words[2]
	if words[3] == "in" {
		n, err := strconv.Atoi(words[4])
		if err != nil || n < 2 || n > maxAngles {
			return nil, fmt.Errorf("%q; after in write how many angles there are, from 2 to %d, or the step in degrees as in 0 to 12 by 2", text, maxAngles)
		}
		if steps := span / float64(n); math.Abs(steps-math.Round(steps)) < 1e-9 {
			return nil, fmt.Errorf("%q can be read in two ways; type %s by %d for steps of %d°, or %s by %s for %d angles", text, ends, n, n,
				ends, toml.Decimal(span/float64(n-1), 4), n)
		}
		return pattern.Spread(first, last, n), nil
	}
	step, ok := degreesOf(words[4])
	if step = math.Abs(step); !ok || step < 0.01 {
		return nil, fmt.Errorf("%q; after by write the step in degrees, as in 0 to 12 by 2", text)
	}
	steps := math.Round(span / step)
	switch {
	case steps < 1 || math.Abs(steps*step-span) > stepsOff:
		before := first + math.Copysign(math.Floor(span/step)*step, last-first)
		if before == first {
			return nil, fmt.Errorf("%q; the step is more than there is between them", text)
		}
		return nil, fmt.Errorf("%q; steps of %s° do not end at %s°: the last one before it is %s°", text, toml.Decimal(step, 4), words[2], toml.Decimal(before, 4))
	case steps+1 > maxAngles:
		return nil, fmt.Errorf("%q is %.0f angles; give at most %d", text, steps+1, maxAngles)
	}
	return pattern.Spread(first, last, int(steps)+1), nil
}

// mostListed is up to how many angles are all listed.
const mostListed = 5

// listed says how many angles there are, and which: "7 angles: 0, 2, 4 … 12°".
func listed(angles []float64) string {
	all := degreeWords(angles)
	text := strings.Join(all, ", ")
	if len(all) > mostListed {
		text = strings.Join(all[:3], ", ") + " … " + all[len(all)-1]
	}
	return units.Count(len(all), "angle") + ": " + text + "°"
}

// degreeWords spells angles.
func degreeWords(angles []float64) (all []string) {
	for _, a := range angles {
		all = append(all, toml.Decimal(a, 2))
	}
	return all
}
