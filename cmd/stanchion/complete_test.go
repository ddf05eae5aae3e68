package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/pflag"

	"stanchion/model/cad"
	"stanchion/model/units"
)

// offered returns what the program tells a shell for words of which the last is typed.
func offered(t *testing.T, args ...string) (all []string, directive string) {
	t.Helper()
	var printed, said bytes.Buffer
	if code := run(append([]string{"__complete"}, args...), &printed, &said); code != 0 {
		t.Fatalf("%q: exit code %d: %s", args, code, &said)
	}
	all = strings.Split(strings.TrimSuffix(printed.String(), "\n"), "\n")
	return all[:len(all)-1], all[len(all)-1]
}

func TestOffered(t *testing.T) {
	const hatch = "../../testdata/cars/hatch.toml"
	for _, c := range []struct {
		typed []string
		wants []string // in this order, others between them
		not   string   // in none
	}{
		{[]string{"show", "demo", ""}, []string{"row 1, A3\t1198 mm 14.3° 433 N, stalled", "row 1, B2\t1247 mm 10.3° 497 N, breaks a limit", "row 4, C1\t1370 mm 0.3° 190 N"}, "k1"},
		{[]string{"show", "demo", "row", "4", "C"}, nil, "C1"}, // "row 4 C": the name has a comma
		{[]string{"show", "demo", "row", "4, C"}, []string{"4, C1\t1370 mm 0.3° 190 N", "4, C2\t"}, "B1"},
		{[]string{"show", "demo", "--units", "imperial", "row 4, C1"}, []string{"row 4, C1\t53.96 in 0.3° 43 lbf"}, " N"},
		{[]string{"show", "demo", "--speed", "80km/h", "row 4, C1"}, []string{"row 4, C1\t1370 mm 0.3° 47 N"}, "190 N"},
		{[]string{"show", "demo", "1:k1"}, []string{"1:k1+7:k2+3:k3+9:k4/A:F+A1:R\t"}, "row"},
		{[]string{"compare", "demo", "row 1, A1", "row 1, A"}, []string{"row 1, A2\t", "row 1, A3\t"}, "row 1, A1"},
		{[]string{"pick", "demo", "--from", "row 2, C"}, []string{"row 2, C1\t", "row 2, C2\t"}, "row 1"},
		{[]string{"explain", "down"}, []string{"downforce\t"}, "drag "},
		{[]string{"explain", "downforce", "de"}, []string{"demo\tdemo car", "demo:saloon\tdemo car"}, ""},
		{[]string{"explain", "downforce", "demo", "row 4, C"}, []string{"row 4, C1\t"}, ""},
		{[]string{"hole", "try", "demo", "--part", ""}, []string{"bracket\t12 holes", "upright\t14 holes"}, ""},
		{[]string{"hole", "try", "demo", "--joint", ""}, []string{"foot\tbracket and upright", "head\tupright and wing"}, ""},
		{[]string{"hole", "try", "demo", "--at", ""}, nil, "e"},
		{[]string{"draw", "demo", "u"}, []string{"upright\t14 holes"}, "bracket"},
		{[]string{"why", "demo", "A"}, []string{"A\tupright, x ", "A1\tupright, x "}, "bracket"},
		{[]string{"note", "show", hatch, ""}, []string{"2026-10-10.2\t2026-10-10 11:40 row 1–6, A1", "2026-10-10.1\t2026"}, "mm"},
		{[]string{"note", "add", hatch, "--replaces", "2026-10-10.1"}, []string{"2026-10-10.1\t20"}, ""},
		{[]string{"note", "list", hatch, "--from", ""}, []string{"20"}, ""},
		{[]string{"check", "../../testdata/cars/h"}, []string{"../../testdata/cars/hatch.toml"}, "notes"},
		{[]string{"check", "../../testdata/ca"}, []string{"../../testdata/cars/"}, ""},
		{[]string{"new", "x", "--demo", "s"}, []string{"saloon"}, ""},
		{[]string{"schema", ""}, []string{"carfile", "json", "notes"}, ""},
		{[]string{"help", "js"}, []string{"json\twhat commands print"}, ""},
		{[]string{"design", "demo", "--proposal", ""}, []string{"1", "2"}, ""},
		{[]string{"hole", "suggest", "demo", "--by", ""}, []string{"downforce"}, ""},
		{[]string{"show", "nosuch.toml", ""}, nil, "e"},
		{[]string{"show", "../../testdata/cars/ten-faults.toml", ""}, nil, "e"},
		{[]string{"show", "", ""}, nil, "row"},
	} {
		all, directive := offered(t, c.typed...)
		left := all
		for _, w := range c.wants {
			i := slices.IndexFunc(left, func(l string) bool { return strings.HasPrefix(l, w) })
			if i < 0 {
				t.Errorf("%q lacks %q, or in this order:\n%s", c.typed, w, strings.Join(all, "\n"))
				break
			}
			left = left[i+1:]
		}
		if c.wants == nil && len(all) > 0 {
			t.Errorf("%q has %q", c.typed, all)
		}
		if c.not != "" && strings.Contains(strings.Join(all, "\n"), c.not) {
			t.Errorf("%q has %q:\n%s", c.typed, c.not, strings.Join(all, "\n"))
		}
		if folder := len(all) == 1 && strings.HasSuffix(all[0], "/"); folder != (directive == ":38") {
			t.Errorf("%q: directive %s", c.typed, directive)
		}
	}
}

// Nothing of a file reaches the terminal as it is, and what cannot be typed is not offered.
func TestOfferedIsSafe(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "c.toml")
	text, err := carText("demo")
	if err != nil {
		t.Fatal(err)
	}
	evil := strings.NewReplacer(`"upright"`, `"up\u001b[31mright"`, `"bracket"`, `"bra\u202ecket"`, `"foot"`, `"fo\tot"`).Replace(string(text))
	if err := os.WriteFile(path, []byte(evil), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "x\x1b[31m.toml"), nil, 0o600); err != nil {
		t.Skip("no such name here:", err)
	}
	for _, args := range [][]string{{"hole", "try", path, "--part", ""}, {"hole", "try", path, "--joint", ""}, {"draw", path, ""}, {"why", path, ""}, {"show", path, ""},
		{"check", dir + "/"}} {
		all, _ := offered(t, args...)
		for _, l := range all {
			if strings.IndexFunc(strings.ReplaceAll(l, "\t", ""), units.Hidden) >= 0 || strings.Count(l, "\t") > 1 {
				t.Errorf("%q offers %q", args, l)
			}
		}
	}
}

// A car with many settings has them told without what takes long.
func TestManySettingsOffered(t *testing.T) {
	path := filepath.Join(t.TempDir(), "c.toml")
	if err := os.WriteFile(path, manyHoles(), 0o600); err != nil {
		t.Fatal(err)
	}
	all, _ := offered(t, "show", path, "")
	if len(all) <= figuresUpTo {
		t.Fatalf("%d settings", len(all))
	}
	for _, l := range all {
		if strings.Contains(l, " N") || !strings.Contains(l, " mm ") {
			t.Fatalf("%q", l)
		}
	}
}

// manyHoles is a car with a row of holes in the foot, and many rear ones.
func manyHoles() []byte {
	var b strings.Builder
	b.WriteString("format = 1\nname = \"many\"\n[car]\nwheelbase = 2450\nfront_axle_mass = 540\nrear_axle_mass = 610\nroof_height = 1240\n[speed]\nchosen = 160\n" +
		"[[part]]\nname = \"bracket\"\nfixed = { x = 310, z = 640, angle = 0 }\nholes = [")
	for i := range 24 {
		fmt.Fprintf(&b, "{ id = \"%d\", x = 0, z = %d, d = 8.4 }, ", i+1, 40*i)
	}
	b.WriteString("]\n[[part]]\nname = \"upright\"\nholes = [{ id = \"k1\", x = 0, z = 0, d = 8.4, joint = \"foot\" }, { id = \"k2\", x = 0, z = 40, d = 8.4, joint = \"foot\" }, " +
		"{ id = \"A\", x = 0, z = 500, d = 8.4, joint = \"head\" }, ")
	for i := range 21 {
		a := float64(i-10) * 0.1
		fmt.Fprintf(&b, "{ id = \"A%d\", x = %.3f, z = %.3f, d = 8.4, joint = \"head\" }, ", i+1, 100*(1-a*a/2+a*a*a*a/24), 500+100*(a-a*a*a/6))
	}
	b.WriteString("]\n[[part]]\nname = \"wing\"\nholes = [{ id = \"F\", x = 60, z = 20, d = 8.4 }, { id = \"R\", x = 160, z = 20, d = 8.4 }]\n" +
		"[[joint]]\nname = \"foot\"\nlower = \"bracket\"\nupper = \"upright\"\nbolt = \"M8\"\ngrade = \"8.8\"\n[[joint]]\nname = \"head\"\nlower = \"upright\"\nupper = \"wing\"\nbolt = \"M8\"\ngrade = \"8.8\"\nmax_turn = 60\n" +
		"[wing]\nspan = 1500\nchord = 260\nsection = \"naca 6412\"\n")
	return []byte(b.String())
}

// Layers are those that entities are on, each with how many.
func TestLayersOffered(t *testing.T) {
	const drawn = "../../model/cad/testdata"
	names, err := filepath.Glob(drawn + "/*.dxf")
	if err != nil || len(names) == 0 {
		t.Fatal("no drawings", err)
	}
	some := 0
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		all, _ := offered(t, "import", "demo", name, "--layer", "")
		layers := cad.Layers(name, data)
		if len(all) != len(layers) {
			t.Errorf("%s: %q of %v", name, all, layers)
		}
		if some += len(all); len(all) > 1 {
			first, _, _ := strings.Cut(all[0], "\t")
			more, _ := offered(t, "import", "demo", name, "--layer", first+",")
			if len(more) != len(all) || !strings.HasPrefix(more[1], first+",") {
				t.Errorf("%s: behind %q %q", name, first, more)
			}
		}
	}
	if some == 0 {
		t.Error("no drawing has layers")
	}
}

// Every argument and flag of every command that is told to be completed is there.
func TestCompletionTables(t *testing.T) {
	root := newRoot()
	for path := range argumentWords() {
		if c, _, err := root.Find(strings.Fields(path)[1:]); err != nil || c.CommandPath() != path {
			t.Errorf("there is no command %q", path)
		}
	}
	flags := map[string]bool{}
	var look func(path string)
	look = func(path string) {
		c, _, err := root.Find(strings.Fields(path)[1:])
		if err != nil {
			t.Fatal(err)
		}
		if _, ok := argumentWords()[path]; !ok && c.ValidArgs == nil && c.RunE != nil && !c.HasSubCommands() && c.Name() != "help" && c.Parent().Name() != "completion" && !c.Hidden {
			t.Errorf("%q is not completed", path)
		}
		c.Flags().VisitAll(func(f *pflag.Flag) { flags[path+" --"+f.Name], flags["--"+f.Name] = true, true })
		for _, sub := range c.Commands() {
			look(path + " " + sub.Name())
		}
	}
	look("stanchion")
	for f := range flagWords() {
		if !flags[f] {
			t.Errorf("there is no flag %q", f)
		}
	}
}
