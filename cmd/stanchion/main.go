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
	"path/filepath"
	"runtime"
	"runtime/debug"
	"strings"
	"time"

	_ "a.stanchion/silence" // before the terminal library, which would ask and wait
	"github.com/adrg/xdg"
	"github.com/spf13/cobra"

	"stanchion/model/files"
	"stanchion/model/units"
	"stanchion/model/words"
	"stanchion/tui"
)

// version and commit are set when a release is linked.
var version, commit string

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
func run(args []string, stdout, stderr io.Writer) (code int) {
	return runOn(args, stdout, stderr, extentOf(stdout))
}

// runOn is run on an extent.
func runOn(args []string, stdout, stderr io.Writer, s extent) (code int) {
	defer func() {
		if p := recover(); p != nil {
			code = failed(&tui.Failure{What: p, Stack: debug.Stack()}, args, stderr)
		}
	}()
	root := newRoot()
	root.SetArgs(args)
	root.SetOut(stdout)
	root.SetErr(stderr)
	p := newPage(stdout, s)
	err := root.ExecuteContext(onPage(p))
	var pager []string
	if no, _ := root.PersistentFlags().GetBool(noPager); !no {
		pager = pagerSaid()
	}
	if fault := p.end(stdout, pager); err == nil {
		err = fault
	}
	var failure *tui.Failure
	switch {
	case err == nil:
		return 0
	case errors.As(err, &failure):
		return failed(failure, args, stderr)
	}
	for _, line := range strings.FieldsFunc(err.Error(), func(r rune) bool { return r == '\n' }) {
		for _, l := range words.Hang(units.Printable(line), extentOf(stderr).rows) {
			fmt.Fprintln(stderr, l)
		}
	}
	if errors.Is(err, errNoAnswer) {
		return 1
	}
	return 2
}

// failed says in one line that a fault of the program's own ended it, and writes a
// report for whoever mends it.
func failed(f *tui.Failure, args []string, stderr io.Writer) int {
	report := fmt.Sprintf("stanchion %s, %s/%s, %s\nstarted as: %q\n%v\n\n%s", versionLine(), runtime.GOOS, runtime.GOARCH,
		runtime.Version(), args, f.What, f.Stack)
	where := "no report could be written"
	for _, dir := range []string{filepath.Join(xdg.StateHome, "stanchion"), os.TempDir()} {
		path := filepath.Join(dir, "report-"+time.Now().Format("2006-01-02-150405.000")+".txt")
		if os.MkdirAll(dir, 0o700) == nil && files.Create(path, []byte(report)) == nil {
			where = "the report is in " + path
			break
		}
	}
	what := strings.SplitN(fmt.Sprint(f.What), "\n", 2)[0]
	fmt.Fprintf(stderr, "stanchion stopped on an internal error (%s); %s; what you typed is kept for next time\n", units.Printable(what),
		units.Printable(where))
	return 2
}

// printer collects output and remembers the first error of writing it.
type printer struct {
	on  *page
	err error
}

func out(cmd *cobra.Command) *printer { return &printer{on: pageOf(cmd)} }

func (p *printer) f(format string, args ...any) {
	if p.err == nil {
		p.err = p.on.print(fmt.Sprintf(format, args...))
	}
}

// noPager names the flag that shows long answers without a pager.
const noPager = "no-pager"
