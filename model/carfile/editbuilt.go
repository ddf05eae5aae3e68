package carfile

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model/toml"
)

// SetBuilt returns the edits that say where holes of a part are on one side as built, "left" or "right": in the place of what is said of it, or
// at the end of the hole's own table. order lists the holes' ids. The error says why it cannot be done.
func SetBuilt(text []byte, part, side string, order []string, at map[string]plane.Point) ([]Edit, error) {
	doc := editable(text)
	index, err := partIndex(doc, part)
	if err != nil {
		return nil, err
	}
	values, err := decoded(doc)
	if err != nil {
		return nil, err
	}
	list, _ := values["part"].([]map[string]any)[index]["holes"].([]any)
	if list == nil {
		return nil, fmt.Errorf("the holes of part %q are written as tables [[part.holes]]: add %s = { x = , z = } to each by hand", part, side)
	}
	where := toml.Locate(string(doc))
	unit, digits := lengthUnit(doc)
	offset := len(text) - len(doc)
	var edits []Edit
	for _, id := range order {
		n := slices.IndexFunc(list, func(h any) bool {
			t, _ := h.(map[string]any)
			name, _ := t["id"].(string)
			return strings.TrimSpace(name) == id
		})
		if n < 0 {
			return nil, fmt.Errorf("part %q has no hole %q", part, id)
		}
		value := fmt.Sprintf("{ x = %s, z = %s }", toml.Decimal(at[id].X/unit, digits), toml.Decimal(at[id].Z/unit, digits))
		hole := fmt.Sprintf("part[%d].holes[%d]", index, n)
		if from, ok := where.From[hole+"."+side]; ok {
			edits = append(edits, Edit{from + offset, where.To[hole+"."+side] + offset, value})
			continue
		}
		end, ok := where.To[hole]
		if !ok || end == 0 || doc[end-1] != '}' {
			return nil, fmt.Errorf("hole %q of part %q is not where %s can be written: add it by hand", id, part, side)
		}
		last := len(bytes.TrimRight(doc[:end-1], " \t"))
		edits = append(edits, Edit{last + offset, last + offset, ", " + side + " = " + value})
	}
	slices.SortFunc(edits, func(a, b Edit) int { return cmp.Compare(a.From, b.From) })
	return edits, nil
}
