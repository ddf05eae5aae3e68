package logbook

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"stanchion/model/files"
	"stanchion/model/toml"
)

// recoveredMark begins what a note that was put back says of that.
const recoveredMark = "(recovered: "

// Recovered is a note that was cut short and is put back.
type Recovered struct {
	From     string // file that it is from; "" for the notebook itself
	Note     Note   // as it is put back
	WasID    string // its id in the piece; "" where that was cut off
	Keys     []string
	Cut      string   // the line that was cut off
	Unread   []string // other lines that cannot be read
	Filled   []string // keys taken over from the note that it corrects
	Guessed  bool     // its time was cut off: it is the file's
	TakenBy  string   // the note that corrects the same one already; it is taken back at once for that
	takeBack []byte
	block    []byte
}

// Recovery is what putting back torn notes does, or would do.
type Recovery struct {
	Path      string
	Notes     []Recovered
	Held      []string // files, "" for the notebook, with pieces that stand in the book already
	Empty     []string // the same with pieces of which nothing can be read
	Confirmed []Note   // that replace notes changed by hand
	Aside     string   // the file that a torn end of the notebook was set aside in
	Renamed   []string // files of torn pieces by their new names
}

// Recover puts the torn notes in a notebook and beside it back into it, as far as they can be
// read, and confirms the notes that were changed by hand and are named. Without write it says
// what it would do and changes nothing. Torn files are renamed once what they hold is in the
// notebook; none is deleted.
func Recover(path string, confirm []string, write bool, now time.Time) (Recovery, error) {
	return realDisk.recover(path, confirm, write, now)
}

func (d disk) recover(path string, confirm []string, write bool, now time.Time) (r Recovery, err error) {
	if path, err = files.Resolve(path); err != nil {
		return r, err
	}
	plan := func(data []byte) (err error) {
		r, err = planRecovery(path, data, confirm, now)
		return err
	}
	if !write {
		data, err := readAll(path)
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return r, err
		}
		if f := formatOf(data); f > Format || f < 0 {
			return r, ErrNewer
		}
		return r, plan(data)
	}
	unlock, err := lock(path)
	if err != nil {
		return r, err
	}
	defer unlock()
	aside, err := d.addLocked(path, func(data []byte) ([]byte, error) {
		err := plan(data)
		if err != nil {
			return nil, err
		}
		text := []byte(nil)
		for i := range r.Notes {
			text = append(append(text, r.Notes[i].block...), r.Notes[i].takeBack...)
		}
		for _, n := range r.Confirmed {
			text = append(text, r.confirming(data, n)...)
		}
		if text == nil {
			if length, _ := wholeNotes(ended(data)); length < len(data) && !blank(data[length:]) {
				text = []byte{} // so that the torn end is set aside
			}
		}
		return text, nil
	})
	r.Aside = aside
	if err != nil {
		return r, err
	}
	r.Renamed, err = d.renameHeld(path)
	return r, err
}

// planRecovery works out what is put back into a notebook that holds data.
func planRecovery(path string, data []byte, confirm []string, now time.Time) (Recovery, error) {
	r := Recovery{Path: path}
	type source struct {
		piece piece
		from  string
		at    time.Time
	}
	var all []source
	at := now
	if info, err := os.Stat(path); err == nil {
		at = info.ModTime()
	}
	take := func(from string, at time.Time, data []byte) {
		for _, p := range pieces(data) {
			switch {
			case p.says():
				all = append(all, source{p, from, at})
			case !slices.Contains(r.Empty, from):
				r.Empty = append(r.Empty, from)
			}
		}
	}
	torn, err := tornFiles(path)
	if err != nil {
		return r, err
	}
	for _, t := range torn {
		take(t.name, t.info.ModTime(), t.data)
	}
	data = ended(data)
	length, ids := wholeNotes(data)
	whole := blocks(data[:length])
	for i := range whole {
		if !whole[i].whole {
			take("", at, data[whole[i].from:whole[i].to])
		}
	}
	take("", at, data[length:])
	// The one with the most keys first: what is cut shorter and says no more is held by it.
	slices.SortStableFunc(all, func(a, b source) int { return len(b.piece.keys) - len(a.piece.keys) })
	book := &recovering{whole: whole, ids: ids, data: data, held: held(data), now: now}
	for i := range whole {
		if id := whole[i].note.ID; !slices.Contains(book.ids, id) {
			book.ids = append(book.ids, id)
		}
	}
	book.wanted = namedIn(data)
	for _, s := range all {
		book.wanted = append(book.wanted, s.piece.text("id"))
	}
	for _, s := range all {
		if book.held.holds(&s.piece) {
			if !slices.Contains(r.Held, s.from) {
				r.Held = append(r.Held, s.from)
			}
			continue
		}
		n, err := book.put(&s.piece, s.at)
		if err != nil {
			return r, fmt.Errorf("%s: %w", filepath.Base(s.from), err)
		}
		n.From = s.from
		r.Notes = append(r.Notes, n)
	}
	slices.SortStableFunc(r.Notes, func(a, b Recovered) int { return a.Note.At.Compare(b.Note.At) })
	for _, id := range confirm {
		n, err := book.confirm(id)
		if err != nil {
			return r, err
		}
		r.Confirmed = append(r.Confirmed, n)
	}
	return r, nil
}

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
	line("text = " + toml.Quote(p.begun()+r.mark()))
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
		if p.cut != "" && strings.HasPrefix(k.key+" = ", p.cut[:min(len(p.cut), len(k.key)+3)]) { // it may have been what was changed
			continue
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

// renameHeld gives the files of torn pieces all of which stand in the book another name.
func (d disk) renameHeld(path string) (renamed []string, err error) {
	data, err := readAll(path)
	if err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			err = nil
		}
		return nil, err
	}
	torn, err := tornFiles(path)
	if err != nil {
		return nil, err
	}
	book := held(data)
	for _, t := range torn {
		if !settled(t.data, book) {
			continue
		}
		to, err := unused(path + ".recovered-")
		if err != nil {
			return renamed, err
		}
		if err := os.Rename(t.name, to); err != nil {
			return renamed, err
		}
		renamed = append(renamed, to)
	}
	if len(renamed) > 0 {
		err = d.syncDir(filepath.Dir(path))
	}
	return renamed, err
}

// unused is a name with a number behind it that no file has.
func unused(begin string) (string, error) {
	for i := 1; ; i++ {
		name := fmt.Sprint(begin, i)
		if _, err := os.Lstat(name); errors.Is(err, fs.ErrNotExist) {
			return name, nil
		} else if err != nil {
			return "", err
		}
	}
}
