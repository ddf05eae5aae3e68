package logbook

import (
	"bytes"
	"strings"
	"time"
	"unicode/utf8"

	"stanchion/model/toml"
)

// piece is a note that was cut short, as far as it can be read.
type piece struct {
	keys []pieceKey
	rest []string // lines that are no keys
	cut  string   // the line that was cut off; "" where none was
}

// pieceKey is a key whose line is whole.
type pieceKey struct {
	key, line string
	value     any
}

// pieces reads notes that were cut short line by line: the lines up to the cut are whole keys.
func pieces(data []byte) (all []piece) {
	p, met := piece{}, map[string]bool{}
	end := func() {
		if len(p.keys)+len(p.rest) > 0 || p.cut != "" {
			all = append(all, p)
		}
		p, met = piece{}, map[string]bool{}
	}
	for len(data) > 0 {
		line, after, whole := bytes.Cut(data, []byte("\n"))
		data = after
		text := string(bytes.TrimSpace(line))
		switch {
		case opens(line), bytes.HasPrefix(line, []byte(closing)):
			end()
		case text == "" || text[0] == '#' || strings.HasPrefix(text, "notes_format"):
		case !whole && strings.HasPrefix(opening, text):
		default:
			k, ok := readKey(text)
			if !whole && !closed(k.value) {
				ok = false
			}
			switch {
			case ok && !met[k.key]:
				met[k.key] = true
				p.keys = append(p.keys, k)
			case !whole:
				p.cut = text
			default:
				p.rest = append(p.rest, text)
			}
		}
	}
	end()
	return all
}

// readKey reads a line that has one key.
func readKey(line string) (k pieceKey, ok bool) {
	if line[0] == '[' || !strings.Contains(line, "=") || !utf8.ValidString(line) {
		return k, false
	}
	of := map[string]any{}
	if toml.Decode(line, &of) != nil || len(of) != 1 {
		return k, false
	}
	for key, value := range of {
		k = pieceKey{key, line, value}
	}
	switch k.key {
	case "at":
		_, ok = k.value.(time.Time)
	case "id", "replaces", "restores", "text":
		_, ok = k.value.(string)
	default:
		ok = true
	}
	return k, ok
}

// closed reports whether a value ends by itself, so that one whose line lacks its end is whole: of a
// number or a time more may have stood there.
func closed(value any) bool {
	switch value.(type) {
	case string, bool, []any, map[string]any:
		return true
	}
	return false
}

// says reports whether a piece has any key but those that name notes.
func (p *piece) says() bool {
	for _, k := range p.keys {
		if k.key != "id" && k.key != "replaces" {
			return true
		}
	}
	return false
}

// garbled reports whether a piece holds lines that no program of ours wrote, and no key with them.
func (p *piece) garbled() bool {
	return !p.says() && (len(p.rest) > 0 || !utf8.ValidString(p.cut))
}

// text is a key's text; "" where it has none.
func (p *piece) text(key string) string {
	for _, k := range p.keys {
		if k.key == key {
			text, _ := k.value.(string)
			return text
		}
	}
	return ""
}

// cutIn reports whether a piece may have been cut off in a key.
func (p *piece) cutIn(key string) bool {
	return p.cut != "" && strings.HasPrefix(key+" = ", p.cut[:min(len(p.cut), len(key)+3)])
}

// begun is what the text of a note that is put back begins with.
func (p *piece) begun() string {
	if own := p.text("text"); own != "" {
		return own + "\n"
	}
	return ""
}

func (p *piece) has(key string) bool {
	for _, k := range p.keys {
		if k.key == key {
			return true
		}
	}
	return false
}

// pieceID is the id of the first note that was cut short; "" where its line is not whole.
func pieceID(data []byte) string {
	for _, p := range pieces(data) {
		return p.text("id")
	}
	return ""
}

// holding is what the notes of a book hold, key by key.
type holding struct {
	notes []map[string]any
	byAt  map[string][]int // by their time as it is spelt
}

// held lists what the whole notes of a book hold.
func held(data []byte) *holding {
	h := &holding{byAt: map[string][]int{}}
	for _, k := range blocks(data) {
		if k.wrong == "" {
			if of, wrong := values(data[k.from:k.end]); wrong == "" {
				h.add(of)
			}
		}
	}
	return h
}

func (h *holding) add(of map[string]any) {
	at := spelt(of["at"])
	h.byAt[at] = append(h.byAt[at], len(h.notes))
	h.notes = append(h.notes, of)
}

// holds reports whether one note of the book has every whole key of a piece; its id may be another.
func (h *holding) holds(p *piece) bool {
	for _, k := range p.keys {
		if k.key == "at" {
			for _, i := range h.byAt[spelt(k.value)] {
				if within(p, h.notes[i]) {
					return true
				}
			}
			return false
		}
	}
	for _, of := range h.notes {
		if within(p, of) {
			return true
		}
	}
	return false
}

func within(p *piece, of map[string]any) bool {
	for _, k := range p.keys {
		v, there := of[k.key]
		switch text, _ := v.(string); {
		case k.key == "id":
		case !there:
			return false
		case k.key == "text" && strings.HasPrefix(text, p.begun()+recoveredMark):
		case spelt(v) != spelt(k.value):
			return false
		}
	}
	return true
}
