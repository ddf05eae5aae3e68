package choose_test

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/logbook"
)

// bolts counts the work between two ids, bolt by bolt.
func bolts(from, to string) (fewer, moved int) {
	a, b := strings.Split(from, "/"), strings.Split(to, "/")
	out, in := 0, 0
	for j := range a {
		x, y := strings.Split(a[j], "+"), strings.Split(b[j], "+")
		fewer = max(fewer, len(x)-len(y))
		for _, p := range x {
			if !slices.Contains(y, p) {
				out++
			}
		}
		for _, p := range y {
			if !slices.Contains(x, p) {
				in++
			}
		}
	}
	return fewer, max(out, in)
}

// way is one way of bolting that may be the step.
type way struct {
	row          *model.Row
	size, std    float64 // change of front share in the wanted direction, and its standard uncertainty
	fewer, moved int
}

// trial is what a driver's notes ask for, worked out from notes and table alone.
type trial struct {
	table   *model.Table
	from    *model.Row
	sign    float64            // of the wanted change
	part    float64            // steps of the scale that the wing is to change
	felt    map[int]float64    // by row of the table, the mean of its notes
	row     map[int]*model.Row // as it was bolted last
	leftOut map[string]bool    // notes
	all     []way              // clear steps within all bounds
}

func (tr *trial) std(x, y *model.Row) float64 {
	return model.DifferenceStdUnc(tr.table.Budget(x), tr.table.Budget(y)).Share
}

func newTrial(table *model.Table, a *choose.Advice, notes []logbook.Note) *trial {
	tr := &trial{table: table, from: a.From, sign: 1, felt: map[int]float64{}, row: map[int]*model.Row{}, leftOut: map[string]bool{}}
	for _, l := range a.LeftOut {
		tr.leftOut[l.Note] = true
	}
	counted, slow, slows := map[int]float64{}, 0.0, 0.0
	at, _ := table.Index(a.From.ID)
	for _, n := range notes {
		k, ok := table.Index(n.Setting)
		if !ok || tr.leftOut[n.ID] {
			continue
		}
		tr.row[k], _ = table.Find(n.Setting)
		tr.felt[k] += float64(n.Feel.Fast.Middle)
		counted[k]++
		if m := n.Feel.Slow.Middle; k == at && m != logbook.NoFeel {
			slow, slows = slow+float64(m), slows+1
		}
	}
	for k := range tr.felt {
		tr.felt[k] /= counted[k]
	}
	own := tr.felt[at]
	if tr.part = math.Abs(own); own > 0 {
		tr.sign = -1
	}
	if slows > 0 && slow*own > 0 {
		tr.part -= math.Abs(slow / slows)
	}
	tr.list(at)
	return tr
}

// list tries every way of every setting: those that can be run and are clear from the setting noted, lie clearly
// short of what was too much and past what was too little, and change a third of the downforce at most or
// go no further than was driven. Of these it keeps those that take the fewest bolts out of a joint.
func (tr *trial) list(at int) {
	driven, least, most := 0.0, math.Inf(-1), math.Inf(1)
	var tooMuch, same *model.Row
	own := tr.felt[at]
	for k, f := range tr.felt {
		to := tr.sign * (tr.row[k].Share - tr.from.Share)
		driven = math.Max(driven, to)
		switch {
		case k == at || !(to > 0):
		case f*own < 0 && to < most:
			most, tooMuch = to, tr.row[k]
		case f*own > 0 && to > least:
			if least, same = to, nil; math.Abs(f) >= math.Abs(own) && to >= 2*tr.std(tr.row[k], tr.from) {
				same = tr.row[k]
			}
		}
	}
	if least >= most {
		least, same = math.Inf(-1), nil
	}
	keeps := 99
	for i := range tr.table.Rows {
		for _, id := range append(tr.table.Rows[i].AlternativeIDs(), tr.table.Rows[i].ID) {
			r, _ := tr.table.Find(id)
			w := way{row: r, size: tr.sign * (r.Share - tr.from.Share)}
			if len(r.Breaches) > 0 || r.NoForces() || r.Stalled || r.Downforce < 0 || !(w.size > 0) || w.size < least-1e-9 || w.size >= most {
				continue
			}
			if w.std = tr.std(r, tr.from); w.size < 2*w.std {
				continue
			}
			if tooMuch != nil && math.Abs(tooMuch.Share-r.Share) < 2*tr.std(r, tooMuch) || same != nil && math.Abs(same.Share-r.Share) < 2*tr.std(r, same) {
				continue
			}
			if math.Abs(r.Downforce-tr.from.Downforce) > tr.from.Downforce/3 && w.size > driven {
				continue
			}
			w.fewer, w.moved = bolts(tr.from.ID, id)
			keeps = min(keeps, w.fewer)
			tr.all = append(tr.all, w)
		}
	}
	tr.all = slices.DeleteFunc(tr.all, func(w way) bool { return w.fewer > keeps })
}

// wanted is the size of step that the notes ask for. Of two notes on which second is the other: by a
// straight line; less wing no further past what was driven than the two are apart.
func (tr *trial) wanted(sizing choose.Sizing, second string, notes []logbook.Note) (size float64, capped bool) {
	smallest := math.Inf(1)
	for _, w := range tr.all {
		smallest = math.Min(smallest, w.size)
	}
	at, _ := tr.table.Index(tr.from.ID)
	switch sizing {
	case choose.BeyondWhatWasSame:
		return smallest, false
	case choose.FromTwoNotes:
		for _, n := range notes {
			if n.ID != second {
				continue
			}
			k, _ := tr.table.Index(n.Setting)
			to := tr.row[k].Share - tr.from.Share
			size = math.Abs(tr.part * to / (tr.felt[k] - tr.felt[at]))
			if limit := math.Max(tr.sign*to, 0) + math.Abs(to); tr.sign > 0 && size > limit {
				return limit, true
			}
			return size, false
		}
	}
	return math.Max(1, math.Min(math.Round(tr.part), 3)) * math.Max(smallest, 0.003), false
}

// least is the least work of the steps between half and twice the wanted size, or within one standard
// uncertainty of that; where there are none, of the nearest beyond, or else short of it, with those within
// one standard uncertainty of that one.
func (tr *trial) least(size float64, capped bool) (fewer, moved int) {
	var of, beyond, short []way
	for _, w := range tr.all {
		switch {
		case capped && w.size > size+1e-9 && w.size-size >= w.std:
		case w.size < size/2-1e-9 && size/2-w.size >= w.std:
			short = append(short, w)
		case w.size > 2*size+1e-9 && w.size-2*size >= w.std:
			beyond = append(beyond, w)
		default:
			of = append(of, w)
		}
	}
	if len(of) == 0 {
		from := beyond
		if len(beyond) == 0 {
			from = short
		}
		near := slices.MinFunc(from, func(x, y way) int {
			return cmp.Or(cmp.Compare(math.Abs(x.size-size), math.Abs(y.size-size)), x.fewer-y.fewer, x.moved-y.moved, cmp.Compare(x.row.ID, y.row.ID))
		})
		for _, w := range from {
			if w.row.ID == near.row.ID || math.Abs(w.size-near.size) < tr.std(w.row, near.row) {
				of = append(of, w)
			}
		}
	}
	best := slices.MinFunc(of, func(x, y way) int { return cmp.Or(x.fewer-y.fewer, x.moved-y.moved) })
	return best.fewer, best.moved
}
