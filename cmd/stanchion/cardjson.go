package main

import (
	"stanchion/model/card"
	"stanchion/model/words"
)

// cardsJSON is what stands on cards.
type cardsJSON struct {
	Car      string        `json:"car"`
	Date     string        `json:"date"`
	File     *string       `json:"file"`
	Air      string        `json:"figures"`
	Checked  string        `json:"strength_checked"`
	Cards    []cardJSON    `json:"cards"`
	Overview []overJSON    `json:"overview"`
	Left     string        `json:"left_out"`
	Assumed  []assumedJSON `json:"assumed"`
	Caution  string        `json:"caution"`
}

type cardJSON struct {
	Setting  settingJSON     `json:"setting"`
	Title    string          `json:"title"`
	Marks    []string        `json:"marks"`
	Against  []string        `json:"against"`
	Joints   []cardJointJSON `json:"joints"`
	Set      []namedJSON     `json:"set_to"`
	Does     []namedJSON     `json:"does"`
	Under    string          `json:"under_load"`
	Sure     string          `json:"how_sure"`
	Strength string          `json:"strength"`
	Ticks    []string        `json:"ticks"`
}

type cardJointJSON struct {
	Joint  string `json:"joint"`
	Holes  string `json:"holes"`
	Bolts  string `json:"bolts"`
	Torque string `json:"torque"`
}

type namedJSON struct {
	Name string `json:"name"`
	Text string `json:"text"`
}

type overJSON struct {
	ID    string `json:"id"`
	Bolts string `json:"bolts"`
	Marks string `json:"marks"`
	Card  bool   `json:"card"`
}

// cardsDocument is what stands on cards as data; texts are in the units of the cards, figures of settings as everywhere.
func cardsDocument(s *card.Set, file string) cardsJSON {
	d := cardsJSON{Car: s.Car, Date: s.Date.Format("2006-01-02"), File: textOrNull(file), Air: s.Air, Checked: s.Checked, Cards: []cardJSON{},
		Overview: []overJSON{}, Left: s.Left, Assumed: assumed(s.Table.Car), Caution: words.NotApproval}
	named := func(all []words.NamedText) []namedJSON {
		out := []namedJSON{}
		for _, n := range all {
			out = append(out, namedJSON{n.Name, n.Text})
		}
		return out
	}
	for _, c := range s.Cards {
		one := cardJSON{setting(s.Table, c.Row), c.Title, append([]string{}, c.Marks...), append([]string{}, c.Against...), []cardJointJSON{},
			named(c.Set), named(c.Does), c.Under, c.Sure, c.Strength, append([]string{}, c.Ticks...)}
		for _, j := range c.Joints {
			one.Joints = append(one.Joints, cardJointJSON{j.Name, j.Holes, j.Bolts, j.Torque})
		}
		d.Cards = append(d.Cards, one)
	}
	for _, l := range s.Over {
		d.Overview = append(d.Overview, overJSON{l.Row.ID, l.Bolts, l.Marks, l.Card})
	}
	return d
}
