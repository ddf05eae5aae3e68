package aero

// Moved returns the flow with each of its points moved by an angle in rad and a part of the speed
// ratio, which by gives for it; an undisturbed flow becomes that of one point. The bands of the points
// stay.
func (f Flow) Moved(by func(FlowPoint) (angle, ratio float64)) Flow {
	points := append([]FlowPoint(nil), f.points...)
	if len(points) == 0 {
		points = []FlowPoint{{Ratio: 1}}
	}
	for i, p := range points {
		angle, ratio := by(p)
		points[i].Angle, points[i].Ratio = p.Angle+angle, p.Ratio+ratio
	}
	moved, err := NewFlow(points)
	if err != nil {
		return f // heights stay what they are, each of them once
	}
	return moved
}
