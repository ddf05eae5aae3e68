package calibrate

import (
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/logbook"
)

// Expected returns what is predicted for a row, as a note keeps it.
func Expected(t *model.Table, r *model.Row) logbook.Prediction {
	b := t.Budget(r)
	return logbook.Prediction{
		Height: r.Height, Angle: r.Angle / plane.Deg, CL: r.CL,
		Downforce: r.Downforce, DownforceStdUnc: b.Downforce, Drag: r.Drag, DragStdUnc: b.Drag,
		Share: 100 * r.Share, Shift: 100 * r.Shift,
	}
}
