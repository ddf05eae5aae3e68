package strength

import (
	"math"
	"testing"

	"stanchion/model/modeltest"
)

// By hand: a trapezium of 71750 mm², less cut-outs of 8400 and 1250, three holes of 55.42, an arc slot of 120 mm · 10° · 8.4 mm
// + 55.42 = 231.35 and a straight one of 58.31 · 8.4 + 55.42 = 545.22: 61157 mm² of 8 mm aluminium.
func TestMassTakesASlotOffOnce(t *testing.T) {
	c := modeltest.File(t, "slotted-plate.toml")
	if kg, ok := PlateMass(&c.Parts[0]); !ok || math.Abs(kg-1.3210) > 0.0002 {
		t.Errorf("%.4f kg, %v; want 1.3210", kg, ok)
	}
}
