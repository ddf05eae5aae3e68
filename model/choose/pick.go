package choose

import (
	"cmp"
	"math"
	"slices"

	"stanchion/model"
)

// Hit is a setting that meets the criteria.
type Hit struct {
	Row  int
	Way  string  // id of the way of bolting the row's place that takes the least work
	Off  float64 // from the wanted front share or share shift, fraction; 0 without such a target
	Work Work    // from the setting on the car; none without one
}

// Miss is a setting that does not quite meet the criteria: limits that it breaks, figures
// that it has not, and criteria that it does not meet.
type Miss struct {
	Row        int
	Shortfalls []Shortfall
}

// Pick returns the settings that keep all limits and meet the criteria, the best first, and
// of the others the nearest. Best is closest to the wanted balance, in steps of a tenth of a
// percentage point; of those that are as close the one with the fewest bolts to move, then
// the most downforce, then the least drag. A setting that lifts or is stalled is never
// picked.
func Pick(t *model.Table, c Criteria) ([]Hit, []Miss) {
	from, onCar := t.Find(c.From)
	var hits []Hit
	var near []Miss
	for i := range t.Rows {
		r := &t.Rows[i]
		if s := c.shortfalls(r); len(s) > 0 || !r.Within() {
			near = append(near, Miss{i, s})
			continue
		}
		h := Hit{Row: i, Way: r.ID, Off: c.off(r)}
		if onCar {
			h.Way, h.Work = LeastWork(from.Setting, r.Setting)
		}
		hits = append(hits, h)
	}
	slices.SortStableFunc(hits, func(a, b Hit) int {
		ra, rb := &t.Rows[a.Row], &t.Rows[b.Row]
		return cmp.Or(
			cmp.Compare(math.Round(a.Off/balanceStep), math.Round(b.Off/balanceStep)),
			a.Work.Compare(b.Work),
			cmp.Compare(math.Round(rb.Downforce), math.Round(ra.Downforce)),
			cmp.Compare(ra.Drag, rb.Drag),
		)
	})
	slices.SortStableFunc(near, func(a, b Miss) int { return cmp.Compare(a.size(t), b.size(t)) })
	return hits, near
}

// balanceStep is the step in which closeness to a wanted balance counts, fraction: a tenth
// of a percentage point, less than any figure here is known to.
const balanceStep = 0.001

// size adds up how far a setting is from what is wanted; a limit that it breaks, or figures
// that it has not, count one each.
func (m Miss) size(t *model.Table) float64 { return distance(&t.Rows[m.Row], m.Shortfalls) }

func distance(r *model.Row, shortfalls []Shortfall) float64 {
	sum := 0.0
	if !r.Within() {
		sum = float64(len(r.Breaches) + len(r.Missing))
	}
	for _, s := range shortfalls {
		sum += s.timesAcceptable
	}
	return sum
}

// Distance is how far a row is from meeting the criteria and the limits, in differences that
// hardly matter (a share of 0.01, 100 N, 20 N of drag, 2°, 25 mm) and limits broken; 0 when it
// meets them.
func (c Criteria) Distance(r *model.Row) float64 { return distance(r, c.shortfalls(r)) }
