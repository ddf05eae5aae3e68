package plan

import (
	"errors"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// keptDay draws a plan as it is kept.
func keptDay(t *rapid.T) Kept {
	k := Kept{Wish: Usual(), Settings: []string{"a\"b", "c é"}}
	k.Date = time.Date(2026, 5, rapid.IntRange(1, 28).Draw(t, "day"), 0, 0, 0, 0, time.UTC)
	k.Find = Find(rapid.IntRange(0, 3).Draw(t, "find"))
	k.RunScatter = Value{Of: 0.25, Given: rapid.Bool().Draw(t, "given")}
	k.LapScatter.Given, k.MinutesPerBolt.Given = true, rapid.Bool().Draw(t, "bolts given")
	k.Minutes, k.Break = rapid.Float64Range(1, 600).Draw(t, "minutes"), rapid.Float64Range(0, 1440).Draw(t, "break")
	k.Sessions = rapid.IntRange(2, MostSessions).Draw(t, "sessions")
	over := rapid.IntRange(0, k.Sessions).Draw(t, "over")
	for i := range k.Sessions {
		id := rapid.SampledFrom(k.Settings).Draw(t, "setting")
		if i < over {
			s := rapid.SampledFrom([]State{Run, LostSession}).Draw(t, "state")
			if s == LostSession {
				id = ""
			}
			k.Past = append(k.Past, Past{s, id})
		}
		k.Planned = append(k.Planned, id)
	}
	return k
}

// What is written is read back, and what became of a session is taken back.
func TestKeptAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := keptDay(t)
		got, faults := Parse([]byte(k.Text()))
		if faults != nil {
			t.Fatalf("%v in\n%s", faults, k.Text())
		}
		got.data = nil
		if !reflect.DeepEqual(got, k) {
			t.Fatalf("got %+v, want %+v", got, k)
		}
		n := len(k.Past)
		if n < k.Sessions {
			if err := k.Mark(n+1, LostSession, ""); err != nil || len(k.Past) != n+1 || !k.Unmark() || len(k.Past) != n {
				t.Fatalf("mark: %v, %d over", err, len(k.Past))
			}
		}
		if err := k.Mark(n+2, Run, ""); err == nil {
			t.Fatal("a session is run before the one before it")
		}
	})
}

// A file that another program changed meanwhile is not written over.
func TestSavedOverNothingElse(t *testing.T) {
	path := filepath.Join(t.TempDir(), "car.plan.toml")
	if _, err := Load(path); !errors.Is(err, fs.ErrNotExist) {
		t.Fatalf("no file: %v", err)
	}
	k := Kept{Wish: Usual(), Settings: []string{"a", "b"}, Planned: []string{"a", "b"}}
	k.RunScatter.Of, k.Sessions = 0.2, 2
	if err := k.Save(path); err != nil {
		t.Fatal(err)
	}
	read, err := Load(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte("# mine\n"+k.Text()), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := read.Save(path); err == nil {
		t.Error("a file that was changed meanwhile is written over")
	}
	if err := k.Save(path); err == nil {
		t.Error("a new plan is written over one that is there")
	}
	if PathFor("x/car.toml") != "x/car.plan.toml" {
		t.Errorf("PathFor = %s", PathFor("x/car.toml"))
	}
}

// FuzzParse: no text makes the reader panic; each fault has its line, and what is read without fault is read again from what is written.
func FuzzParse(f *testing.F) {
	k := Kept{Wish: Usual(), Settings: []string{"a", "b"}, Planned: []string{"a", "b"}}
	k.RunScatter.Of = 0.2
	f.Add(k.Text())
	f.Add(strings.Replace(k.Text(), "planned", "run", 1))
	f.Add("plan_format = 2")
	f.Add("session = 3\nplan_format = 1\nassumed = [1]\nlaps = nan")
	f.Fuzz(func(t *testing.T, text string) {
		k, faults := Parse([]byte(text))
		for _, e := range faults {
			if !strings.Contains(e.Error(), ": ") || e.Error()[0] < '1' || e.Error()[0] > '9' {
				t.Errorf("fault without its line: %v", e)
			}
		}
		if faults != nil {
			return
		}
		if again, faults := Parse([]byte(k.Text())); faults != nil || !reflect.DeepEqual(again.Past, k.Past) || math.Abs(again.Minutes-k.Minutes) > 0 {
			t.Errorf("%v; %+v and %+v", faults, again, k)
		}
	})
}
