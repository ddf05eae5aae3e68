//go:build unix

package files

import (
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// A pipe that nobody writes to would be waited for without end.
func TestReadRefusesPipes(t *testing.T) {
	pipe := filepath.Join(t.TempDir(), "pipe")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Skip(err)
	}
	if _, err := Read(pipe, 10); err == nil || !strings.Contains(err.Error(), "regular") {
		t.Errorf("a pipe: %v", err)
	}
}
