package logbook

import (
	"bytes"
	"fmt"
	"hash/crc32"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"stanchion/model/toml"
)

// values decodes a block's text into its keys, also those that this program does not know;
// wrong is why it has none.
func values(text []byte) (of map[string]any, wrong string) {
	var doc struct {
		Note []map[string]any `toml:"note"`
	}
	if err := toml.Decode(string(text), &doc); err != nil {
		return nil, err.Error()
	}
	if len(doc.Note) != 1 {
		return nil, "it is not a note"
	}
	return doc.Note[0], ""
}

// body is a whole block's text, from its opening line to before its closing line.
func (b *block) body(data []byte) []byte {
	return slices.Clip(bytes.TrimLeft(data[b.from:b.end], "\r\n"))
}

// sum spells the checksum of a block as it stands.
func (b *block) sum(data []byte) string {
	return fmt.Sprintf("%08x", crc32.ChecksumIEEE(data[b.from:b.end]))
}

// named is a key of a note with the text that it is given.
type named struct{ key, text string }

// rewritten is the body of a note in which some keys have other values, all others byte for
// byte as they were. Keys that it does not have come behind its opening line.
func rewritten(body []byte, set ...named) []byte {
	type cut struct {
		from, to int
		with     string
	}
	found := toml.Locate(string(body))
	opened := bytes.IndexByte(body, '\n') + 1
	var cuts []cut
	for _, s := range set {
		path := "note[0]." + s.key
		from, there := found.From[path]
		if there {
			cuts = append(cuts, cut{from, found.To[path], toml.Quote(s.text)})
		} else {
			cuts = append(cuts, cut{opened, opened, s.key + " = " + toml.Quote(s.text) + "\n"})
		}
	}
	slices.SortStableFunc(cuts, func(a, b cut) int { return a.from - b.from })
	var out []byte
	at := 0
	for _, c := range cuts {
		out = append(append(out, body[at:c.from]...), c.with...)
		at = c.to
	}
	return append(out, body[at:]...)
}

// sealed is a block of a body, with its closing line. It fails where what is read back is
// not the note with that id.
func sealed(body []byte, id string) ([]byte, error) {
	text := append([]byte("\n"), bytes.TrimLeft(body, "\r\n")...)
	if !bytes.HasSuffix(text, []byte("\n")) {
		text = append(text, '\n')
	}
	text = fmt.Appendf(text, "%s%s %08x\n", closing, id, crc32.ChecksumIEEE(text))
	all := blocks(text)
	if len(all) != 1 || all[0].to != len(text) || !all[0].sound || all[0].wrong != "" || all[0].note.ID != id {
		return nil, fmt.Errorf("note %s cannot be written as it stands", id)
	}
	return text, nil
}

// references are the keys of a note that name others, or itself.
var references = []string{"id", "replaces", "restores"}

// content spells what a note says, whatever it is called and names, so that two notes that
// say the same are the same text.
func content(of map[string]any) string {
	of = maps.Clone(of)
	for _, key := range references {
		delete(of, key)
	}
	return spelt(of)
}

// spelt spells a value in one way, however a person or a program may have written it.
func spelt(v any) string {
	switch v := v.(type) {
	case string:
		return strconv.Quote(v)
	case int64:
		if math.Abs(float64(v)) > 1<<53 {
			return strconv.FormatInt(v, 10)
		}
		return spelt(float64(v))
	case float64:
		return strconv.FormatFloat(v+0, 'g', -1, 64)
	case time.Time:
		return v.Format(time.RFC3339Nano)
	case []any:
		parts := make([]string, len(v))
		for i := range v {
			parts[i] = spelt(v[i])
		}
		return "[" + strings.Join(parts, ",") + "]"
	case []map[string]any:
		parts := make([]string, len(v))
		for i := range v {
			parts[i] = spelt(v[i])
		}
		return "[" + strings.Join(parts, ",") + "]"
	case map[string]any:
		var parts []string
		for _, key := range slices.Sorted(maps.Keys(v)) {
			parts = append(parts, strconv.Quote(key)+":"+spelt(v[key]))
		}
		return "{" + strings.Join(parts, ",") + "}"
	}
	return fmt.Sprint(v)
}
