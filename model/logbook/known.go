package logbook

import (
	"strings"
	"sync"
	"time"
)

// known is what a note with every key says, and where each stands as it is written.
type known struct {
	of    map[string]any
	place map[string]int
	keys  []string
}

// allKnown is made of what encode writes, so that a new key is known by itself.
var allKnown = sync.OnceValue(func() known {
	// The numbers are 0 and the feels neutral, which is noted.
	n := Note{ID: "x", Replaces: "x", Withdrawn: true, Restores: "x", Confirms: "x", At: time.Unix(0, 0), Venue: "x", Setting: "x", Fitted: true,
		TyreSet: "x", Driver: "x", Track: TrackDry, Rain: RainNone, ChangedBy: "x", Laps: []LapTime{{1, MarkOut}}, Adjustments: []Adjustment{{"x", "x"}},
		Inspected: Inspection{[]string{"x"}, []string{"x"}, "x", "x", "x", StruckKerb}, Text: "x", Car: "x"}
	text := encode(n)
	k := known{place: map[string]int{}}
	k.of, _ = values(text)
	for _, line := range strings.Split(string(text), "\n") {
		if key, _, ok := strings.Cut(line, " = "); ok {
			k.place[key] = len(k.keys)
			k.keys = append(k.keys, key)
		}
	}
	return k
})

// Keys are the keys of a note that this program knows, in the order of the file.
func Keys() []string { return allKnown().keys }

// place is where a key stands among the keys of a note as it is written; behind all others
// where it is not known.
func place(key string) int {
	if at, known := allKnown().place[key]; known {
		return at
	}
	return 1 << 30
}
