// Package inspect answers: what is to be looked at on the car between sessions, when was each thing looked at last, and when is it due
// again? It goes by the notebook alone, so that the answer is there before any strength is worked out.
package inspect

import (
	"slices"
	"strings"

	"stanchion/model"
)

// Kind is what is looked at.
type Kind int

// Kinds of items.
const (
	Torque   Kind = iota // of a joint's bolts
	Marks                // paint over nuts and heads
	Inserts              // threads in the wing
	Play                 // the wing by hand
	Lid                  // its pins or latch, and marks of what touches it
	EndPlate             // screws, and cracks at their holes
	Cracks               // in a part
	Gone                 // an item that the notebook has and the car file has no more
)

// kinds are what kinds are called in machine-readable output.
var kinds = map[Kind]string{Torque: "torque", Marks: "paint_marks", Inserts: "inserts", Play: "play", Lid: "lid", EndPlate: "end_plates",
	Cracks: "cracks", Gone: "not_in_car_file"}

// Word is what a kind is called in machine-readable output.
func (k Kind) Word() string { return kinds[k] }

// quick reports whether a look takes no spanner and no torch, so that it is done after every run.
func (k Kind) quick() bool { return k == Marks || k == Play || k == Lid }

// Item is one thing to look at, on both sides of the car.
type Item struct {
	Key   string // in the notebook and on the command line, such as "torque foot"
	Kind  Kind
	Joint string // of Torque
	Part  string // of Cracks
}

// Items lists what there is to look at on a car, whatever the setting.
func Items(c *model.Car) (all []Item) {
	torque := func(joint string) { all = append(all, Item{Key: "torque " + joint, Kind: Torque, Joint: joint}) }
	if c.Chassis.Bolt != "" {
		torque(model.ChassisJoint)
	}
	inserts := false
	for i, j := range c.Joints {
		torque(j.Name)
		last := i == len(c.Joints)-1 && j.Nut == model.NutNotSaid // which model/hardware takes for inserts
		inserts = inserts || last || j.Nut == model.Insert || j.Nut == model.RivetNut
	}
	all = append(all, Item{Key: "paint marks", Kind: Marks})
	if inserts {
		all = append(all, Item{Key: "inserts", Kind: Inserts})
	}
	all = append(all, Item{Key: "play", Kind: Play})
	if c.Lid.Outline != nil {
		all = append(all, Item{Key: "lid pins", Kind: Lid})
	}
	all = append(all, Item{Key: "end plates", Kind: EndPlate})
	for _, p := range c.Parts[:max(len(c.Parts)-1, 0)] {
		all = append(all, Item{Key: "cracks " + p.Name, Kind: Cracks, Part: p.Name})
	}
	return all
}

// Everything is the word for all items.
const Everything = "all"

// Named returns the keys of the items that a word means: all, the item itself, or all whose keys begin with the word, as "torque"
// does; none where there is no such item.
func (r Report) Named(word string) (found []string) {
	word = strings.ToLower(strings.Join(strings.Fields(word), " "))
	for _, s := range r.Items {
		key := strings.ToLower(s.Key)
		if key == word {
			return []string{s.Key}
		}
		if (word == Everything && s.Kind != Gone) || word != "" && strings.HasPrefix(key, word+" ") {
			found = append(found, s.Key)
		}
	}
	return found
}

// ReadItems returns the keys that a list of words means, parted by commas; wrong is the first that is no item.
func (r Report) ReadItems(text string) (keys []string, wrong string) {
	if all := r.Named(text); len(all) > 0 { // a name may have a comma in it
		return all, ""
	}
	for _, word := range strings.Split(text, ",") {
		if strings.TrimSpace(word) == "" {
			continue
		}
		found := r.Named(word)
		if len(found) == 0 {
			return nil, strings.TrimSpace(word)
		}
		for _, k := range found {
			if !slices.Contains(keys, k) {
				keys = append(keys, k)
			}
		}
	}
	return keys, ""
}
