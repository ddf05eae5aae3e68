package main

import (
	"math"

	"github.com/spf13/cobra"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/drill"
	"stanchion/model/units"
	"stanchion/model/words"
)

type ruleJSON struct {
	Hole string   `json:"hole"`
	Rule string   `json:"rule"`
	Have *float64 `json:"have_mm"`
	Need *float64 `json:"need_mm"`
	OK   bool     `json:"ok"`
}

func rulesOf(rules []drill.RuleCheck) []ruleJSON {
	all := []ruleJSON{}
	for _, r := range rules {
		all = append(all, ruleJSON{r.Hole, words.Rule(r), figure(r.Have, 2), figure(r.Need, 2), r.OK})
	}
	return all
}

func addedJSON(tr drill.Trial) []settingJSON {
	added := []settingJSON{}
	for _, i := range tr.Added {
		added = append(added, setting(tr.Table, &tr.Table.Rows[i]))
	}
	return added
}

// thresholdsJSON are what verdicts on holes go by.
type thresholdsJSON struct {
	AlikeBelow float64 `json:"alike_below"` // standard uncertainties of the difference
	ClearFrom  float64 `json:"clear_from"`
	Height     float64 `json:"same_height_mm"`
}

func holeThresholds() thresholdsJSON {
	return thresholdsJSON{choose.AlikeBelow, choose.ClearFrom, drill.SameHeight}
}

// useJSON is why an added setting is of use or not.
type useJSON struct {
	ID         string   `json:"id"`
	OfUse      bool     `json:"of_use"`
	Why        string   `json:"why"`
	Like       string   `json:"like,omitempty"`
	LikeName   string   `json:"like_name,omitempty"`
	Difference *float64 `json:"difference_n,omitempty"`
	StdUnc     *float64 `json:"difference_std_unc_n,omitempty"`
}

func usesOf(tr drill.Trial, u units.System) []useJSON {
	all := []useJSON{}
	for n, i := range tr.Added {
		if n >= len(tr.Uses) {
			break
		}
		r, l := &tr.Table.Rows[i], tr.Uses[n]
		one := useJSON{ID: r.ID, OfUse: l.Use == drill.OfUse, Why: "keeps all limits and differs clearly from every setting that exists"}
		if l.Use != drill.OfUse {
			one.Why = words.NoUse(r, l, u)
		}
		if l.Use == drill.LikeAnother {
			one.Like, one.LikeName = l.ID, l.Name
			one.Difference, one.StdUnc = figure(l.Downforce-l.Other, 1), figure(l.StdUnc, 1)
		}
		all = append(all, one)
	}
	return all
}

// levelJSON is the angles at one height.
type levelJSON struct {
	Height    *float64 `json:"height_mm"`
	Lowest    *float64 `json:"height_low_mm"`
	Highest   *float64 `json:"height_high_mm"`
	Low       *float64 `json:"low_deg"`
	High      *float64 `json:"high_deg"`
	AngleStep *float64 `json:"angle_step_deg"`
	ForceStep *float64 `json:"force_step_n"`
	Count     int      `json:"count"`
}

func levelsOf(levels []choose.Level) []levelJSON {
	all := []levelJSON{}
	for _, l := range levels {
		all = append(all, levelJSON{figure(l.Height, 1), figure(l.Lowest, 1), figure(l.Highest, 1), figure(l.Low/plane.Deg, 3), figure(l.High/plane.Deg, 3), figure(l.AngleStep/plane.Deg, 3),
			figure(l.ForceStep, 1), l.Count})
	}
	return all
}

// changeJSON is one height without and with new holes; without is null where there was none.
type changeJSON struct {
	Without *levelJSON `json:"without"`
	With    levelJSON  `json:"with"`
}

func changesOf(changes []drill.LevelChange) []changeJSON {
	all := []changeJSON{}
	for _, c := range changes {
		one := changeJSON{With: levelsOf([]choose.Level{*c.With})[0]}
		if c.Without != nil {
			one.Without = &levelsOf([]choose.Level{*c.Without})[0]
		}
		all = append(all, one)
	}
	return all
}

type holeJSON struct {
	Part string   `json:"part"`
	X    *float64 `json:"x_mm"`
	Z    *float64 `json:"z_mm"`
	D    *float64 `json:"d_mm"`
}

func holesOf(c *model.Car, hs []drill.NewHole) []holeJSON {
	all := []holeJSON{}
	for _, h := range hs {
		all = append(all, holeJSON{c.Parts[h.Part].Name, figure(h.X, 3), figure(h.Z, 3), figure(h.D, 3)})
	}
	return all
}

func tryJSON(cmd *cobra.Command, tr drill.Trial) error {
	return writeJSON(cmd.OutOrStdout(), struct {
		Added      []settingJSON  `json:"added"`
		Further    []string       `json:"further_bolt"`
		Worth      bool           `json:"worth"`
		Verdict    string         `json:"verdict"`
		Rules      []ruleJSON     `json:"rules"`
		Gain       *float64       `json:"gain_deg"`
		Uses       []useJSON      `json:"uses"`
		Before     []levelJSON    `json:"levels_before"`
		After      []levelJSON    `json:"levels_after"`
		Changes    []changeJSON   `json:"level_changes"`
		Thresholds thresholdsJSON `json:"thresholds"`
	}{addedJSON(tr), append([]string{}, tr.Further...), tr.Verdict.Good(), words.Trial(&tr, units.Metric), rulesOf(tr.Rules), gainOf(tr.Shrink),
		usesOf(tr, units.Metric), levelsOf(tr.Before), levelsOf(tr.After), changesOf(tr.LevelChanges()), holeThresholds()})
}

// gainOf is by how much steps shrink, in degrees.
func gainOf(rad float64) *float64 { return figure(math.Max(rad, 0)/plane.Deg, 3) }
