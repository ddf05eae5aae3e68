package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"stanchion/model"
	"stanchion/model/design"
	"stanchion/model/units"
	"stanchion/model/words"
)

// keepFlags say which holes of the plate in the car file stay as they are.
type keepFlags struct {
	keep    []string
	keepAll bool
}

func (f *keepFlags) keepTo(c *cobra.Command) {
	c.Flags().StringSliceVar(&f.keep, "keep", nil, "a `HOLE` of the upright in the car file that stays where it is, such as F1 or F1,R2; may be repeated")
	c.Flags().BoolVar(&f.keepAll, "keep-all", false, "all of its holes stay; only further ones are looked for")
}

// kept reads the holes that are kept out of the car.
func (f *keepFlags) kept(car *model.Car) (k design.Kept, err error) {
	switch {
	case len(f.keep) == 0 && !f.keepAll:
		return k, nil
	case len(f.keep) > 0 && f.keepAll:
		return k, errors.New("--keep and --keep-all; give one of them")
	case len(car.Parts) < 3:
		return k, nil // which is said of the car itself
	case len(car.Parts[len(car.Parts)-2].Holes) == 0:
		return k, fmt.Errorf("part %q has no holes to keep: leave out --keep", units.Printable(car.Parts[len(car.Parts)-2].Name))
	}
	t, err := car.Map(car.Speed)
	if err != nil { // nothing can be bolted with its holes as they are
		t = &model.Table{Car: car}
	}
	var fault *design.KeepFault
	if k, err = design.Keep(t, f.keep); errors.As(err, &fault) {
		return k, fmt.Errorf("--keep: %s", words.KeepFault(fault, car.Parts[len(car.Parts)-2].Name))
	}
	return k, err
}
