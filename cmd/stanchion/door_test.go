//go:build !windows

package main

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"stanchion/model/carfile"
)

// carFile puts a demo's car file into the folder that a terminal's program runs in.
func carFile(t *testing.T, dir, demo string) string {
	t.Helper()
	_, texts, err := carfile.DemoFiles(demo)
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range texts {
		if err := os.WriteFile(filepath.Join(dir, name), text, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return demo + ".toml"
}

// The guided start is left by esc and by ctrl+c without a file and without a fault.
func TestTerminalLeavesTheGuide(t *testing.T) {
	for _, key := range []string{"\x1b", "\x03"} {
		x := begin(t, "program", 80, 24, "start")
		x.shows("Do the plates that hold the wing exist?")
		x.types("1\r")
		x.shows("What is the car called?")
		x.types("Tin")
		x.types(key)
		if code := x.ends(); code != 0 || !x.wrote("no file was made; the answers are kept for next time") {
			t.Errorf("%q: it ends with %d:\n%s", key, code, x.screen.String())
		}
		x.asFound("after leaving the guide")
	}
}

// A program that no shell waits for is not stopped, and says so.
func TestTerminalWithoutShellIsNotSuspended(t *testing.T) {
	x := begin(t, "program", 80, 24)
	x.shows("row 4, B2")
	x.types("\x1a")
	x.shows("not suspended: no shell is there")
	x.types("\x1b[D")
	x.shows("row 4, C2")
	x.types("q")
	x.ends()
	x.asFound("after q")
}

// Stopped under a shell, the terminal is as it was found; continued, the screen is back.
func TestTerminalSuspends(t *testing.T) {
	x := beginUnder(t, []string{"sh", "-c", `set -m; "$0" "$@"; echo stopped; read x; fg >/dev/null; echo over; read y`}, "program", 80, 24)
	x.shows("row 4, B2")
	x.types("\x1a")
	x.shows("stopped")
	if x.screen.IsAltScreen() {
		t.Error("stopped, it keeps the screen")
	}
	x.types("\n")
	x.shows("row 4, B2")
	x.types("\x1b[D")
	x.shows("row 4, C2")
	x.types("q")
	x.shows("over")
	x.types("\n")
	x.ends()
	x.asFound("after resuming")
}

// Whatever signal ends it, it leaves the terminal as it found it.
func TestTerminalIsLeftAsFound(t *testing.T) {
	for name, s := range map[string]syscall.Signal{"SIGTERM": syscall.SIGTERM, "SIGHUP": syscall.SIGHUP, "SIGQUIT": syscall.SIGQUIT, "SIGINT": syscall.SIGINT} {
		x := begin(t, "program", 80, 24)
		x.shows("hole table")
		if err := x.cmd.Process.Signal(s); err != nil {
			t.Fatal(err)
		}
		x.ends()
		x.asFound("after " + name)
	}
}

// A fault of the program's own, wherever it is, ends in one plain line, a report, and
// the terminal as it was found.
func TestTerminalAfterAFault(t *testing.T) {
	for key, where := range map[string]string{"!": "an update", "@": "a view", "#": "a command", "$": "a command of several"} {
		x := begin(t, "panics", 80, 24)
		x.shows("hole table")
		x.types(key)
		if code := x.ends(); code != 2 {
			t.Errorf("%s: it ends with %d", where, code)
		}
		x.asFound("after a fault in " + where)
		said := x.screen.String()
		if !strings.Contains(said, "stanchion stopped on an internal error (something went wrong inside)") || strings.Contains(said, "goroutine") {
			t.Errorf("%s: it says\n%s", where, said)
		}
		reports, _ := filepath.Glob(filepath.Join(x.cmd.Dir, "state", "stanchion", "report-*.txt"))
		if len(reports) != 1 {
			t.Fatalf("%s: reports %q", where, reports)
		}
		if text, err := os.ReadFile(reports[0]); err != nil || !strings.Contains(string(text), "panics_test.go") {
			t.Errorf("%s: the report (%v) does not say where: %.300s", where, err, text)
		}
	}
}

// What is typed into a note outlives a kill, and the next start offers it.
func TestTerminalKilledWhileTyping(t *testing.T) {
	dir := t.TempDir()
	name := carFile(t, dir, "coupe")
	x := beginIn(t, dir, nil, "program", 80, 24, name)
	x.shows("row 4, B2")
	x.types("m")
	x.shows("a note about")
	for range 4 {
		x.types("\x1b[B")
	}
	x.types("calm")
	for end := time.Now().Add(10 * time.Second); ; time.Sleep(10 * time.Millisecond) {
		if text, err := os.ReadFile(filepath.Join(dir, "coupe.notes.toml.draft")); err == nil && strings.Contains(string(text), "calm") {
			break
		} else if time.Now().After(end) {
			t.Fatalf("no draft: %q, %v", text, err)
		}
	}
	if err := x.cmd.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	x.ends()
	x = beginIn(t, dir, nil, "program", 80, 24, name)
	x.shows("was not saved last time")
	x.shows("[503]")
	x.types("m")
	x.shows("calm")
	x.types("\r")
	x.shows("saved as")
	x.types("q")
	x.ends()
}

// No command that draws no screen asks the terminal anything: one that does not answer
// would be waited for.
func TestCommandsAskTheTerminalNothing(t *testing.T) {
	for _, args := range [][]string{{"--version"}, {"map", "demo"}, {"--help"}, {"--plain"}} {
		x := begin(t, "program", 80, 24, args...)
		if args[0] == "--plain" {
			x.types("q\n")
		}
		x.ends()
		if x.wrote("\x1b]11;?") || x.wrote("\x1b[6n") {
			t.Errorf("%q asks the terminal", args)
		}
	}
}
