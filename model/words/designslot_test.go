package words

import (
	"strings"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/design"
	"stanchion/model/units"
)

// TestSlotIsOfTheSettingsWanted: the slot is told for the settings wanted; where others come with the plate, that is said, since they can need a longer one.
func TestSlotIsOfTheSettingsWanted(t *testing.T) {
	at := func(of []int) string {
		parts := []model.Part{{}, {Outline: []plane.Point{{X: 0}, {X: 200}, {X: 200, Z: 500}}}, {}}
		return strings.Join(Proposal(&design.Proposal{Car: &model.Car{Parts: parts}, Table: &model.Table{Rows: make([]model.Row, 2)}, Slot: 186.7,
			Levels: []design.Level{{Rows: of}}}, units.Metric), "\n")
	}
	if all := at([]int{0, 1}); !strings.HasSuffix(all, "slot in the panel 187 mm") {
		t.Error(all)
	}
	if some := at([]int{0}); !strings.Contains(some, "slot in the panel 187 mm, for the settings wanted alone") {
		t.Error(some)
	}
}
