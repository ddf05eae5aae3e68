package main

import (
	"github.com/spf13/cobra"

	"stanchion/model"
	"stanchion/model/advise"
	"stanchion/model/choose"
	"stanchion/model/words"
)

// Names of what advice says, as programs know them.
var (
	findingNames = map[choose.Finding]string{
		choose.TryNext: "try_next", choose.SettingGone: "setting_gone", choose.SettingMoved: "setting_moved", choose.NotedWithoutFigures: "no_figures", choose.OneEndOnly: "one_end_only",
		choose.FeltNeutral: "neutral", choose.SlowOnly: "slow_corners_only", choose.PhaseOnly: "entry_or_exit_only", choose.AlikeInSlow: "alike_in_slow_corners",
		choose.ShortAtBothEnds: "short_of_grip_at_both_ends", choose.UnstableFirst: "unstable", choose.NotesContradict: "notes_contradict",
		choose.NotAboutCorners: "fast_corners_not_noted", choose.NoneBetween: "none_between", choose.NoneFarEnough: "none_far_enough",
		choose.PhaseAgainst: "entry_or_exit_against_middle", choose.NotedStalled: "stalled", choose.StepTooLarge: "none_small_enough", choose.TriedThatWay: "tried_that_way",
	}
	unlikeNames = map[choose.Unlike]string{
		choose.OtherTyres: "tyres", choose.OtherPressures: "tyre_pressures", choose.OtherTrack: "track", choose.OtherPlace: "place", choose.OtherFuel: "fuel", choose.OtherAdjustments: "adjustments",
		choose.OtherDriver: "driver", choose.NoSuchSetting: "setting_gone", choose.Elsewhere: "setting_moved", choose.Contradictory: "contradictory", choose.AgainstWing: "against_the_wing",
	}
	sizingNames = map[choose.Sizing]string{choose.SmallestClear: "smallest_clear", choose.MultipleOfIt: "multiple_of_smallest_clear",
		choose.FromTwoNotes: "two_notes", choose.BeyondWhatWasSame: "beyond_what_felt_no_better"}
	ruleNames    = map[choose.Rule]string{choose.LeastOfSize: "least_work_of_size", choose.NearestBeyond: "nearest_beyond", choose.NearestShort: "nearest_short"}
	changedNames = map[choose.Changed]string{choose.AngleAlone: "angle", choose.HeightAlone: "height", choose.AngleAndHeight: "angle_and_height"}
	symptomNames = map[choose.Symptom]string{choose.AlikeInAllCorners: "all_corners", choose.InSlowCorners: "slow_corners", choose.AtEntry: "entry",
		choose.AtExit: "exit", choose.UnderBraking: "braking", choose.OnTheStraight: "straight", choose.ShortInFast: "grip_fast", choose.ShortInAll: "grip_all"}
)

// stepJSON is a step to a setting.
func stepJSON(c choose.Candidate) object {
	limits := []string{}
	for _, l := range c.Tight {
		limits = append(limits, string(l.Limit))
	}
	return object{{"id", c.Row.ID}, {"front_share_change_pp", figure(100*c.Change, 3)}, {"front_share_change_band_pp", figure(100*c.StdUnc, 3)},
		{"bolts_moved", c.Work.Moved}, {"bolts_moved_below_wing", c.Work.Below}, {"fewer_bolts", c.Work.Fewer}, {"changes", changedNames[c.Changed]},
		{"limits_not_clear", limits}}
}

func stepsJSON(all []choose.Candidate) []object {
	list := []object{}
	for _, c := range all {
		list = append(list, stepJSON(c))
	}
	return list
}

// nextJSON prints an advice with all that it rests on.
func nextJSON(cmd *cobra.Command, t *model.Table, a *advise.Advice) error {
	u := shown(t.Car)
	type leftOut struct {
		Note string `json:"note"`
		Why  string `json:"why"`
	}
	type symptom struct {
		What    string `json:"what"`
		Balance string `json:"balance,omitempty"`
		Corners string `json:"corners,omitempty"`
	}
	left, points, on := []leftOut{}, []symptom{}, append([]string{}, a.On...)
	for _, l := range a.LeftOut {
		left = append(left, leftOut{l.Note, unlikeNames[l.Why]})
	}
	for _, p := range a.Pointers {
		s := symptom{What: symptomNames[p.Symptom]}
		if p.Symptom <= choose.AtExit {
			s.Balance = map[bool]string{true: "oversteer", false: "understeer"}[p.Oversteer]
		}
		if p.Symptom == choose.AtEntry || p.Symptom == choose.AtExit {
			s.Corners = map[bool]string{true: "slow", false: "fast"}[p.Slow]
		}
		points = append(points, s)
	}
	doc := object{{"setting", nil}, {"why", words.Advice(a.Advice)}, {"cautions", words.AdviceCautions},
		{"reasons", append([]string{}, words.AdviceLines(t, a, u)...)}, {"finding", findingNames[a.Finding]}, {"note", a.Note}, {"noted_setting", a.Setting},
		{"notes_used", on}, {"notes_left_out", left}, {"felt_fast", figure(a.Felt, 2)}, {"felt_slow", figure(a.Slow, 2)}, {"wings_part", figure(a.WingsPart, 2)},
		{"symptoms", points}, {"thresholds", object{{"alike_below_std_unc", choose.AlikeBelow}, {"clear_from_std_unc", choose.ClearFrom},
			{"most_of_downforce_pct", figure(100*choose.MostOfWing, 1)}, {"least_unit_pp", 100 * choose.LeastUnit}, {"felt_uncertain_by_grades", 0.5}, // of older versions: decides nothing now
			{"least_of_wanted", choose.LeastOfWanted}, {"most_of_wanted", choose.MostOfWanted}}}}
	if a.Contradicts != [2]string{} {
		doc = append(doc, field{"contradict", a.Contradicts})
	}
	if a.TooMuch != "" {
		doc = append(doc, field{"too_much_by_note", a.TooMuch})
	}
	unstable := []string{}
	for _, w := range a.Unstable {
		unstable = append(unstable, w.Note)
	}
	doc = append(doc, field{"unstable_notes", unstable}, field{"on_car", a.IsOnCar()}, field{"too_much_unstable", a.BoundUnstable})
	if a.Finding == choose.UnstableFirst {
		doc = append(doc, field{"unstable_by_note", a.UnstableNote()})
	}
	if a.Unstalled != nil {
		doc = append(doc, field{"clear_of_stall", object{{"id", a.Unstalled.Row.ID}, {"bolts_moved", a.Unstalled.Work.Moved}}})
	}
	if a.Tried != nil {
		doc = append(doc, field{"tried", object{{"id", a.Tried.ID}, {"note", a.Second}, {"felt_the_same", a.TriedSame}}})
	}
	moved := []object{}
	for _, m := range a.Moved {
		moved = append(moved, object{{"note", m.Note}, {"id", m.Row.ID}, {"height_then_mm", figure(m.Height, 1)}, {"angle_then_deg", figure(m.Angle, 2)}})
	}
	doc = append(doc, field{"moved_since", moved})
	if a.TooLarge != nil {
		doc = append(doc, field{"smallest_step", stepJSON(*a.TooLarge)})
	}
	if a.Proposes() {
		other := func(c *choose.Candidate) any {
			if c == nil {
				return nil
			}
			return append(stepJSON(*c), field{"bolts", words.Moves(t.Car, a.From.Setting, c.Row.Setting)})
		}
		doc[0].value = setting(t, a.To)
		doc = append(doc, field{"step", stepJSON(a.Candidate)}, field{"bolts", words.Moves(t.Car, a.From.Setting, a.To.Setting)},
			field{"wanted_change_pp", figure(100*a.Wanted, 3)}, field{"smallest_clear_change_pp", figure(100*a.Smallest, 3)},
			field{"size_from", sizingNames[a.Sizing]}, field{"second_note", a.Second}, field{"clear_settings", a.Clear},
			field{"chosen_by", ruleNames[a.Rule]}, field{"less_work", other(a.Lighter)},
			field{"nearer_to_wanted", other(a.Nearer)}, field{"equal", stepsJSON(a.Equal)}, field{"passed_over", stepsJSON(a.PassedOver)},
			field{"strength", object{{"now", a.Now.String()}, {"proposed", a.Proposed.String()}, {"weaker", a.Weaker()}}})
	}
	if h := a.Hole; h != nil {
		hole := object{{"part", h.Part}, {"hole", nil}, {"gives", nil}}
		if h.Found != nil {
			n := h.Found.Holes[0]
			hole[1].value = object{{"id", n.ID}, {"x_mm", figure(n.X, 3)}, {"z_mm", figure(n.Z, 3)}, {"d_mm", figure(n.D, 3)}}
			hole[2].value = setting(h.Found.Table, h.Row)
		}
		doc = append(doc, field{"new_hole", hole})
	}
	return writeJSON(cmd.OutOrStdout(), doc)
}
