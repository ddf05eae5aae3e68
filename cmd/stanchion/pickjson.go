package main

import (
	"slices"

	"github.com/spf13/cobra"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/figures"
	"stanchion/model/units"
	"stanchion/model/words"
)

func pickJSON(cmd *cobra.Command, t *model.Table, w choose.Criteria, noted bool, hits []choose.Hit, near []choose.Miss) error {
	u := shown(t.Car)
	settings, misses := []settingJSON{}, []object{}
	for i, h := range hits {
		r, _ := t.Find(h.Way)
		row := &t.Rows[h.Row]
		var used *float64
		if w.MaxUsed.Known() {
			used = figure(100*h.Holding.Used, 1)
		}
		at := []object{}
		for _, a := range h.At {
			at = append(at, object{{"speed_m_s", figure(a.Speed, 4)}, {"front_share_pct", figure(100*a.Share, 3)}, {"front_share_band_pct", figure(100*a.StdUnc, 3)}})
		}
		tight := []object{}
		for _, l := range h.Tight {
			tight = append(tight, nearLimitJSON(l))
		}
		settings = append(settings, slices.Concat(setting(t, r), object{
			{"chance_pct", figure(100*h.Chance.Of, 1)}, {"chance_band_pct", figure(100*h.Chance.StdUnc, 1)}, {"on_car_n", number(figures.Get(figures.OnCar).InFile(row.OnCar))},
			{"closeness_group", h.Group + 1}, {"off_target_pp", figure(100*h.Off, 3)},
			{"bolts_moved", moved(t, w, h.Work.Moved)}, {"bolts_moved_below", moved(t, w, h.Work.Below)}, {"bolts_fewer", moved(t, w, h.Work.Fewer)},
			{"strength_used_pct", used}, {"front_share_at", at}, {"lifts", row.Lifts()}, {"near_limits", tight},
			{"reasons", words.Hit(t, w, hits, i, u)},
		}))
	}
	for _, m := range near[:min(len(near), maxPicked)] {
		r := &t.Rows[m.Row]
		misses = append(misses, object{{"setting", setting(t, r)}, {"chance_pct", figure(100*m.Chance.Of, 1)}, {"chance_band_pct", figure(100*m.Chance.StdUnc, 1)}, {"bolts_moved", moved(t, w, m.Work.Moved)},
			{"stopped_by", words.StoppedBy(t, m, u)}, {"stopped_by_data", stopsJSON(r, m)}})
	}
	var from *string
	if w.From != "" {
		from = &w.From
	}
	return writeJSON(cmd.OutOrStdout(), object{
		{"target", words.Criteria(w, u)}, {"from", from}, {"from_notebook", noted}, {"hit_from_pct", figure(100*w.HitChance(), 1)}, {"near_from_pct", 100 * choose.NearFrom},
		{"alike_below", choose.AlikeBelow}, {"clear_from", choose.ClearFrom},
		{"settings", settings}, {"near", misses},
	})
}

// moved is a count of bolts; null where it is not known what is on the car.
func moved(t *model.Table, w choose.Criteria, n int) *int {
	if _, ok := t.Find(w.From); !ok {
		return nil
	}
	return &n
}

// stop is how an obstacle is named in JSON, and what its numbers are divided by.
type stop struct {
	what string
	size float64
}

// stops names the obstacles, those of a figure by its key.
var stops = map[choose.Obstacle]stop{
	choose.NoFigures: {"no_figures", 1}, choose.Stalled: {figures.StallMargin, plane.Deg}, choose.Lifts: {figures.Downforce, 1},
	choose.OffFrontShare: {figures.FrontShare, 0.01}, choose.OffBalanceShift: {figures.BalanceShift, 0.01},
	choose.BelowMinDownforce: {figures.Downforce, 1}, choose.AboveMaxDownforce: {figures.Downforce, 1},
	choose.BelowMinOnCar: {figures.OnCar, 1}, choose.AboveMaxOnCar: {figures.OnCar, 1}, choose.OnCarUnknown: {figures.OnCar, 0},
	choose.AboveMaxDrag: {figures.Drag, 1}, choose.StallMarginUnknown: {figures.StallMargin, 0}, choose.BelowMinStallMargin: {figures.StallMargin, plane.Deg},
	choose.BelowMinAngle: {figures.GroundAngle, plane.Deg}, choose.AboveMaxAngle: {figures.GroundAngle, plane.Deg},
	choose.BelowMinHeight: {figures.Height, 1}, choose.AboveMaxHeight: {figures.Height, 1}, choose.OtherHeight: {figures.Height, 1},
	choose.LidUnknown: {"lid_opens_to_deg", 0}, choose.BelowMinLid: {"lid_opens_to_deg", plane.Deg}, choose.NothingOnCar: {"from", 0},
	choose.TooManyMoves: {"bolts_moved", 1}, choose.FootMoves: {"bolts_moved_below", 1}, choose.StrengthNotChecked: {"strength_not_checked", 0},
	choose.DoesNotHold: {"strength_used_pct", 0.01}, choose.AboveMaxUsed: {"strength_used_pct", 0.01}, choose.TooUnlikely: {"chance_pct", 0.01},
}

// stopsJSON says as data what keeps a setting from being picked: limits first. A number is in the unit that
// what it is of ends in, and null where there is none.
func stopsJSON(r *model.Row, m choose.Miss) []object {
	all := []object{}
	if !r.Within() {
		for _, b := range r.Breaches {
			size := limitSize(b.Limit)
			all = append(all, object{{"what", "limit"}, {"limit", string(b.Limit)}, {"have", figure(b.Have/size, 3)}, {"wanted", figure(b.Allowed/size, 3)}, {"unit", limitUnit(b.Limit)}})
		}
		for range r.Missing {
			all = append(all, object{{"what", "no_figures"}})
		}
	}
	for _, s := range m.Shortfalls {
		k := stops[s.Obstacle]
		o := object{{"what", k.what}}
		if k.size > 0 && s.Obstacle != choose.NoFigures {
			o = append(o, field{"have", figure(s.Have/k.size, 3)}, field{"wanted", figure(s.Wanted/k.size, 3)}, field{"tolerance", figure(s.Tolerance/k.size, 3)})
		}
		if s.Speed > 0 {
			o = append(o, field{"speed_m_s", figure(s.Speed, 4)})
		}
		all = append(all, o)
	}
	return all
}

func nearLimitJSON(l choose.Tight) object {
	size := limitSize(l.Limit)
	return object{{"limit", string(l.Limit)}, {"have", figure(l.Have/size, 3)}, {"band", figure(l.StdUnc/size, 3)}, {"wanted", figure(l.Allowed/size, 3)},
		{"unit", limitUnit(l.Limit)}}
}

// limitUnit is the unit of a limit in JSON, and limitSize its size.
func limitUnit(l model.Limit) string {
	switch l {
	case model.LimitStall, model.LimitLid:
		return "deg"
	case model.LimitAxle:
		return "N"
	}
	return units.Metric.LengthUnit()
}

func limitSize(l model.Limit) float64 {
	if limitUnit(l) == "deg" {
		return plane.Deg
	}
	return 1
}
