package choose

import (
	"math"
	"testing"

	"stanchion/model/logbook"
)

func TestMinutesPerBolt(t *testing.T) {
	note := func(minutes, bolts float64, by string) logbook.Note {
		n := logbook.Blank()
		n.Minutes, n.BoltsMoved, n.ChangedBy = minutes, bolts, by
		return n
	}
	notes := []logbook.Note{note(12, 4, "Kim"), note(10, 2, "Lee"), note(20, 5, "Kim"), note(math.NaN(), 2, "Kim"), note(8, 0, "Kim"), note(32, 4, "Kim")}
	// By hand: 3, 5, 4, 8 minutes a bolt, the median 4.5; of Kim's 3, 4, 8, it is 4.
	if m, n := MinutesPerBolt(notes, ""); m != 4.5 || n != 4 {
		t.Errorf("all: %v of %d", m, n)
	}
	if m, n := MinutesPerBolt(notes, "Kim"); m != 4 || n != 3 {
		t.Errorf("Kim: %v of %d", m, n)
	}
	if m, n := MinutesPerBolt(notes, "Jo"); !math.IsNaN(m) || n != 0 {
		t.Errorf("Jo: %v of %d", m, n)
	}
}
