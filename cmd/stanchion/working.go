package main

import (
	"fmt"
	"os"
	"time"

	"github.com/charmbracelet/x/term"
)

// working says on a terminal that something takes its time, once it has taken half a second, until done is
// called.
func working(what string) (done func()) {
	if !term.IsTerminal(os.Stderr.Fd()) {
		return func() {}
	}
	end, gone := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(gone)
		select {
		case <-end:
			return
		case <-time.After(500 * time.Millisecond):
		}
		fmt.Fprintf(os.Stderr, "%s …", what)
		<-end
		fmt.Fprint(os.Stderr, "\r\x1b[K")
	}()
	return func() {
		close(end)
		<-gone
	}
}

// solvingPlates is what commands say while plates are solved.
const solvingPlates = "solving the plates"
