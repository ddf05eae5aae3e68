package carfile

import (
	"testing"

	"stanchion/model"
)

// What the guided start calls a value weighs on what it moves; a text of the person's own, which
// may mean anything, weighs on everything.
func TestWeighsOn(t *testing.T) {
	for what, want := range map[string]model.Touch{
		"bracket's angle":               model.OnAngle | model.OnHeight | model.OnAir | model.OnAxles,
		"front axle mass":               model.OnShare,
		"wing's hole diameter":          model.OnPlay,
		"number of bolts of the foot":   0,
		"bolts of the foot":             model.OnPlay,
		"rear bolt above chord line":    model.OnAngle | model.OnHeight | model.OnAir | model.OnAxles,
		"upright's holes":               model.OnAll,
		"how far the upright leans out": model.OnAll,
	} {
		if got := weighsOn(what); got != want {
			t.Errorf("%s: %b, want %b", what, got, want)
		}
	}
}
