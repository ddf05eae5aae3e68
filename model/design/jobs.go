package design

import (
	"cmp"
	"context"
	"math"
	"runtime"
	"slices"
	"sync"
)

// job is one search.
type job struct {
	frame  *frame
	foot   foot
	step   float64
	lo, hi float64 // mm, of the front holes
	bound  int
}

// spareStep is to which part of the step wanted a search goes that has some to spare.
const spareStep = 0.95

// jobsOf lists what is to be searched for one step, with each bracket, the least work first.
func jobsOf(ctx context.Context, frames []*frame, step float64, d *Designed, progress func(float64)) (all []job, err error) {
	for i, f := range frames {
		jobs, err := f.jobs(ctx, step, d, func(x float64) { progress((float64(i) + x) / float64(len(frames))) })
		if err != nil {
			return nil, err
		}
		all = append(all, jobs...)
	}
	slices.SortStableFunc(all, func(a, b job) int { return cmp.Compare(a.bound, b.bound) })
	return all, nil
}

// turnSets lists by which turns the plate may be tilted for one step: by parts of it, or for named angles by differences between them; and by those that
// the bracket's holes give.
func (f *frame) turnSets(step float64) [][]float64 {
	most := f.car.Joints[f.footJoint()].MaxTurn
	sets := [][]float64{nil}
	if len(f.wish.Angles) > 0 {
		sets = append(sets, f.wish.turnSets(most)...)
	} else {
		sets = append(sets, []float64{step * tiltPart}, []float64{step * tiltPart, 2 * step * tiltPart})
	}
	for _, t := range f.usefulTurns() {
		if len(sets) < mostSets && t > 0 {
			sets = append(sets, []float64{t})
		}
	}
	return sets
}

// mostSets is how many sets of turns are searched.
const mostSets = 9

// jobs lists what is to be searched for one step: each pitch, with the plate upright or tilted too, on the feet with the fewest holes and on
// those that stand highest.
func (f *frame) jobs(ctx context.Context, step float64, d *Designed, progress func(float64)) (all []job, err error) {
	if f.standing == nil {
		if f.standing, err = f.upright(ctx); err != nil {
			return nil, err
		}
	}
	var wings []*frame // with the wing's bolts as they may be
	for _, p := range f.wish.Pitches {
		wings = append(wings, f.withPitch(p))
	}
	for _, p := range f.wingPairs {
		if len(f.wish.Pitches) == 0 {
			wings = append(wings, f.withPair(p))
		}
	}
	sets := f.turnSets(step)
	for i, turns := range sets {
		progress(float64(i) / float64(len(sets)))
		feet, err := f.tilted(ctx, f.standing, turns)
		if err != nil {
			return nil, err
		}
		if feet = f.withKeptTilts(feet); len(feet) == 0 {
			continue
		}
		high := slices.MaxFunc(feet, func(a, b foot) int { return cmp.Compare(a.top-4*float64(len(a.holes)), b.top-4*float64(len(b.holes))) })
		for _, wing := range wings {
			g := *wing
			g.wish.Step = step
			d.Bound = min(d.Bound, max(g.fewest(), g.drilled()+len(g.kept.foot)+len(g.kept.head())))
			d.Turns = d.Turns || f.turns(f.wish.FootBolts) > 0
			lo, hi, err := g.foreAndAft(ctx, feet[0])
			if err != nil {
				return nil, err
			}
			all = append(all, job{&g, feet[0], step, lo, hi, g.jobBound(&feet[0])})
			if high.top > feet[0].top+1 {
				by := middleOf(high.holes).X - middleOf(feet[0].holes).X
				if len(g.kept.head()) > 0 { // which the front holes stand beside
					by = 0
				}
				all = append(all, job{&g, high, step, lo + by, hi + by, g.jobBound(&high)})
			}
		}
	}
	return all, nil
}

// jobBound is how few holes there can be with a foot.
func (f *frame) jobBound(t *foot) int {
	return f.drilled() + len(t.holes) + max(f.bound(t.turns()), len(f.kept.head()))
}

// untrimmed is how many holes of a head may turn out not to be needed.
const untrimmed = 3

// mostHead is how many holes of a head are worth looking at.
const mostHead = 40

// run works the jobs off, on all processors; patterns with more holes than the limit are not looked for. A job that cannot be as good as what is found, by its bound, is left out. What is found
// does not hang on which job is done first: each is held to the jobs before it only.
func run(ctx context.Context, jobs []job, e effort, limit int, progress func(float64)) ([]pattern, error) {
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
			most := min(mostHead, limit-len(j.foot.holes)-j.frame.drilled())
			if best != math.MaxInt {
				most = min(most, best+more-len(j.foot.holes)-j.frame.drilled())
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
	if len(found) == 0 || len(f.wish.Angles) > 0 {
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
		jobs, err := jobsOf(ctx, frames, step, &d, func(float64) {})
		if err != nil {
			return nil, err
		}
		jobs = slices.DeleteFunc(jobs, func(j job) bool { return j.bound > fewest+more })
		got, err := run(ctx, jobs, e, fewest+more+untrimmed, func(x float64) { progress((float64(i) + x) / 3) })
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
