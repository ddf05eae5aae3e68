package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
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
	testscript.Run(t, testscript.Params{
		Dir:                 "../../testdata/scripts",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		UpdateScripts:       *update,
		Setup: func(e *testscript.Env) error {
			e.Setenv("CARS", cars)
			e.Setenv("TERM", "dumb")
			e.Setenv("XDG_STATE_HOME", filepath.Join(e.WorkDir, "state"))
			e.Setenv("XDG_CONFIG_HOME", filepath.Join(e.WorkDir, "config"))
			return nil
		},
	})
}
