package main

import (
	"context"
	"math"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/hardware"
	"stanchion/model/strength"
	"stanchion/model/units"
	"stanchion/model/words"
)

type strengthJSON struct {
	Setting  string        `json:"setting"`
	Verdict  string        `json:"verdict"`
	Open     []string      `json:"not_checked"`
	Speed    *float64      `json:"speed_m_s"`
	Used     *float64      `json:"used_pct"`
	Case     string        `json:"case"`
	Checks   []checkJSON   `json:"checks"`
	Joints   []bodyJSON    `json:"joints"`
	Bolts    []tightJSON   `json:"bolts"`
	Missing  []string      `json:"missing"`
	Helps    []helpJSON    `json:"helps"`
	Plates   []plateJSON   `json:"plates"`
	Formulas []checkJSON   `json:"formulas"`
	UnderDeg *float64      `json:"angle_under_load_deg"`
	Freqs    []float64     `json:"frequencies_hz"`
	SideHz   []float64     `json:"sideways_hz"`
	AftHz    []float64     `json:"fore_aft_hz"`
	Buckling *float64      `json:"buckling_factor"`
	Turn     *float64      `json:"bending_deg"`
	Side     *float64      `json:"bending_side_mm"`
	Assumed  []assumedJSON `json:"assumed"`
	Left     []string      `json:"not_covered"`
	Cautions []string      `json:"cautions"`
}

// checkJSON is one check. Utilisation is null where nothing is left to bear the
// demand; the line is the cut through a plate that is checked, x and z of its ends in the part's frame.
type checkJSON struct {
	What        string     `json:"what"`
	Joint       string     `json:"joint"`
	Part        string     `json:"part"`
	At          string     `json:"at"`
	Station     *float64   `json:"station_mm"`
	Line        []*float64 `json:"line_mm"`
	Demand      *float64   `json:"demand"`
	Capacity    *float64   `json:"capacity"`
	Unit        string     `json:"unit"`
	Utilisation *float64   `json:"utilisation"`
	Layout      bool       `json:"layout"`
	Case        string     `json:"case"`
	Source      string     `json:"source"`
}

type helpJSON struct {
	Change  string    `json:"change"`
	Weakest checkJSON `json:"weakest"`
}

func oneCheck(c strength.Check) checkJSON {
	var line []*float64
	if c.Line[0] != c.Line[1] {
		line = []*float64{figure(c.Line[0].X, 1), figure(c.Line[0].Z, 1), figure(c.Line[1].X, 1), figure(c.Line[1].Z, 1)}
	}
	return checkJSON{c.What, c.Joint, c.Part, c.At, figure(c.Station, 1), line, figure(c.Demand, 3), figure(c.Capacity, 3), c.Unit,
		figure(c.Utilisation(), 4), c.Layout, c.CaseName(), c.Source}
}

func strengthOut(ctx context.Context, f *strength.Analysis, r strength.Result, v strength.Verdict, open []strength.Open) strengthJSON {
	s := strengthJSON{Setting: r.Row.ID, Verdict: v.String(), Open: []string{}, Speed: figure(f.Table.Speed, 3),
		Case: strength.CaseName(r.Case), Checks: []checkJSON{}, Joints: bodiesOut(f, r), Missing: append([]string{}, f.Missing...),
		Helps: []helpJSON{}, Bolts: []tightJSON{}, Turn: figure(r.Turn/plane.Deg, 3), Side: figure(r.Side, 2), Assumed: []assumedJSON{}, Left: f.Left,
		Cautions: words.Cautions}
	for _, o := range open {
		s.Open = append(s.Open, o.String())
	}
	for _, c := range r.Checks {
		if c.Layout && c.Utilisation() > 1 {
			s.Open = append(s.Open, words.CheckBrief(c, units.Metric)+" (no rule covers it: "+words.CheckFigures(c, units.Metric)+")")
		}
	}
	if used, ok := r.Used(); ok {
		s.Used, s.Case = figure(100*used.Utilisation(), 1), strength.CaseName(used.Case)
	}
	for _, c := range r.Checks {
		s.Checks = append(s.Checks, oneCheck(c))
	}
	for _, j := range hardware.Of(f.Car, *r.Row.Setting) {
		s.Bolts = append(s.Bolts, tightOut(j, f.ThreadTorque(j.Name)))
	}
	for _, h := range f.Helps(ctx, r) {
		s.Helps = append(s.Helps, helpJSON{words.HelpChange(h, units.Metric), oneCheck(h.Weakest)})
	}
	solvedOut(&s, r)
	for _, a := range f.Assumed {
		s.Assumed = append(s.Assumed, assumedJSON{a.What, a.Value, a.Note})
	}
	return s
}

// plateJSON is one plate as it was solved. Its stresses are those of its most heavily loaded cut.
type plateJSON struct {
	Part     string    `json:"part"`
	Worst    checkJSON `json:"worst"`
	Mean     *float64  `json:"mean_mpa"`
	Edge     *float64  `json:"edge_mpa"`
	Bend     *float64  `json:"bend_mpa"`
	Shear    *float64  `json:"shear_mpa"`
	Twist    *float64  `json:"twist_mpa"`
	Bound    *float64  `json:"by_equilibrium_mpa"`
	Buckling *float64  `json:"buckling_factor"`
	Cell     *float64  `json:"cell_mm"`
	Resolved bool      `json:"resolved"`
	Range    *float64  `json:"stress_range_mpa"`
	Cycles   *float64  `json:"cycles"`
}

// solvedOut fills in what solving the plates found; it is null or empty where they were not solved or what
// they say is withheld.
func solvedOut(s *strengthJSON, r strength.Result) {
	s.Plates, s.Formulas, s.Freqs, s.SideHz, s.AftHz = []plateJSON{}, []checkJSON{}, []float64{}, []float64{}, []float64{}
	if r.Solved == nil {
		return
	}
	for i := range r.Solved.Plates {
		p := &r.Solved.Plates[i]
		s.Plates = append(s.Plates, plateJSON{p.Name, oneCheck(p.Worst), figure(p.Stress.Mean, 1), figure(p.Stress.Turn, 1), figure(p.Stress.Bend, 1),
			figure(p.Stress.Shear, 1), figure(p.Stress.Twist, 1), figure(p.Bound.Demand, 1), figure(p.Buckling, 3), figure(p.Cell, 2), p.Resolved(),
			figure(p.Range.Range, 1), figure(p.Range.Cycles, 0)})
	}
	for _, c := range r.Formulas {
		s.Formulas = append(s.Formulas, oneCheck(c))
	}
	s.UnderDeg, s.Buckling = figure(r.Solved.Turn/plane.Deg, 3), figure(r.Solved.Buckling, 3)
	round := func(all []float64) []float64 {
		out := []float64{}
		for _, hz := range all[:min(len(all), 1)] { // the others are not as true
			out = append(out, math.Round(hz*100)/100)
		}
		return out
	}
	s.SideHz, s.AftHz = round(r.Solved.Sideways), round(r.Solved.ForeAft)
	for _, all := range [][]float64{s.SideHz, s.AftHz} {
		if len(all) > 0 {
			s.Freqs = append(s.Freqs, all[0])
		}
	}
}

// tightJSON is what a joint's bolts are: their length and torque are null where they hang on a maker or are not
// known.
type tightJSON struct {
	Joint  string   `json:"joint"`
	Count  int      `json:"count"`
	Size   string   `json:"size"`
	Grade  string   `json:"grade"`
	Length *float64 `json:"length_mm"`
	Torque *float64 `json:"torque_nm"`
	Low    *float64 `json:"preload_low_n"`
	High   *float64 `json:"preload_high_n"`
}

func tightOut(j hardware.Joint, allowed float64) tightJSON {
	t := tightJSON{j.Name, j.Count, j.Size.Name, j.Grade.Name, figure(j.Length, 1), nil, nil, nil}
	if j.Tightened && j.Nut != model.Insert && j.Nut != model.RivetNut {
		t.Torque, t.Low, t.High = figure(j.Tight.Torque*allowed, 1), figure(j.Tight.Low*allowed, 0), figure(j.Tight.High*allowed, 0)
	}
	return t
}

// bodyJSON is what the upper part pushes on the lower with at a joint, about the
// middle of its bolts, and what each bolt bears of it.
type bodyJSON struct {
	Joint string     `json:"joint"`
	Rear  *float64   `json:"rearward_n"`
	Side  *float64   `json:"sideways_n"`
	Down  *float64   `json:"down_n"`
	Turn  *float64   `json:"turn_nm"`
	Roll  *float64   `json:"roll_nm"`
	Yaw   *float64   `json:"yaw_nm"`
	Bolts []boltJSON `json:"bolts"`
}

type boltJSON struct {
	Pair    [2]string `json:"pair"`
	Rear    *float64  `json:"rearward_n"`
	Down    *float64  `json:"down_n"`
	Shear   *float64  `json:"shear_n"`
	Tension *float64  `json:"tension_n"`
}

func bodiesOut(f *strength.Analysis, r strength.Result) []bodyJSON {
	all := []bodyJSON{}
	for i := range r.Bodies {
		b := &r.Bodies[i]
		j := bodyJSON{f.Car.Joints[b.Joint].Name, figure(b.Rear, 2), figure(b.Side, 2), figure(-b.Up, 2), figure(b.Turn/1000, 3),
			figure(b.Roll/1000, 3), figure(b.Yaw/1000, 3), nil}
		for k, p := range b.Pairs {
			x := b.Bolts[k]
			pair := [2]string{f.Car.Parts[b.Joint].Holes[p.Lower].ID, f.Car.Parts[b.Joint+1].Holes[p.Upper].ID}
			j.Bolts = append(j.Bolts, boltJSON{pair, figure(x.Rear, 2), figure(-x.Up, 2), figure(x.Shear(), 2), figure(x.Tension, 2)})
		}
		all = append(all, j)
	}
	return all
}
