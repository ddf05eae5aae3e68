package main

import (
	"fmt"
	"os"
	"strings"
	"time"
	"unicode/utf8"

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
		fmt.Fprint(os.Stderr, wiped(what+" …"))
	}()
	return func() {
		close(end)
		<-gone
	}
}

// wiped takes a line off the terminal: with blanks where it knows no escape sequences.
func wiped(line string) string {
	if wordsOnly() {
		return "\r" + strings.Repeat(" ", utf8.RuneCountInString(line)) + "\r"
	}
	return "\r\x1b[K"
}

// solvingPlates is what commands say while plates are solved.
const solvingPlates = "solving the plates"

// barWidth is how wide a progress bar is, in characters.
const barWidth = 30

// progress shows how far work is, once it has taken a second, when standard error is a terminal; done takes the
// bar away.
func progress(what string) (show func(float64), done func()) {
	if !term.IsTerminal(os.Stderr.Fd()) {
		return nil, func() {}
	}
	start, last := time.Now(), time.Time{}
	show = func(part float64) {
		now := time.Now()
		if now.Sub(start) < time.Second || now.Sub(last) < 100*time.Millisecond {
			return
		}
		last = now
		n := int(min(max(part, 0), 1) * barWidth)
		fmt.Fprintf(os.Stderr, "\r%s [%s%s] %3.0f %% ", what, strings.Repeat("#", n), strings.Repeat(".", barWidth-n), 100*part)
	}
	return show, func() {
		if !last.IsZero() {
			fmt.Fprint(os.Stderr, wiped(what+strings.Repeat(" ", barWidth+10)))
		}
	}
}
