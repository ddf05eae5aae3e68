package choose_test

import (
	"slices"
	"testing"

	"stanchion/model"
	"stanchion/model/carfile"
	"stanchion/model/choose"
	"stanchion/model/logbook"
)

// Runs are held against the last one with laps: at the same place, on the same track in the same rain, with the same tyres and adjustments, in
// settings that are where they were. Another way of bolting a place counts as that place.
func TestLapNotes(t *testing.T) {
	car, err := carfile.Demo("coupe")
	if err != nil {
		t.Fatal(err)
	}
	table, err := car.Map(car.Speed)
	if err != nil {
		t.Fatal(err)
	}
	at := slices.IndexFunc(table.Rows, func(r model.Row) bool { return len(r.Alternatives) > 0 })
	id, other := table.Rows[max(at, 0)].ID, table.Rows[max(at, 0)].ID
	if at >= 0 {
		other = table.Rows[at].Alternatives[0].ID
	}
	note := func(name string, change func(*logbook.Note)) logbook.Note {
		n := logbook.Blank()
		n.ID, n.Setting, n.Venue, n.Track, n.Laps = name, id, "north field", logbook.TrackDry, []logbook.LapTime{{Seconds: 103}, {Seconds: 103.2}}
		change(&n)
		return n
	}
	notes := []logbook.Note{
		note("alike", func(*logbook.Note) {}), note("no laps", func(n *logbook.Note) { n.Laps = nil }), note("bolted", func(n *logbook.Note) { n.Fitted = true }),
		note("place", func(n *logbook.Note) { n.Venue = "south loop" }), note("wet", func(n *logbook.Note) { n.Track = logbook.TrackWet }),
		note("rain", func(n *logbook.Note) { n.Rain = logbook.RainLight }), note("bar", func(n *logbook.Note) { n.SetAdjustment("front bar", "3") }),
		note("gone", func(n *logbook.Note) { n.Setting = "none" }), note("moved", func(n *logbook.Note) { n.Expected.Height, n.Expected.Angle = 900, 30 }),
		note("way", func(n *logbook.Note) { n.Setting = other }),
		note("last", func(n *logbook.Note) { n.Rain = logbook.RainNone; n.SetAdjustment("front bar", "2") }), note("after", func(n *logbook.Note) { n.Laps = nil; n.Venue = "elsewhere" }),
	}
	kept, left := choose.LapNotes(table, notes)
	var names []string
	for _, n := range kept {
		if names = append(names, n.ID); n.Setting != id {
			t.Errorf("%s is of %s, want %s", n.ID, n.Setting, id)
		}
	}
	if !slices.Equal(names, []string{"alike", "way", "last"}) {
		t.Errorf("held against each other: %q", names)
	}
	want := []choose.LeftOut{{Note: "place", Why: choose.OtherPlace}, {Note: "wet", Why: choose.OtherTrack}, {Note: "rain", Why: choose.OtherTrack}, {Note: "bar", Why: choose.OtherAdjustments},
		{Note: "gone", Why: choose.NoSuchSetting}, {Note: "moved", Why: choose.Elsewhere}}
	if !slices.Equal(left, want) {
		t.Errorf("left out: %v, want %v", left, want)
	}
	if kept, left := choose.LapNotes(table, notes[1:3]); kept != nil || left != nil {
		t.Error("notes without laps are runs")
	}
}
