package model

import "stanchion/model/given"

// CheckIntervals are how often a car is to be looked over between sessions, as its file says; what is left open is
// common practice, see model/inspect.
type CheckIntervals struct {
	Laps      given.Number // after which torque, cracks, inserts and end plates are due again
	Sessions  given.Number // runs after which what is quick to look at is due again
	Days      given.Number // after which everything is
	FirstLaps given.Number // of a newly bolted setting, after which torque is due once more
	RunLaps   given.Number // what a run counts as whose note has no laps
}
