package calibrate_test

import (
	"time"

	"stanchion/model/logbook"
)

func noteOf(setting string) logbook.Note {
	n := logbook.Blank()
	n.ID, n.At, n.Setting = "2026-11-25.1", time.Date(2026, 11, 25, 10, 0, 0, 0, time.UTC), setting
	return n
}
