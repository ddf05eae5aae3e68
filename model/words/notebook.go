package words

import (
	"fmt"
	"path/filepath"
	"strings"

	"stanchion/model/logbook"
	"stanchion/model/units"
)

// list joins names; "and" stands before the last.
func listed(names []string) string {
	if n := len(names); n > 1 {
		return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
	}
	return strings.Join(names, "")
}

// InNotebook says what is wrong at a place of a notebook, and what to do.
func InNotebook(f *logbook.Finding) (what, do string) {
	note := "a note"
	if f.ID != "" {
		note = "note " + units.Printable(f.ID)
	}
	others := make([]string, len(f.Others))
	for i, o := range f.Others {
		others[i] = units.Printable(o)
	}
	keys := units.Printable(strings.Join(f.Keys, ", "))
	switch f.Kind {
	case logbook.NewerFormat:
		return "the notebook is of a newer format than this program writes", "it is read only; use a newer version"
	case logbook.NoFormat:
		return "no line says which format the notebook has", "put notes_format = 1 on the first line"
	case logbook.ChangedByHand:
		return note + " was changed by hand since it was written", "if the change is right: stanchion note recover CARFILE --confirm " + units.Printable(f.ID)
	case logbook.CutShort:
		return note + " was cut short: its closing line is missing", "stanchion note recover puts back what can be read"
	case logbook.NotReadable:
		return note + " cannot be read: " + units.Printable(f.Why), "mend the line; the note stays in the file and counts nowhere"
	case logbook.IDTwice:
		return "the id of " + note + " is there twice", "only the later one is found by it; give one of them another id"
	case logbook.ReplacesNone:
		return note + " corrects note " + others[0] + ", which is not there", "it counts; look for the other in a copy of the notebook"
	case logbook.ReplacedTwice:
		return note + " and note " + others[1] + " both correct note " + others[0], "both count; take one back with stanchion note undo, or correct it"
	case logbook.Circle:
		if len(others) == 1 {
			return note + " corrects itself", "take its line replaces out"
		}
		return "notes " + listed(others) + " correct one another in a circle", "the one that stands last counts; mend their lines replaces"
	case logbook.NotUsable:
		return note + ": values cannot be used: " + keys, "\"stanchion help notes\" says what they can be"
	case logbook.TornFile:
		return "a note that was cut short, with " + keys, "stanchion note recover puts it back"
	case logbook.TornFileHeld:
		return "a note that was cut short; all of it that can be read is in the notebook", "stanchion note recover --write renames the file"
	case logbook.TornFileEmpty:
		return "what was cut short, with no key that can be read", "look at it, and delete it when it is of no use"
	}
	return string(f.Kind), ""
}

// WhereInNotebook is the place of a finding: the file and, where there is one, its line.
func WhereInNotebook(path string, f *logbook.Finding) string {
	if f.File != "" {
		return units.Printable(f.File)
	}
	if f.Line > 0 {
		return fmt.Sprintf("%s:%d", units.Printable(path), f.Line)
	}
	return units.Printable(path)
}

// PutBack says of a note that was cut short what of it is put back.
func PutBack(r *logbook.Recovered) (lines []string) {
	from := "the notebook"
	if r.From != "" {
		from = units.Printable(filepath.Base(r.From))
	}
	text := fmt.Sprintf("note %s, from %s", r.Note.ID, from)
	if r.WasID != "" && r.WasID != r.Note.ID {
		text += fmt.Sprintf(" (it was saved as %s, which is another note)", units.Printable(r.WasID))
	}
	lines = append(lines, text, "  read: "+units.Printable(strings.Join(r.Keys, ", ")))
	add := func(is bool, format string, args ...any) {
		if is {
			lines = append(lines, "  "+units.Printable(fmt.Sprintf(format, args...)))
		}
	}
	add(r.Guessed, "its time was cut off: it gets %s", r.Note.At.Format("2006-01-02 15:04"))
	add(r.Cut != "", "cut off at: %s", r.Cut)
	add(len(r.Unread) > 0, "not readable, kept as text: %d lines", len(r.Unread))
	add(len(r.Filled) > 0, "as in note %s, which it corrects: %s", r.Note.Replaces, strings.Join(r.Filled, ", "))
	add(r.TakenBy != "", "note %s corrects note %s already: this one is kept and taken back at once, so that the run does not count twice", r.TakenBy, r.Note.Replaces)
	add(r.Note.Withdrawn, "it takes note %s back", r.Note.Replaces)
	return lines
}

// TakenIn says of a note that was taken from elsewhere what is not as it was there; "" for nothing.
func TakenIn(t *logbook.Taken, here string) string {
	var parts []string
	switch {
	case t.Was == "" || t.Was == t.Note.ID:
	case strings.TrimSpace(t.Was) != t.Was || strings.Contains(t.Was, " "):
		parts = append(parts, fmt.Sprintf("its id was %q", units.Printable(t.Was)))
	default:
		parts = append(parts, fmt.Sprintf("its id was %s, which is another note %s", units.Printable(t.Was), here))
	}
	if t.Changed {
		parts = append(parts, "it was changed by hand there")
	}
	return strings.Join(parts, "; ")
}

// BothCorrect says that two notes correct the same one.
func BothCorrect(c *logbook.Conflict) string {
	return fmt.Sprintf("note %s here and note %s, taken, both correct note %s: both are kept; correct one of them", c.Here, c.Taken, c.Of)
}

// TakenBack says what undo did.
func TakenBack(u *logbook.Undone) string {
	if u.Back != nil {
		return fmt.Sprintf("taken back: correction %s. What note %s said is in force again, as note %s.", u.Note.ID, u.Back.ID, u.Written.ID)
	}
	return fmt.Sprintf("taken back: note %s. It stays in the file and counts nowhere; note %s says so.", u.Note.ID, u.Written.ID)
}
