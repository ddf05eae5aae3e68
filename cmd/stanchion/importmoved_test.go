package main

import (
	"strings"
	"testing"

	"stanchion/holes"
	"stanchion/model"
	"stanchion/model/cad"
)

// A circle between two holes of the part is neither of them, unless the drawing has the other one too.
func TestRemeasuredBetweenTwo(t *testing.T) {
	part := model.Part{Part: holes.Part{Holes: []holes.Hole{{ID: "A1", X: 110, Z: 430, D: 8.4}, {ID: "A2", X: 108.3, Z: 449.1, D: 8.4}}}}
	between := holes.Hole{X: 109.2, Z: 439.5, D: 8.4}
	found := cad.Found{Holes: []holes.Hole{between}}
	if moved := remeasured(&found, part, 10); len(moved) != 0 || len(found.Notes) != 1 || !strings.Contains(found.Notes[0], "may be hole A1, 9.5 mm off, or A2, 9.6 mm off: not taken") {
		t.Errorf("between two: %v, %q", moved, found.Notes)
	}
	found = cad.Found{Holes: []holes.Hole{between, {X: 108.3, Z: 449, D: 8.4}}}
	if moved := remeasured(&found, part, 10); len(moved) != 2 || moved[0].was.ID != "A1" || moved[1].was.ID != "A2" {
		t.Errorf("both drawn: %v, %q", moved, found.Notes)
	}
	found = cad.Found{Holes: []holes.Hole{{X: 109, Z: 433, D: 8.4}}}
	if moved := remeasured(&found, part, 20); len(moved) != 1 || moved[0].was.ID != "A1" {
		t.Errorf("near one: %v, %q", moved, found.Notes)
	}
}
