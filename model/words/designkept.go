package words

import (
	"fmt"
	"strings"

	"stanchion/model/design"
	"stanchion/model/units"
)

// KeepFault says why a hole cannot be kept, and what to do.
func KeepFault(f *design.KeepFault, plate string) string {
	name := units.Printable(f.Name)
	switch f.What {
	case design.KeptSlot:
		return fmt.Sprintf("%s is a slot, which has no one place: it cannot be kept", name)
	case design.NoRole:
		return fmt.Sprintf("no setting uses hole %s, and it is of no joint: give it one (joint) in the car file, or do not keep it", name)
	}
	return fmt.Sprintf("part %q has no hole %s: name one of its holes", units.Printable(plate), name)
}

// Keeping says which holes stay as they are, and that those of the head place the wing; "" where none does.
func Keeping(w *design.Wish) string {
	if len(w.Kept.Holes) == 0 {
		return ""
	}
	var names []string
	head := false
	for _, h := range w.Kept.Holes {
		names = append(names, h.ID)
		head = head || h.Role != design.AtFoot
	}
	text := "keeping " + holeNames(names)
	if head && w.Behind.Known() {
		text += ", which place the wing fore and aft"
	}
	return text
}

// KeptHoles says which holes of a proposal were kept, how many came to them, and which of them are of no use; "" where none was.
func KeptHoles(p *design.Proposal) string {
	if len(p.Kept) == 0 {
		return ""
	}
	text := fmt.Sprintf("%s as they were, %s", holeNames(p.Kept), further(p.Holes()-len(p.Kept)))
	if len(p.Kept) == 1 {
		text = strings.Replace(text, "as they were", "as it was", 1)
	}
	if len(p.Idle) > 0 {
		text += "; no setting wanted uses " + holeNames(p.Idle)
	}
	return text
}

func further(n int) string {
	if n == 0 {
		return "no hole more"
	}
	return units.Count(n, "hole") + " more"
}

// holeNames lists holes by name.
func holeNames(names []string) string {
	all := make([]string, len(names))
	for i, n := range names {
		all[i] = units.Printable(n)
	}
	return strings.Join(all, " ")
}
