package plan

import (
	"strings"

	"stanchion/model/laps"
	"stanchion/model/logbook"
)

// LearnFrom takes from notes what they tell of bolts and laps: the time for a bolt of one person, or of all where who is "", and the scatters.
// Notes count bolts at one of so many uprights; the minutes are for all of them.
func LearnFrom(notes []logbook.Note, who string, uprights float64) (perBolt, lap, run Value) {
	var minutes, bolts []float64
	days := map[string]int{}
	var runs [][]laps.Run
	for _, n := range notes {
		if who == "" || strings.EqualFold(strings.TrimSpace(n.ChangedBy), strings.TrimSpace(who)) {
			minutes, bolts = append(minutes, n.Minutes), append(bolts, uprights*n.BoltsMoved)
		}
		if len(n.Laps) < 2 {
			continue
		}
		one := laps.Run{Name: n.ID, Setting: n.Setting}
		for _, l := range n.Laps {
			one.Laps = append(one.Laps, laps.Lap{Time: l.Seconds, Mark: l.Mark})
		}
		key := n.At.Format("2006-01-02") + " " + n.Venue + " " + n.Driver
		at, met := days[key]
		if !met {
			at = len(runs)
			days[key] = at
			runs = append(runs, nil)
		}
		runs[at] = append(runs[at], one)
	}
	lap, run = Scatters(runs)
	return PerBolt(minutes, bolts), lap, run
}

// RunsNoted lists the settings that notes of a day say were run, in their order: those with laps, a lap time, ride heights, a top speed or
// how it felt.
func RunsNoted(notes []logbook.Note, day string) (ids []string) {
	for _, n := range notes {
		if n.At.Format("2006-01-02") == day && n.Setting != "" && !n.Fitted && wasRun(n) {
			ids = append(ids, n.Setting)
		}
	}
	return ids
}

func wasRun(n logbook.Note) bool {
	for _, x := range []float64{n.Lap, n.LapsRun, n.TopSpeed, n.Sink.Front, n.Sink.Rear} {
		if x == x {
			return true
		}
	}
	return len(n.Laps) > 0 || n.Feel != logbook.Blank().Feel
}
