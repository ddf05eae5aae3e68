package figures

import (
	"testing"

	"stanchion/model"
	"stanchion/model/carfile"
)

// A figure rests on what is assumed where that weighs on it, and on nothing else.
func TestFigureRestsOnWhatIsAssumed(t *testing.T) {
	demo, err := carfile.Demo("coupe")
	if err != nil {
		t.Fatal(err)
	}
	all := []Key{GroundAngle, Height, Play, Downforce, FrontShare, FrontChange, Attack}
	for on, want := range map[model.Touch][]Key{
		0:              {},
		model.OnAngle:  {GroundAngle},
		model.OnHeight: {Height},
		model.OnPlay:   {Play},
		model.OnAir:    {Downforce, FrontShare, FrontChange, Attack},
		model.OnAxles:  {FrontShare, FrontChange},
		model.OnShare:  {FrontShare},
	} {
		c := *demo
		c.Assumed = []model.Assumption{{What: "x", On: on}}
		for _, k := range all {
			rests := false
			for _, w := range want {
				rests = rests || w == k
			}
			if got := Get(k).Assumed(&c); got != rests {
				t.Errorf("%s with %b assumed: %v, want %v", k, on, got, rests)
			}
		}
	}
}
