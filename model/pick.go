package model

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"stanchion/holes"
	"stanchion/model/units"
)

// Wishes say what a setting is wanted for. NaN stands for no wish.
type Wishes struct {
	Share, ShareWithin float64 // front share wanted, and by how much it may be off, fractions
	Shift, ShiftWithin float64 // balance shift wanted, the same
	DownforceLeast     float64 // N
	DownforceMost      float64 // N
	DragMost           float64 // N
	MarginLeast        float64 // rad, of the stall
	HeightLeast        float64 // mm
	HeightMost         float64 // mm
	From               string  // id of the setting that is on the car; "" for none
}

// NoWishes is Wishes without any.
func NoWishes() Wishes {
	n := math.NaN()
	return Wishes{n, n, n, n, n, n, n, n, n, n, ""}
}

// Text spells the target with its units; "" when there is none.
func (w Wishes) Text(u units.System) string {
	var parts []string
	say := func(x float64, what string, spell func(float64) string) {
		if !math.IsNaN(x) {
			parts = append(parts, what+" "+spell(x))
		}
	}
	percent := func(within float64, unit string, spell func(float64, int) string) func(float64) string {
		return func(x float64) string { return spell(100*x, 1) + " ± " + units.Fixed(100*within, 1) + unit }
	}
	say(w.Share, "front share", percent(w.ShareWithin, " %", units.Fixed))
	say(w.Shift, "balance shift", percent(w.ShiftWithin, " pp", units.Signed))
	say(w.DownforceLeast, "downforce at least", u.Force)
	say(w.DownforceMost, "downforce at most", u.Force)
	say(w.DragMost, "drag at most", u.Force)
	say(w.MarginLeast, "stall margin at least", func(x float64) string { return units.Fixed(x/Deg, 1) + "°" })
	say(w.HeightLeast, "height at least", u.Length)
	say(w.HeightMost, "height at most", u.Length)
	return strings.Join(parts, "; ")
}

// Hit is a setting that meets the target.
type Hit struct {
	Row    int
	Way    string   // id of the way of bolting the row's place that moves the fewest bolts
	Off    float64  // from the wanted front share or balance shift, fraction; 0 without such a wish
	Work   int      // bolts a side that must be moved, from the setting on the car; 0 without one
	Why    []string // in words
	ToNext string   // how far the next best is; "" for the last
}

// Miss is a setting that does not quite meet the target, and what stops it.
type Miss struct {
	Row       int
	StoppedBy []string
	shortfall float64 // all shortfalls together, each over what it is of
}

// Pick returns the settings that keep all limits and wishes, the best first, and
// of the others the nearest; words are in the units wanted. Best is closest to
// the wanted balance, in steps of a tenth of a percentage point; of those that
// are as close the one with the fewest bolts to move, then the most downforce, then
// the least drag. A setting that lifts or is stalled is never picked.
func (t *Table) Pick(w Wishes, u units.System) ([]Hit, []Miss) {
	from, _ := t.Find(w.From)
	var hits []Hit
	var near []Miss
	for i := range t.Rows {
		r := &t.Rows[i]
		if stopped, short := w.stops(r, u); len(stopped) > 0 {
			near = append(near, Miss{i, stopped, short})
			continue
		}
		h := Hit{Row: i, Way: r.ID, Off: w.off(r)}
		if from != nil {
			h.Way, h.Work = FewestMoves(from.Setting, r.Setting)
		}
		hits = append(hits, h)
	}
	sort.SliceStable(hits, func(a, b int) bool { return t.betterHit(w, &hits[a], &hits[b]) })
	for i := range hits {
		t.explain(w, hits, i, from, u)
	}
	sort.SliceStable(near, func(a, b int) bool { return near[a].shortfall < near[b].shortfall })
	return hits, near
}

// sameShare is the step in which closeness to a wanted balance counts, fraction:
// a tenth of a percentage point, less than any figure here is known to.
const sameShare = 0.001

func (t *Table) betterHit(w Wishes, a, b *Hit) bool {
	if x, y := math.Round(a.Off/sameShare), math.Round(b.Off/sameShare); x != y {
		return x < y
	}
	if a.Work != b.Work {
		return a.Work < b.Work
	}
	ra, rb := &t.Rows[a.Row], &t.Rows[b.Row]
	if x, y := math.Round(ra.Downforce), math.Round(rb.Downforce); x != y {
		return x > y
	}
	return ra.Drag < rb.Drag
}

// off returns how far a row is from the wanted balance.
func (w Wishes) off(r *Row) float64 {
	off := 0.0
	if !math.IsNaN(w.Share) {
		off = math.Abs(r.Share - w.Share)
	}
	if !math.IsNaN(w.Shift) {
		off = max(off, math.Abs(r.Shift-w.Shift))
	}
	return off
}

// stops says which limits and wishes a row does not keep, and by how much in all.
func (w Wishes) stops(r *Row, u units.System) (why []string, shortfall float64) {
	if !r.Within() {
		why = append(why, r.OutsideText(u)...)
		shortfall += float64(len(r.Outside))
	}
	if math.IsNaN(r.Downforce) {
		return append(why, "it has no figures"), math.Inf(1)
	}
	if r.Stalled && r.Within() {
		why = append(why, fmt.Sprintf("stalled, %.1f° past the largest lift", -r.StallMargin/Deg))
		shortfall += -r.StallMargin / (2 * Deg)
	}
	if r.Lifts() {
		why = append(why, fmt.Sprintf("it lifts, by %s", u.Force(-r.Downforce)))
		shortfall += 1 - r.Downforce/100
	}
	miss := func(short, of float64, text string, args ...any) {
		if short > 1e-9 {
			why = append(why, fmt.Sprintf(text, args...))
			shortfall += short / of
		}
	}
	if !math.IsNaN(w.Share) {
		miss(math.Abs(r.Share-w.Share)-w.ShareWithin, 0.01, "front share %.1f %%, target %.1f ± %.1f %%", 100*r.Share, 100*w.Share, 100*w.ShareWithin)
	}
	if !math.IsNaN(w.Shift) {
		miss(math.Abs(r.Shift-w.Shift)-w.ShiftWithin, 0.01, "balance shift %s pp, target %s ± %.1f pp", units.Signed(100*r.Shift, 1), units.Signed(100*w.Shift, 1), 100*w.ShiftWithin)
	}
	if !math.IsNaN(w.DownforceLeast) {
		miss(w.DownforceLeast-r.Downforce, 100, "downforce %s, minimum %s", u.Force(r.Downforce), u.Force(w.DownforceLeast))
	}
	if !math.IsNaN(w.DownforceMost) {
		miss(r.Downforce-w.DownforceMost, 100, "downforce %s, maximum %s", u.Force(r.Downforce), u.Force(w.DownforceMost))
	}
	if !math.IsNaN(w.DragMost) {
		miss(r.Drag-w.DragMost, 20, "drag %s, maximum %s", u.Force(r.Drag), u.Force(w.DragMost))
	}
	if !math.IsNaN(w.MarginLeast) {
		if math.IsNaN(r.StallMargin) {
			miss(1, 1, "stall margin not known")
		}
		miss(w.MarginLeast-r.StallMargin, 2*Deg, "stall margin %.1f°, minimum %.1f°", r.StallMargin/Deg, w.MarginLeast/Deg)
	}
	if !math.IsNaN(w.HeightLeast) {
		miss(w.HeightLeast-r.Height, 25, "height %s, minimum %s", u.Length(r.Height), u.Length(w.HeightLeast))
	}
	if !math.IsNaN(w.HeightMost) {
		miss(r.Height-w.HeightMost, 25, "height %s, maximum %s", u.Length(r.Height), u.Length(w.HeightMost))
	}
	return why, shortfall
}

// Moves returns how many bolts must be moved from one setting to another: those that
// come out, or those that go in where more go in. A bolt stays when both settings put
// it through the same two holes.
func Moves(from, to *holes.Setting) int {
	out, in := 0, 0
	for j, f := range from.Fits {
		stay := 0
		for _, p := range f.Pairs {
			if slices.Contains(to.Fits[j].Pairs, p) {
				stay++
			}
		}
		out, in = out+len(f.Pairs)-stay, in+len(to.Fits[j].Pairs)-stay
	}
	return max(out, in)
}

// FewestMoves returns the id of the way of bolting a setting's place that takes the
// fewest moved bolts from another setting, the setting itself where none takes fewer,
// and how many.
func FewestMoves(from, to *holes.Setting) (id string, moves int) {
	id, moves = to.ID, Moves(from, to)
	for i := range to.Alternatives {
		if n := Moves(from, &to.Alternatives[i]); n < moves {
			id, moves = to.Alternatives[i].ID, n
		}
	}
	return id, moves
}

// explain puts a hit's reasons into words.
func (t *Table) explain(w Wishes, hits []Hit, i int, from *Row, u units.System) {
	h := &hits[i]
	r := &t.Rows[h.Row]
	b := t.Bands(r)
	add := func(text string, args ...any) { h.Why = append(h.Why, fmt.Sprintf(text, args...)) }
	if !math.IsNaN(w.Share) {
		add("front share %.1f ± %.1f %%, %.1f from the target of %.1f %%", 100*r.Share, 100*b.Share, 100*math.Abs(r.Share-w.Share), 100*w.Share)
	}
	if !math.IsNaN(w.Shift) {
		add("balance shift %s ± %.1f pp, %.1f from the target of %s pp", units.Signed(100*r.Shift, 1), 100*b.Shift, 100*math.Abs(r.Shift-w.Shift), units.Signed(100*w.Shift, 1))
	}
	add("downforce %s ± %s %s for %s ± %s %s of drag", u.ForceFigure(r.Downforce), u.ForceFigure(b.Downforce), u.ForceUnit(), u.ForceFigure(r.Drag), u.ForceFigure(b.Drag), u.ForceUnit())
	add("stall: %s", t.StallText(r))
	if from != nil {
		switch h.Work {
		case 0:
			add("it is on the car")
		case 1:
			add("move one bolt a side")
		default:
			add("move %d bolts a side", h.Work)
		}
	}
	if i+1 < len(hits) {
		o := &t.Rows[hits[i+1].Row]
		h.ToNext = fmt.Sprintf("the next has %s %s and %s pp: %s", u.SignedForce(o.Downforce-r.Downforce), u.ForceUnit(), units.Signed(100*(o.Share-r.Share), 1), Apart(r, o, DifferenceBand(b, t.Bands(o))))
	}
}

// Apart says how clear the difference between two settings is, from its band: none
// below one band in both downforce and front share, an unsure one below two.
func Apart(a, b *Row, band Contribution) string {
	force, share := math.Abs(a.Downforce-b.Downforce)/band.Downforce, math.Abs(a.Share-b.Share)/band.Share
	switch most := max(force, share); {
	case math.IsNaN(most):
		return "difference not known"
	case most < 1:
		return "no clear difference"
	case most < 2:
		return "difference not sure"
	}
	return "differs"
}
