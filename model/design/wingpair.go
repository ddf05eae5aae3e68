package design

import (
	"cmp"
	"math"
	"slices"

	"stanchion/holes"
	"stanchion/holes/plane"
)

// wingPair is two of the wing's holes, for the bolts of a setting; the front one first.
type wingPair struct{ front, rear int }

// mostWingPairs is how many pairs of the wing's holes are searched, those furthest apart: on their arcs holes have the most room.
const mostWingPairs = 4

// pairsOf lists pairs of the wing's holes that its two bolts may be in: as far apart as bolts may be, and nearer to along the chord than to
// across it. Of pairs that lie alike in the wing the first stands for all.
func (f *frame) pairsOf(wing []holes.Hole) (all []wingPair) {
	head := f.car.Joints[f.footJoint()+1]
	takes := func(h holes.Hole) bool { return h.Takes(head.Shank) && (h.Joint == "" || h.Joint == head.Name) }
	for i, a := range wing {
		for k, b := range wing {
			span := b.At().Sub(a.At())
			if i == k || span.X < math.Abs(span.Z) || span.X == 0 || len(wing) > 2 && (a.Slot != "" || b.Slot != "" ||
				!takes(a) || !takes(b) || span.Length() < LeastPitch) {
				continue
			}
			all = append(all, wingPair{i, k})
		}
	}
	if len(wing) == 2 && len(all) == 0 && wing[0].At() != wing[1].At() { // across the chord
		all = []wingPair{{0, 1}}
		if wing[0].X > wing[1].X {
			all = []wingPair{{1, 0}}
		}
	}
	apart := func(p wingPair) float64 { return wing[p.front].At().Distance(wing[p.rear].At()) }
	slices.SortStableFunc(all, func(a, b wingPair) int { return cmp.Compare(apart(b), apart(a)) })
	return all[:min(len(all), mostWingPairs)]
}

// take puts the wing's bolts into a pair of its holes.
func (f *frame) take(p wingPair) {
	wing := f.car.Parts[f.footJoint()+2].Holes
	shank := f.car.Joints[f.footJoint()+1].Shank
	front, rear := wing[p.front], wing[p.rear]
	if z, ok := f.mounts.Get(); ok {
		front.Z, rear.Z = z, z
	}
	span := rear.At().Sub(front.At())
	f.pair, f.front, f.pitch = p, front.At(), span.Length()
	f.along = span.Times(1 / f.pitch)
	f.quarter = plane.Point{X: f.car.Wing.Chord / 4}.Sub(f.front)
	// Half of what the bolts allow is left to whoever drills.
	f.slack = ((f.headD+front.D)/2-shank+(f.headD+rear.D)/2-shank)/2 - f.keptSlack
}

// withPair is the frame with the wing's bolts in another pair of holes.
func (f *frame) withPair(p wingPair) *frame {
	g := *f
	g.take(p)
	return &g
}

// manyWingHoles reports whether the wing has more holes than bolts at a setting.
func (f *frame) manyWingHoles() bool { return len(f.car.Parts[f.footJoint()+2].Holes) > 2 }
