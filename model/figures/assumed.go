package figures

import "stanchion/model"

// Touched is what a figure is touched by: a value that was assumed and weighs on one of these makes
// the figure rest on what was assumed.
func (f Figure) Touched() model.Touch {
	switch f.Key {
	case GroundAngle:
		return model.OnAngle
	case Play:
		return model.OnPlay
	case Height, Back, Top, Rearmost:
		return model.OnHeight
	case FrontChange, RearChange, FrontLoad, RearLoad:
		return model.OnAir | model.OnAxles
	case FrontShare, BalanceShift:
		return model.OnAir | model.OnAxles | model.OnShare
	}
	if f.ByFlow {
		return model.OnAir
	}
	return 0
}

// Assumed reports whether a figure rests on a value that nobody gave.
func (f Figure) Assumed(c *model.Car) bool {
	return f.ByFlow && !c.FlowMeasured() || c.AssumedOn(f.Touched())
}
