package logbook

import (
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"stanchion/model/toml"
)

// recovering is a book while torn notes are put back into it.
type recovering struct {
	whole  []block
	ids    []string
	wanted []string // ids that notes put back have, or that notes name
	data   []byte
	held   *holding
	now    time.Time
}

// fresh returns the id of a note: its own where that is free.
func (b *recovering) fresh(own string, at time.Time) string {
	id := own
	if id == "" || slices.Contains(b.ids, id) || !plainID(id) {
		id = freshID(b.ids, at, b.wanted...)
	}
	b.ids = append(b.ids, id)
	return id
}

// plainID reports whether an id can stand in a closing line.
func plainID(id string) bool {
	return id != "" && len(strings.Fields(id)) == 1 && strings.TrimSpace(id) == id && toml.Quote(id) == `"`+id+`"`
}

// put makes a note of a piece.
func (b *recovering) put(p *piece, at time.Time) (r Recovered, err error) {
	r = Recovered{WasID: p.text("id"), Cut: p.cut, Unread: p.rest, Guessed: !p.has("at")}
	for _, k := range p.keys {
		r.Keys = append(r.Keys, k.key)
		if k.key == "at" {
			at, _ = k.value.(time.Time)
		}
	}
	if r.Guessed {
		at = guessedTime(r.WasID, at).Truncate(time.Second)
	}
	id := b.fresh(r.WasID, at)
	var body strings.Builder
	line := func(text string) { body.WriteString(text + "\n") }
	line(opening)
	line("id = " + toml.Quote(id))
	for _, k := range p.keys {
		if k.key != "id" && k.key != "text" {
			line(k.line)
		}
	}
	if r.Guessed {
		line("at = " + at.Format(time.RFC3339))
	}
	for _, l := range b.overtaken(p, &r) {
		line(l)
	}
	begun := p.begun()
	if begun == "" && r.text != "" {
		begun = r.text + "\n"
	}
	line("text = " + toml.Quote(begun+r.mark()))
	raw := []byte(body.String())
	if r.block, err = sealed(raw, id); err != nil {
		return r, err
	}
	of, _ := values(raw)
	b.held.add(of)
	r.Note, _, _ = noteOf(of)
	if r.TakenBy != "" {
		n := Blank()
		n.ID, n.Replaces, n.Withdrawn, n.At = b.fresh("", b.now), id, true, b.now.Truncate(time.Second)
		n.Text = recoveredMark + "note " + r.TakenBy + " corrects note " + r.Note.Replaces + " already)"
		r.takeBack = encode(n)
	}
	return r, nil
}

// overtaken are the lines of the note that a piece corrects of which the piece was cut off: a
// correction has all that the note had which it does not change. What was predicted goes with
// the setting and the speed. A note that is corrected already gets no second correction.
func (b *recovering) overtaken(p *piece, r *Recovered) (taken []string) {
	replaces := p.text("replaces")
	var old *block
	for i := range b.whole {
		k := &b.whole[i]
		if k.wrong != "" {
			continue
		}
		if k.note.ID == replaces {
			old = k
		}
		if k.note.Replaces == replaces && replaces != "" {
			r.TakenBy = k.note.ID
		}
	}
	if old == nil || p.has("withdrawn") || r.TakenBy != "" {
		return nil
	}
	mine := 0
	for _, k := range p.keys {
		mine = max(mine, place(k.key))
	}
	for _, key := range Keys() {
		if place(key) > mine && p.cutIn(key) {
			mine = place(key)
			break
		}
	}
	same := func(key string, line pieceKey) bool {
		for _, k := range p.keys {
			if k.key == key {
				return spelt(k.value) == spelt(line.value)
			}
		}
		return false
	}
	predicted := true
	theirs := pieces(old.body(b.data))
	if len(theirs) == 0 {
		return nil
	}
	for _, k := range theirs[0].keys {
		if (k.key == "setting" || k.key == "speed_m_s") && place(k.key) <= mine && !same(k.key, k) {
			predicted = false
		}
	}
	for _, k := range theirs[0].keys {
		if p.cutIn(k.key) { // it may have been what was changed
			continue
		}
		if k.key == "text" && !p.has("text") && place("text") > mine {
			r.text, _ = k.value.(string)
			r.Filled = append(r.Filled, k.key)
		}
		if slices.Contains(references, k.key) || k.key == "text" || k.key == "confirms" || k.key == "withdrawn" || p.has(k.key) || place(k.key) <= mine ||
			!predicted && (strings.HasPrefix(k.key, "expected_") || k.key == "car_digest") {
			continue
		}
		taken = append(taken, k.line)
		r.Filled = append(r.Filled, k.key)
	}
	return taken
}

// mark says of a note that it was put back, and what of it was not.
func (r *Recovered) mark() string {
	text := recoveredMark + "cut short while it was saved"
	if r.WasID != "" {
		text += " as " + r.WasID
	}
	if r.Guessed {
		text += "; its time is not known"
	}
	if len(r.Filled) > 0 {
		text += "; from " + r.Filled[0] + " on as in the note that it corrects"
	}
	if r.Cut != "" {
		text += "; cut off at: " + shortened(r.Cut)
	}
	for _, l := range r.Unread[:min(len(r.Unread), 20)] {
		text += "; not readable: " + shortened(l)
	}
	return text + ")"
}

func shortened(line string) string {
	line = strings.ToValidUTF8(line, "\uFFFD")
	if utf8.RuneCountInString(line) <= 2000 {
		return line
	}
	return string([]rune(line)[:2000]) + "…"
}

// guessedTime is the time of a note whose own was cut off: the file's, or noon of the day that
// its id names.
func guessedTime(id string, file time.Time) time.Time {
	day, _, _ := strings.Cut(id, ".")
	t, err := time.ParseInLocation("2006-01-02", day, time.Local)
	if err != nil || file.Format("2006-01-02") == day {
		return file
	}
	return t.Add(12 * time.Hour)
}
