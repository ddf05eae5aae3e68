package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"stanchion/model/plan"
	"stanchion/model/units"
	"stanchion/model/words"
)

func planText(cmd *cobra.Command, p *plan.Plan, saved, sheet string) error {
	to, u := out(cmd), shown(p.Table.Car)
	w := to.cells()
	to.hang(w, words.PlanTitle(p), words.PlanHead(p))
	to.f("Order: %s\n", words.PlanOrder(p))
	to.hang(w, words.PlanSettings(p, u)...)
	for _, b := range p.Barred {
		to.hang(w, words.PlanBarred(p, b, p.Table.Name(b.Row.Setting), u))
	}
	to.f("\nsession  start  setting  laps  before it\n")
	for i := range p.Runs {
		s := &p.Runs[i]
		laps := fmt.Sprint(s.Laps)
		if s.Settle > 0 {
			laps = fmt.Sprintf("%d+%d", s.Settle, s.Laps)
		}
		change := words.PlanChange(p, s)
		if s.State == plan.Run && s.Other == "" {
			change = "run"
		}
		to.rowWith(fmt.Sprintf("%7d  %5s  %7s  %4s", s.Number, words.PlanClock(s.Start), words.PlanLetter(s.Setting), laps), change)
	}
	if next := p.Next(); next != nil && next.Number > 1 {
		to.f("\n")
		to.hang(w, "Next: "+words.PlanSession(p, next))
	}
	if told := words.PlanOutcomes(p); told != nil {
		to.f("\nWhat the runs tell so far:\n")
		to.hang(w, told...)
	}
	to.f("\nWhat the day can tell:\n")
	if !p.Find.ByReadings() {
		to.hang(w, words.PlanTells(p)...)
	}
	to.hang(w, words.PlanReadings(p, u)...)
	to.hang(w, words.PlanCannot(p)...)
	to.f("\n")
	to.hang(w, words.PlanCautions(p)...)
	if saved != "" {
		to.hang(w, fmt.Sprintf("Kept in %s.", units.Printable(saved)))
	}
	if sheet != "" {
		to.hang(w, fmt.Sprintf("%s: a sheet to print.", units.Printable(sheet)))
	}
	return to.err
}

func planJSON(cmd *cobra.Command, p *plan.Plan) error {
	u := shown(p.Table.Car)
	id := func(i int) any {
		if i < 0 {
			return nil
		}
		return p.Candidates[i].Row.ID
	}
	runs, tells, contrasts, barred := []object{}, []object{}, []object{}, []object{}
	settings := []any{}
	for i := range p.Candidates {
		settings = append(settings, object{{"id", id(i)}, {"strength", p.Candidates[i].Verdict.String()}})
	}
	for i := range p.Runs {
		s := &p.Runs[i]
		set := id(s.Setting)
		if s.Other != "" {
			set = s.Other
		}
		runs = append(runs, object{{"session", s.Number}, {"state", s.State.Key()}, {"setting", set}, {"laps", s.Laps}, {"laps_not_counted", s.Settle},
			{"start_min", figure(s.Start, 1)}, {"bolts_moved", s.Work.Moved}, {"change_min", figure(s.Change, 1)}, {"tells", words.PlanRunTells(p, s, u)}})
	}
	for _, c := range p.Contrasts {
		contrasts = append(contrasts, object{{"a", id(c.A)}, {"b", id(c.B)}, {"runs_a", c.RunsA}, {"runs_b", c.RunsB}, {"std_unc_s", figure(c.StdErr, 3)},
			{"seen_in_80_pct_s", figure(c.Seen, 3)}, {"seen_in_90_pct_s", figure(c.Sure, 3)}, {"bend_s_per_s", figure(c.Bend, 3)},
			{"one_after_the_other_s", figure(c.Blocked, 3)}})
	}
	for b := 1; b < len(p.Candidates); b++ {
		for _, t := range p.Tells(b) {
			if t.Known {
				tells = append(tells, object{{"a", id(0)}, {"b", id(b)}, {"what", t.Kind.Key()}, {"at_m_s", figure(t.Speed, 2)}, {"difference", figure(t.Expect, 4)},
					{"difference_band", figure(t.StdUnc, 4)}, {"read_to_std_unc", figure(t.Noise, 4)}, {"chance_pct", figure(100*t.Chance, 1)}, {"runs_each", t.Runs}})
			}
		}
	}
	for _, b := range p.Barred {
		barred = append(barred, object{{"id", b.Row.ID}, {"why", words.PlanBarred(p, b, p.Table.Name(b.Row.Setting), u)}})
	}
	outcomes := []object{}
	for _, o := range p.Outcomes() {
		outcomes = append(outcomes, object{{"a", id(o.A)}, {"b", id(o.B)}, {"b_less_a_s", figure(o.Difference, 3)}, {"interval_s", figure(o.Half, 3)}, {"runs", o.Runs}, {"clear", o.Clear()}})
	}
	left := []object{}
	for _, l := range p.LeftOut() {
		left = append(left, object{{"note", l.Note}, {"why", unlikeNames[l.Why]}})
	}
	value := func(v plan.Value) object {
		from := "given"
		switch {
		case v.Assumed():
			from = "assumed"
		case v.From > 0:
			from = "notes"
		}
		return object{{"value", figure(v.Of, 4)}, {"from", from}}
	}
	doc := object{{"find", p.Find.Key()}, {"date", p.Date.Format("2006-01-02")}, {"order", words.PlanOrder(p)}, {"runs", runs}, {"settings", settings}, {"not_planned", barred},
		{"laps_tell", contrasts}, {"laps_told", outcomes}, {"laps_left_out", left}, {"readings_tell", tells}, {"drift_degree", p.Degree}, {"degrees_of_freedom", p.Free},
		{"level_pct", figure(100*p.Level, 3)}, {"minutes_per_bolt", value(p.MinutesPerBolt)}, {"lap_scatter_s", value(p.LapScatter)}, {"run_scatter_s", value(p.RunScatter)},
		{"difference_s", figure(p.Difference, 3)}, {"laps_for_difference", p.LapsFor(p.Difference)}, {"runs_for_difference", p.RunsFor(p.Difference)}}
	if r := p.Reading; r != nil {
		doc = append(doc, field{"narrows", object{{"before_n", figure(r.Before, 1)}, {"after_n", figure(r.After, 1)}}})
	}
	return writeJSON(cmd.OutOrStdout(), append(doc, field{"cautions", words.PlanCautions(p)}))
}
