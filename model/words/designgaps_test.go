package words

import (
	"strings"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model"
)

// TestDesignGaps: what the car file does not have was not kept clear of, and that is said; of what it has, nothing is.
func TestDesignGaps(t *testing.T) {
	some := []plane.Point{{}, {X: 1}, {Z: 1}}
	bare, body, both := &model.Car{}, &model.Car{Body: some}, &model.Car{Body: some}
	both.Lid.Outline = some
	for _, c := range []struct {
		car   *model.Car
		start string
		clear bool
	}{
		{bare, "The car file has neither [body] nor [lid]: whether plates or wing meet them is NOT CHECKED. Where a plate", false},
		{body, "The car file has no [lid]: if the car has one, whether plates or wing meet it is NOT CHECKED. Gaps to body and lid", true},
		{both, "Gaps to body and lid are those in the side view", true},
	} {
		got := DesignGaps(c.car)
		if !strings.HasPrefix(got, c.start) || strings.Contains(got, "stanchion clear") != c.clear {
			t.Errorf("%q", got)
		}
	}
}
