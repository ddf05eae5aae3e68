package design

import (
	"cmp"
	"math"
	"slices"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
)

// Role is what a hole of the plate is for.
type Role int

// What holes are for.
const (
	AtFoot  Role = iota
	AtFront      // the wing's front bolt
	AtRear
)

// KeptHole is a hole of a plate that stays what it is.
type KeptHole struct {
	holes.Hole // in the plate's own frame
	Role       Role
}

// Kept are the holes of a plate that the search leaves as they are: name, place and diameter. It looks for the fewest further ones.
type Kept struct {
	Holes  []KeptHole
	Turn   float64      // rad, of the plate in the fixed part's frame where it stands upright
	Stands []plane.Pose // of the plate in that frame as it is bolted now, turned so: where it is put when none of its foot's holes is kept
}

// KeepFault is a hole that cannot be kept.
type KeepFault struct {
	Name string
	What KeepProblem
}

// KeepProblem says why.
type KeepProblem int

// Why a hole cannot be kept.
const (
	NoSuchHole KeepProblem = iota
	KeptSlot               // a slot has no one place
	NoRole                 // nothing says which joint it is for
)

func (f *KeepFault) Error() string { return "cannot keep hole " + f.Name }

// Keep returns the named holes of the plate of a table's car, all of them for no names. What a hole is for is what settings use it for most; one
// that none uses goes by its joint, and at the head by its side of the middle. The error is a *KeepFault, or a *Fault.
func Keep(t *model.Table, names []string) (k Kept, err error) {
	if len(t.Car.Parts) < 3 {
		return k, &Fault{TooFewParts}
	}
	at := len(t.Car.Parts) - 3
	plate := &t.Car.Parts[at+1]
	roles := rolesOf(t)
	if names == nil {
		for _, h := range plate.Holes {
			if h.Slot == "" {
				names = append(names, h.ID)
			}
		}
	}
	for _, name := range names {
		n := slices.IndexFunc(plate.Holes, func(h holes.Hole) bool { return h.ID == name })
		switch {
		case n < 0 && slices.ContainsFunc(plate.Holes, func(h holes.Hole) bool { return h.Slot == name }), n >= 0 && plate.Holes[n].Slot != "":
			return Kept{}, &KeepFault{name, KeptSlot}
		case n < 0:
			return Kept{}, &KeepFault{name, NoSuchHole}
		case roles[n] < 0:
			return Kept{}, &KeepFault{name, NoRole}
		case slices.ContainsFunc(k.Holes, func(o KeptHole) bool { return o.ID == name }):
			continue
		}
		h := KeptHole{plate.Holes[n], roles[n]}
		h.Joint = t.Car.Joints[at+min(int(h.Role), 1)].Name
		k.Holes = append(k.Holes, h)
	}
	slices.SortStableFunc(k.Holes, func(a, b KeptHole) int { return cmp.Compare(a.Role, b.Role) })
	k.Turn, k.Stands = standsOf(t)
	return k, nil
}

// rolesOf says what each hole of the plate is for, -1 where nothing tells.
func rolesOf(t *model.Table) []Role {
	at := len(t.Car.Parts) - 3
	plate, wing := &t.Car.Parts[at+1], t.Car.Parts[at+2].Holes
	foot, atHead := t.Car.Joints[at].Name, t.Car.Joints[at+1].Name
	uses := make([][3]int, len(plate.Holes))
	for i := range t.Rows {
		fits := t.Rows[i].Fits
		for _, p := range fits[at].Pairs {
			uses[p.Upper][AtFoot]++
		}
		front := slices.MinFunc(fits[at+1].Pairs, func(p, q holes.Pair) int { return cmp.Compare(wing[p.Upper].X, wing[q.Upper].X) })
		for _, p := range fits[at+1].Pairs {
			role := AtRear
			if p.Upper == front.Upper {
				role = AtFront
			}
			uses[p.Lower][role]++
		}
	}
	var head []plane.Point
	for i, h := range plate.Holes {
		if h.Joint == atHead || uses[i][AtFront]+uses[i][AtRear] > 0 {
			head = append(head, h.At())
		}
	}
	roles := make([]Role, len(plate.Holes))
	for i, h := range plate.Holes {
		u := uses[i]
		switch {
		case u[AtFoot] > 0 && u[AtFoot] >= max(u[AtFront], u[AtRear]):
			roles[i] = AtFoot
		case u[AtFront] > 0 && u[AtFront] >= u[AtRear]:
			roles[i] = AtFront
		case u[AtRear] > 0:
			roles[i] = AtRear
		case h.Joint == foot:
			roles[i] = AtFoot
		case h.Joint == atHead && h.X < middleOf(head).X:
			roles[i] = AtFront
		case h.Joint == atHead:
			roles[i] = AtRear
		default:
			roles[i] = -1
		}
	}
	return roles
}

// standsOf returns the least turn of the plate in the fixed part's frame in any setting, and its poses there that are turned so.
func standsOf(t *model.Table) (turn float64, all []plane.Pose) {
	turn = math.Inf(1)
	at := len(t.Car.Parts) - 3
	for i := range t.Rows {
		if x := t.Rows[i].Fits[at].Pose.Turn; math.Abs(x) < math.Abs(turn)-1e-9 {
			turn = x
		}
	}
	if math.IsInf(turn, 0) {
		return 0, nil
	}
	if math.Abs(turn) < alike { // as it is drawn
		turn = 0
	}
	for i := range t.Rows {
		p := t.Rows[i].Fits[at].Pose
		known := slices.ContainsFunc(all, func(o plane.Pose) bool { return math.Hypot(o.X-p.X, o.Z-p.Z) < 1 })
		if math.Abs(p.Turn-turn) < alike && !known {
			all = append(all, p)
		}
	}
	return turn, all
}
