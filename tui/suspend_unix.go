//go:build unix

package tui

import (
	"io"
	"os"
	"os/signal"
	"syscall"
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// suspension stops the program until it is continued, as a command that has the
// terminal to itself. A process group that no shell waits for is not stopped by the
// signal (POSIX.1-2017, 2.4.3: orphaned process groups); nothing would continue it
// either, so it must not be waited for.
type suspension struct{}

func (suspension) Run() error {
	continued := make(chan os.Signal, 1)
	signal.Notify(continued, syscall.SIGCONT)
	defer signal.Stop(continued)
	if err := syscall.Kill(0, syscall.SIGTSTP); err != nil {
		return err
	}
	const step = 10 * time.Millisecond // time that the program runs, not that it is stopped for
	for range 30 {
		select {
		case <-continued:
			return nil
		default:
			time.Sleep(step)
		}
	}
	return errNoShell
}

func (suspension) SetStdin(io.Reader)  {}
func (suspension) SetStdout(io.Writer) {}
func (suspension) SetStderr(io.Writer) {}

// suspend stops the program, or says that nothing could continue it.
func (m Model) suspend() (Model, tea.Cmd) {
	return m, tea.Exec(suspension{}, func(err error) tea.Msg { return resumedMsg{err} })
}
