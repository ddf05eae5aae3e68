package carfile

import (
	"fmt"
	"strings"

	"stanchion/model"
	"stanchion/model/units"
)

// guessed takes what the person says is a guess.
func (r *reader) guessed(root *table, c *model.Car) {
	list := root.list("assumed")
	root.noteItems("assumed", false, Text)
	for i, v := range list {
		text, ok := v.(string)
		if text = strings.TrimSpace(text); !ok || text == "" || len(text) > maxText || strings.IndexFunc(text, units.Hidden) >= 0 {
			r.at(fmt.Sprintf("assumed[%d]", i), "assumed holds %s", "it must hold short texts", kind(v))
			continue
		}
		what, value, given := strings.Cut(text, ": ")
		if !given {
			what, value = text, ""
		}
		c.Assumed = append(c.Assumed, model.Assumption{What: what, Value: value, Note: "to be measured", On: weighsOn(what), Said: true})
	}
}

// weights are what values weigh on, by the ends of the names that the guided start gives them.
var weights = []struct {
	end string
	on  model.Touch
}{
	{"wheelbase", model.OnAxles},
	{"axle mass", model.OnShare},
	{"roof height", model.OnAir | model.OnAxles},
	{" behind the rear axle", model.OnHeight | model.OnAxles},
	{" above ground", model.OnHeight | model.OnAir | model.OnAxles},
	{model.FixedAngle, model.OnAngle | model.OnHeight | model.OnAir | model.OnAxles},
	{"'s hole diameter", model.OnPlay},
	{"number of bolts of the foot", 0},
	{"number of bolts of the middle", 0},
	{"bolts of the foot", model.OnPlay},
	{"bolts of the middle", model.OnPlay},
	{"bolts of the head", model.OnPlay},
	{"chord", model.OnHeight | model.OnAir | model.OnAxles},
	{"span", model.OnAir | model.OnAxles},
	{"section", model.OnAir | model.OnAxles},
	{"bolt above chord line", model.OnAngle | model.OnHeight | model.OnAir | model.OnAxles},
	{"height of an end plate", model.OnHeight | model.OnAir | model.OnAxles},
	{"speed of the figures", 0},
}

// weighsOn is what a value that a file calls assumed weighs on. What is named in words of the
// person's own may weigh on anything.
func weighsOn(what string) model.Touch {
	for _, w := range weights {
		if strings.HasSuffix(what, w.end) {
			return w.on
		}
	}
	return model.OnAll
}
