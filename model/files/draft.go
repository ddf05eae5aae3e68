package files

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"stanchion/model/toml"
)

// Draft is a file for what was typed and is not saved yet, so that it outlives the
// program. It may be written from several goroutines.
type Draft struct {
	path string
	mu   sync.Mutex
	last int
}

// NewDraft returns the draft at a path; the file need not be there.
func NewDraft(path string) *Draft { return &Draft{path: path} }

// maxDraft is the largest draft that is read, bytes.
const maxDraft = 1 << 20

// Keep writes lines by their names. n counts up from one call to the next: one that
// comes late is dropped.
func (d *Draft) Keep(n int, lines map[string]string) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	if n <= d.last {
		return nil
	}
	d.last = n
	var b strings.Builder
	b.WriteString("# What was typed in stanchion and not saved yet. It is offered at the next start.\n")
	for _, name := range slices.Sorted(maps.Keys(lines)) {
		fmt.Fprintf(&b, "%s = %s\n", toml.Quote(name), toml.Quote(lines[name]))
	}
	if err := os.MkdirAll(filepath.Dir(d.path), 0o700); err != nil {
		return err
	}
	fresh := d.path + "~"
	if err := os.WriteFile(fresh, []byte(b.String()), 0o600); err != nil {
		return err
	}
	return os.Rename(fresh, d.path)
}

// Read returns what was kept; nothing when there is no draft.
func (d *Draft) Read() (map[string]string, error) {
	data, err := Read(d.path, maxDraft)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	text, err := toml.Text(data)
	var lines map[string]string
	if err == nil {
		err = toml.Decode(text, &lines)
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", d.path, err)
	}
	return lines, nil
}

// Drop removes the draft, and all that was kept before n.
func (d *Draft) Drop(n int) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.last = max(d.last, n)
	if err := os.Remove(d.path); !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}
