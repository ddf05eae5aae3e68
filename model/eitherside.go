package model

// EitherSide returns what part of the wing's lift the uprights' wake takes, were all of it to pass over the wing's upper side, its pressure side, or
// under its lower side. A plate that stands ahead of the leading edge sheds it to both: the truth lies between the two.
func (s Struts) EitherSide() (over, under float64) {
	if s.FromBelow {
		return hungPart * s.LostLift, s.LostLift
	}
	return s.LostLift, s.LostLift / hungPart
}
