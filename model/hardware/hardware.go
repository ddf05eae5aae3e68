// Package hardware answers: which bolts, nuts and washers does a setting take, how long, how tight, is
// there room for them and a spanner, and what do the metals do to one another? It knows no loads.
//
// Lengths are in mm, forces in N, torques in N·m.
package hardware

import (
	"math"

	"stanchion/holes"
	"stanchion/model"
	"stanchion/model/fastener"
)

// Joint is what one joint takes, on one side of the car.
type Joint struct {
	Name          string
	Size          fastener.Size
	Sized         bool
	Grade         fastener.Grade
	Graded        bool
	Nut           model.Nut
	Count         int     // bolts in this setting
	Grip          float64 // mm of parts; NaN where a thickness is not known
	Washers       int     // under head and nut, of one bolt
	Length        float64 // mm of the bolt; NaN where it cannot be said
	ThreadSheared bool    // its thread lies where the parts meet, in a bolt with a shank
	Tight         fastener.Preloaded
	Tightened     bool // Tight is known
	Crowded       []Crowd
	Metals        []Metals
}

// Crowd is a place without room.
type Crowd struct {
	A, B       string // holes of the lower part; B is "" for an edge
	Part       string // whose edge
	What       Clash
	Have, Need float64 // mm
}

// Clash is what has no room.
type Clash int

// What may have no room.
const (
	WashersOverlap Clash = iota
	SpannerBlocked
	WasherOverEdge
)

// Metals is what a plate and the bolts in it do to one another.
type Metals struct {
	Part  string
	Plate fastener.Kind
	fastener.Couple
}

// Of lists what each joint of a setting takes, from the chassis up.
func Of(c *model.Car, s holes.Setting) []Joint {
	var all []Joint
	if j, ok := chassis(c); ok {
		all = append(all, j)
	}
	for i, joint := range c.Joints {
		j := take(joint.Name, joint.Bolt, joint.Grade)
		j.Nut = joint.Nut
		if j.Nut == model.NutNotSaid && i == len(c.Joints)-1 {
			j.Nut = model.Insert
		}
		j.Count = len(s.Fits[i].Pairs)
		j.stack(c, i)
		var at []holes.Hole
		for _, p := range s.Fits[i].Pairs {
			at = append(at, c.Parts[i].Holes[p.Lower])
		}
		j.room(at, at)
		for n, p := range s.Fits[i].Pairs {
			j.edge(&c.Parts[i], c.Parts[i].Holes[p.Lower], at[n].ID)
			j.edge(&c.Parts[i+1], c.Parts[i+1].Holes[p.Upper], at[n].ID)
		}
		j.metals(&c.Parts[i])
		j.metals(&c.Parts[i+1])
		all = append(all, j)
	}
	return all
}

func take(name, bolt, grade string) Joint {
	j := Joint{Name: name, Grip: math.NaN(), Length: math.NaN()}
	j.Size, j.Sized = fastener.Lookup(bolt)
	j.Grade, j.Graded = fastener.LookupGrade(grade)
	if j.Sized && j.Graded {
		j.Tight, j.Tightened = fastener.Preload(j.Size, j.Grade)
	}
	return j
}

func chassis(c *model.Car) (Joint, bool) {
	if c.Chassis.Bolt == "" {
		return Joint{}, false
	}
	j := take(model.ChassisJoint, c.Chassis.Bolt, c.Chassis.Grade)
	var at []holes.Hole
	for _, h := range c.Parts[0].Holes {
		if h.Joint == model.ChassisJoint && (h.Slot == "" || h.Distance == 0) {
			at = append(at, h)
		}
	}
	j.Count = len(at)
	j.room(at, at)
	for _, h := range at {
		j.edge(&c.Parts[0], h, h.ID)
	}
	j.metals(&c.Parts[0])
	return j, true
}

// stack works out the bolt's length from what it goes through: parts, a washer under the head and one
// under a nut, the nut and two threads.
func (j *Joint) stack(c *model.Car, i int) {
	lower, upper := &c.Parts[i], &c.Parts[i+1]
	l, ok := lower.Thickness.Get()
	u, known := upper.Thickness.Get()
	if !j.Sized || !ok && j.Nut != model.TappedHole {
		return
	}
	switch {
	case j.Nut == model.TappedHole && known: // through the upper part into the lower
		engaged := c.Joints[i].Engaged.Or(l)
		if math.IsNaN(engaged) {
			return
		}
		j.Grip, j.Washers = u, 1
		if length, ok := fastener.LongestWithin(j.Size, u+j.Size.WasherThickness()+engaged); ok {
			j.Length = length
		}
	case (j.Nut == model.PlainNut || j.Nut == model.NutNotSaid) && known && ok:
		j.Grip, j.Washers = l+u, 2
		if length, ok := (fastener.Stack{Parts: []float64{l, u}, Washers: 2}).Length(j.Size); ok {
			j.Length = length
			j.ThreadSheared = fastener.ThreadInShear(j.Size, length, u+j.Size.WasherThickness())
		}
	}
}

// room looks at every pair of bolts.
func (j *Joint) room(at, ids []holes.Hole) {
	if !j.Sized {
		return
	}
	washers, spanner := fastener.Room(j.Size, j.Size)
	for i, a := range at {
		for k, b := range at[i+1:] {
			apart := a.At().Distance(b.At())
			switch {
			case apart < washers-1e-9:
				j.Crowded = append(j.Crowded, Crowd{A: ids[i].ID, B: ids[i+1+k].ID, What: WashersOverlap, Have: apart, Need: washers})
			case apart < spanner-1e-9:
				j.Crowded = append(j.Crowded, Crowd{A: ids[i].ID, B: ids[i+1+k].ID, What: SpannerBlocked, Have: apart, Need: spanner})
			}
		}
	}
}

// edge looks whether a washer hangs over a part's edge.
func (j *Joint) edge(p *model.Part, h holes.Hole, id string) {
	if !j.Sized || p.Outline == nil {
		return
	}
	if d, _ := p.EdgeDistance(h.At()); d < j.Size.Washer/2-1e-9 {
		j.Crowded = append(j.Crowded, Crowd{A: id, Part: p.Name, What: WasherOverEdge, Have: d, Need: j.Size.Washer / 2})
	}
}

// metals looks at a part's metal beside the bolts'.
func (j *Joint) metals(p *model.Part) {
	kind := fastener.KindOfPlate(p.Material)
	if kind == fastener.UnknownKind || !j.Graded {
		return
	}
	j.Metals = append(j.Metals, Metals{p.Name, kind, fastener.Galvanic(kind, fastener.KindOfGrade(j.Grade))})
}

// Item is a line of a parts list, for both sides of the car or as many uprights as there are.
type Item struct {
	Count int
	What  What
	Joint string // of bolts
	Size  string
	Grade string
	MM    float64 // the bolt's length; NaN where it is not known
	Why   Unknown
}

// Unknown is why a bolt's length is not known.
type Unknown int

// Why lengths are not known.
const (
	NotUnknown Unknown = iota
	NoThickness
	MakersLength
)

func (u Unknown) String() string {
	return [...]string{"", "the parts' thicknesses are not given", "as the inserts' or nuts' maker says"}[u]
}

// What is a kind of hardware.
type What int

// The kinds of hardware.
const (
	Bolts What = iota
	Nuts
	Washers
)

// List is the parts list of settings for so many uprights: of each kind the most that any of them takes.
func List(c *model.Car, settings []holes.Setting, uprights int) []Item {
	var all []Item
	most := func(i Item) {
		for k := range all {
			a := &all[k]
			if a.What == i.What && a.Joint == i.Joint && a.Size == i.Size && a.Grade == i.Grade && (a.MM == i.MM || math.IsNaN(a.MM) && math.IsNaN(i.MM)) {
				a.Count = max(a.Count, i.Count)
				return
			}
		}
		all = append(all, i)
	}
	for _, s := range settings {
		sum := map[Item]int{}
		var order []Item
		add := func(i Item, n int) {
			if n == 0 {
				return
			}
			key := i
			if math.IsNaN(key.MM) {
				key.MM = -1 // NaN is no key
			}
			if sum[key] == 0 {
				order = append(order, key)
			}
			sum[key] += n
		}
		for _, j := range Of(c, s) {
			n := j.Count * uprights
			size, grade := j.Size.Name, j.Grade.Name
			bolts := Item{What: Bolts, Joint: j.Name, Size: size, Grade: grade, MM: j.Length}
			switch {
			case !math.IsNaN(j.Length):
			case j.Nut == model.Insert || j.Nut == model.RivetNut:
				bolts.Why = MakersLength
			default:
				bolts.Why = NoThickness
			}
			add(bolts, n)
			if j.Nut == model.PlainNut || j.Nut == model.NutNotSaid {
				add(Item{What: Nuts, Size: size, Grade: grade, MM: math.NaN()}, n)
				add(Item{What: Washers, Size: size, MM: math.NaN()}, 2*n)
			} else {
				add(Item{What: Washers, Size: size, MM: math.NaN()}, n)
			}
		}
		for _, i := range order {
			n := sum[i]
			if i.MM == -1 {
				i.MM = math.NaN()
			}
			i.Count = n
			most(i)
		}
	}
	return all
}
