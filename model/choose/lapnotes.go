package choose

import (
	"strings"

	"stanchion/model"
	"stanchion/model/logbook"
)

// LapNotes returns the notes with lap times that can be held against the last of them, each with the id of the setting that
// stands in the table for its place, and why others are left out.
func LapNotes(t *model.Table, notes []logbook.Note) (kept []logbook.Note, left []LeftOut) {
	var timed []logbook.Note
	for _, n := range notes {
		if len(n.Laps) > 0 && !n.Fitted {
			timed = append(timed, n)
		}
	}
	if len(timed) == 0 {
		return nil, nil
	}
	last := &timed[len(timed)-1]
	var e Evidence
	for i := range timed {
		n := timed[i]
		k, there := t.Index(n.Setting)
		why := unlike(&n, last)
		switch {
		case !there:
			why = NoSuchSetting
		case e.moved(&n, t):
			why = Elsewhere
		case why == Alike && n.Rain != "" && last.Rain != "" && !strings.EqualFold(n.Rain, last.Rain):
			why = OtherTrack
		}
		if why != Alike {
			left = append(left, LeftOut{n.ID, why})
			continue
		}
		n.Setting = t.Rows[k].ID
		kept = append(kept, n)
	}
	return kept, left
}
