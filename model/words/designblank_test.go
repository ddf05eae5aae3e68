package words

import (
	"strings"
	"testing"

	"stanchion/model/design"
	"stanchion/model/units"
)

// TestNoRimOnTheBlank: a plate that goes on a blank with less than the cutter's rim on each side says so.
func TestNoRimOnTheBlank(t *testing.T) {
	if got := OnBlank(&design.Lie{W: 552.2, H: 232.2, Over: -0.8}, units.Metric); !strings.Contains(got, "552.2 by 232.2 mm of it, with 0.8 mm to spare, less than the 6.0 mm a side that a cutter usually leaves; no way") {
		t.Error(got)
	}
	if got := OnBlank(&design.Lie{W: 548, H: 228, Over: -12}, units.Metric); strings.Contains(got, "spare") {
		t.Error(got)
	}
}
