package strength

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"
	"sync"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/fem"
	"stanchion/model/sheet"
)

// Solved is what solving the plates of a setting as they are drawn says of it.
type Solved struct {
	Plates   []SolvedPlate // of the parts that could be solved, from the car up
	Buckling float64       // how many times the loads of the worst case the whole mounting buckles at; NaN when withheld
	Case     int           // that case
	Turn     float64       // rad by which the wing's angle changes under the air and weight at the speed, without the load factor; NaN when withheld
	Side     float64       // mm that the wing moves sideways in the worst case, without the load factor
	Twist    float64       // rad that it turns about an upright line, in that case
	Sideways []float64     // Hz, natural frequencies, lowest first; nil when withheld
	ForeAft  []float64
	Rigid    []string // parts that the frequencies take as rigid
	Factor   float64  // γM1 that buckling is checked with
}

// SolvedPlate is one plate as the solver finds it.
type SolvedPlate struct {
	Part     int
	Name     string
	Cell     float64 // mm, side of the cells
	Worst    Check   // the most heavily loaded chord
	Stress   sheet.Stress
	Solver   bool    // it is the solver's; else by equilibrium alone
	Bound    Check   // the largest by equilibrium alone
	Buckling float64 // of the plate alone, in its worst case
	Neck     *sheet.Chord
	Off      float64 // by how much of its stress the solver is off at a neck that it does not resolve
	Range    Fatigue
	Field    []Used            // over the plate, in the load case of a kerb in a slide
	Bolts    [][]fem.BoltForce // at its foot, of each case
}

// Used is how much of its strength a plate uses at a place of its own frame.
type Used struct {
	At    plane.Point
	Share float64
}

// Resolved reports whether the solver's figures may be shown.
func (s *SolvedPlate) Resolved() bool { return s.Neck == nil }

// solving is what one setting's solution is made of.
type solving struct {
	f         *Analysis
	st        stance
	bodies    [][]Body // of each case
	responses map[int]*fem.Response
	order     []int              // of the parts in it, from the car up
	factors   []map[int]float64  // of each case, how many times the load each plate buckles at
	loads     []map[int]fem.Load // of each case, on each plate as the mounting lies; nil when it has buckled
	out       *Solved
	lost      bool // no factor was found
}

// Solve checks one row as Of does, with its plates solved as they are drawn. It takes about a
// second; a done context ends it between two plates. Its error is the context's or Of's.
func (f *Analysis) Solve(ctx context.Context, r *model.Row) (Result, error) {
	if res, ok := f.Known(r); ok {
		return res, nil
	}
	res, err := f.Of(r)
	if err != nil {
		return res, err
	}
	s := &solving{f: f, st: f.stance(r), responses: map[int]*fem.Response{}, out: &Solved{Buckling: math.Inf(1), Turn: math.NaN(), Side: math.NaN()}}
	for k := range cases {
		_, bodies := f.bodies(s.st, cases[k])
		s.bodies = append(s.bodies, bodies)
	}
	var open []Open
	for part := range len(f.Car.Parts) - 1 {
		if err := ctx.Err(); err != nil {
			return res, err
		}
		p := &f.plates[part]
		if !p.sound() || p.metal == nil || blocked(s.st.unlike[part]) {
			s.out.Rigid = append(s.out.Rigid, f.Car.Parts[part].Name)
			continue
		}
		r, err := f.respond(ctx, s.st, part)
		switch {
		case ctx.Err() != nil:
			return res, ctx.Err()
		case err != nil:
			open = append(open, Open{p.part.Name, err.Error()})
			s.out.Rigid = append(s.out.Rigid, p.part.Name)
			continue
		}
		s.responses[part] = r
		s.order = append(s.order, part)
	}
	s.buckle()
	s.lean()
	plates := make([]*SolvedPlate, len(f.Car.Parts))
	var wait sync.WaitGroup
	for _, part := range s.order {
		wait.Go(func() { plates[part] = s.plate(part) })
	}
	wait.Wait()
	if err := ctx.Err(); err != nil {
		return res, err
	}
	for _, p := range plates {
		if p != nil {
			s.out.Plates = append(s.out.Plates, *p)
		}
	}
	s.motion()
	s.swing()
	s.into(&res, open)
	f.memory.results.Store(r.ID, res)
	return res, nil
}

// Known returns what was found of a setting that is solved already.
func (f *Analysis) Known(r *model.Row) (Result, bool) {
	res, ok := f.memory.results.Load(r.ID)
	if !ok {
		return Result{}, false
	}
	return res.(Result), true
}

// Enough is Best after solving a row that the formulas of beams do not settle.
func (f *Analysis) Enough(ctx context.Context, r *model.Row) (Result, error) {
	res, err := f.Best(r)
	if err != nil || res.Solved != nil {
		return res, err
	}
	if used, ok := res.Used(); ok && used.Utilisation() <= settled && !slices.ContainsFunc(res.Open, isAsDrawn) {
		return res, nil
	}
	return f.Solve(ctx, r)
}

// Best is what is known of a row without waiting: solved if it was, else by the formulas of beams.
func (f *Analysis) Best(r *model.Row) (Result, error) {
	if res, ok := f.Known(r); ok {
		return res, nil
	}
	return f.Of(r)
}

// blocked reports whether a reason why a plate is no beam also keeps it from being solved.
func blocked(unlike string) bool { return unlike == heldAbove || unlike == enclosesNothing }

// buckle works out the factor of each plate in each case, and of the chain.
func (s *solving) buckle() {
	for k := range cases {
		all := map[int]float64{}
		sum := 0.0
		for _, part := range s.order {
			all[part] = s.responses[part].Buckling(s.f.onPlate(s.st, cases[k], part, s.bodies[k]))
			sum += 1 / all[part]
		}
		s.factors = append(s.factors, all)
		if math.IsNaN(sum) {
			s.lost = true
			continue
		}
		// The whole buckles at no less than 1/Σ(1/α), with one part at a time taken as giving way.
		// Source: T. Tarnai, "Summation theorems concerning critical loads" (1995), after Föppl and
		// Papkovich.
		if chain := 1 / sum; chain < s.out.Buckling {
			s.out.Buckling, s.out.Case = chain, k
		}
	}
}

// plate reads the stresses of one plate in all cases.
func (s *solving) plate(part int) *SolvedPlate {
	p, r := &s.f.plates[part], s.responses[part]
	out := SolvedPlate{Part: part, Name: p.part.Name, Cell: r.H, Buckling: math.Inf(1)}
	for k := range cases {
		out.Buckling = min(out.Buckling, s.factors[k][part])
	}
	read := &reading{p: p, out: &out, parts: s.f.parts(s.st, part)}
	foot, head := s.st.boltPlaces(s.f, part)
	read.washers(s.f, part, foot, head)
	for k := range cases {
		l, state, err := s.under(part, k)
		if err != nil { // its buckling says so, or is too near to be told from it
			read.standing(k, s.f.onPlate(s.st, cases[k], part, s.bodies[k]))
			if s.out.Buckling > p.material.factor {
				out.Worst = Check{What: plateStress, Part: p.part.Name, Station: math.NaN(), Demand: 1, Capacity: 0, Unit: "MPa", Case: k, Source: linearised}
				break
			}
			continue
		}
		read.inCase(k, l, &state)
		out.Bolts = append(out.Bolts, state.Bolts())
	}
	read.finish(s.f.LoadFactor)
	if _, state, err := s.under(part, out.Worst.Case); err == nil {
		read.picture(&state)
	}
	return &out
}

// into puts the solution in the place of the formulas of beams.
func (s *solving) into(res *Result, open []Open) {
	solved := map[string]*SolvedPlate{}
	for i := range s.out.Plates {
		solved[s.out.Plates[i].Name] = &s.out.Plates[i]
	}
	var kept []Check
	for _, c := range res.Checks {
		p := solved[c.Part]
		switch {
		case p == nil || !byFormula(c.What):
			kept = append(kept, c)
		case c.What != equilibriumStress:
			res.Formulas = append(res.Formulas, c)
		}
	}
	var left []Open
	for _, o := range res.Open {
		if p := solved[o.What]; p == nil || !strings.HasPrefix(o.Why, asDrawn) {
			left = append(left, o)
		}
	}
	for i := range s.out.Plates {
		p := &s.out.Plates[i]
		if p.Worst.What != "" {
			kept = append(kept, p.Worst)
		}
		if !p.Resolved() {
			at := p.Neck.Centre()
			left = append(left, Open{p.Name, fmt.Sprintf("its neck of %.1f mm at (%.0f, %.0f) is too fine for the solver", p.Neck.Width, at.X, at.Z)})
		}
	}
	s.springs(kept)
	if len(s.out.Plates) > 0 {
		m := s.f.plates[s.out.Plates[0].Part].material
		for i := range s.out.Plates {
			if n := s.f.plates[s.out.Plates[i].Part].material; n.factor > m.factor {
				m = n
			}
		}
		s.out.Factor = m.factor
		whole, least := "", math.Inf(1) // the plate that gives way most
		for i := range s.out.Plates {
			if p := &s.out.Plates[i]; whole == "" || p.Buckling < least {
				whole, least = p.Name, p.Buckling
			}
		}
		if s.resolved() {
			kept = append(kept, Check{What: PlateBuckling, Part: whole, Station: math.NaN(), Demand: 1 / s.out.Buckling, Capacity: 1 / m.factor, Case: s.out.Case,
				Source: "finite elements, second order; the plates together by Föppl and Papkovich"})
		}
	}
	if s.lost {
		left = append(left, Open{"buckling", "no factor was found"})
	}
	res.Checks, res.Open = kept, append(left, open...)
	sort.SliceStable(res.Checks, func(a, b int) bool { return res.Checks[a].Utilisation() > res.Checks[b].Utilisation() })
	if !s.resolved() {
		s.out.Buckling, s.out.Turn, s.out.Side, s.out.Sideways, s.out.ForeAft = math.NaN(), math.NaN(), math.NaN(), nil, nil
	}
	res.Solved = s.out
	res.Turn, res.Side = s.out.Turn, s.out.Side
	if w, ok := res.Governing(); ok && w.Case != res.Case {
		res.Case = w.Case
		res.Loads, res.Bodies = s.f.bodies(s.st, cases[res.Case])
	}
}

// resolved reports whether the solver resolves every plate.
func (s *solving) resolved() bool {
	for i := range s.out.Plates {
		if !s.out.Plates[i].Resolved() {
			return false
		}
	}
	return len(s.out.Plates) > 0 && !s.lost
}

func byFormula(what string) bool {
	switch what {
	case sectionStress, columnBuckling, lateralBuckling, equilibriumStress:
		return true
	}
	return false
}

// BucklingByFormulas is how many times the loads a plate buckles at by the formulas of beams: column and
// sideways buckling added up, each in its own worst case; 0 where there are none.
func (r Result) BucklingByFormulas(part string) float64 {
	sum := 0.0
	for _, c := range r.Formulas {
		if c.Part == part && (c.What == columnBuckling || c.What == lateralBuckling) {
			sum += c.Utilisation() / r.Solved.Factor
		}
	}
	if sum == 0 {
		return 0
	}
	return 1 / sum
}
