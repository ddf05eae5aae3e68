package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"stanchion/holes"
	"stanchion/model"
	"stanchion/model/drill"
	"stanchion/model/words"
)

func newWhy() *cobra.Command {
	var o options
	c := &cobra.Command{
		Use:   "why CARFILE HOLE HOLE ...",
		Short: "why bolts go in together or not, and by how many millimetres they miss",
		Long: `why says whether bolts go into holes together, and if not, by how much they miss.

Name bolts as LOWER:UPPER, such as A:F A3:R. Or name holes: two of the lower and
two of the upper part are tried on each other; holes of one part alone are tried
on all holes of the other, nearest first. Where two parts have a hole of one
name, write PART.HOLE.

Exit code 1 means that they do not go in.`,
		Example: `  stanchion why car.toml A:F A3:R
  stanchion why car.toml A A3`,
		Args:              arguments(1, many),
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := o.check(); err != nil {
				return err
			}
			car, err := loadCar(args[0])
			if err != nil {
				return err
			}
			if len(args) < 3 {
				return fmt.Errorf("give at least two holes or two bolts LOWER:UPPER after the car file: see \"stanchion why --help\"")
			}
			lines, err := whyLines(car, args[1:])
			if err != nil {
				return err
			}
			p := out(cmd)
			fits := false
			for i, l := range lines {
				fits = fits || l.Reason == holes.Fine
				if i < maxWhy && o.format == "text" {
					p.f("%s\n", words.Why(car, l, shown(car)))
				}
			}
			if o.format == "json" {
				p.err = whyJSON(cmd, car, lines)
			} else if len(lines) > maxWhy {
				p.f("(%d more that miss by more)\n", len(lines)-maxWhy)
			}
			if p.err == nil && !fits {
				return noAnswer("none of these go in")
			}
			return p.err
		},
	}
	o.add(c, "", "text", "json")
	return c
}

// maxWhy is how many answers are printed when many holes were tried.
const maxWhy = 8

// whyLines answers for the words of the command line.
func whyLines(car *model.Car, named []string) ([]drill.WhyLine, error) {
	var refs []drill.HoleRef
	var pairs []holes.Pair
	joint := -1
	for _, w := range named {
		if lower, upper, ok := strings.Cut(w, ":"); ok {
			j, pair, err := findPair(car, lower, upper)
			if err != nil {
				return nil, err
			}
			if joint >= 0 && j != joint {
				return nil, fmt.Errorf("%q is at joint %s, the bolt before at joint %s; give bolts of one joint", w, car.Joints[j].Name,
					car.Joints[joint].Name)
			}
			joint, pairs = j, append(pairs, pair)
			continue
		}
		found := drill.FindHole(car, w)
		switch {
		case len(found) == 0:
			return nil, fmt.Errorf("no part has a hole %q", w)
		case len(found) > 1:
			return nil, fmt.Errorf("%q is a hole of %q and %q: write PART.HOLE", w, car.Parts[found[0].Part].Name, car.Parts[found[1].Part].Name)
		}
		refs = append(refs, found[0])
	}
	if len(pairs) > 0 {
		if len(refs) > 0 || len(pairs) < 2 {
			return nil, fmt.Errorf("give at least two bolts LOWER:UPPER, or holes, not both")
		}
		return []drill.WhyLine{drill.Why(car, joint, pairs)}, nil
	}
	return whyHoles(car, refs)
}

// findPair finds the joint at which a bolt through the two named holes would be.
func findPair(car *model.Car, lower, upper string) (int, holes.Pair, error) {
	for _, l := range drill.FindHole(car, lower) {
		for _, u := range drill.FindHole(car, upper) {
			if u.Part == l.Part+1 {
				return l.Part, holes.Pair{Lower: l.Hole, Upper: u.Hole}, nil
			}
		}
	}
	return 0, holes.Pair{}, fmt.Errorf("no joint has a hole %q in its lower and %q in its upper part", lower, upper)
}

// whyHoles tries holes named without their partners.
func whyHoles(car *model.Car, refs []drill.HoleRef) ([]drill.WhyLine, error) {
	byPart := map[int][]int{}
	for _, r := range refs {
		byPart[r.Part] = append(byPart[r.Part], r.Hole)
	}
	for j := range car.Joints {
		lower, upper := byPart[j], byPart[j+1]
		if len(lower) == 0 || len(lower) != len(upper) || len(byPart) != 2 {
			continue
		}
		switch {
		case len(lower) < 2:
			return nil, fmt.Errorf("one bolt alone always goes in; give two holes of each part, or bolts LOWER:UPPER")
		case len(lower) > 2:
			return nil, fmt.Errorf("%d holes of each part: for more than two bolts write them as LOWER:UPPER", len(lower))
		}
		straight := drill.Why(car, j, []holes.Pair{{Lower: lower[0], Upper: upper[0]}, {Lower: lower[1], Upper: upper[1]}})
		crossed := drill.Why(car, j, []holes.Pair{{Lower: lower[0], Upper: upper[1]}, {Lower: lower[1], Upper: upper[0]}})
		return []drill.WhyLine{straight, crossed}, nil
	}
	if len(byPart) != 1 || len(refs) < 2 || len(refs) > 3 {
		return nil, fmt.Errorf("give two or three holes of one part, two of each of two parts that are bolted together, or bolts LOWER:UPPER")
	}
	var lines []drill.WhyLine
	for part, given := range byPart {
		if part < len(car.Joints) && mayServe(car, part, part, given) {
			lines = append(lines, drill.WhyAll(car, part, given, false)...)
		}
		if part > 0 && mayServe(car, part, part-1, given) {
			lines = append(lines, drill.WhyAll(car, part-1, given, true)...)
		}
	}
	if len(lines) == 0 {
		return nil, fmt.Errorf("too many holes to try them all: name the bolts as LOWER:UPPER")
	}
	return lines, nil
}

// mayServe reports whether none of the holes of a part is kept for a joint
// other than joint j.
func mayServe(car *model.Car, part, j int, given []int) bool {
	for _, h := range given {
		if kept := car.Parts[part].Holes[h].Joint; kept != "" && kept != car.Joints[j].Name {
			return false
		}
	}
	return true
}
