package carfile

import (
	"errors"
	"fmt"
	"slices"

	"stanchion/holes"
	"stanchion/model"
)

// ErrBracketChanged says that a file's fixed part is not the one that a plate was designed for.
var ErrBracketChanged = errors.New("its fixed part is no longer the one that the plate was designed for: design it anew")

// WithPlate is the text of the car file at a path with the plate of a car that was designed for it: the holes and outline of its second part,
// no cut-outs in it, the holes of its third part, the wing, and the fewest bolts of the foot. All else stays as it is in the text. Faults that
// the file would have are the error.
func WithPlate(path string, text []byte, car *model.Car) ([]byte, error) {
	plate, wing, foot := &car.Parts[1], &car.Parts[2], car.Joints[0]
	edits := []func([]byte) (Edit, error){
		func(b []byte) (Edit, error) { return SetHoles(b, plate.Name, plate.Holes) },
		func(b []byte) (Edit, error) { return SetOutline(b, plate.Name, plate.Outline) },
		func(b []byte) (Edit, error) { return SetCutouts(b, plate.Name, nil) },
		func(b []byte) (Edit, error) { return SetHoles(b, wing.Name, wing.Holes) },
		func(b []byte) (Edit, error) { return SetMinBolts(b, foot.Name, foot.MinBolts) },
	}
	for _, edit := range edits {
		e, err := edit(text)
		if err != nil {
			return nil, err
		}
		text = Apply(text, []Edit{e})
	}
	got, err := parseIn(folder(path), path, text)
	if err != nil {
		return nil, fmt.Errorf("it would have faults:\n%w", err)
	}
	same := func(a, b holes.Hole) bool { return a.ID == b.ID && a.X == b.X && a.Z == b.Z && a.D == b.D }
	if got.Fixed != car.Fixed || !slices.EqualFunc(got.Parts[0].Holes, car.Parts[0].Holes, same) {
		return nil, ErrBracketChanged
	}
	return text, nil
}
