package strength

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// TestMostUsed holds the choice to a stable sort, with equals and figures that are none among them.
func TestMostUsed(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for _, n := range []int{0, 1, mostRead - 1, mostRead, mostRead + 1, 7 * mostRead} {
		used := make([]float64, n)
		want := make([]int, n)
		for i := range used {
			used[i], want[i] = float64(r.IntN(n/2+1)), i
			if r.IntN(20) == 0 {
				used[i] = math.NaN()
			}
		}
		slices.SortStableFunc(want, func(a, b int) int { return cmp.Compare(used[b], used[a]) })
		if got := mostUsed(n, func(i int) float64 { return used[i] }); !slices.Equal(got, want[:min(n, mostRead)]) {
			t.Errorf("of %d: %v, want %v", n, got, want[:min(n, mostRead)])
		}
	}
}
