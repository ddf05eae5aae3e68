package carfile

import (
	"regexp"
	"strings"
)

// Meanings returns what is said of keys in the file that a person starts from, by path.
func Meanings() map[string]string {
	said := map[string]string{}
	table := ""
	for _, line := range strings.Split(string(start), "\n") {
		line = strings.TrimPrefix(strings.TrimPrefix(line, "#"), " ")
		if m := tableLine.FindStringSubmatch(strings.TrimSpace(line)); m != nil {
			table = m[2]
			if m[1] == "[[" {
				table += "[]"
			}
			if m[3] != "" {
				said[table] = m[3]
			}
			continue
		}
		m := keyLine.FindStringSubmatch(line)
		if m == nil {
			continue
		}
		path := m[1]
		if table != "" {
			path = table + "." + path
		}
		if _, before := said[path]; !before && m[2] != "" {
			said[path] = m[2]
		}
	}
	for path, text := range ofHoles {
		said["part[].holes[]."+path] = text
	}
	for path, text := range inFull {
		said[path] = text
	}
	return said
}

var (
	tableLine = regexp.MustCompile(`^(\[\[?)([a-z_]+)\]\]?\s*(?:#\s*(.*))?$`)
	keyLine   = regexp.MustCompile(`^([a-z_]+)\s*=\s*[^#]*(?:#\s*(.*))?$`)
)

// inFull are those whose comment runs over lines, or is of one choice only.
var inFull = map[string]string{
	"car.front_downforce_area": "m², the car's own lift at the front axle without the wing; downforce positive",
	"car.rear_downforce_area":  "m², the car's own lift at the rear axle without the wing; downforce positive",
	"car.front_rate":           "N/mm, both front wheels together: twice the wheel rate; both rates or neither",
	"car.rear_rate":            "N/mm, both rear wheels together: twice the wheel rate; both rates or neither",
	"assumed":                  "what you guessed: listed until it is measured",
	"body.outline":             "corners of the side profile, [x, z] on the car",
	"body.shape":               "what the flow at the wing is taken for until it is measured",
	"lid.outline":              "corners of the shut boot lid, [x, z] on the car",
	"fit.covariance":           "of the unknowns in covariance_of, row by row",
	"fit.covariance_of":        "the unknowns that were fitted",
	"joint[].threads_in_shear": "false for a plain shank where the parts meet",
	"measured[].leading":       "height of the leading edge by tape: the two edges tell the angle, less well than a level",
	"measured[].trailing":      "height of the trailing edge by tape",
	"measured[].side":          "of the car; leave out for the middle",
	"part[].cutouts":           "lightening openings, each by its corners once around",
	"part[].holes":             "the part's holes, { id, x, z, d }",
	"part[].material":          "such as EN AW-6082-T6; with thickness and outline the part's strength is checked",
	"part[].name":              "of the part; the last one is the wing",
	"part[].outline":           "corners once around, [x, z]",
	"part[].weld":              "the line along which it is welded, [x, z]",
	"part[].welded":            "its strength is then that beside a weld, all over",
	"wing.section":             "a published section; or give coordinates, polar or table",
}

// ofHoles are the keys of a hole: they stand on one line, with no room for words.
var ofHoles = map[string]string{
	"id":    "the hole's mark",
	"x":     "centre, to the rear of the part's origin",
	"z":     "centre, above the part's origin",
	"d":     "diameter as drilled",
	"joint": "the only joint that uses it; \"chassis\" for bolts to the car",
	"to":    "the other end of a straight slot",
	"arc":   "the centre of a slot along an arc",
	"step":  "how far apart the places of a bolt in a slot are at most",
	"left":  "where it was measured on the left part",
	"right": "where it was measured on the right part",
}
