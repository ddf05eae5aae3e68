package design

import (
	"cmp"
	"context"
	"math"
	"runtime"
	"slices"
	"sync"

	"stanchion/model"
)

// Merit is what a proposal is the best at, of all that were found.
type Merit int

// Merits of proposals.
const (
	FewestHoles Merit = iota
	FinestSteps
	ShortestArm
	Lightest
	ShortestSlot
)

// Key is what a merit is called in machine-readable output.
func (m Merit) Key() string {
	return [...]string{"fewest_holes", "finest_steps", "shortest_arm", "lightest", "shortest_slot"}[m]
}

// Proposal is a plate that gives what is wanted.
type Proposal struct {
	Merits []Merit
	Car    *model.Car   // with the plate
	Table  *model.Table // of its settings, at the speed asked for
	Levels []Level

	Bracket             int     // holes of the fixed part, where it had none
	Foot, Fronts, Rears int     // holes
	Pitch               float64 // mm, between the wing's bolts
	Tilts               []float64
	Widest              float64 // rad, the widest step at any height
	Hang                float64 // mm, by which its lowest hole is below the fixed part's, where it is most
	Arm                 float64 // mm, from the highest bolt of the foot to the wing's front bolt, where it is most
	Area                float64 // mm², of the plate
	Shape               Shape
	Lightened           *Lightening // nil where it was not asked for
	Around              []string    // what the outline bends round: "lid", "body"
	Neck                *Neck       // nil where it is no swan neck
	Slot                float64     // mm, the longest that the panels need; 0 where there are none
}

// Holes is how many are drilled, in the plate and in a fixed part that had none.
func (p *Proposal) Holes() int { return p.Bracket + p.Foot + p.Fronts + p.Rears }

// Further is how many settings come with it at other heights or angles than those wanted.
func (p *Proposal) Further() int {
	wanted := map[int]bool{}
	for _, l := range p.Levels {
		for _, n := range l.Rows {
			wanted[n] = true
		}
	}
	return len(p.Table.Rows) - len(wanted)
}

// Plate is the plate that is proposed.
func (p *Proposal) Plate() *model.Part { return &p.Car.Parts[1] }

// Designed is the answer to a wish.
type Designed struct {
	Wish      Wish
	Proposals []Proposal
	Bound     int  // no plate has fewer holes, by counting; with the bracket as it is drilled
	Turns     bool // the bracket's own holes take a plate at more than one angle, so that Bound does not hold
	Looked    int  // plates that give what is wanted, of which these are the best
	Why       Short
	Mounts    float64 // mm above the chord line, with LowMounts: how high the wing's bolts would have to be
}

// Short is what was missing where there are no proposals.
type Short int

// What can be missing.
const (
	NoFoot    Short = iota // no way to bolt the plate at all heights
	NoHead                 // no holes for all the angles
	NotListed              // the engine lists other settings than were counted on
	LowMounts              // the wing's bolts are not far enough above it for a swan neck
	NoWay                  // there is no way for a swan neck from the foot to the head
)

// more is how many more holes than the fewest a proposal may have that is better in another way.
const more = 4

// usual is the effort of a search whose answer is shown.
var usual = effort{tries: 500, restarts: 2}

// job is one search.
type job struct {
	frame  *frame
	foot   foot
	step   float64
	lo, hi float64 // mm, of the front holes
	bound  int
}

// Design looks for plates. The error is a *Fault, that of ctx or of the engine.
func Design(ctx context.Context, c *model.Car, w Wish, progress func(float64)) (*Designed, error) {
	return design(ctx, c, w, usual, progress)
}

func design(ctx context.Context, c *model.Car, w Wish, e effort, progress func(float64)) (*Designed, error) {
	f, err := newFrame(c, w)
	if err != nil {
		return nil, err
	}
	d := &Designed{Wish: f.wish, Bound: math.MaxInt}
	frames := f.mounted()
	jobs, err := jobsOf(frames, f.wish.Step, d)
	if err != nil || len(jobs) == 0 {
		return d, err
	}
	found, err := run(ctx, jobs, e, func(x float64) { tell(progress, 0.6*x) })
	if err != nil {
		return nil, err
	}
	if d.Why = NoHead; len(found) > 0 {
		d.Why = NotListed
	}
	finer, err := f.finer(ctx, frames, found, e, func(x float64) { tell(progress, 0.6+0.3*x) })
	if err != nil {
		return nil, err
	}
	return d, d.choose(ctx, append(found, finer...), func(x float64) { tell(progress, 0.9+0.1*x) })
}

func tell(progress func(float64), x float64) {
	if progress != nil {
		progress(x)
	}
}

// jobsOf lists what is to be searched for one step, with each bracket, the least work first.
func jobsOf(frames []*frame, step float64, d *Designed) (all []job, err error) {
	for _, f := range frames {
		jobs, err := f.jobs(step, d)
		if err != nil {
			return nil, err
		}
		all = append(all, jobs...)
	}
	slices.SortStableFunc(all, func(a, b job) int { return cmp.Compare(a.bound, b.bound) })
	return all, nil
}

// jobs lists what is to be searched for one step: each pitch, with the plate upright or tilted too, on the feet with the fewest holes and on
// those that stand highest.
func (f *frame) jobs(step float64, d *Designed) ([]job, error) {
	if f.standing == nil {
		f.standing = f.upright()
	}
	pitches := f.wish.Pitches
	if len(pitches) == 0 {
		pitches = []float64{f.pitch}
	}
	var all []job
	for tilts := 1; tilts <= 3; tilts++ {
		var turns []float64
		for i := 1; i < tilts; i++ {
			turns = append(turns, float64(i)*step*tiltPart)
		}
		feet := f.tilted(f.standing, turns)
		if len(feet) == 0 {
			continue
		}
		high := slices.MaxFunc(feet, func(a, b foot) int { return cmp.Compare(a.top-4*float64(len(a.holes)), b.top-4*float64(len(b.holes))) })
		for _, p := range pitches {
			g := f.withPitch(p)
			g.wish.Step = step
			b := g.bound(tilts)
			least := f.wish.FootBolts + (tilts-1)*(f.wish.FootBolts-1) + b
			if f.fresh {
				least += f.wish.FootBolts
			}
			d.Bound = min(d.Bound, least)
			d.Turns = d.Turns || f.turns()
			lo, hi, err := g.foreAndAft(feet[0])
			if err != nil {
				return nil, err
			}
			all = append(all, job{g, feet[0], step, lo, hi, f.drilled() + len(feet[0].holes) + b})
			if high.top > feet[0].top+1 {
				by := middleOf(high.holes).X - middleOf(feet[0].holes).X
				all = append(all, job{g, high, step, lo + by, hi + by, f.drilled() + len(high.holes) + b})
			}
		}
	}
	return all, nil
}

// run works the jobs off, on all processors. A job that cannot be as good as what is found, by its bound, is left out. What is found
// does not hang on which job is done first: each is held to the jobs before it only.
func run(ctx context.Context, jobs []job, e effort, progress func(float64)) ([]pattern, error) {
	type result struct {
		pattern
		found bool
		err   error
	}
	results := make([]result, len(jobs))
	done := 0
	var mu sync.Mutex
	best := math.MaxInt
	at := min(runtime.GOMAXPROCS(0), 8)
	for from := 0; from < len(jobs); from += batch {
		var wait sync.WaitGroup
		lane := make(chan struct{}, at)
		for i := from; i < min(from+batch, len(jobs)); i++ {
			j := jobs[i]
			if best != math.MaxInt && j.bound > best+more {
				continue
			}
			most := 40
			if best != math.MaxInt {
				most = best + more - len(j.foot.holes) - j.frame.drilled()
			}
			wait.Add(1)
			lane <- struct{}{}
			go func() {
				defer func() { <-lane; wait.Done() }()
				c := j.frame.newCover(j.foot, j.step, j.lo, j.hi)
				h, ok, err := c.search(ctx, uint64(i+1), e, most)
				if ok {
					h = c.trimmed(h)
				}
				results[i] = result{pattern{j.frame, j.foot, h}, ok, err}
				mu.Lock()
				done++
				progress(float64(done) / float64(len(jobs)))
				mu.Unlock()
			}()
		}
		wait.Wait()
		for _, r := range results[from:min(from+batch, len(jobs))] {
			if r.err != nil {
				return nil, r.err
			}
			if r.found {
				best = min(best, r.holes())
			}
		}
	}
	var found []pattern
	for _, r := range results {
		if r.found {
			found = append(found, r.pattern)
		}
	}
	return onOtherFeet(found), nil
}

// tiltPart is how much of a step the plate is tilted by, so that holes rounded to tenths of a millimetre leave no step wider than wanted.
const tiltPart = 0.97

// batch is how many jobs are searched before what they found counts for the next.
const batch = 4

// finer looks for finer steps with a few more holes than the fewest.
func (f *frame) finer(ctx context.Context, frames []*frame, found []pattern, e effort, progress func(float64)) ([]pattern, error) {
	if len(found) == 0 {
		return nil, nil
	}
	fewest := slices.MinFunc(found, func(a, b pattern) int { return cmp.Compare(a.holes(), b.holes()) }).holes()
	var all []pattern
	for i, part := range []float64{0.8, 0.6, 0.45} {
		step := f.wish.Step * part
		if step < LeastStep {
			break
		}
		var d Designed
		jobs, err := jobsOf(frames, step, &d)
		if err != nil {
			return nil, err
		}
		jobs = slices.DeleteFunc(jobs, func(j job) bool { return j.bound > fewest+more })
		got, err := run(ctx, jobs, e, func(x float64) { progress((float64(i) + x) / 3) })
		if err != nil {
			return nil, err
		}
		got = slices.DeleteFunc(got, func(p pattern) bool { return p.holes() > fewest+more })
		if len(got) == 0 {
			break
		}
		all = append(all, got...)
	}
	return all, nil
}
