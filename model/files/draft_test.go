package files

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// What is kept is read back, whatever it is.
func TestDraftReadsBack(t *testing.T) {
	dir := t.TempDir()
	n := 0
	rapid.Check(t, func(t *rapid.T) {
		n++
		d := NewDraft(filepath.Join(dir, "deeper", "draft.toml"))
		want := rapid.MapOf(rapid.StringMatching(`[\PC"\\ ]{1,20}`), rapid.String()).Draw(t, "lines")
		if err := d.Keep(n, want); err != nil {
			t.Fatal(err)
		}
		got, err := d.Read()
		if err != nil || len(want) > 0 && !cmp.Equal(got, want) {
			t.Fatal(err, cmp.Diff(want, got))
		}
	})
}

// What comes late takes nothing back; what is dropped is gone.
func TestDraftOrder(t *testing.T) {
	path := filepath.Join(t.TempDir(), "draft.toml")
	d := NewDraft(path)
	for _, row := range []struct {
		n    int
		text string
	}{{1, "a"}, {3, "abc"}, {2, "ab"}} {
		if err := d.Keep(row.n, map[string]string{"text": row.text}); err != nil {
			t.Fatal(err)
		}
	}
	if got, err := d.Read(); err != nil || got["text"] != "abc" {
		t.Errorf("%q, %v, want abc", got["text"], err)
	}
	if err := d.Drop(4); err != nil {
		t.Fatal(err)
	}
	if err := d.Keep(4, map[string]string{"text": "late"}); err != nil {
		t.Fatal(err)
	}
	if got, err := d.Read(); err != nil || len(got) > 0 {
		t.Errorf("after dropping: %q, %v", got, err)
	}
	if err := os.WriteFile(path, []byte("text = ["), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := d.Read(); err == nil {
		t.Error("a broken draft is read")
	}
}
