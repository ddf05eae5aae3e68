package carfile

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"stanchion/holes"
	"stanchion/model"
)

// ErrOtherCar says that a file's fixed part or wing is not the one that a plate was designed for.
var ErrOtherCar = errors.New("its fixed part or its wing is no longer the one that the plate was designed for: design it anew")

// WithPlate is the text of the car file at a path with the plate of a car that was designed for it: holes, outline and cut-outs of its second part,
// the holes of its third part, the wing, and the fewest bolts of the foot; the holes of its first part too where it has none yet. All else stays as it is in the text. Faults that
// the file would have are the error.
func WithPlate(path string, text []byte, car *model.Car) ([]byte, error) {
	return withPlate(path, text, car, false)
}

// WithPlateAndMounts is WithPlate for a plate with which the wing's mounts are ordered anew, so that the height of both bolts is the plate's choice.
func WithPlateAndMounts(path string, text []byte, car *model.Car) ([]byte, error) {
	return withPlate(path, text, car, true)
}

func withPlate(path string, text []byte, car *model.Car, mounts bool) ([]byte, error) {
	before, err := parseIn(folder(path), path, text)
	if err != nil {
		return nil, fmt.Errorf("it would have faults:\n%w", err)
	}
	if !madeFor(before, car, mounts) {
		return nil, ErrOtherCar
	}
	plate, wing, foot := &car.Parts[1], &car.Parts[2], car.Joints[0]
	edits := []func([]byte) (Edit, error){
		func(b []byte) (Edit, error) { return SetHoles(b, plate.Name, plate.Holes) },
		func(b []byte) (Edit, error) { return SetOutline(b, plate.Name, plate.Outline) },
		func(b []byte) (Edit, error) { return SetCutouts(b, plate.Name, plate.Cutouts) },
		func(b []byte) (Edit, error) { return SetHoles(b, wing.Name, wing.Holes) },
		func(b []byte) (Edit, error) { return SetMinBolts(b, foot.Name, foot.MinBolts) },
	}
	if fixed := &car.Parts[0]; len(before.Parts[0].Holes) == 0 { // drilled for the plate too
		edits = append(edits, func(b []byte) (Edit, error) { return SetHoles(b, fixed.Name, fixed.Holes) })
	}
	for _, edit := range edits {
		e, err := edit(text)
		if err != nil {
			return nil, err
		}
		text = Apply(text, []Edit{e})
	}
	if _, err := parseIn(folder(path), path, text); err != nil {
		return nil, fmt.Errorf("it would have faults:\n%w", err)
	}
	return text, nil
}

// madeFor reports whether a car has the fixed part, the wing and its front bolt that another one's plate was designed for; the wing's rear bolt is
// the plate's choice, and with mounts the height of the front one.
func madeFor(c, designed *model.Car, mounts bool) bool {
	if len(c.Parts) != 3 || len(c.Parts[2].Holes) != 2 || c.Fixed != designed.Fixed || c.Wing.Chord != designed.Wing.Chord {
		return false
	}
	same := func(a, b holes.Hole) bool { return a.ID == b.ID && a.X == b.X && a.Z == b.Z && a.D == b.D }
	front := func(hs []holes.Hole) holes.Hole {
		return slices.MinFunc(hs, func(a, b holes.Hole) int { return cmp.Compare(a.X, b.X) })
	}
	bare := len(c.Parts[0].Holes) == 0
	a, b := front(c.Parts[2].Holes), front(designed.Parts[2].Holes)
	if mounts {
		a.Z = b.Z
	}
	return (bare || slices.EqualFunc(c.Parts[0].Holes, designed.Parts[0].Holes, same)) && same(a, b)
}
