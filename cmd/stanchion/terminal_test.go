//go:build !windows

package main

import (
	"bytes"
	"encoding/base64"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/term"
	"github.com/charmbracelet/x/vt"
	"github.com/creack/pty"

	"stanchion/model"
	"stanchion/model/carfile"
	"stanchion/model/units"
	"stanchion/tui"
)

// asProgram says what the test's own program is started as.
const asProgram = "STANCHION_TEST_AS"

// startedAs runs the program in the place of the tests when it is asked for.
func startedAs() {
	switch os.Getenv(asProgram) {
	case "program":
		os.Exit(run(os.Args[1:], os.Stdout, os.Stderr))
	case "bare":
		_, err := tea.NewProgram(bare{}, tea.WithAltScreen(), tea.WithMouseCellMotion()).Run()
		if err != nil {
			panic(err)
		}
		os.Exit(0)
	case "panics":
		car, err := carfile.Demo(carfile.DemoName)
		if err != nil {
			panic(err)
		}
		m := tui.New(tui.Source{Name: "x", Load: func() (*model.Car, error) { return car, nil },
			Guide: func(string, []byte) (tui.Source, error) { return tui.Source{}, nil }}, car, car.Speed, units.Metric)
		err = show(panics{Model: m})
		var f *tui.Failure
		if errors.As(err, &f) {
			os.Exit(failed(f, os.Args[1:], os.Stderr))
		}
		os.Exit(3)
	}
}

// terminal is the program in a pseudo-terminal, with an emulator that shows what it
// draws and answers what it asks.
type terminal struct {
	t      testing.TB
	cmd    *exec.Cmd
	pty    *os.File
	screen *screen
	before *term.State
	mu     sync.Mutex
	raw    bytes.Buffer
	drawn  chan struct{} // closed when the program's output ends
}

// screen is the emulator with all that is asked of it in turn. Its answers are read
// from it at any time.
type screen struct {
	*vt.Emulator
	mu sync.Mutex
}

func (s *screen) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.Emulator.Write(p)
}

func (s *screen) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.Emulator.String()
}

func (s *screen) IsAltScreen() bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.Emulator.IsAltScreen()
}

func (s *screen) Resize(w, h int) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.Emulator.Resize(w, h)
}

func (x *terminal) Write(p []byte) (int, error) {
	x.mu.Lock()
	x.raw.Write(p)
	x.mu.Unlock()
	return x.screen.Write(p)
}

// wrote reports whether text is in what the program wrote.
func (x *terminal) wrote(text string) bool {
	x.mu.Lock()
	defer x.mu.Unlock()
	return bytes.Contains(x.raw.Bytes(), []byte(text))
}

// begin starts the program in a terminal of a size.
func begin(t testing.TB, as string, w, h int, args ...string) *terminal {
	t.Helper()
	return beginIn(t, t.TempDir(), nil, as, w, h, args...)
}

// beginUnder is begin for a program that another one starts, such as a shell.
func beginUnder(t testing.TB, by []string, as string, w, h int, args ...string) *terminal {
	t.Helper()
	return beginIn(t, t.TempDir(), by, as, w, h, args...)
}

func beginIn(t testing.TB, dir string, by []string, as string, w, h int, args ...string) *terminal {
	t.Helper()
	return beginWith(t, dir, by, nil, as, w, h, args...)
}

// beginWith is beginIn with more in the environment.
func beginWith(t testing.TB, dir string, by, env []string, as string, w, h int, args ...string) *terminal {
	t.Helper()
	x := &terminal{t: t, screen: &screen{Emulator: vt.NewEmulator(w, h)}, drawn: make(chan struct{})}
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	line := append(append(slices.Clone(by), self), args...)
	x.cmd = exec.Command(line[0], line[1:]...)
	x.cmd.Env = append(os.Environ(), asProgram+"="+as, "TERM=xterm-256color", "COLORTERM=truecolor", "PAGER=", "XDG_STATE_HOME="+filepath.Join(dir, "state"), "XDG_CONFIG_HOME="+filepath.Join(dir, "config"))
	x.cmd.Env = append(x.cmd.Env, env...)
	x.cmd.Dir = dir
	master, slave, err := pty.Open()
	if err != nil {
		t.Skip("no pseudo-terminal here:", err)
	}
	x.pty = master
	if err := pty.Setsize(master, &pty.Winsize{Rows: uint16(h), Cols: uint16(w)}); err != nil {
		t.Fatal(err)
	}
	if x.before, err = term.GetState(master.Fd()); err != nil {
		t.Fatal(err)
	}
	x.cmd.Stdin, x.cmd.Stdout, x.cmd.Stderr = slave, slave, slave
	x.cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
	if err := x.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	go io.Copy(master, x.screen) // the emulator's answers
	go func() { io.Copy(x, master); close(x.drawn) }()
	t.Cleanup(func() {
		_ = x.cmd.Process.Kill()
		_ = slave.Close()
		_ = master.Close()
	})
	return x
}

// shows waits for text on the screen.
func (x *terminal) shows(text string) {
	x.t.Helper()
	for end := time.Now().Add(15 * time.Second); time.Now().Before(end); time.Sleep(10 * time.Millisecond) {
		if strings.Contains(x.screen.String(), text) {
			return
		}
	}
	x.t.Fatalf("%q does not come:\n%s", text, x.screen.String())
}

func (x *terminal) types(keys string) {
	x.t.Helper()
	if _, err := x.pty.WriteString(keys); err != nil {
		x.t.Fatal(err)
	}
	time.Sleep(30 * time.Millisecond) // a key of its own, and not one of a sequence
}

// ends waits for the program and returns its exit code.
func (x *terminal) ends() int {
	x.t.Helper()
	done := make(chan error, 1)
	go func() { done <- x.cmd.Wait() }()
	select {
	case <-done:
	case <-time.After(15 * time.Second):
		x.t.Fatalf("it does not end:\n%s", x.screen.String())
	}
	time.Sleep(50 * time.Millisecond) // what it wrote last is still on its way
	return x.cmd.ProcessState.ExitCode()
}

// asFound checks that the terminal is what it was: its own screen, a cursor, no
// mouse, no marked pastes, and the line settings.
func (x *terminal) asFound(when string) {
	x.t.Helper()
	x.mu.Lock()
	raw := x.raw.String()
	x.mu.Unlock()
	for what, pair := range map[string][2]string{"the other screen": {"\x1b[?1049h", "\x1b[?1049l"}, "a hidden cursor": {"\x1b[?25l", "\x1b[?25h"},
		"marked pastes": {"\x1b[?2004h", "\x1b[?2004l"}, "mouse motion": {"\x1b[?1002h", "\x1b[?1002l"}, "long mouse reports": {"\x1b[?1006h", "\x1b[?1006l"}} {
		if on := strings.LastIndex(raw, pair[0]); on >= 0 && on > strings.LastIndex(raw, pair[1]) {
			x.t.Errorf("%s: it leaves %s behind", when, what)
		}
	}
	if x.screen.IsAltScreen() {
		x.t.Errorf("%s: the other screen stays", when)
	}
	if now, err := term.GetState(x.pty.Fd()); err != nil || fmt.Sprint(now) != fmt.Sprint(x.before) {
		x.t.Errorf("%s: line settings %v, were %v (%v)", when, now, x.before, err)
	}
}

// The built program shows what the golden screens have, at their sizes, and leaves the
// terminal as it found it. One program is brought to all of the sizes: strength takes each a second or two.
func TestTerminalShowsTheGoldenScreens(t *testing.T) {
	t.Setenv("NO_COLOR", "1") // the golden screens are of shapes alone
	x := begin(t, "program", 50, 20)
	x.shows("hole table")
	x.types("\x1b") // away with the hint of the first start
	x.shows("? keys")
	x.shows("76 % used")
	for _, s := range [][2]int{{50, 20}, {80, 24}, {120, 40}, {200, 60}} {
		x.resize(s[0], s[1])
		golden, err := os.ReadFile(filepath.Join("../../testdata/screens", fmt.Sprintf("start-%dx%d.txt", s[0], s[1])))
		if err != nil {
			t.Fatal(err)
		}
		want := strings.Split(string(golden), "\n")
		var off string
		for end := time.Now().Add(5 * time.Second); time.Now().Before(end); time.Sleep(20 * time.Millisecond) { // that frame takes its time
			off = ""
			for i, l := range strings.Split(x.screen.String(), "\n") {
				if i < len(want) && strings.TrimRight(l, " ") != strings.TrimRight(want[i], " ") {
					off += fmt.Sprintf("%v, line %d:\n%s\nwant\n%s\n", s, i+1, l, want[i])
				}
			}
			if off == "" {
				break
			}
		}
		if off != "" {
			t.Error(off)
		}
	}
	x.types("q")
	if code := x.ends(); code != 0 {
		t.Errorf("it ends with %d", code)
	}
	x.asFound("after q")
}

// resize gives the terminal another size.
func (x *terminal) resize(w, h int) {
	x.t.Helper()
	x.screen.Resize(w, h)
	if err := pty.Setsize(x.pty, &pty.Winsize{Rows: uint16(h), Cols: uint16(w)}); err != nil {
		x.t.Fatal(err)
	}
}

// Walking, pages and pasted text, which is no row of commands.
func TestTerminalWalk(t *testing.T) {
	x := begin(t, "program", 120, 40)
	x.shows("row 4, B2")
	x.types("\x1b[D")
	x.shows("row 4, C2")
	x.types("\x1b[200~qqq\x1b[201~")
	x.shows("% used") // strength comes after the figures
	x.types("s")
	x.shows("[s strength]")
	x.types("c")
	x.shows("[c clearance]")
	x.types("\x1b")
	x.shows("row 4, C2")
	x.types("/")
	x.shows("find:")
	x.types("\x1b[200~1 A1\x1b[201~")
	x.types("\r")
	x.shows("row 1, A1")
	x.types("\x03")
	x.ends()
	x.asFound("after ctrl+c")
}

// at is the cell of the screen where text begins, from 1.
func (x *terminal) at(text string) (col, row int) {
	x.t.Helper()
	for i, l := range strings.Split(x.screen.String(), "\n") {
		if before, _, ok := strings.Cut(l, text); ok {
			return len([]rune(before)) + 1, i + 1
		}
	}
	x.t.Fatalf("%q is not on the screen:\n%s", text, x.screen.String())
	return 0, 0
}

func (x *terminal) clicks(button, col, row int) {
	x.types(fmt.Sprintf("\x1b[<%d;%d;%dM\x1b[<%d;%d;%dm", button, col, row, button, col, row))
}

// A click in table, map and side view goes to the setting there, one on a figure asks why, and the wheel scrolls
// that page.
func TestTerminalMouse(t *testing.T) {
	x := begin(t, "program", 120, 40)
	x.shows("76 % used") // the last that comes
	x.shows("? keys")
	col, row := x.at("271")
	x.clicks(0, col+1, row)
	x.shows("row 2, B1")
	x.shows("[271]")
	col, row = x.at("403  ") // it has a place in the table and one on the map
	x.clicks(0, col+1, row)
	x.shows("row 3, A2")
	col, row = x.at("○C1")
	x.clicks(0, col, row)
	x.shows("row 3, C1")
	col, row = x.at("front share")
	x.clicks(0, col, row)
	x.shows("why: front share")
	x.clicks(65, 10, 10)
	for end := time.Now().Add(5 * time.Second); strings.Contains(x.screen.String(), "why: front share"); time.Sleep(10 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatal("the wheel does not scroll")
		}
	}
	x.types("\x1b")
	x.types("q")
	x.ends()
	x.asFound("after the mouse")
}

// What is copied reaches the terminal's clipboard, whole.
func TestTerminalCopies(t *testing.T) {
	x := begin(t, "program", 80, 24)
	x.shows("row 4, B2")
	x.types("Y")
	x.shows("copied")
	x.mu.Lock()
	raw := x.raw.String()
	x.mu.Unlock()
	_, rest, ok := strings.Cut(raw, "\x1b]52;c;")
	if !ok {
		t.Fatal("nothing goes to the clipboard")
	}
	data, err := base64.StdEncoding.DecodeString(rest[:strings.IndexAny(rest, "\a\x1b")])
	if text := string(data); err != nil || !strings.Contains(text, "row 4, B2") || !strings.Contains(text, "downforce 503 N") || !strings.Contains(text, "4:k1+10:k2") {
		t.Errorf("copied %q, %v", data, err)
	}
	x.types("q")
	x.ends()
	x.asFound("after copying")
}

// A broken save is said in the first line; E opens the editor at the fault, and what it saves is read when it
// closes.
func TestTerminalEditor(t *testing.T) {
	dir := t.TempDir()
	name := carFile(t, dir, "coupe")
	sound, err := os.ReadFile(filepath.Join(dir, name))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "sound"), sound, 0o644); err != nil {
		t.Fatal(err)
	}
	// An editor that says how it was started and puts the sound file back.
	script := "#!/bin/sh\necho \"$@\" > started\ncp sound " + name + "\n"
	if err := os.WriteFile(filepath.Join(dir, "vi"), []byte(script), 0o755); err != nil {
		t.Fatal(err)
	}
	t.Setenv("VISUAL", filepath.Join(dir, "vi"))
	x := beginIn(t, dir, nil, "program", 80, 24, name)
	x.shows("row 4, B2")
	broken := strings.Replace(string(sound), "wheelbase", "wheelbass", 1)
	if err := os.WriteFile(filepath.Join(dir, name), []byte(broken), 0o644); err != nil {
		t.Fatal(err)
	}
	x.shows("! " + name + ": ")
	x.shows("showing the last good version")
	line := 1 + strings.Count(broken[:strings.Index(broken, "wheelbass")], "\n")
	x.shows(fmt.Sprintf("line %d", line))
	x.types("E")
	x.shows("row 4, B2")
	if got, _ := os.ReadFile(filepath.Join(dir, "started")); string(got) != fmt.Sprintf("+%d %s\n", line, name) {
		t.Errorf("the editor is started with %q, want line %d", got, line)
	}
	x.types("q")
	x.ends()
	x.asFound("after the editor")
}

// A terminal that can draw nothing gets the walk in words.
func TestTerminalOfWordsOnly(t *testing.T) {
	x := beginWith(t, t.TempDir(), nil, []string{"TERM=dumb"}, "program", 80, 60)
	x.shows("Setting row 4, B2")
	if x.screen.IsAltScreen() {
		t.Error("it takes the screen")
	}
	x.types("q\n")
	x.ends()
}

// Sizes that change faster than the screen is drawn, down to nothing, end in a screen
// of the last size.
func TestTerminalResizes(t *testing.T) {
	x := begin(t, "program", 100, 30)
	x.shows("hole table")
	r := rand.New(rand.NewPCG(1, 2))
	for range 150 {
		x.resize(1+r.IntN(250), 1+r.IntN(80))
		if r.IntN(4) == 0 {
			time.Sleep(3 * time.Millisecond)
		}
	}
	x.resize(49, 10)
	x.shows("needs a window of 50×20")
	x.resize(90, 28)
	x.shows("hole table")
	x.shows("? all keys")
	x.types("q")
	if code := x.ends(); code != 0 {
		t.Errorf("it ends with %d", code)
	}
	x.asFound("after resizing")
}

// A terminal without colours gets none, and the same words.
func TestTerminalWithoutColours(t *testing.T) {
	t.Setenv("NO_COLOR", "1")
	x := begin(t, "program", 80, 24)
	x.shows("strength used")
	x.mu.Lock()
	raw := x.raw.String()
	x.mu.Unlock()
	if i := strings.Index(raw, "\x1b[3"); i >= 0 && strings.Contains(raw[i:min(len(raw), i+8)], "m") {
		t.Errorf("colours: %q", raw[i:i+8])
	}
	x.types("q")
	x.ends()
	x.asFound("without colours")
}

// BenchmarkStart is from the start of the process to a full first screen, of the demo
// car and of a bare program that draws as many lines of text.
func BenchmarkStart(b *testing.B) {
	for _, row := range []struct{ as, last string }{{"bare", "line 59"}, {"program", "row 4, B2"}} {
		b.Run(row.as, func(b *testing.B) {
			var memory int64
			for b.Loop() {
				x := begin(b, row.as, 200, 60)
				for !x.wrote(row.last) { // as bytes: the emulator is slower than a terminal
					time.Sleep(200 * time.Microsecond)
				}
				b.StopTimer()
				x.types("q")
				x.ends()
				if u, ok := x.cmd.ProcessState.SysUsage().(*syscall.Rusage); ok {
					memory = max(memory, int64(u.Maxrss))
				}
				b.StartTimer()
			}
			b.ReportMetric(float64(memory)/1024, "MiB-peak")
		})
	}
}
