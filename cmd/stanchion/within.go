package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"

	"github.com/charmbracelet/x/ansi"

	"stanchion/model/units"
)

// oneWithin keeps commands that the explorer runs apart: each chooses its own units.
var oneWithin sync.Mutex

// runWithin runs a command of the program for the explorer, in the units that are shown there and for so many cells, 0
// for any, and returns what it prints.
func runWithin(args []string, u units.System, cells int) (text string, failed bool) {
	oneWithin.Lock()
	defer oneWithin.Unlock()
	chosen := chosenUnits
	defer func() { chosenUnits = chosen }()
	if name := unitsNamed(u); name != "" {
		args = append(args, "--units", name)
	}
	var out, faults bytes.Buffer
	on := endless
	if cells > 0 {
		on = terminalExtent(cells, 0)
	}
	code := runOn(args, &out, &faults, on)
	text = out.String()
	if faults.Len() > 0 {
		text = strings.TrimRight(text, "\n") + "\n\n" + faults.String()
	}
	return strings.TrimLeft(text, "\n"), code != 0
}

// unitsNamed is what --units calls a system; "" for the car file's own.
func unitsNamed(u units.System) string {
	switch {
	case u == units.Metric:
		return "metric"
	case u == units.Imperial:
		return "imperial"
	}
	return ""
}

// copyText puts a text on the clipboard by asking the terminal to (OSC 52), which works over ssh too.
func copyText(text string) error {
	_, err := os.Stdout.WriteString(ansi.SetSystemClipboard(text))
	return err
}

// editor is the person's editor, at a line of a file: $VISUAL, or else $EDITOR.
func editor(name string, line int) (*exec.Cmd, error) {
	command := os.Getenv("VISUAL")
	if command == "" {
		command = os.Getenv("EDITOR")
	}
	words := strings.Fields(command)
	if len(words) == 0 {
		return nil, errors.New("no editor is set: put its name into VISUAL or EDITOR")
	}
	if _, err := exec.LookPath(words[0]); err != nil {
		return nil, fmt.Errorf("the editor %q is not found: VISUAL or EDITOR names it", words[0])
	}
	return exec.Command(words[0], append(words[1:], atLine(filepath.Base(words[0]), name, line)...)...), nil
}

// atLine is how an editor is told to open a file at a line; one that is not known opens it at its top.
func atLine(program, name string, line int) []string {
	if line <= 1 {
		return []string{name}
	}
	switch program {
	case "vi", "vim", "nvim", "view", "nano", "pico", "emacs", "emacsclient", "mg", "joe", "jed", "micro", "kak", "ne", "ed", "ex", "less", "jmacs":
		return []string{"+" + strconv.Itoa(line), name}
	case "code", "codium":
		return []string{"--wait", "--goto", name + ":" + strconv.Itoa(line)}
	case "hx", "helix", "subl":
		return []string{name + ":" + strconv.Itoa(line)}
	}
	return []string{name}
}
