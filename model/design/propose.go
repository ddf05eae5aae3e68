package design

import (
	"context"
	"math"

	"stanchion/holes/plane"
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
	NearestAngles // to those named
)

// Key is what a merit is called in machine-readable output.
func (m Merit) Key() string {
	return [...]string{"fewest_holes", "finest_steps", "shortest_arm", "lightest", "shortest_slot", "nearest_angles"}[m]
}

// Proposal is a plate that gives what is wanted.
type Proposal struct {
	Merits []Merit
	Car    *model.Car   // with the plate
	Table  *model.Table // of its settings, at the speed asked for
	Levels []Level

	Bracket             int       // holes of the fixed part, where it had none
	Foot, Fronts, Rears int       // holes
	Pitch               float64   // mm, between the wing's bolts
	WingHoles           [2]string // that its bolts are in, front and rear
	Tilts               []float64
	Widest              float64 // rad, the widest step at any height
	Hang                float64 // mm, by which its lowest hole is below the fixed part's, where it is most
	Arm                 float64 // mm, from the highest bolt of the foot to the wing's front bolt, where it is most
	Area                float64 // mm², of the plate
	Shape               Shape
	Lightened           *Lightening        // nil where it was not asked for
	Around              []string           // what the outline bends round: "lid", "body"
	Neck                *Neck              // nil where it is no swan neck
	Slot                float64            // mm, the longest that the panels need; 0 where there are none
	Lie                 Lie                // on the blank, where one is given
	Kept, Idle          []string           // holes that were kept as they are, and those of them that no setting wanted uses
	Edges               map[string]float64 // mm, from holes to the outline where a person has drawn it otherwise than is usual
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

// Plate is the plate that is proposed: the part below the wing.
func (p *Proposal) Plate() *model.Part { return &p.Car.Parts[p.footJoint()+1] }

// footJoint is which of the car's joints the foot is; its lower part has the same number.
func (p *Proposal) footJoint() int { return len(p.Car.Parts) - 3 }

// Designed is the answer to a wish.
type Designed struct {
	Wish      Wish
	Proposals []Proposal
	Bound     int  // no plate has fewer holes, by counting; with the bracket as it is drilled
	Turns     bool // the bracket's own holes take a plate at more than one angle
	Looked    int  // plates that give what is wanted, of which these are the best
	Why       Short
	Mounts    float64      // mm above the chord line, with LowMounts: how high the wing's bolts would have to be
	Smallest  Lie          // with OffBlank, of the plate that misses the blank by least
	Places    []plane.Pose // of the bracket that were searched, in its frame at the first of them
	LowerWays int          // of bolting it to what is below it, 0 where it is the fixed part: with more than places, the search went by these only
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
	OffBlank               // the plates do not go on the blank
)

// more is how many more holes than the fewest a proposal may have that is better in another way.
const more = 4

// usual is the effort of a search whose answer is shown.
var usual = effort{tries: 500, restarts: 2}

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
	for _, p := range f.places {
		d.Places = append(d.Places, p.Pose)
	}
	if len(f.wish.Kept.Holes) > 0 { // few places serve them
		e.restarts *= 3
	}
	d.LowerWays = f.lowerWays
	frames, err := f.mounted(ctx, func(x float64) { tell(progress, 0.15*x) })
	if err != nil {
		return nil, err
	}
	if frames, err = f.keptFrames(ctx, frames); err != nil {
		return nil, err
	}
	jobs, err := jobsOf(ctx, frames, f.wish.Step, d, func(x float64) { tell(progress, 0.15+0.05*x) })
	if err != nil {
		return nil, err
	}
	if len(jobs) == 0 {
		return d, nil
	}
	found, err := run(ctx, jobs, e, math.MaxInt, func(x float64) { tell(progress, 0.2+0.4*x) })
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
	err = d.choose(ctx, append(found, finer...), func(x float64) { tell(progress, 0.9+0.05*x) })
	if err != nil || len(d.Proposals) > 0 || d.Why != NotListed || f.wish.Step == 0 {
		return d, err
	}
	// Rounded holes of a tilted foot can leave a step a little too wide: once more, with some to spare.
	if jobs, err = jobsOf(ctx, frames, f.wish.Step*spareStep, d, func(float64) {}); err != nil {
		return nil, err
	}
	if found, err = run(ctx, jobs, e, math.MaxInt, func(x float64) { tell(progress, 0.95+0.04*x) }); err != nil {
		return nil, err
	}
	return d, d.choose(ctx, found, func(x float64) { tell(progress, 0.99+0.01*x) })
}

func tell(progress func(float64), x float64) {
	if progress != nil {
		progress(x)
	}
}
