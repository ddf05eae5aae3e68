package main

import (
	"math"

	"github.com/spf13/cobra"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/drill"
	"stanchion/model/units"
	"stanchion/model/words"
)

// reasonNames are what keeps bolts from going in, as programs know it.
var reasonNames = map[holes.Reason]string{
	holes.Fine: "goes_in", holes.Reserved: "reserved", holes.Small: "too_small", holes.Shared: "shared", holes.Spacing: "spacing",
	holes.Crowded: "not_all_at_once", holes.TurnedOff: "turned_too_far",
}

// whyJSON prints all that was tried.
func whyJSON(cmd *cobra.Command, car *model.Car, lines []drill.WhyLine) error {
	type tried struct {
		Joint  string      `json:"joint"`
		Pairs  [][2]string `json:"pairs"`
		GoesIn bool        `json:"goes_in"`
		Reason string      `json:"reason"`
		Slack  *float64    `json:"slack_mm"`
		Turn   *float64    `json:"turn_deg"`
		Play   *float64    `json:"play_deg"`
		Why    string      `json:"why"`
	}
	all := []tried{}
	for _, l := range lines {
		one := tried{Joint: car.Joints[l.Joint].Name, Pairs: [][2]string{}, GoesIn: l.Reason == holes.Fine, Reason: reasonNames[l.Reason], Why: words.Why(car, l, units.Metric)}
		for _, p := range l.Pairs {
			one.Pairs = append(one.Pairs, [2]string{car.Parts[l.Joint].Holes[p.Lower].ID, car.Parts[l.Joint+1].Holes[p.Upper].ID})
		}
		switch l.Reason {
		case holes.Fine:
			one.Slack, one.Turn, one.Play = figure(l.Slack, 3), figure(l.Turn/plane.Deg, 3), figure(l.Play/plane.Deg, 3)
		case holes.TurnedOff:
			one.Turn = figure(l.Turn/plane.Deg, 3)
		case holes.Spacing, holes.Crowded:
			one.Slack = figure(math.Min(l.Slack, 0), 3)
		}
		all = append(all, one)
	}
	return writeJSON(cmd.OutOrStdout(), struct {
		Tried []tried `json:"tried"`
	}{all})
}

// builtJSON prints what holes as built change: how each setting stands on its two sides, and which are gone.
func builtJSON(cmd *cobra.Command, before, after *model.Table) error {
	type stands struct {
		ID    string     `json:"id"`
		Sides *sidesJSON `json:"as_built"`
	}
	doc := struct {
		Settings []stands `json:"settings"`
		Gone     []string `json:"gone"`
	}{[]stands{}, []string{}}
	for i := range after.Rows {
		doc.Settings = append(doc.Settings, stands{after.Rows[i].ID, sidesOf(after, &after.Rows[i])})
	}
	for i := range before.Rows {
		if _, ok := after.Find(before.Rows[i].ID); !ok {
			doc.Gone = append(doc.Gone, before.Rows[i].ID)
		}
	}
	return writeJSON(cmd.OutOrStdout(), doc)
}
