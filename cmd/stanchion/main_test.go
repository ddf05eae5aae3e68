package main

import (
	"os"
	"path/filepath"
	"runtime/debug"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	patience = time.Minute  // completion gives up on no slow machine
	debug.SetGCPercent(400) // memory is there, and collecting it takes a seventh of the time
	startedAs()
	testscript.Main(m, map[string]func(){
		"stanchion": func() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) },
	})
}

// Each script in testdata/scripts is a command line with what it must print.
func TestScripts(t *testing.T) {
	cars, err := filepath.Abs("../../testdata/cars")
	if err != nil {
		t.Fatal(err)
	}
	const scripts = "../../testdata/scripts"
	in := inside{names: map[string]bool{"TZ": true, "STANCHION_UNITS": true}}
	p := testscript.Params{
		Dir:                 scripts,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		UpdateScripts:       *update,
		Cmds:                map[string]func(*testscript.TestScript, bool, []string){"within": in.run, "coded": in.coded},
		Setup: func(e *testscript.Env) error {
			e.Setenv("CARS", cars)
			e.Setenv("TERM", "dumb")
			e.Setenv("COLUMNS", "1000") // a script looks for sentences, wherever they would be broken
			e.Setenv("XDG_STATE_HOME", filepath.Join(e.WorkDir, "state"))
			e.Setenv("XDG_CONFIG_HOME", filepath.Join(e.WorkDir, "config"))
			in.add(e.Vars)
			return nil
		},
	}
	if !*update && os.Getenv(asProcesses) == "" {
		p.Dir, p.Files = "", rewritten(t, scripts)
		secluded(t)
	}
	testscript.Run(t, p)
}
