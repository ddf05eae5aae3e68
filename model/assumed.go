package model

// Touch says which figures of a setting something weighs on.
type Touch uint8

// What a value may weigh on.
const (
	OnAngle  Touch = 1 << iota // the wing's angle
	OnHeight                   // where the wing is: height, highest and rearmost point
	OnAir                      // what the air does: coefficients and forces
	OnAxles                    // axle loads and front share
	OnShare                    // front share alone
	OnPlay                     // play
	OnAll    = OnAngle | OnHeight | OnAir | OnAxles | OnShare | OnPlay
)

// AssumedOn reports whether a value that was assumed weighs on figures.
func (c *Car) AssumedOn(t Touch) bool {
	for _, a := range c.Assumed {
		if a.On&t != 0 {
			return true
		}
	}
	return false
}
