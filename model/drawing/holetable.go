package drawing

import (
	"bytes"
	"encoding/csv"
	"strconv"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/units"
)

// HoleTable lists a part's holes as CSV, in mm in the part's own frame: id, x_mm,
// z_mm, d_mm, joint, the other end of a slot, the centre and turn of an arc, and
// whether the hole is new.
func HoleTable(p model.Part, fresh []holes.Hole) ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	spell := func(x float64) string { return number(x) }
	_ = w.Write([]string{"id", "x_mm", "z_mm", "d_mm", "joint", "to_x_mm", "to_z_mm", "arc_x_mm", "arc_z_mm", "arc_turn_deg", "new"})
	for _, r := range holeRows(p, fresh) {
		cells := []string{units.Cell(r.id), spell(r.at.X), spell(r.at.Z), spell(r.d), units.Cell(r.joint), "", "", "", "", "",
			strconv.FormatBool(r.fresh)}
		switch {
		case r.slot == nil:
		case r.slot.Turn != 0:
			cells[7], cells[8], cells[9] = spell(r.slot.Centre.X), spell(r.slot.Centre.Z), spell(r.slot.Turn/plane.Deg)
		default:
			cells[5], cells[6] = spell(r.slot.To.X), spell(r.slot.To.Z)
		}
		_ = w.Write(cells)
	}
	w.Flush()
	return b.Bytes(), w.Error()
}
