package carfile

import (
	"math"

	"stanchion/model"
)

// checks takes how often the car is to be looked over between sessions.
func (r *reader) checks(root *table, c *model.Car) {
	t := root.child("checks", "checks")
	if t == nil {
		return
	}
	whole := rule{func(x float64) bool { return x >= 1 && x <= 1000 && x == math.Trunc(x) }, "a whole number from 1 to 1000", from(1).to(1000).whole()}
	c.Checks.Laps = t.maybe("laps", plain, whole)
	c.Checks.Sessions = t.maybe("sessions", plain, whole)
	c.Checks.Days = t.maybe("days", plain, whole)
	c.Checks.FirstLaps = t.maybe("first_laps", plain, whole)
	c.Checks.RunLaps = t.maybe("run_laps", plain, whole)
	t.close()
}
