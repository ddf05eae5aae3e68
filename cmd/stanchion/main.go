// Command stanchion finds every way in which an adjustable rear wing can be
// bolted to its uprights, and what each does to the car.
//
// Each subcommand is one file here and thin: it reads the car file, asks model,
// and prints. Answers go to standard output, faults to standard error, and the
// exit code is 0 for done, 1 for a question without an answer, 2 for bad input
// or usage.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"stanchion/model/units"
)

// version and commit are set when a release is linked.
var (
	version = "dev"
	commit  = ""
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// errNoAnswer marks a question that has no answer: exit code 1. Its text, if
// any, is wrapped around it.
var errNoAnswer = errors.New("no answer")

// noAnswer returns an errNoAnswer that says why.
func noAnswer(format string, args ...any) error {
	return answerless{fmt.Sprintf(format, args...)}
}

type answerless struct{ why string }

func (a answerless) Error() string        { return a.why }
func (a answerless) Is(target error) bool { return target == errNoAnswer }

// run executes the program with arguments and returns its exit code.
func run(args []string, stdout, stderr io.Writer) int {
	root := newRoot()
	root.SetArgs(args)
	root.SetOut(stdout)
	root.SetErr(stderr)
	err := root.Execute()
	if err == nil {
		return 0
	}
	for _, line := range strings.FieldsFunc(err.Error(), func(r rune) bool { return r == '\n' }) {
		fmt.Fprintln(stderr, units.Printable(line))
	}
	if errors.Is(err, errNoAnswer) {
		return 1
	}
	return 2
}

// printer collects output and remembers the first error of writing it.
type printer struct {
	w   io.Writer
	err error
}

func out(cmd *cobra.Command) *printer { return &printer{w: cmd.OutOrStdout()} }

func (p *printer) f(format string, args ...any) {
	if p.err == nil {
		_, p.err = fmt.Fprintf(p.w, format, args...)
	}
}
