package holes

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stanchion/holes/plane"
)

// spelt spells settings with their alternatives, in the order of their ids.
func spelt(all []Setting) []string {
	var lines []string
	for i := range all {
		s := &all[i]
		line := fmt.Sprintf("%s %d bolts", s.ID, s.Bolts)
		for _, a := range s.Alternatives {
			line += " or " + a.ID
		}
		lines = append(lines, line)
	}
	sort.Strings(lines)
	return lines
}

// drawChain draws two or three plates on a grid that many bolts fit, some holes kept for a joint, some in a slot.
func drawChain(t *rapid.T) Chain {
	c := Chain{Parts: []Part{drawPlate(t, "a", 7), drawPlate(t, "b", 6)}, Joints: []Joint{anyTurn("j")}}
	if rapid.Bool().Draw(t, "three parts") {
		c.Parts = append(c.Parts, drawPlate(t, "c", 4))
		c.Joints = append(c.Joints, anyTurn("k"))
	}
	for j := range c.Joints {
		c.Joints[j].MinBolts = rapid.IntRange(2, 3).Draw(t, "min bolts")
		c.Joints[j].MaxTurn = rapid.SampledFrom([]float64{0.5, math.Pi}).Draw(t, "max turn")
	}
	for p := range c.Parts {
		for i := range c.Parts[p].Holes {
			c.Parts[p].Holes[i].Joint = rapid.SampledFrom([]string{"", "", "j", "k"}).Draw(t, "kept for")
		}
	}
	if rapid.Bool().Draw(t, "twins") { // places close to one another, so that some stand for others
		for p := range c.Parts[:2] {
			for n := range rapid.IntRange(1, 3).Draw(t, "twins") {
				h := c.Parts[p].Holes[0]
				h.ID, h.X = fmt.Sprintf("%s%d", h.ID, n), h.X+0.22*float64(n+1)
				c.Parts[p].Holes = append(c.Parts[p].Holes, h)
			}
		}
	}
	if hs := c.Parts[1].Holes; len(hs) > 2 && rapid.Bool().Draw(t, "a slot") {
		hs[0].Slot, hs[1].Slot = "S", "S"
	}
	return c
}

// What further holes change, put together with what stays, is what the chain with them has: settings, who stands
// for a place, and in which order the others follow.
func TestFurtherHolesAsTheWholeChain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		chain := drawChain(t)
		old, err := chain.Settings()
		if err != nil {
			t.Skip("too many")
		}
		given := make([]*Setting, len(old))
		for i := range old {
			given[i] = &old[i]
		}
		was := spelt(old)
		bolted, err := NewBolted(chain, given)
		if err != nil {
			t.Fatal(err)
		}
		more := Chain{Parts: slices.Clone(chain.Parts), Joints: chain.Joints}
		for n := range rapid.IntRange(1, 2).Draw(t, "new holes") {
			p := &more.Parts[rapid.IntRange(0, len(more.Parts)-1).Draw(t, "part")]
			h := Hole{ID: fmt.Sprintf("new%d", n), X: 20 * float64(rapid.IntRange(0, 5).Draw(t, "x")), Z: 20 * float64(rapid.IntRange(0, 5).Draw(t, "z")), D: 8.4}
			h.X += rapid.Float64Range(-1, 1).Draw(t, "off")
			if rapid.Bool().Draw(t, "a twin") {
				h.X, h.Z = p.Holes[0].X-0.22, p.Holes[0].Z
			}
			h.Joint = rapid.SampledFrom([]string{"", "j", "k"}).Draw(t, "kept for")
			p.Holes = append(p.Holes[:len(p.Holes):len(p.Holes)], h)
		}
		want, err := more.Settings()
		if err != nil {
			t.Skip("too many")
		}
		change, err := bolted.With(more)
		if err != nil {
			t.Fatal(err)
		}
		shared := map[string]*Fit{} // what is drawn and tabled by fits finds the old ones again
		for _, s := range old {
			for j, f := range s.Fits {
				shared[fmt.Sprint(j, f.Pairs)] = f
			}
		}
		for _, s := range change.Settings {
			for j, f := range s.Fits {
				if o := shared[fmt.Sprint(j, f.Pairs)]; o != nil && o != f {
					t.Fatalf("%s has a copy of the fit %v", s.ID, f.Pairs)
				}
			}
		}
		got := change.Settings
		for i := range old {
			if !slices.Contains(change.Gone, i) {
				got = append(got, old[i])
			}
		}
		if a, b := strings.Join(spelt(got), "\n"), strings.Join(spelt(want), "\n"); a != b {
			t.Fatalf("with them\n%s\nby all holes\n%s", a, b)
		}
		poses := map[string]Setting{}
		for _, s := range want {
			poses[s.ID] = s
		}
		for _, s := range got {
			w := poses[s.ID]
			if math.Hypot(s.Pose.X-w.Pose.X, s.Pose.Z-w.Pose.Z) > 1e-6 || math.Abs(plane.Wrap(s.Pose.Turn-w.Pose.Turn)) > 1e-8 || math.Abs(s.Play-w.Play) > 1e-6 {
				t.Fatalf("%s: %+v play %g, want %+v play %g", s.ID, s.Pose, s.Play, w.Pose, w.Play)
			}
		}
		if now := spelt(old); !slices.Equal(now, was) {
			t.Fatal("the settings that were given have changed")
		}
	})
}
