package plan

import (
	"errors"
	"fmt"
	"io/fs"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"stanchion/model/files"
	"stanchion/model/logbook"
	"stanchion/model/toml"
	"stanchion/model/units"
)

// FileFormat is the newest format of plan files.
const FileFormat = 1

// MaxSize is the largest plan file that is read, bytes.
const MaxSize = 1 << 20

// PathFor is the plan file's path for a car file: "x.toml" has "x.plan.toml" beside it.
func PathFor(carFile string) string {
	return strings.TrimSuffix(logbook.PathFor(carFile), ".notes.toml") + ".plan.toml"
}

// Kept is a plan as its file has it: what was wished for, the settings and what became of the sessions.
type Kept struct {
	Wish
	Settings []string // ids of the settings
	Planned  []string // id of each session's setting; "" where it is lost
	data     []byte   // as read; nil where there is no file yet
}

// Keep is what a file is to hold of a plan. before is what was read of it, for Save.
func (p *Plan) Keep(before Kept) Kept {
	k := Kept{Wish: p.Wish, data: before.data}
	for _, c := range p.Candidates {
		k.Settings = append(k.Settings, c.Row.ID)
	}
	k.Past = nil
	for _, s := range p.Runs {
		id := s.Other
		if s.Setting >= 0 {
			id = p.Candidates[s.Setting].Row.ID
		}
		k.Planned = append(k.Planned, id)
		if s.State != Planned {
			k.Past = append(k.Past, Past{s.State, id})
		}
	}
	return k
}

// number is a key of the file with a figure.
type number struct {
	key string
	of  func(*Kept) *float64
}

// valueKeys are figures that may be assumed; the file says which are.
func valueKeys() []struct {
	key string
	of  func(*Kept) *Value
} {
	return []struct {
		key string
		of  func(*Kept) *Value
	}{
		{"minutes_per_bolt", func(k *Kept) *Value { return &k.MinutesPerBolt }},
		{"lap_scatter_s", func(k *Kept) *Value { return &k.LapScatter }},
		{"run_scatter_s", func(k *Kept) *Value { return &k.RunScatter }},
	}
}

func numberKeys() []number {
	return []number{
		{"minutes", func(k *Kept) *float64 { return &k.Minutes }},
		{"break_minutes", func(k *Kept) *float64 { return &k.Break }},
		{"difference_s", func(k *Kept) *float64 { return &k.Difference }},
	}
}

// Text is the file.
func (k *Kept) Text() string {
	var b strings.Builder
	b.WriteString("# A day of testing, kept by \"stanchion plan\". A session's state is planned, run or lost.\n")
	fmt.Fprintf(&b, "plan_format = %d\ndate = %s\nfind = %s\nlaps = %d\n", FileFormat, toml.Quote(k.Date.Format(time.DateOnly)), toml.Quote(k.Find.Key()), k.Laps)
	for _, n := range numberKeys() {
		fmt.Fprintf(&b, "%s = %s\n", n.key, decimal(*n.of(k)))
	}
	var assumed []string
	for _, v := range valueKeys() {
		fmt.Fprintf(&b, "%s = %s\n", v.key, decimal(v.of(k).Of))
		if v.of(k).Assumed() {
			assumed = append(assumed, toml.Quote(v.key))
		}
	}
	fmt.Fprintf(&b, "assumed = [%s]\n", strings.Join(assumed, ", "))
	var ids []string
	for _, id := range k.Settings {
		ids = append(ids, toml.Quote(id))
	}
	fmt.Fprintf(&b, "settings = [%s]\n", strings.Join(ids, ", "))
	for i, id := range k.Planned {
		state := Planned
		if i < len(k.Past) {
			state = k.Past[i].State
		}
		fmt.Fprintf(&b, "\n[[session]] # %d\nstate = %s\n", i+1, toml.Quote(state.Key()))
		if id != "" {
			fmt.Fprintf(&b, "setting = %s\n", toml.Quote(id))
		}
	}
	return b.String()
}

func decimal(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// Load reads a plan file. That there is none is fs.ErrNotExist.
func Load(path string) (Kept, error) {
	data, err := files.Read(path, MaxSize)
	if err != nil {
		var pe *fs.PathError
		if errors.As(err, &pe) && !errors.Is(err, fs.ErrNotExist) {
			err = fmt.Errorf("%s: cannot be read: %w", path, pe.Err)
		}
		return Kept{}, err
	}
	k, faults := Parse(data)
	for i, f := range faults {
		faults[i] = fmt.Errorf("%s:%w", path, f)
	}
	return k, errors.Join(faults...)
}

// Parse reads the text of a plan file; each fault begins with its line.
func Parse(data []byte) (k Kept, faults []error) {
	k = Kept{Wish: Usual(), data: data}
	text, err := toml.Text(data)
	doc := map[string]any{}
	if err == nil {
		err = toml.Decode(text, &doc)
	}
	if err != nil {
		var e *toml.Error
		if errors.As(err, &e) {
			return k, []error{fmt.Errorf("%d: %s", e.Line, units.Printable(e.What))}
		}
		return k, []error{fmt.Errorf("1: %w", err)}
	}
	r := reader{places: toml.Locate(text), doc: doc}
	if f, ok := doc["plan_format"].(int64); !ok || f < 1 {
		return k, []error{errors.New("1: plan_format is missing: this is no plan of a day; stanchion plan --keep writes one")}
	} else if f > FileFormat {
		return k, []error{fmt.Errorf("1: the plan is of a newer format, %d; this program knows %d", f, FileFormat)}
	}
	known := []string{"plan_format", "date", "find", "laps", "assumed", "settings", "session"}
	if k.Date, err = time.Parse(time.DateOnly, r.text("date")); err != nil {
		r.bad("date", "%q; write it as 2026-05-31", r.text("date"))
	}
	if k.Find, err = FindOf(r.text("find")); err != nil {
		r.bad("find", "%v", err)
	}
	k.Laps = int(r.number("laps"))
	for _, n := range numberKeys() {
		*n.of(&k) = r.number(n.key)
		known = append(known, n.key)
	}
	assumed := r.texts("assumed")
	for _, v := range valueKeys() {
		*v.of(&k) = Value{Of: r.number(v.key), Given: !slices.Contains(assumed, v.key)}
		known = append(known, v.key)
	}
	k.Settings = r.texts("settings")
	r.sessions(&k)
	for key := range doc {
		if !slices.Contains(known, key) {
			r.bad(key, "is not a key of a plan")
		}
	}
	k.Sessions = len(k.Planned)
	if len(r.faults) == 0 {
		if len(k.Settings) < 2 {
			r.bad("settings", "needs two settings")
		}
		if err := k.Check(); err != nil {
			for _, line := range strings.Split(err.Error(), "\n") {
				r.bad("", "%s", line)
			}
		}
	}
	slices.SortStableFunc(r.faults, func(a, b fault) int { return a.line - b.line })
	for _, f := range r.faults {
		faults = append(faults, errors.New(f.text))
	}
	return k, faults
}

// fault is one with its line, for their order.
type fault struct {
	line int
	text string
}

// reader takes keys of a plan file.
type reader struct {
	places toml.Positions
	doc    map[string]any
	faults []fault
}

func (r *reader) bad(key, format string, args ...any) {
	line := max(r.places.Key[key].Line, 1)
	if key != "" { // else it is of the whole file
		key += ": "
	}
	r.faults = append(r.faults, fault{line, fmt.Sprintf("%d: %s%s", line, units.Printable(key), units.Printable(fmt.Sprintf(format, args...)))})
}

func (r *reader) text(key string) string {
	s, _ := r.doc[key].(string)
	return s
}

func (r *reader) texts(key string) (all []string) {
	list, ok := r.doc[key].([]any)
	if !ok {
		r.bad(key, "must be a list of texts")
	}
	for _, x := range list {
		s, ok := x.(string)
		if !ok {
			r.bad(key, "must be a list of texts")
			return all
		}
		all = append(all, s)
	}
	return all
}

func (r *reader) number(key string) float64 {
	switch x := r.doc[key].(type) {
	case int64:
		return float64(x)
	case float64:
		if !math.IsInf(x, 0) && !math.IsNaN(x) {
			return x
		}
	}
	r.bad(key, "must be a number")
	return math.NaN()
}

// sessions reads the list of sessions: those that are over come first.
func (r *reader) sessions(k *Kept) {
	list, _ := r.doc["session"].([]map[string]any)
	if len(list) == 0 {
		r.bad("session", "there is none; the plan needs [[session]] for each")
	}
	for i, s := range list {
		at := fmt.Sprintf("session[%d]", i)
		id, isText := s["setting"].(string)
		if _, there := s["setting"]; there && !isText {
			r.bad(at+".setting", "must be a text")
		}
		word, _ := s["state"].(string)
		state := State(slices.Index(stateNames, word))
		for key := range s {
			if key != "setting" && key != "state" {
				r.bad(at+"."+key, "is not a key of a session")
			}
		}
		switch {
		case state < 0:
			r.bad(at, "state must be planned, run or lost")
			return
		case state != Planned && i > len(k.Past):
			r.bad(at+".state", "is %s, but a session before it is still planned", word)
		case state == Run && id == "":
			r.bad(at, "was run; say with which setting")
		case state != Planned:
			k.Past = append(k.Past, Past{state, id})
		}
		k.Planned = append(k.Planned, id)
	}
}
