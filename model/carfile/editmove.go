package carfile

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"stanchion/holes"
	"stanchion/model/toml"
)

// MoveHoles returns the edits that put holes of a part, found by their ids, elsewhere and give them another diameter. Names, comments and
// what else is said of them stay. The error says why it cannot be done.
func MoveHoles(text []byte, part string, moved []holes.Hole) ([]Edit, error) {
	doc := editable(text)
	index, err := partIndex(doc, part)
	if err != nil {
		return nil, err
	}
	values, err := decoded(doc)
	if err != nil {
		return nil, err
	}
	var ids []string
	switch list := values["part"].([]map[string]any)[index]["holes"].(type) {
	case []any:
		for _, h := range list {
			t, _ := h.(map[string]any)
			id, _ := t["id"].(string)
			ids = append(ids, strings.TrimSpace(id))
		}
	case []map[string]any:
		for _, t := range list {
			id, _ := t["id"].(string)
			ids = append(ids, strings.TrimSpace(id))
		}
	}
	where := toml.Locate(string(doc))
	unit, digits := lengthUnit(doc)
	offset := len(text) - len(doc)
	var edits []Edit
	for _, h := range moved {
		n := slices.Index(ids, h.ID)
		if n < 0 {
			return nil, fmt.Errorf("part %q has no hole %q", part, h.ID)
		}
		hole := fmt.Sprintf("part[%d].holes[%d]", index, n)
		for _, v := range []struct {
			key string
			mm  float64
		}{{"x", h.X}, {"z", h.Z}, {"d", h.D}} {
			from, ok := where.From[hole+"."+v.key]
			if !ok {
				return nil, fmt.Errorf("hole %q of part %q: its %s is not where it can be changed: do it by hand", h.ID, part, v.key)
			}
			edits = append(edits, Edit{from + offset, where.To[hole+"."+v.key] + offset, toml.Decimal(v.mm/unit, digits)})
		}
	}
	slices.SortFunc(edits, func(a, b Edit) int { return cmp.Compare(a.From, b.From) })
	return edits, nil
}
