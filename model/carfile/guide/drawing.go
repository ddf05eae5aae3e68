package guide

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"stanchion/model/cad"
	"stanchion/model/pattern"
	"stanchion/model/units"
)

// HolesKey is where the holes of a drawing are kept among the answers, beside its name.
func HolesKey(q Question) string { return q.Key + holesEnd }

const holesEnd = ".holes"

// Hidden reports whether a key among the answers is no question's: what a drawing holds.
func Hidden(key string) bool { return strings.HasSuffix(key, holesEnd) }

// FromDrawing reads the holes of a drawing, its name's ending saying what it is, as they are kept
// under HolesKey. The lowest of the frontmost holes of the lowest row is the origin.
func FromDrawing(name string, data []byte, u units.System) (string, error) {
	var all []spot
	found, err := cad.Read(name, data, cad.Options{Scale: 1})
	if errors.Is(err, cad.ErrNoUnit) { // one that does not say what its numbers are in
		found, err = cad.Read(name, data, cad.Options{Scale: 1, Unit: u.LengthSize()})
	}
	if err != nil {
		return "", err
	}
	for _, h := range found.Holes {
		all = append(all, spot{Hole: h})
	}
	for _, s := range found.Slots {
		all = append(all, spot{Hole: s.Hole, slot: &s})
	}
	if len(all) == 0 {
		return "", fmt.Errorf("%s has no holes; draw each as a circle", filepath.Base(name))
	}
	first := 0
	for i, s := range all {
		o := all[first]
		if s.Z < o.Z-0.5 || s.Z < o.Z+0.5 && s.X < o.X {
			first = i
		}
	}
	origin := all[first].At()
	all = append([]spot{all[first]}, slices.Delete(slices.Clone(all), first, first+1)...)
	var lines []string
	for _, s := range all {
		s.ID = strings.Map(func(r rune) rune {
			if pattern.Named(string(r)) {
				return r
			}
			return '_'
		}, s.ID)
		s.X, s.Z = s.X-origin.X, s.Z-origin.Z
		if s.slot != nil {
			moved := *s.slot
			moved.Hole = s.Hole
			moved.To, moved.Centre = s.slot.To.Sub(origin), s.slot.Centre.Sub(origin)
			s.slot = &moved
		}
		lines = append(lines, s.text())
	}
	return strings.Join(lines, "; "), nil
}
