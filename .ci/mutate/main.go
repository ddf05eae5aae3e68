// Command mutate changes one small thing in a package at a time, an operator, a sign, a
// factor, and runs the package's own tests on it. What still passes is a line that no
// test of the package would notice.
//
//	go run ./.ci/mutate [-n 100] [-since REVISION] [-least 90] ./holes ./model/strength ...
//
// Nothing in the tree is touched: mutants are given to the compiler as an overlay.
package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"time"
)

// outcome is what a package's tests said of a mutant.
type outcome int

const (
	survived outcome = iota
	killed
	invalid // does not compile
)

func main() {
	n := flag.Int("n", 0, "at most so many mutants of each package, chosen at random; 0 for all")
	choice := flag.Uint64("choice", 1, "another number chooses others")
	since := flag.String("since", "", "only lines that have changed since this revision")
	least := flag.Float64("least", 0, "fail when less than this share is killed, %")
	limit := flag.Duration("timeout", 60*time.Second, "a mutant whose tests take longer is killed")
	flag.Parse()
	if err := run(flag.Args(), *n, *choice, *since, *least, *limit); err != nil {
		fmt.Fprintln(os.Stderr, "mutate:", err)
		os.Exit(1)
	}
}

func run(dirs []string, n int, choice uint64, since string, least float64, limit time.Duration) error {
	if len(dirs) == 0 {
		return errors.New("name the folders of packages")
	}
	changed := func(string, int) bool { return true }
	if since != "" {
		var err error
		if changed, err = changedLines(since); err != nil {
			return err
		}
	}
	total := map[outcome]int{}
	for _, dir := range dirs {
		all, err := mutants(dir, changed)
		if err != nil {
			return err
		}
		r := rand.New(rand.NewPCG(choice, 0))
		r.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
		sites := len(all)
		if n > 0 && len(all) > n {
			all = all[:n]
		}
		found := try(dir, all, limit)
		count := map[outcome]int{}
		for i, o := range found {
			count[o]++
			total[o]++
			if o == survived {
				fmt.Printf("survived  %s\n", all[i])
			}
		}
		fmt.Printf("%s: %s of %d places\n", dir, share(count), sites)
	}
	if len(dirs) > 1 {
		fmt.Printf("all: %s\n", share(total))
	}
	if ran := total[killed] + total[survived]; ran > 0 && 100*float64(total[killed])/float64(ran) < least {
		return fmt.Errorf("less than %g %% killed", least)
	}
	return nil
}

func share(count map[outcome]int) string {
	ran := count[killed] + count[survived]
	if ran == 0 {
		return "no mutants"
	}
	return fmt.Sprintf("%d of %d killed, %.0f %%; %d did not compile;", count[killed], ran, 100*float64(count[killed])/float64(ran),
		count[invalid])
}

// try runs the package's tests on each mutant, as many at once as there are processors.
func try(dir string, all []mutant, limit time.Duration) []outcome {
	found := make([]outcome, len(all))
	next := make(chan int)
	var wait sync.WaitGroup
	for range runtime.NumCPU() {
		wait.Go(func() {
			for i := range next {
				found[i] = all[i].test(dir, limit)
			}
		})
	}
	for i := range all {
		next <- i
	}
	close(next)
	wait.Wait()
	return found
}

// test runs the package's tests with the mutant in its file's place.
func (m mutant) test(dir string, limit time.Duration) outcome {
	temp, err := os.MkdirTemp("", "mutant")
	if err != nil {
		panic(err)
	}
	defer os.RemoveAll(temp)
	file, overlay := filepath.Join(temp, filepath.Base(m.file)), filepath.Join(temp, "overlay.json")
	text, err := json.Marshal(map[string]any{"Replace": map[string]string{m.file: file}})
	if err == nil {
		err = errors.Join(os.WriteFile(file, m.text, 0o600), os.WriteFile(overlay, text, 0o600))
	}
	if err != nil {
		panic(err)
	}
	ctx, stop := context.WithTimeout(context.Background(), limit+time.Minute)
	defer stop()
	args := []string{"test", "-vet=off", "-count=1", "-failfast", "-timeout", limit.String(), "-overlay", overlay, dir}
	if usesRapid(dir) {
		args = append(args, "-rapid.nofailfile") // else a mutant's failure stays in the tree
	}
	cmd := exec.CommandContext(ctx, "go", args...)
	var out bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &out
	switch err := cmd.Run(); {
	case err == nil:
		return survived
	case strings.Contains(out.String(), "[build failed]") || strings.Contains(out.String(), "[setup failed]"):
		return invalid
	}
	return killed
}

// usesRapid reports whether a package's tests have property tests.
func usesRapid(dir string) bool {
	names, _ := filepath.Glob(filepath.Join(dir, "*_test.go"))
	return slices.ContainsFunc(names, func(name string) bool {
		text, _ := os.ReadFile(name)
		return bytes.Contains(text, []byte("pgregory.net/rapid"))
	})
}

// changedLines reports which lines of which files have changed since a revision.
func changedLines(since string) (func(file string, line int) bool, error) {
	out, err := exec.Command("git", "diff", "-U0", "--no-color", "--no-ext-diff", since, "--", "*.go").Output()
	if err != nil {
		return nil, fmt.Errorf("git diff %s: %w", since, err)
	}
	root, err := exec.Command("git", "rev-parse", "--show-toplevel").Output()
	if err != nil {
		return nil, err
	}
	lines := map[string][][2]int{}
	file := ""
	for l := range strings.Lines(string(out)) {
		if name, ok := strings.CutPrefix(l, "+++ b/"); ok {
			file = filepath.Join(strings.TrimSpace(string(root)), strings.TrimSpace(name))
		}
		if strings.HasPrefix(l, "@@") {
			var from, count int
			plus := strings.Fields(l)[2]
			if n, _ := fmt.Sscanf(plus, "+%d,%d", &from, &count); n == 1 {
				count = 1
			}
			lines[file] = append(lines[file], [2]int{from, from + count})
		}
	}
	return func(file string, line int) bool {
		return slices.ContainsFunc(lines[file], func(r [2]int) bool { return line >= r[0] && line < r[1] })
	}, nil
}
