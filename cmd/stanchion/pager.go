package main

import (
	"bytes"
	"io"
	"os"
	"os/exec"
	"os/signal"
	"strings"
)

// pagerSaid is the pager's command: $PAGER, none where that is empty or cat, and less where it is not set and less is
// there.
func pagerSaid() []string {
	said, set := os.LookupEnv("PAGER")
	if !set {
		said = "less"
	}
	command := strings.Fields(said)
	if len(command) == 0 || command[0] == "cat" || wordsOnly() {
		return nil
	}
	if _, err := exec.LookPath(command[0]); err != nil {
		return nil
	}
	return command
}

// lessOptions has less end by itself where all fits on the screen, leave what it showed there, and say its keys.
const lessOptions = "FRXPsspace goes on, b back, q ends the list"

// paged shows text through a pager until that ends, and reports whether it could be started. A pager that is left before
// the end is no fault, and ctrl+c is the pager's.
func paged(text []byte, command []string, stdout io.Writer) bool {
	c := exec.Command(command[0], command[1:]...)
	c.Stdin, c.Stdout, c.Stderr = bytes.NewReader(text), stdout, os.Stderr
	if _, set := os.LookupEnv("LESS"); !set {
		c.Env = append(os.Environ(), "LESS="+lessOptions)
	}
	held := make(chan os.Signal, 1)
	signal.Notify(held, os.Interrupt)
	defer signal.Stop(held)
	if c.Start() != nil {
		return false
	}
	_ = c.Wait() // its exit code and a pipe that it closed early say nothing about the answer
	return true
}
