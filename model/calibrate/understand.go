package calibrate

import (
	"math"

	"stanchion/model"
)

// Understood is what one reading comes to by itself. NaN for what was not read.
type Understood struct {
	OnFace             float64 // rad, the face's slope to the horizon, without the level's zero where it is known
	Zero               float64 // rad, of the level, where it was turned on the wing: half the difference
	Floor              float64 // rad, the ground's slope, without the level's zero where that is known
	FloorZero          float64 // rad, of the level, where it was turned on the floor
	Cancels            bool    // the level's zero is not known, and goes out between floor and wing
	Face               float64 // rad, the face's angle to the chord
	Angle, StdUnc      float64 // rad, of the chord to the ground, by the level
	TapeAngle, TapeUnc float64 // rad, of the chord to the ground, by leading and trailing edge
}

// Understand works out what a reading comes to. Turned end for end a level's own zero z counts the
// other way: it reads a + z and a − z, so that a is half the sum and z half the difference. Read
// once on the floor and once on the wing, the same way round, the zero goes out in the difference.
// The angle to the ground is the reading less the floor's slope, less the face's angle to the chord.
func Understand(c *model.Car, r model.Reading) Understood {
	nan := math.NaN()
	f := Understood{OnFace: nan, Zero: nan, Floor: nan, FloorZero: nan, Face: nan, Angle: nan, StdUnc: nan}
	f.TapeAngle, f.TapeUnc = TapeAngle(r.Leading.Value(), r.Trailing.Value(), c.Wing.Chord, r.HeightStdUnc())
	first, read := r.Angle.Get()
	if !read {
		return f
	}
	u := r.AngleStdUnc()
	turned, wasTurned := r.Turned.Get()
	f.OnFace, f.StdUnc = first, u
	if wasTurned {
		f.OnFace, f.Zero, f.StdUnc = (first+turned)/2, (first-turned)/2, u/math.Sqrt2
	}
	f.Angle = f.OnFace
	if floor, ok := c.Floor(r.Floor); ok {
		v := floor.AngleStdUnc()
		f.Floor = floor.Angle
		back, floorTurned := floor.Turned.Get()
		switch {
		case floorTurned:
			f.Floor, f.FloorZero = (floor.Angle+back)/2, (floor.Angle-back)/2
		case wasTurned:
			f.Floor = floor.Angle - f.Zero
		}
		switch {
		case floorTurned && wasTurned:
			f.StdUnc = math.Hypot(u, v) / math.Sqrt2
		case floorTurned:
			f.OnFace = first - f.FloorZero
			f.StdUnc = math.Hypot(u, v)
		default:
			f.Cancels = !wasTurned
			f.StdUnc = math.Hypot(u, v)
		}
		f.Angle = f.OnFace - f.Floor
	}
	if face, ok := c.Face(r.Face); ok {
		f.Face = face.Angle
		f.Angle -= face.Angle
		f.StdUnc = math.Hypot(f.StdUnc, face.AngleStdUnc())
	}
	return f
}
