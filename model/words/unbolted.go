package words

import (
	"fmt"

	"stanchion/model"
)

// Unbolted says why a car has no settings, and what to do.
func Unbolted(c *model.Car) string {
	for _, p := range c.Parts {
		if len(p.Holes) == 0 {
			return fmt.Sprintf("part %q has no holes yet; \"stanchion design\" finds where to drill it", p.Name)
		}
	}
	return "the wing cannot be bolted on: no holes match; \"stanchion why\" says by how much holes miss"
}
