package tui

import (
	"context"
	"errors"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime/debug"
	"strconv"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"stanchion/holes"
	"stanchion/model"
	"stanchion/model/carfile"
	"stanchion/model/design"
	"stanchion/model/files"
	"stanchion/model/logbook"
	"stanchion/model/units"
)

// monkey is an explorer that is given anything.
type monkey struct {
	t    testing.TB
	m    Model
	cars []*model.Car
	left bool
}

func newMonkey(t testing.TB, dir string) *monkey {
	k := &monkey{t: t}
	for _, name := range carfile.Demos() {
		car, err := carfile.Demo(name)
		if err != nil {
			t.Fatal(err)
		}
		k.cars = append(k.cars, car)
	}
	book := logbook.Book{}
	note := func(n logbook.Note) {
		book.Notes, book.All = append(book.Notes, n), append(book.All, n)
	}
	src := Source{
		Name: "monkey", Load: func() (*model.Car, error) { return k.cars[0], nil },
		Notes: func() (logbook.Book, error) { return book, nil },
		AddNote: func(n logbook.Note) (logbook.Note, string, error) {
			n.ID = "n1"
			note(n)
			return n, "", nil
		},
		AddHole: func(string, holes.Hole) error { return nil },
		Undo:    func() (string, error) { return "a hole", nil },
		Redo:    func() (string, error) { return "", errors.New("it has been edited since") },
		CanUndo: func() (string, string) { return "a hole", "a hole" },
		Copy:    func(string) error { return nil },
		Run: func(args []string, _ units.System, _ int) (string, bool) {
			return strings.Join(args, " ") + "\x1b[2J", false
		},
		Guide: func(name string, text []byte) (Source, error) {
			return Source{Name: name, Load: func() (*model.Car, error) { return carfile.Parse(name, text, nil) }}, nil
		},
		Text: func() ([]byte, error) { return []byte("\x1b[2J"), nil },
		Plate: func(ctx context.Context, _ *model.Car, w design.Wish, _ func(float64)) (*design.Designed, error) {
			if len(w.Heights)%2 == 0 {
				return &design.Designed{Wish: w, Why: design.NoHead}, ctx.Err()
			}
			d, err := designedOnce()
			if err != nil {
				return nil, err
			}
			some := *d
			some.Proposals = some.Proposals[:1]
			return &some, nil
		},
		NoteDraft: files.NewDraft(filepath.Join(dir, "note")), GuideDraft: files.NewDraft(filepath.Join(dir, "guide")),
	}
	k.m = New(src, k.cars[0], k.cars[0].Speed, units.Metric)
	k.run(k.m.Init())
	for i := range 4 { // something to read
		n := logbook.Blank()
		n.ID, n.Setting, n.Text = strconv.Itoa(i), k.m.table.Rows[i%2].ID, "\x1b[2J車"
		n.Laps = []logbook.LapTime{{Seconds: 103.2}, {Seconds: 103 + float64(i)}, {Seconds: 120, Mark: logbook.MarkIn}}
		note(n)
	}
	k.m = k.m.withBook(book)
	k.give(tea.WindowSizeMsg{Width: 80, Height: 24})
	return k
}

// give passes a message and does what follows from it, as the terminal library would.
func (k *monkey) give(msg tea.Msg) {
	next, cmd := k.m.Update(msg)
	k.m = next.(Model)
	k.run(cmd)
	lines := strings.Split(k.m.View(), "\n")
	if k.m.width > 0 && len(lines) > max(1, k.m.height) {
		k.t.Fatalf("after %#v: %d lines on a terminal of %d×%d", msg, len(lines), k.m.width, k.m.height)
	}
	for _, l := range lines {
		if w := ansi.StringWidth(l); w > k.m.width {
			k.t.Fatalf("after %#v: a line of %d cells on a terminal of %d×%d: %q", msg, w, k.m.width, k.m.height, l)
		}
		if strings.ContainsFunc(ansi.Strip(l), func(r rune) bool { return r == '\u202e' || r < ' ' }) {
			k.t.Fatalf("after %#v: %q acts on a terminal", msg, l)
		}
	}
}

func (k *monkey) run(cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	switch msg := cmd().(type) {
	case nil:
	case tea.BatchMsg:
		for _, c := range msg {
			k.run(c)
		}
	case tea.QuitMsg:
		k.left = true
	default:
		k.give(msg)
	}
}

// odd are keys that no table lists.
var odd = []tea.KeyMsg{
	{Type: tea.KeyRunes, Runes: []rune("d"), Alt: true}, {Type: tea.KeyDelete, Alt: true}, {Type: tea.KeyDelete}, {Type: tea.KeyBackspace}, {Type: tea.KeyBackspace, Alt: true},
	{Type: tea.KeyTab}, {Type: tea.KeyShiftTab}, {Type: tea.KeyHome}, {Type: tea.KeyEnd}, {Type: tea.KeyCtrlU}, {Type: tea.KeyCtrlK}, {Type: tea.KeyCtrlW}, {Type: tea.KeyCtrlN},
	{Type: tea.KeyRunes, Runes: []rune("W")}, {Type: tea.KeyRunes, Runes: []rune("+++")}, {Type: tea.KeyRunes, Runes: []rune("9")}, {Type: tea.KeyRunes, Runes: []rune("e\ufe0fx1\ufe0f\u20e3"), Paste: true}, {Type: tea.KeyRunes, Runes: []rune(".")}, {Type: tea.KeyRunes, Runes: []rune("-")},
	{Type: tea.KeyRunes, Runes: []rune("a\u202e\x1b[2Jb\r\nc\t車🏎️"), Paste: true}, {Type: tea.KeyRunes, Runes: []rune("160km/h"), Paste: true}, {Type: tea.KeyLeft, Alt: true}, {Type: tea.KeyF1},
}

// step turns two bytes into a message.
func (k *monkey) step(kind, what byte) {
	table := keyTable()
	switch n := int(what); {
	case kind < 120:
		a := table[n%len(table)]
		key := a.keys[int(kind)%len(a.keys)]
		if key == "q" || key == "ctrl+c" {
			key = "esc"
		}
		k.give(keyMsg(key))
	case kind < 190:
		k.give(odd[n%len(odd)])
	case kind < 215:
		k.give(tea.WindowSizeMsg{Width: int(kind-190) * 11, Height: n / 3})
	case kind < 235:
		k.give(tea.MouseMsg{X: n, Y: int(kind) % 60, Action: tea.MouseActionPress, Button: tea.MouseButtonLeft})
	case kind < 245:
		k.give(seenMsg{stamp: "x", car: k.cars[n%len(k.cars)]})
	case kind < 250:
		k.give(seenMsg{stamp: "y", err: errors.New("car.toml:3:1: one thing; another")})
	default:
		k.give(keyMsg([]string{"q", "ctrl+c", "N", "m", "d", "*", "enter"}[n%7]))
	}
}

// Any keys, pastes, clicks, sizes and changes of the file, in any order: nothing panics,
// and no view is larger than its terminal.
func FuzzWalk(f *testing.F) {
	for _, seed := range []string{"", "\x00\x00\xfa\x02\x78\x01", "\xfe\x03\x78\x12\x78\x01\x78\x00", "\xfe\x04\x01\x02\x03\x04", "\xf0\x01\xf6\x00\xd6\x10", "\x00\x0e\x78\x12\x78\x00\x00\x0f", "\xfe\x02\x78\x12\x78\x00"} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, steps []byte) {
		if len(steps) > 160 {
			steps = steps[:160]
		}
		k := newMonkey(t, t.TempDir())
		for i := 0; i+1 < len(steps) && !k.left; i += 2 {
			k.step(steps[i], steps[i+1])
		}
	})
}

// A long walk at random. WALK_STEPS says how long; the seed is printed when it fails.
func TestRandomWalk(t *testing.T) {
	steps := 500
	if n, err := strconv.Atoi(os.Getenv("WALK_STEPS")); err == nil {
		steps = n
	}
	seed := uint64(time.Now().UnixNano())
	r := rand.New(rand.NewPCG(seed, 0))
	k := newMonkey(t, t.TempDir())
	defer func() {
		if p := recover(); p != nil || t.Failed() {
			t.Fatalf("seed %d: %v\n%s", seed, p, debug.Stack())
		}
	}()
	for range steps {
		k.step(byte(r.IntN(256)), byte(r.IntN(256)))
		if k.left {
			k = newMonkey(t, t.TempDir())
		}
	}
}
