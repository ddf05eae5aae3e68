package calibrate

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/units"
)

// Typed is what a line typed at the car holds: readings of one setting, with a floor or a face that is
// new.
type Typed struct {
	Readings []model.Reading
	Floors   []model.Floor
	Faces    []model.Face
}

// On returns the car with what was typed added to what its file has.
func (t Typed) On(c *model.Car) *model.Car {
	next := *c
	next.Readings = append(next.Readings[:len(next.Readings):len(next.Readings)], t.Readings...)
	next.Floors = append(next.Floors[:len(next.Floors):len(next.Floors)], t.Floors...)
	next.Faces = append(next.Faces[:len(next.Faces):len(next.Faces)], t.Faces...)
	return &next
}

// With returns what was typed before with what was typed after it.
func (t Typed) With(more Typed) Typed {
	return Typed{slices.Concat(t.Readings, more.Readings), slices.Concat(t.Floors, more.Floors), slices.Concat(t.Faces, more.Faces)}
}

// Without returns what was typed without one of its readings.
func (t Typed) Without(i int) Typed {
	t.Readings = slices.Delete(slices.Clone(t.Readings), i, i+1)
	return t
}

// bareHeight is from where on a number without a unit is a height, not an angle in degrees: no wing is
// run at 30°, and none hangs as low as 30 in. Common practice, no source.
const bareHeight = 30.0

// typing is the state of reading a line word by word.
type typing struct {
	car    *model.Car
	u      units.System
	t      Typed
	now    *model.Reading // that the next number belongs to; nil before the first
	closed bool           // its side was named behind its numbers: a further angle begins another
	floor  *model.Floor   // that the next angles belong to; nil when they are the wing's
	filled bool           // the floor has its first angle
	on     string         // face
	stands string         // floor that the readings are taken on
	anew   bool           // the line is the first after the bolts were out or slack
	next   string         // what the next number is: "le", "te", "h", "face"; "" for what it looks like
}

// ReadTyped reads a line such as "floor 0.3 0.5 left 6.4 6.6 right 6.2 6.4": angles in degrees, two
// for a level turned end for end; left and right; floor for a level on the ground, without a number
// for the floor that was read last; on NAME for a face; heights of the quarter-chord point, or le
// and te for the edges, in the unit shown; face NAME ANGLE for a new face; rebolted where bolts were out
// or slack since the line before.
func ReadTyped(text string, c *model.Car, setting string, u units.System) (Typed, error) {
	r := typing{car: c, u: u}
	words := strings.Fields(text)
	for i := 0; i < len(words); i++ {
		argument := func(what string) (string, error) {
			if i++; i >= len(words) {
				return "", fmt.Errorf("%s needs %s behind it", words[i-1], what)
			}
			return words[i], nil
		}
		word := strings.ToLower(words[i])
		if full, ok := shortWords[word]; ok {
			word = full
		}
		var err error
		var name string
		if r.next != "" && word != "" && !strings.ContainsAny(word[:1], "0123456789.+-−") {
			return r.t, fmt.Errorf("%s needs a height behind it, not %q", r.next, words[i])
		}
		switch word {
		case "left", "right":
			err = r.side(word)
		case "wing":
			err = r.begin("")
		case "rebolted":
			r.anew = true
		case "floor":
			err = r.onFloor()
		case "on":
			if name, err = argument("the name of a face"); err == nil {
				err = r.onFace(name)
			}
		case "face":
			if name, err = argument("a name and its angle to the chord"); err == nil {
				var angle string
				if angle, err = argument("its angle to the chord"); err == nil {
					err = r.newFace(name, angle)
				}
			}
		case "le", "te", "h":
			r.floor, r.next = nil, word
		default:
			err = r.number(words[i])
		}
		if err != nil {
			return r.t, err
		}
	}
	return r.done(setting)
}

// shortWords are other spellings of the words of a line.
var shortWords = map[string]string{"l": "left", "r": "right", "leading": "le", "trailing": "te", "height": "h", "f": "floor", "ground": "floor", "w": "wing"}

// begin begins a reading.
func (r *typing) begin(side string) error {
	if r.now != nil && !hasNumbers(*r.now) {
		if r.now.Side != "" {
			return fmt.Errorf("%s has nothing read behind it", r.now.Side)
		}
		r.now.Side = side
	} else {
		r.t.Readings = append(r.t.Readings, model.Reading{Side: side, Face: r.on})
		r.now = &r.t.Readings[len(r.t.Readings)-1]
	}
	r.floor, r.closed = nil, false
	return nil
}

// side takes left or right, before the numbers of a side or behind them.
func (r *typing) side(word string) error {
	if r.now != nil && hasNumbers(*r.now) && r.now.Side == "" {
		r.now.Side, r.floor, r.closed = word, nil, true
		return nil
	}
	return r.begin(word)
}

func hasNumbers(r model.Reading) bool {
	return r.Angle.Known() || r.Height.Known() || r.Leading.Known() || r.Trailing.Known()
}

// onFloor begins the angles of the floor; without any it is the floor read last.
func (r *typing) onFloor() error {
	if r.stands != "" || r.floor != nil {
		return errors.New("floor stands twice in the line; a line is read on one floor")
	}
	name := 1
	for ; ; name++ {
		if _, taken := r.car.Floor(strconv.Itoa(name)); !taken {
			break
		}
	}
	r.floor, r.filled = &model.Floor{Name: strconv.Itoa(name)}, false
	if n := len(r.car.Floors); n > 0 {
		r.stands = r.car.Floors[n-1].Name
	} else {
		r.stands = "none"
	}
	return nil
}

func (r *typing) onFace(name string) error {
	for _, f := range append(r.car.Faces[:len(r.car.Faces):len(r.car.Faces)], r.t.Faces...) {
		if strings.EqualFold(f.Name, name) {
			if r.on = f.Name; r.now != nil {
				r.now.Face = f.Name
			}
			return nil
		}
	}
	return fmt.Errorf("there is no face %s; type face NAME and its angle to the chord first", strconv.Quote(name))
}

func (r *typing) newFace(name, text string) error {
	for _, f := range r.car.Faces {
		if strings.EqualFold(f.Name, name) {
			return fmt.Errorf("the face %s is in the car file already, %s to the chord: change it there", strconv.Quote(f.Name), degrees(f.Angle))
		}
	}
	angle, err := units.Angles.Parse(text, "deg")
	if err != nil {
		return err
	}
	if math.Abs(angle) > 90*plane.Deg {
		return fmt.Errorf("the face %s is %s to the chord; it must be -90 to 90", strconv.Quote(name), degrees(angle))
	}
	r.t.Faces = append(r.t.Faces, model.Face{Name: name, Angle: angle})
	return nil
}

// done looks at the whole line.
func (r *typing) done(setting string) (Typed, error) {
	switch {
	case r.next != "":
		return r.t, fmt.Errorf("%s needs a height behind it", r.next)
	case r.stands == "none":
		return r.t, errors.New("no floor is kept yet; type what the level reads on it, such as floor 0.3 0.5")
	case r.now != nil && !hasNumbers(*r.now):
		return r.t, fmt.Errorf("%s has nothing read behind it", cmp.Or(r.now.Side, "wing"))
	case r.anew && len(r.t.Readings) == 0:
		return r.t, errors.New("rebolted goes with a reading of the wing")
	case len(r.t.Readings)+len(r.t.Floors)+len(r.t.Faces) == 0:
		return r.t, errors.New("nothing is read")
	}
	for i := range r.t.Readings {
		m := &r.t.Readings[i]
		m.Setting, m.Rebolted = setting, r.anew && i == 0
		if m.Angle.Known() {
			m.Floor = r.stands
		} else {
			m.Face = "" // a tape goes to the edges themselves
		}
	}
	return r.t, nil
}
