package design

import (
	"cmp"
	"slices"

	"stanchion/holes"
	"stanchion/holes/plane"
)

// place is where joints below the bracket can put it.
type place struct {
	plane.Pose               // in the bracket's frame at its first place
	free       []plane.Point // its holes that take the foot's bolts and are not in use below, in its own frame
}

// MostPlaces is how many places of the bracket are searched: those spread evenly over their heights.
const MostPlaces = 16

// footJoint is which of the car's joints the foot is; its lower part, the bracket, has the same number.
func (f *frame) footJoint() int { return len(f.car.Parts) - 3 }

// takesFoot lists the bracket's holes that take the foot's bolts, but for those in use.
func (f *frame) takesFoot(used map[int]bool) (all []plane.Point) {
	foot := f.car.Joints[f.footJoint()]
	for i, h := range f.car.Parts[f.footJoint()].Holes {
		if h.Slot == "" && h.Takes(foot.Shank) && (h.Joint == "" || h.Joint == foot.Name) && !used[i] {
			all = append(all, h.At())
		}
	}
	return all
}

// stand finds the places of the bracket, the lowest first, and puts the frame there. The error is a *Fault or the engine's.
func (f *frame) stand() error {
	at := f.footJoint()
	if at == 0 {
		f.places = []place{{plane.Pose{}, f.bracket}}
		return nil
	}
	lower := f.car.Chain()
	lower = holes.Chain{Parts: lower.Parts[:at+1], Joints: lower.Joints[:at]}
	settings, err := lower.Settings()
	if err != nil {
		return err
	}
	if len(settings) == 0 {
		return &Fault{NoLowerWay}
	}
	fixed := f.ground
	rise := func(s *holes.Setting) float64 { return fixed.Then(s.Pose).Apply(middleOf(f.bracket)).Z }
	slices.SortStableFunc(settings, func(a, b holes.Setting) int { return cmp.Compare(rise(&a), rise(&b)) })
	f.lowerWays = len(settings)
	var turns []float64
	for i := range settings {
		if fresh(turns, settings[i].Pose.Turn, alike) {
			turns = append(turns, settings[i].Pose.Turn)
		}
	}
	f.lowerTurns = len(turns)
	n := min(len(settings), MostPlaces)
	var origin plane.Pose
	for i := range n {
		s := &settings[i*(len(settings)-1)/max(n-1, 1)]
		if i == 0 {
			origin = s.Pose
			f.ground = fixed.Then(origin)
		}
		used := map[int]bool{}
		for _, p := range s.Fits[at-1].Pairs {
			used[p.Upper] = true
		}
		f.places = append(f.places, place{origin.Inverse().Then(s.Pose), f.takesFoot(used)})
	}
	return nil
}

// on is the pose of the plate on its bracket.
func (f *frame) on(s stance) plane.Pose { return f.places[s.place].Inverse().Then(s.Pose) }
