package logbook

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

// A process of the fault harness: appends notes for as long as it lives and says
// the id of each that is saved.
func TestMain(m *testing.M) {
	path := os.Getenv("LOGBOOK_WRITER")
	if path == "" {
		os.Exit(m.Run())
	}
	for i := 0; ; i++ {
		n, _, err := Append(path, sample(i))
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		fmt.Printf("%s %s\n", n.ID, n.Text)
	}
}

func sample(i int) Note {
	n := Blank()
	n.At = time.Date(2026, 11, 25, 10, 30, i%60, 0, time.UTC)
	n.Venue, n.Setting = "Invented airfield", "1:k1+2:k2/A:F+A2:R"
	n.Text = fmt.Sprintf("note %d: \"understeer\" in the fast left\nthen [[note]]\n# end x", i)
	n.Speed, n.Lap, n.Tyres[1] = 44.44, 92.31, 1.9
	n.Feel.FrontFast, n.Feel.RearFast = -1, 2
	n.Expected.Downforce, n.Expected.DownforceStdUnc = 529.4, 53
	return n
}

var same = cmp.Options{cmpopts.EquateNaNs(), cmpopts.EquateApproxTime(time.Second)}

func TestNotesReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		dir, err := os.MkdirTemp("", "notes")
		if err != nil {
			t.Fatal(err)
		}
		defer os.RemoveAll(dir)
		path := filepath.Join(dir, "x.notes.toml")
		var want []Note
		for i := range rapid.IntRange(1, 5).Draw(t, "notes") {
			n := sample(i)
			n.Text = rapid.StringMatching(`[\PC\n"'\\#\[\]=]{0,60}`).Draw(t, "text")
			n.Venue = rapid.SampledFrom([]string{"", "[[note]]", "# end", "Ümläut 場"}).Draw(t, "place")
			n.Fuel = rapid.Float64Range(0, 80).Draw(t, "fuel")
			n.Feel.FrontSlow = rapid.IntRange(-3, 3).Draw(t, "feel")
			written, told, err := quick.append(path, n)
			if err != nil || told != "" {
				t.Fatal(err, told)
			}
			want = append(want, written)
		}
		b, err := Read(path)
		if err != nil || len(b.Told) > 0 {
			t.Fatal(err, b.Told)
		}
		if d := cmp.Diff(want, b.Notes, same); d != "" {
			t.Fatal(d)
		}
	})
}

// A note torn at any byte is recognised; all before it are kept; the next note
// sets it aside with its bytes intact and is not swallowed by it.
func TestTornAtEveryByte(t *testing.T) {
	dir := t.TempDir()
	whole := filepath.Join(dir, "whole.toml")
	for i := range 3 {
		if _, _, err := Append(whole, sample(i)); err != nil {
			t.Fatal(err)
		}
	}
	data, err := os.ReadFile(whole)
	if err != nil {
		t.Fatal(err)
	}
	two := len(data) - len(encode(mustFind(t, whole, "2026-11-25.3")))
	for cut := two + 1; cut < len(data)-1; cut++ { // without its last newline alone a note is whole
		path := filepath.Join(dir, fmt.Sprintf("cut%d.toml", cut))
		if err := os.WriteFile(path, data[:cut], 0o644); err != nil {
			t.Fatal(err)
		}
		b, err := Read(path)
		if err != nil || len(b.Notes) != 2 {
			t.Fatalf("cut at %d of %d: %d notes, %v", cut, len(data), len(b.Notes), err)
		}
		n, told, err := quick.append(path, sample(9))
		if err != nil {
			t.Fatal(err)
		}
		after, _ := Read(path)
		if len(after.Notes) != 3 || after.Notes[2].ID != n.ID || after.Notes[2].Text != sample(9).Text || len(after.Told) != 0 {
			t.Fatalf("cut at %d: after the next note %d notes, %q", cut, len(after.Notes), after.Told)
		}
		if blank(data[two:cut]) {
			continue // nothing but the empty line was there
		}
		torn, err := os.ReadFile(told)
		if err != nil || !bytes.Equal(torn, data[two:cut]) && !bytes.Equal(torn, data[two+1:cut]) {
			t.Fatalf("cut at %d: set aside %q (%v), want %q", cut, torn, err, data[two:cut])
		}
	}
}

// The very first note, with the head of the file, torn at any byte does not lock
// the notebook.
func TestFirstNoteTornAtEveryByte(t *testing.T) {
	dir := t.TempDir()
	data := append([]byte(head), encode(sample(0))...)
	for cut := 1; cut < len(data)-1; cut++ {
		path := filepath.Join(dir, fmt.Sprintf("cut%d.toml", cut))
		if err := os.WriteFile(path, data[:cut], 0o644); err != nil {
			t.Fatal(err)
		}
		n, _, err := quick.append(path, sample(9))
		if err != nil {
			t.Fatalf("cut at %d: %v", cut, err)
		}
		if b, err := Read(path); err != nil || len(b.Notes) != 1 || b.Notes[0].ID != n.ID || len(b.Told) != 0 || b.Newer {
			t.Fatalf("cut at %d: %d notes, %q, %v", cut, len(b.Notes), b.Told, err)
		}
	}
}

func mustFind(t *testing.T, path, id string) Note {
	t.Helper()
	b, err := Read(path)
	if err != nil {
		t.Fatal(err)
	}
	n, ok := b.Find(id)
	if !ok {
		t.Fatalf("no note %s", id)
	}
	return n
}

// Whatever goes wrong while writing, the file is as it was and the note is said
// not to be saved.
func TestFaultsWhileWriting(t *testing.T) {
	full := errors.New("no space left on device")
	short := func(part float64) func(*os.File, []byte) (int, error) {
		return func(f *os.File, data []byte) (int, error) {
			n, _ := f.Write(data[:int(part*float64(len(data)))])
			return n, full
		}
	}
	for name, d := range map[string]disk{
		"nothing is written":      {short(0), realDisk.sync, realDisk.syncDir},
		"half is written":         {short(0.5), realDisk.sync, realDisk.syncDir},
		"all but the last bytes":  {short(0.98), realDisk.sync, realDisk.syncDir},
		"sync fails":              {realDisk.write, func(*os.File) error { return full }, realDisk.syncDir},
		"the folder's sync fails": {realDisk.write, realDisk.sync, func(string) error { return full }},
	} {
		for _, notes := range []int{0, 2} {
			path := filepath.Join(t.TempDir(), "x.notes.toml")
			for i := range notes {
				if _, _, err := Append(path, sample(i)); err != nil {
					t.Fatal(err)
				}
			}
			before, _ := os.ReadFile(path)
			failed, _, err := d.append(path, sample(7))
			if name == "the folder's sync fails" && notes > 0 {
				if err != nil {
					t.Errorf("%s: the folder is synced again: %v", name, err)
				}
				continue
			}
			if !errors.Is(err, full) || !strings.Contains(err.Error(), "not saved") {
				t.Errorf("%s: %v", name, err)
			}
			if failed.ID != "" {
				t.Errorf("%s: a note that is not there has the id %s", name, failed.ID)
			}
			if after, _ := os.ReadFile(path); !bytes.Equal(before, after) {
				t.Errorf("%s: %d bytes before, %d after", name, len(before), len(after))
			}
			if _, _, err := Append(path, sample(8)); err != nil {
				t.Errorf("%s: the next note: %v", name, err)
			}
			if b, _ := Read(path); len(b.Notes) != notes+1 || len(b.Told) > 0 {
				t.Errorf("%s: %d notes after, %q", name, len(b.Notes), b.Told)
			}
		}
	}
}

// Eight writers at once: every note that was said to be saved is there, whole.
func TestWritersAtOnce(t *testing.T) {
	path := filepath.Join(t.TempDir(), "x.notes.toml")
	const writers, each = 8, 60 // each reads the whole file: four times as many take sixteen times as long
	var wg sync.WaitGroup
	var mu sync.Mutex
	saved := map[string]string{}
	for w := range writers {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for i := range each {
				n := sample(i)
				n.Text = fmt.Sprintf("writer %d note %d", w, i)
				got, _, err := quick.append(path, n)
				for errors.Is(err, ErrBusy) {
					got, _, err = quick.append(path, n)
				}
				if err != nil {
					t.Error(err)
					return
				}
				mu.Lock()
				saved[got.ID] = n.Text
				mu.Unlock()
			}
		}()
	}
	wg.Wait()
	b, err := Read(path)
	if err != nil || len(b.Told) > 0 {
		t.Fatal(err, b.Told)
	}
	if len(saved) != writers*each || len(b.Notes) != writers*each {
		t.Fatalf("%d saved, %d in the file, want %d", len(saved), len(b.Notes), writers*each)
	}
	for _, n := range b.Notes {
		if saved[n.ID] != n.Text {
			t.Errorf("note %s is %q, saved was %q", n.ID, n.Text, saved[n.ID])
		}
	}
}

// Processes killed at random moments while they append: no note that was said to
// be saved is ever lost or changed. LOGBOOK_KILLS sets how many.
func TestKilledAtRandom(t *testing.T) {
	kills := 40
	if s := os.Getenv("LOGBOOK_KILLS"); s != "" {
		var err error
		if kills, err = strconv.Atoi(s); err != nil {
			t.Fatal(err)
		}
	}
	path := filepath.Join(t.TempDir(), "x.notes.toml")
	saved := map[string]bool{}
	random := rand.New(rand.NewPCG(3, 4))
	torn := 0
	for k := range kills {
		if k%200 == 199 { // keep the file, and with it each append, short
			path = filepath.Join(t.TempDir(), "x.notes.toml")
			saved = map[string]bool{}
		}
		c := exec.Command(os.Args[0])
		c.Env = append(os.Environ(), "LOGBOOK_WRITER="+path)
		pipe, err := c.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		timer := time.AfterFunc(time.Duration(8000+random.IntN(30000))*time.Microsecond, func() { _ = c.Process.Kill() })
		lines := bufio.NewScanner(pipe)
		for lines.Scan() {
			if id, _, ok := strings.Cut(lines.Text(), " "); ok && strings.HasPrefix(id, "2026-") {
				saved[id] = true
			}
		}
		timer.Stop()
		_ = c.Wait()
		b, err := Read(path)
		if err != nil {
			t.Fatal(err)
		}
		if len(b.torn) > 0 {
			torn++
		}
		for id := range saved {
			if _, ok := b.Find(id); !ok {
				t.Fatalf("after kill %d note %s is lost (%q)", k+1, id, b.Told)
			}
		}
	}
	t.Logf("%d kills, %d left a torn note, %d notes saved in the last file", kills, torn, len(saved))
}

func TestReplacingAndHandwork(t *testing.T) {
	path := filepath.Join(t.TempDir(), "x.notes.toml")
	first, _, err := Append(path, sample(0))
	if err != nil {
		t.Fatal(err)
	}
	correction := sample(1)
	correction.Replaces = first.ID
	if _, _, err := Append(path, correction); err != nil {
		t.Fatal(err)
	}
	b, _ := Read(path)
	if len(b.Notes) != 1 || len(b.All) != 2 || b.Notes[0].Replaces != first.ID {
		t.Errorf("%d in force of %d", len(b.Notes), len(b.All))
	}
	// A word changed by hand: told, and taken as it stands.
	data, _ := os.ReadFile(path)
	if err := os.WriteFile(path, bytes.Replace(data, []byte("Invented airfield"), []byte("Another place"), 1), 0o644); err != nil {
		t.Fatal(err)
	}
	b, _ = Read(path)
	if len(b.All) != 2 || b.All[0].Venue != "Another place" || len(b.Told) != 1 || !strings.Contains(b.Told[0], "changed by hand") {
		t.Errorf("%q %q", b.All[0].Venue, b.Told)
	}
	// A note broken by hand in the middle stays in the file and takes no other along.
	broken := bytes.Replace(data, []byte("\nat = "), []byte("\nat = = "), 1)
	if err := os.WriteFile(path, broken, 0o644); err != nil {
		t.Fatal(err)
	}
	if _, _, err := Append(path, sample(2)); err != nil {
		t.Fatal(err)
	}
	if after, _ := os.ReadFile(path); !bytes.HasPrefix(after, broken) {
		t.Error("a broken note in the middle was touched")
	}
}

func TestANewerFormatIsReadOnly(t *testing.T) {
	path := filepath.Join(t.TempDir(), "x.notes.toml")
	text := "notes_format = 2\n\n[[note]]\nid = \"a\"\nat = 2026-11-25T10:00:00Z\n# end a 00000000\n"
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	b, err := Read(path)
	if err != nil || !b.Newer || len(b.Notes) != 1 {
		t.Errorf("%+v, %v", b, err)
	}
	if _, _, err := Append(path, sample(0)); !errors.Is(err, ErrNewer) {
		t.Errorf("%v", err)
	}
	if after, _ := os.ReadFile(path); string(after) != text {
		t.Error("a newer notebook was written to")
	}
}

func TestAFolderThatCannotBeWritten(t *testing.T) {
	if _, _, err := Append(filepath.Join(t.TempDir(), "gone", "x.notes.toml"), sample(0)); err == nil {
		t.Error("a note in a folder that is not there is saved")
	}
}

func FuzzParse(f *testing.F) {
	f.Add([]byte(head + string(encode(sample(0)))))
	f.Add([]byte("[[note]]\n# end\n[[note]]"))
	f.Add([]byte("notes_format = 1\n[[note]]\nid = 'a'\nat = 2026-01-01\n# end a 0\nrest"))
	f.Fuzz(func(t *testing.T, data []byte) {
		b := parse("f", data)
		if !bytes.HasSuffix(data, b.torn) {
			t.Fatalf("torn %q is not the end of %q", b.torn, data)
		}
		if len(b.Notes) > len(b.All) {
			t.Fatalf("%d notes in force of %d", len(b.Notes), len(b.All))
		}
	})
}
