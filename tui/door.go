package tui

import (
	"fmt"
	"os"
	"os/signal"
	"runtime/debug"
	"sync"
	"syscall"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"
)

// Failure is a fault of the program's own that ended it.
type Failure struct {
	What  any    // that it panicked with
	Stack []byte // where
}

func (f *Failure) Error() string { return fmt.Sprintf("a fault of the program's own: %v", f.What) }

// Show puts a model on the terminal until the person leaves it, and leaves the
// terminal as it was. farewell is what is left to say then. The error is a *Failure
// when something went wrong inside.
func Show(m tea.Model) (farewell string, err error) {
	lipgloss.SetHasDarkBackground(termenv.NewOutput(os.Stdout).HasDarkBackground())
	d := door{m, new(guard)}
	p := tea.NewProgram(d, tea.WithAltScreen(), tea.WithMouseCellMotion(), tea.WithOutput(os.Stdout))
	d.guard.leave = p.Quit
	told := make(chan os.Signal, 1)
	signal.Notify(told, syscall.SIGHUP, syscall.SIGQUIT) // the library looks after the others
	defer signal.Stop(told)
	go func() {
		for range told {
			p.Quit()
		}
	}()
	last, err := p.Run()
	if f := d.guard.failed(); f != nil {
		return "", f
	}
	if d, ok := last.(door); ok {
		if m, ok := d.inside.(interface{ Farewell() string }); ok {
			farewell = m.Farewell()
		}
	}
	return farewell, err
}

// door stands around a model: what panics inside ends the program in order.
type door struct {
	inside tea.Model
	guard  *guard
}

func (d door) Init() tea.Cmd {
	defer d.guard.catch()
	return d.guard.around(d.inside.Init())
}

func (d door) Update(msg tea.Msg) (next tea.Model, cmd tea.Cmd) {
	next = d
	if d.guard.failed() != nil {
		return d, tea.Quit
	}
	defer d.guard.catch()
	inside, cmd := d.inside.Update(msg)
	return door{inside, d.guard}, d.guard.around(cmd)
}

func (d door) View() string {
	defer d.guard.catch()
	if d.guard.failed() != nil {
		return ""
	}
	return d.inside.View()
}

// guard remembers the first thing that panicked.
type guard struct {
	mu    sync.Mutex
	first *Failure
	leave func()
}

func (g *guard) failed() *Failure {
	g.mu.Lock()
	defer g.mu.Unlock()
	return g.first
}

// catch takes a panic, when it is deferred.
func (g *guard) catch() {
	what := recover()
	if what == nil {
		return
	}
	g.mu.Lock()
	defer g.mu.Unlock()
	if g.first == nil {
		g.first = &Failure{what, debug.Stack()}
		go g.leave()
	}
}

// around lets a command, and those that it is made of, panic without harm.
func (g *guard) around(cmd tea.Cmd) tea.Cmd {
	if cmd == nil {
		return nil
	}
	return func() tea.Msg {
		defer g.catch()
		msg := cmd()
		if batch, ok := msg.(tea.BatchMsg); ok {
			for i := range batch {
				batch[i] = g.around(batch[i])
			}
		}
		return msg
	}
}
