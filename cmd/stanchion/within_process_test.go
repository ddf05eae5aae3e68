package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/adrg/xdg"
	"github.com/rogpeppe/go-internal/testscript"
)

// asProcesses has every command of every script run as a process of its own.
const asProcesses = "SCRIPTS_AS_PROCESSES"

// ownProcess are scripts whose commands are processes of their own always, as are commands in a shell.
var ownProcess = []string{"faults.txtar", "help.txtar", "start.txtar", "typos.txtar"}

// plainCommand is a command of ours that no shell starts.
var plainCommand = regexp.MustCompile(`(?m)^(! )?exec stanchion( |$)`)

// codedCommand is one that a shell starts for nothing but its exit code.
var codedCommand = regexp.MustCompile(`(?m)^exec sh -c 'stanchion ([^;|&"<>()\\` + "`" + `]*); echo code \$\?'$`)

// rewritten copies scripts, with the commands that may run within the test's process called by "within": what is
// worked out of a body, a section or a plate is then worked out once for all of them.
func rewritten(t *testing.T, dir string) []string {
	all, err := filepath.Glob(filepath.Join(dir, "*.txtar"))
	if err != nil || len(all) == 0 {
		t.Fatalf("no scripts in %s: %v", dir, err)
	}
	to := t.TempDir()
	for i, name := range all {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		script := string(text)
		if !slices.Contains(ownProcess, filepath.Base(name)) {
			commands, files, _ := strings.Cut(script, "\n-- ")
			commands = codedCommand.ReplaceAllString(commands, "coded $1")
			script = plainCommand.ReplaceAllString(commands, "${1}within$2")
			if files != "" {
				script += "\n-- " + files
			}
		}
		all[i] = filepath.Join(to, filepath.Base(name))
		if err := os.WriteFile(all[i], []byte(script), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return all
}

// inside runs commands within the test's process, one at a time, in the folder and the environment of their script.
type inside struct {
	mu    sync.Mutex
	names map[string]bool // of a script's environment
}

// add tells it the environment of a script.
func (in *inside) add(vars []string) {
	in.mu.Lock()
	defer in.mu.Unlock()
	for _, v := range vars {
		name, _, _ := strings.Cut(v, "=")
		in.names[name] = true
	}
}

// run runs a command that must succeed, or must not.
func (in *inside) run(ts *testscript.TestScript, neg bool, args []string) {
	switch code := in.code(ts, args); {
	case code == 0 && neg:
		ts.Fatalf("unexpected command success")
	case code != 0 && !neg:
		ts.Fatalf("unexpected command failure: exit status %d", code)
	}
}

// coded runs a command and prints its exit code after what it prints.
func (in *inside) coded(ts *testscript.TestScript, _ bool, args []string) {
	fmt.Fprintln(ts.Stdout(), "code", in.code(ts, args))
}

// code runs a command and returns its exit code.
func (in *inside) code(ts *testscript.TestScript, args []string) int {
	in.mu.Lock()
	defer in.mu.Unlock()
	defer environment(os.Environ())
	here, err := os.Getwd()
	ts.Check(err)
	defer func() { ts.Check(os.Chdir(here)) }()
	var vars []string
	for name := range in.names {
		vars = append(vars, name+"="+ts.Getenv(name))
	}
	environment(append(vars, "PWD="+ts.MkAbs(".")))
	ts.Check(os.Chdir(ts.MkAbs(".")))
	if zone := ts.Getenv("TZ"); zone != "" && zone != "UTC" {
		ts.Fatalf("TZ is %s: within the test's process it is UTC; list the script in ownProcess", zone)
	}
	var printed bytes.Buffer
	code := run(args, io.MultiWriter(ts.Stdout(), &printed), ts.Stderr())
	if err := checkPrinted(args, printed.Bytes()); err != nil {
		ts.Fatalf("JSON that is not as its schema says: %v", err)
	}
	return code
}

// environment replaces the one of the process. What stays in it is there all the time: a script that begins meanwhile
// takes its PATH from it.
func environment(vars []string) {
	keep := map[string]bool{}
	for _, v := range vars {
		name, value, _ := strings.Cut(v, "=")
		os.Setenv(name, value)
		keep[name] = true
	}
	for _, v := range os.Environ() {
		if name, _, _ := strings.Cut(v, "="); !keep[name] {
			os.Unsetenv(name)
		}
	}
	xdg.Reload()
}

// secluded has the process on no terminal and in no time zone until the test ends. Scripts that run at the same time
// read both, so that they cannot be changed for a command alone.
func secluded(t *testing.T) {
	null, err := os.OpenFile(os.DevNull, os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	in, out, fault, zone := os.Stdin, os.Stdout, os.Stderr, time.Local
	os.Stdin, os.Stdout, os.Stderr, time.Local = null, null, null, time.UTC
	t.Cleanup(func() {
		os.Stdin, os.Stdout, os.Stderr, time.Local = in, out, fault, zone
		null.Close()
	})
}
