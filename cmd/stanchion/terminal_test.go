//go:build !windows

package main

import (
	"bytes"
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
	x := &terminal{t: t, screen: &screen{Emulator: vt.NewEmulator(w, h)}, drawn: make(chan struct{})}
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	line := append(append(slices.Clone(by), self), args...)
	x.cmd = exec.Command(line[0], line[1:]...)
	x.cmd.Env = append(os.Environ(), asProgram+"="+as, "TERM=xterm-256color", "COLORTERM=truecolor", "XDG_STATE_HOME="+filepath.Join(dir, "state"), "XDG_CONFIG_HOME="+filepath.Join(dir, "config"))
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
// terminal as it found it.
func TestTerminalShowsTheGoldenScreens(t *testing.T) {
	for _, s := range [][2]int{{80, 24}, {120, 40}, {200, 60}} {
		x := begin(t, "program", s[0], s[1])
		x.shows("28 settings")
		x.types("\x1b") // away with the hint of the first start
		x.shows("? help")
		x.shows("% used")
		time.Sleep(100 * time.Millisecond) // the rest of that frame
		golden, err := os.ReadFile(filepath.Join("../../testdata/screens", fmt.Sprintf("start-%dx%d.txt", s[0], s[1])))
		if err != nil {
			t.Fatal(err)
		}
		want := strings.Split(string(golden), "\n")
		got := strings.Split(x.screen.String(), "\n")
		for i, l := range got {
			if i < len(want) && strings.TrimRight(l, " ") != strings.TrimRight(want[i], " ") {
				t.Errorf("%v, line %d:\n%s\nwant\n%s", s, i+1, l, want[i])
			}
		}
		x.types("q")
		if code := x.ends(); code != 0 {
			t.Errorf("it ends with %d", code)
		}
		x.asFound("after q")
	}
}

// Walking, pages, the mouse, and pasted text, which is no row of commands.
func TestTerminalWalk(t *testing.T) {
	x := begin(t, "program", 120, 40)
	x.shows("setting 24 of 28")
	x.types("\x1b[D")
	x.shows("setting 23 of 28")
	x.types("\x1b[200~qqq\x1b[201~")
	x.shows("% used") // strength comes after the figures
	x.types("s")
	x.shows("[s strength]")
	x.types("c")
	x.shows("[c clearance]")
	x.types("\x1b")
	x.shows("setting 23 of 28")
	x.types("/")
	x.shows("find:")
	x.types("\x1b[200~A1 1\x1b[201~")
	x.types("\r")
	x.shows("setting 1 of 28")
	// A click on the mark of another setting: the first • of the map's last lines.
	lines := strings.Split(x.screen.String(), "\n")
	clicked := false
	for row := len(lines) - 2; row > 20 && !clicked; row-- {
		cells := []rune(lines[row])
		for col, r := range cells[:min(len(cells), 70)] {
			if r == '•' {
				x.types(fmt.Sprintf("\x1b[<0;%d;%dM\x1b[<0;%d;%dm", col+1, row+1, col+1, row+1))
				clicked = true
				break
			}
		}
	}
	if !clicked {
		t.Fatalf("no mark to click on:\n%s", x.screen.String())
	}
	for end := time.Now().Add(5 * time.Second); strings.Contains(x.screen.String(), "setting 1 of 28"); time.Sleep(10 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatal("the click goes nowhere")
		}
	}
	x.types("\x03")
	x.ends()
	x.asFound("after ctrl+c")
}

// Sizes that change faster than the screen is drawn, down to nothing, end in a screen
// of the last size.
func TestTerminalResizes(t *testing.T) {
	x := begin(t, "program", 100, 30)
	x.shows("28 settings")
	r := rand.New(rand.NewPCG(1, 2))
	size := func(w, h int) {
		x.screen.Resize(w, h)
		if err := pty.Setsize(x.pty, &pty.Winsize{Rows: uint16(h), Cols: uint16(w)}); err != nil {
			t.Fatal(err)
		}
	}
	for range 150 {
		size(1+r.IntN(250), 1+r.IntN(80))
		if r.IntN(4) == 0 {
			time.Sleep(3 * time.Millisecond)
		}
	}
	size(60, 10)
	x.shows("needs a window of 80×24")
	size(90, 28)
	x.shows("28 settings")
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
	x.shows("keeps all limits")
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
	for _, row := range []struct{ as, last string }{{"bare", "line 59"}, {"program", "28 settings"}} {
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
