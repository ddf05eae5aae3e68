package main

import (
	"github.com/spf13/cobra"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/choose"
	"stanchion/model/drill"
	"stanchion/model/units"
	"stanchion/model/words"
)

// caution is what stands below holes that are suggested.
const caution = "\nEdge distances and spacings keep the minima of EN 1993-1-8 Table 3.3 and EN 1999-1-1; that does not say that the part holds. Drill the template first.\n"

func suggestText(cmd *cobra.Command, e *drill.Existing, w drill.Goal, f *drill.Found, u units.System) error {
	p, car := out(cmd), e.Table.Car
	if r, ok := drill.Served(e, w); ok && len(f.Best) > 0 {
		p.f("%s does that already, without a hole.\n\n", e.Table.Name(r.Setting))
	}
	for i, s := range f.Best {
		p.f("%d.", i+1)
		holesText(p, car, s.Holes, u)
		p.f("   %s\n   %s\n", words.Suggestion(&s, w, u), words.Trial(&s.Trial, u))
		shown := 0
		for _, k := range s.Wanted() {
			if r := &s.Table.Rows[k]; shown < 6 {
				p.f("     %s  %s°  %s  %s\n", u.Length(r.Height), units.Fixed(r.Angle/plane.Deg, 1), u.Force(r.Downforce), s.Table.Name(r.Setting))
				shown++
			}
		}
		if w.MaxStep.Known() {
			levelsText(p, s.Trial, u)
		}
		usualText(p, s.Rules, u)
	}
	if w.Count == 2 && len(f.Best) > 0 && len(f.Best[0].Holes) == 1 {
		p.f("No second hole adds to these, so each is a hole of its own.\n")
	}
	for i, s := range f.Near {
		if i == 0 {
			p.f("\nIn the right position, but cannot be drilled:\n")
		}
		p.f("  ")
		holesText(p, car, s.Holes, u)
		p.f("   %s\n", words.Suggestion(&s, w, u))
	}
	if len(f.Best) > 0 && car.Parts[w.Part].Outline == nil {
		p.f("\nPart %s has no outline in the car file: whether a hole lies in its metal is not known.\n", car.Parts[w.Part].Name)
	}
	if f.Places > 0 {
		p.f("\n")
		for _, l := range words.Searched(f, w, u) {
			p.f("%s\n", l)
		}
	}
	if len(f.Best) > 0 {
		p.f(caution)
	}
	return p.err
}

// usualText lists the rules of common practice that holes do not keep.
func usualText(p *printer, rules []drill.RuleCheck, u units.System) {
	for _, r := range rules {
		if !r.OK {
			p.f("   %s: %s: %s, %s is usual\n", r.Hole, words.Rule(r), u.Dimension(r.Have), u.Dimension(r.Need))
		}
	}
}

func holesText(p *printer, c *model.Car, hs []drill.NewHole, u units.System) {
	for k, h := range hs {
		if k > 0 {
			p.f(" and")
		}
		p.f(" %s in part %s at x %s, z %s, %s wide", h.ID, c.Parts[h.Part].Name, u.Dimension(h.X), u.Dimension(h.Z), u.Dimension(h.D))
	}
	p.f("\n")
}

func boltsText(cmd *cobra.Command, e *drill.Existing, f *drill.FoundBolts, u units.System) error {
	p, car := out(cmd), e.Table.Car
	for i, b := range f.Best {
		p.f("%d.", i+1)
		holesText(p, car, b.Holes, u)
		p.f("   %s\n", words.AllBolts(&b, e, u))
		if n := len(b.Further); n > 1 {
			p.f("   %s get a further bolt in all\n", units.Count(n, "setting"))
		}
		if n := len(b.Added); n > 0 {
			p.f("   %s with it: %s\n", units.Count(n, "new setting"), words.Trial(&b.Trial, u))
		}
		usualText(p, b.Rules, u)
		for _, h := range b.Holes {
			if car.Parts[h.Part].Outline == nil {
				p.f("   NOT CHECKED whether part %s has metal there (no outline given)\n", car.Parts[h.Part].Name)
				break
			}
		}
	}
	for i, b := range f.Near {
		if i == 0 {
			p.f("\nThese bolts cannot be had, since a hole cannot be drilled:\n")
		}
		p.f("  ")
		holesText(p, car, b.Holes, u)
		p.f("   %s\n   %s\n", words.AllBolts(&b, e, u), words.Broken(*b.Short, u))
	}
	if len(f.Best) > 0 {
		p.f(caution)
	}
	return p.err
}

// suggestionJSON is one suggestion; what does not apply to the question is left out.
type suggestionJSON struct {
	Holes   []holeJSON    `json:"holes"`
	Added   []settingJSON `json:"added"`
	Verdict string        `json:"verdict"`
	Rules   []ruleJSON    `json:"rules"`
	Gain    *float64      `json:"gain_deg"`
	Hits    int           `json:"hits"`
	Lacking *int          `json:"angles_lacking,omitempty"`
	Uses    []useJSON     `json:"uses"`
	Further []string      `json:"further_bolt"`
	Bolts   *boltsOf      `json:"bolts,omitempty"`
	Work    []workJSON    `json:"work,omitempty"`
}

// boltsOf is what bolts a place gets.
type boltsOf struct {
	Setting string   `json:"setting"` // "" where it is none yet
	Joint   string   `json:"joint"`
	Have    int      `json:"have"`
	Takes   int      `json:"takes"`
	Height  *float64 `json:"height_mm"`
	Angle   *float64 `json:"angle_deg"`
}

// workJSON is what it takes to go from a setting to a new one.
type workJSON struct {
	From  string `json:"from"`
	To    string `json:"to"`
	Moved int    `json:"bolts_moved"`
	Below int    `json:"bolts_below"`
	Fewer int    `json:"bolts_fewer"`
}

func suggestionOf(c *model.Car, s *drill.Suggestion) suggestionJSON {
	return suggestionJSON{Holes: holesOf(c, s.Holes), Added: addedJSON(s.Trial), Verdict: words.Trial(&s.Trial, units.Metric), Rules: rulesOf(s.Rules),
		Gain: gainOf(s.Shrink), Hits: s.Hits, Uses: usesOf(s.Trial, units.Metric), Further: append([]string{}, s.Further...)}
}

// nearJSON is a place that would serve and is ruled out.
type nearJSON struct {
	Holes    []holeJSON `json:"holes"`
	Gain     *float64   `json:"gain_deg,omitempty"`
	Forbids  string     `json:"ruled_out_by"`
	Like     string     `json:"like,omitempty"`
	LikeName string     `json:"like_name,omitempty"`
}

type searchJSON struct {
	Grid    *float64 `json:"grid_mm"`
	Places  int      `json:"places"`
	Weighed int      `json:"worked_out"`
	Tried   int      `json:"tried_in_full"`
	Bound   *float64 `json:"bound_deg"` // of fill: no hole of the grid, or two, gains more
	Pairs   int      `json:"pairs"`
	Mutual  int      `json:"mutual_first_holes"`
	Fewest  int      `json:"fewest_holes,omitempty"`
	Lacking int      `json:"angles_lacking,omitempty"`
	Notes   []string `json:"notes"`
}

func suggestJSON(cmd *cobra.Command, e *drill.Existing, w drill.Goal, f *drill.Found) error {
	car := e.Table.Car
	doc := struct {
		Suggestions []suggestionJSON `json:"suggestions"`
		Near        []nearJSON       `json:"near"`
		Search      searchJSON       `json:"search"`
		Thresholds  thresholdsJSON   `json:"thresholds"`
	}{[]suggestionJSON{}, []nearJSON{}, searchJSON{Grid: figure(f.Step, 3), Places: f.Places, Weighed: f.Weighed, Tried: f.Tried, Pairs: f.Pairs, Mutual: f.Mutual,
		Fewest: f.Fewest, Lacking: f.Lacking, Notes: words.Searched(f, w, units.Metric)}, holeThresholds()}
	if w.Fill {
		doc.Search.Bound = gainOf(f.Bound)
	}
	for i := range f.Best {
		s := &f.Best[i]
		one := suggestionOf(car, s)
		if w.MaxStep.Known() {
			one.Lacking = &s.Lacking
		}
		if w.Between != nil {
			for _, k := range s.Met {
				for _, from := range [2]*model.Row{w.Between.A, w.Between.B} {
					work := choose.WorkOf(from.Setting, s.Table.Rows[k].Setting)
					one.Work = append(one.Work, workJSON{from.ID, s.Table.Rows[k].ID, work.Moved, work.Below, work.Fewer})
				}
			}
		}
		doc.Suggestions = append(doc.Suggestions, one)
	}
	for _, s := range f.Near {
		one := nearJSON{Holes: holesOf(car, s.Holes), Forbids: words.Broken(*s.Short, units.Metric)}
		if w.Fill {
			one.Gain = gainOf(s.Gain)
		}
		doc.Near = append(doc.Near, one)
	}
	if a := f.Alike; a != nil && len(f.Best) == 0 {
		doc.Near = append(doc.Near, nearJSON{Holes: holesOf(car, a.Holes), Gain: gainOf(a.Shrink), Forbids: words.Alike(a, units.Metric),
			Like: a.Verdict.Unlike.ID, LikeName: a.Verdict.Unlike.Name})
	}
	return writeJSON(cmd.OutOrStdout(), doc)
}

func boltsJSON(cmd *cobra.Command, e *drill.Existing, f *drill.FoundBolts) error {
	car := e.Table.Car
	doc := struct {
		Suggestions []suggestionJSON `json:"suggestions"`
		Near        []nearJSON       `json:"near"`
		Looked      int              `json:"places_looked_at"`
		Full        int              `json:"with_every_bolt"`
		Thresholds  thresholdsJSON   `json:"thresholds"`
	}{[]suggestionJSON{}, []nearJSON{}, f.Looked, f.Full, holeThresholds()}
	for i := range f.Best {
		b := &f.Best[i]
		one := suggestionOf(car, &b.Suggestion)
		one.Verdict = words.AllBolts(b, e, units.Metric)
		one.Bolts = &boltsOf{b.Setting, car.Joints[b.Joint].Name, b.Have, b.Takes, figure(b.Height, 2), figure(b.Angle/plane.Deg, 3)}
		doc.Suggestions = append(doc.Suggestions, one)
	}
	for _, b := range f.Near {
		doc.Near = append(doc.Near, nearJSON{Holes: holesOf(car, b.Holes), Forbids: words.Broken(*b.Short, units.Metric)})
	}
	return writeJSON(cmd.OutOrStdout(), doc)
}
