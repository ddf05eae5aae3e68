package carfile

import (
	"bytes"
	"errors"
	"slices"
	"strings"
	"testing"

	"stanchion/holes"
	"stanchion/holes/plane"
)

// The plate, the wing's rear bolt and the foot's fewest bolts are put into the text, all else in it stays; a text with another bracket or wing than the plate
// was designed for is refused, and so is one with faults.
func TestWithPlate(t *testing.T) {
	names, all, err := DemoFiles("coupe")
	if err != nil {
		t.Fatal(err)
	}
	text := all[names[0]]
	was, err := Demo("coupe")
	if err != nil {
		t.Fatal(err)
	}
	car := *was
	car.Parts, car.Joints = slices.Clone(was.Parts), slices.Clone(was.Joints)
	car.Joints[0].MinBolts = 3
	car.Parts[1].Holes = []holes.Hole{{ID: "k1", D: 8.4, Joint: "foot"}, {ID: "k2", X: 60, D: 8.4, Joint: "foot"}, {ID: "k3", Z: 60, D: 8.4, Joint: "foot"},
		{ID: "F1", X: 10, Z: 400, D: 8.4, Joint: "head"}, {ID: "R1", X: 210, Z: 400, D: 8.4, Joint: "head"}}
	car.Parts[1].Outline = []plane.Point{{X: -20, Z: -20}, {X: 80, Z: -20}, {X: 230, Z: 430}, {X: -20, Z: 430}}
	car.Parts[2].Holes = slices.Clone(was.Parts[2].Holes)
	car.Parts[2].Holes[1].X += 50
	made, err := WithPlate("new.toml", text, &car)
	if err != nil {
		t.Fatal(err)
	}
	got, err := Parse("new.toml", made, nil)
	if err != nil {
		t.Fatal(err)
	}
	if h := got.Parts[1].Holes; len(h) != 5 || h[3].ID != "F1" || h[3].Z != 400 || len(got.Parts[1].Outline) != 4 || got.Joints[0].MinBolts != 3 ||
		got.Parts[2].Holes[1].X != was.Parts[2].Holes[1].X+50 || len(got.Parts[0].Holes) != len(was.Parts[0].Holes) {
		t.Errorf("written: %v, %d bolts", h, got.Joints[0].MinBolts)
	}
	if first := []byte(strings.SplitN(string(text), "\n", 2)[0]); !bytes.HasPrefix(made, first) {
		t.Error("the comments are gone")
	}
	for what, change := range map[string]func() error{
		"bracket": func() error {
			other := car
			other.Parts = slices.Clone(car.Parts)
			other.Parts[0].Holes = slices.Clone(car.Parts[0].Holes)
			other.Parts[0].Holes[2].Z += 0.5
			_, err := WithPlate("new.toml", text, &other)
			return err
		},
		"its place": func() error {
			other := car
			other.Fixed.Z++
			_, err := WithPlate("new.toml", text, &other)
			return err
		},
		"wing": func() error {
			other := car
			other.Parts = slices.Clone(car.Parts)
			other.Parts[2].Holes = slices.Clone(car.Parts[2].Holes)
			other.Parts[2].Holes[0].X -= 5
			_, err := WithPlate("new.toml", text, &other)
			return err
		},
	} {
		if err := change(); !errors.Is(err, ErrOtherCar) {
			t.Errorf("another %s: %v", what, err)
		}
	}
	// Mounts that are ordered with the plate may be higher, but not elsewhere along the chord.
	other := car
	other.Parts = slices.Clone(car.Parts)
	other.Parts[2].Holes = slices.Clone(car.Parts[2].Holes)
	other.Parts[2].Holes[0].Z, other.Parts[2].Holes[1].Z = 70, 70
	if _, err := WithPlate("new.toml", text, &other); !errors.Is(err, ErrOtherCar) {
		t.Errorf("higher mounts: %v", err)
	}
	if made, err = WithPlateAndMounts("new.toml", text, &other); err != nil {
		t.Fatal(err)
	}
	if got, err = Parse("new.toml", made, nil); err != nil || got.Parts[2].Holes[0].Z != 70 || got.Parts[2].Holes[1].Z != 70 {
		t.Errorf("ordered mounts: %v", err)
	}
	other.Parts[2].Holes[0].X -= 5
	if _, err := WithPlateAndMounts("new.toml", text, &other); !errors.Is(err, ErrOtherCar) {
		t.Errorf("mounts elsewhere: %v", err)
	}
	if _, err := WithPlate("new.toml", append([]byte("nonsense = 1\n"), text...), &car); err == nil || !strings.Contains(err.Error(), "would have faults") {
		t.Errorf("a text with faults: %v", err)
	}
}
