package words_test

import (
	"strings"
	"testing"

	"stanchion/model/modeltest"
	"stanchion/model/words"
)

// From row 4, A2 to row 4, B2 the two bolts of the wing move; to row 1, A2 the four of the foot; on the hatch a foot of two bolts
// becomes one of four: two go in, and those that stay are not named.
func TestMovesByHand(t *testing.T) {
	coupe, hatch := modeltest.Table(t, "coupe"), modeltest.TableOf(t, modeltest.File(t, "hatch.toml"))
	for _, c := range []struct {
		from, to, moves, short, count string
	}{
		{"4 A2", "4 B2", "head: F from A to B, R from A2 to B2", "F A→B R A2→B2", "move 2 bolts a side"},
		{"4 A2", "1 A2", "foot: k1 from 4 to 1, k2 from 10 to 7, k3 from 6 to 3, k4 from 12 to 9", "k1 4→1 k2 10→7 k3 6→3 k4 12→9", "move 4 bolts a side"},
		{"4 A2", "4 A2", "", "", "no bolt to move"},
		{"1-6 A4", "5-6 A4", "foot: k1 from 1 to 5, k2 from 2 to 6, k3 out of 5, k4 out of 6", "k1 1→5 k2 2→6 k3 out of 5 k4 out of 6", "move 4 bolts a side"},
		{"5-6 A4", "1-6 A4", "foot: k1 from 5 to 1, k2 from 6 to 2, k3 into 5, k4 into 6", "k1 5→1 k2 6→2 k3 into 5 k4 into 6", "move 4 bolts a side"},
	} {
		table := coupe
		if strings.Contains(c.from, "-") {
			table = hatch
		}
		a, b := table.Named(strings.Fields(c.from)), table.Named(strings.Fields(c.to))
		if len(a) != 1 || len(b) != 1 {
			t.Fatalf("%s and %s find %d and %d", c.from, c.to, len(a), len(b))
		}
		if got := strings.Join(words.Moves(table.Car, a[0].Setting, b[0].Setting), "; "); got != c.moves {
			t.Errorf("%s to %s: %q, want %q", c.from, c.to, got, c.moves)
		}
		if got := strings.Join(words.MovesInShort(table.Car, a[0].Setting, b[0].Setting), "; "); got != c.short {
			t.Errorf("%s to %s in short: %q, want %q", c.from, c.to, got, c.short)
		}
		if got := words.MoveCount(a[0].Setting, b[0].Setting); got != c.count {
			t.Errorf("%s to %s: %q, want %q", c.from, c.to, got, c.count)
		}
	}
}
