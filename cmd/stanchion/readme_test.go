package main

import (
	"bytes"
	"flag"
	"os"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "rewrite the output shown in README.md")

// Each console block of the README is what the program prints: lines after
// "$ stanchion …" up to the next one, "…" standing for lines left out.
// go test ./cmd/stanchion -run Readme -update writes them anew.
func TestReadmeShowsRealOutput(t *testing.T) {
	t.Chdir("../..")
	t.Setenv("COLUMNS", "")
	data, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	lines := strings.Split(string(data), "\n")
	commands := 0
	for i := 0; i < len(lines); i++ {
		out = append(out, lines[i])
		if lines[i] != "```console" {
			continue
		}
		for i++; i < len(lines) && lines[i] != "```"; {
			command, ok := strings.CutPrefix(lines[i], "$ stanchion ")
			if !ok {
				t.Fatalf("README.md:%d: a console block holds %q, want $ stanchion …", i+1, lines[i])
			}
			out = append(out, lines[i])
			var shown []string
			for i++; i < len(lines) && lines[i] != "```" && !strings.HasPrefix(lines[i], "$ "); i++ {
				shown = append(shown, lines[i])
			}
			commands++
			got := printed(t, command)
			if *update {
				shown = renew(shown, got)
			} else if why := differs(shown, got); why != "" {
				t.Errorf("README.md: $ stanchion %s: %s", command, why)
			}
			out = append(out, shown...)
		}
		out = append(out, "```")
	}
	if commands < 5 {
		t.Errorf("%d commands shown, want at least 5", commands)
	}
	if *update {
		if err := os.WriteFile("README.md", []byte(strings.Join(out, "\n")), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

func printed(t *testing.T, command string) []string {
	var b bytes.Buffer
	run(fields(command), &b, &b)
	lines := strings.Split(strings.TrimRight(b.String(), "\n"), "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
	}
	return lines
}

// fields splits a command line at blanks outside of double quotes.
func fields(command string) []string {
	var all []string
	for i, part := range strings.Split(command, `"`) {
		if i%2 == 1 {
			all = append(all, part)
			continue
		}
		all = append(all, strings.Fields(part)...)
	}
	return all
}

// differs compares shown lines with those printed; a line "…" stands for any
// number of lines.
func differs(shown, got []string) string {
	k := 0
	for i, s := range shown {
		if s == "…" {
			if i == len(shown)-1 {
				return ""
			}
			for k < len(got) && got[k] != shown[i+1] {
				k++
			}
			continue
		}
		if k >= len(got) || got[k] != s {
			return "shows " + s + ", prints " + at(got, k)
		}
		k++
	}
	if k != len(got) {
		return "prints more: " + at(got, k)
	}
	return ""
}

func at(lines []string, i int) string {
	if i < len(lines) {
		return lines[i]
	}
	return "nothing"
}

// renew replaces shown lines by what is printed, with as many lines from the
// front and the back as were shown about the line "…".
func renew(shown, got []string) []string {
	for i, s := range shown {
		if s == "…" {
			tail := len(shown) - i - 1
			if len(got) <= i+tail {
				return got
			}
			return append(append(append([]string(nil), got[:i]...), "…"), got[len(got)-tail:]...)
		}
	}
	return got
}
