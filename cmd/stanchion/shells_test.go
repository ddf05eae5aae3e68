//go:build !windows

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// shells are those whose completion is tried as a person uses it: what starts them in a folder, and the file that begins them.
var shells = []struct {
	name, start string
	files       map[string]string
}{
	{"bash", "exec bash --noprofile --rcfile bashrc -i", map[string]string{"bashrc": "PS1='$ '\nHISTFILE=\nbind 'set bell-style none'\nsource <(stanchion completion bash)\n"}},
	{"zsh", "ZDOTDIR=$PWD exec zsh -d -i", map[string]string{
		".zshrc": "PS1='$ '\nunsetopt beep\nautoload -U compinit\ncompinit -u -D\nsource <(stanchion completion zsh)\n"}},
	{"zsh from fpath", "ZDOTDIR=$PWD exec zsh -d -i", map[string]string{
		".zshrc": "PS1='$ '\nunsetopt beep\nmkdir -p f; stanchion completion zsh >f/_stanchion\nfpath=($PWD/f $fpath)\nautoload -U compinit\ncompinit -u -D\n"}},
	{"fish", "exec fish -i", map[string]string{
		"config/fish/config.fish": "function fish_prompt; echo -n '$ '; end\nset -g fish_greeting\nset -g fish_autosuggestion_enabled 0\nstanchion completion fish | source\n"}},
}

// fakeProgram completes as the program does, and prints what it is started with else.
const fakeProgram = `#!/bin/sh
case "$1" in
__complete* | completion) exec "$PROGRAM" "$@" ;;
esac
for a; do printf '<%s>' "$a"; done
echo .
`

// strange is a demo car whose names have what shells act on.
func strange(t *testing.T) string {
	text, err := carText("demo")
	if err != nil {
		t.Fatal(err)
	}
	s := string(text)
	for _, c := range [][2]string{{`"upright"`, `"side plate, 8 mm"`}, {`"bracket"`, "\"a$(touch pwned)`touch pwned`;'b\""}, {`"foot"`, `"foot & \"toe\""`}, {`"head"`, `"head \\ neck"`}} {
		if !strings.Contains(s, c[0]) {
			t.Fatalf("the demo has no %s", c[0])
		}
		s = strings.ReplaceAll(s, c[0], c[1])
	}
	return s
}

// begunShell starts a shell in a folder with cars, with our completion.
func begunShell(t *testing.T, start string, files map[string]string) (*terminal, string) {
	dir := t.TempDir()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	hatch, err := os.ReadFile("../../testdata/cars/hatch.toml")
	if err != nil {
		t.Fatal(err)
	}
	book, err := os.ReadFile("../../testdata/cars/hatch.notes.toml")
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]string{"bin/stanchion": fakeProgram, "strange.toml": strange(t), "hatch.toml": string(hatch), "hatch.notes.toml": string(book),
		"faulty.toml": "format = 1\nname = \"x\"\n[[part]]\nname = 5\n", "cars of mine/one.toml": "", "drawn.dxf": "0\nSECTION\n"}
	for name, text := range files {
		all[name] = text
	}
	for _, at := range [2]string{"fish", ".cache/fish"} { // else fish reads all manual pages first, in the background
		all[at+"/generated_completions/none.fish"] = ""
	}
	for name, text := range all {
		path := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	env := []string{"PROGRAM=" + self, "PATH=" + filepath.Join(dir, "bin") + ":" + os.Getenv("PATH"), "LC_ALL=C.UTF-8", "HOME=" + dir, "TZ=UTC", "XDG_DATA_HOME=" + dir}
	x := beginWith(t, dir, []string{"sh", "-c", start}, env, "program", 130, 50)
	x.shows("$")
	settled(x)
	return x, dir
}

// In each shell a line is typed with its tabs as a person types it, and the program gets the words that were meant. Ordinarily each line is tried
// in one of the shells; SHELLS=all tries all in each.
func TestCompletionInShells(t *testing.T) {
	all := os.Getenv("SHELLS") == "all"
	for turn, shell := range shells {
		t.Run(shell.name, func(t *testing.T) {
			name, _, _ := strings.Cut(shell.name, " ")
			if _, err := exec.LookPath(name); err != nil {
				t.Skipf("%s is not installed: its completion is not tried here", name)
			}
			t.Parallel()
			x, dir := begunShell(t, shell.start, shell.files)
			for i, c := range []struct{ typed, gets string }{
				{"stanchion sho\t demo r\t4\tC2", "<show><demo><row 4, C2>."},
				{"stanchion show demo 1:k1+7:k2+3:k3+9:k4/B:F+B2\t", "<show><demo><1:k1+7:k2+3:k3+9:k4/B:F+B2:R>."},
				{"stanchion show hatch.toml 'row 6–7, A\t3'", "<show><hatch.toml><row 6–7, A3>."},
				{"stanchion compare ./hatch.toml \"row 5–6, B2\" \"row 6–7, A\t2\"", "<compare><./hatch.toml><row 5–6, B2><row 6–7, A2>."},
				{"X=1 $PWD/bin/stanchion check ~/hat\t", "hatch.toml>."},
				{"stanchion hole try strange.toml --part si\t", "<hole><try><strange.toml><--part><side plate, 8 mm>."},
				{"stanchion hole try strange.toml --part=si\t", "<hole><try><strange.toml><--part=side plate, 8 mm>."},
				{"stanchion hole try strange.toml --part \"si\t", "<hole><try><strange.toml><--part><side plate, 8 mm>."},
				{"stanchion hole try strange.toml --part 'si\t", "<hole><try><strange.toml><--part><side plate, 8 mm>."},
				{"stanchion draw stra\t a\t", "<draw><strange.toml><a$(touch pwned)`touch pwned`;'b>."},
				{"stanchion hole try strange.toml --joint foot\t", "<hole><try><strange.toml><--joint><foot & \"toe\">."},
				{"stanchion hole try strange.toml --joint head\t", "<hole><try><strange.toml><--joint><head \\ neck>."},
				{"stanchion check cars\tone\t", "<check><cars of mine/one.toml>."},
				{"stanchion note show hatch.toml 2\t2", "<note><show><hatch.toml><2026-10-10.2>."},
				{"stanchion map demo:r\t --format js\t", "<map><demo:roadster><--format><json>."},
				{"stanchion explain down\t demo", "<explain><downforce><demo>."},
				{"stanchion show faulty.toml \t\tx", "<show><faulty.toml><x>."},
				{"stanchion help meas\t", "<help><measuring>."},
			} {
				if !all && i%len(shells) != turn {
					continue
				}
				for _, key := range strings.SplitAfter(c.typed, "\t") {
					x.types(key)
					if strings.HasSuffix(key, "\t") {
						settled(x)
					}
				}
				x.types("\r")
				shownWords(x, c.typed, c.gets)
			}
			// Another tab or two list settings with what they are.
			x.types("stanchion show demo row\\ 1\t")
			settled(x)
			x.types("\t")
			settled(x)
			x.types("\t")
			x.shows("1247 mm 10.3° 497 N, breaks a limit")
			x.types("\x03\x03\r")
			// What is typed is not run before it is entered.
			for _, typed := range []string{"stanchion show $(touch pwned).toml ", "stanchion show \"$(touch pwned)\" ", "stanchion show `touch pwned` ", "stanchion show (touch pwned) "}[:map[bool]int{true: 4, false: 1}[all]] {
				x.types(typed + "\t")
				settled(x)
				x.types("\x03")
				settled(x)
			}
			if _, err := os.Stat(filepath.Join(dir, "pwned")); err == nil {
				t.Error("what stands in a name, or is typed, was run")
			}
		})
	}
}

// settled waits until the shell has answered: what is on the screen stays.
func settled(x *terminal) {
	last, since := x.screen.String(), time.Now()
	for end := time.Now().Add(10 * time.Second); time.Now().Before(end) && time.Since(since) < 250*time.Millisecond; time.Sleep(10 * time.Millisecond) {
		if now := x.screen.String(); now != last {
			last, since = now, time.Now()
		}
	}
}

// shownWords waits for what a line of words comes to.
func shownWords(x *terminal, typed, gets string) {
	x.t.Helper()
	flat := func() string { return strings.ReplaceAll(strings.Join(lines(x.screen.String()), ""), "\n", "") }
	for end := time.Now().Add(20 * time.Second); time.Now().Before(end); time.Sleep(10 * time.Millisecond) {
		if strings.Contains(flat(), gets) {
			x.types("clear\r")
			settled(x)
			return
		}
	}
	x.t.Errorf("%q does not come to %s:\n%s", typed, gets, x.screen.String())
	x.types("\x03clear\r")
	settled(x)
}

func lines(screen string) []string {
	all := strings.Split(screen, "\n")
	for i := range all {
		all[i] = strings.TrimRight(all[i], " \r")
	}
	return slices.DeleteFunc(all, func(l string) bool { return l == "" })
}

// The scripts are sound to their shells.
func TestScriptsOfShells(t *testing.T) {
	for shell, args := range map[string][]string{"bash": {"-n"}, "zsh": {"-n"}, "fish": {"--no-execute"}, "pwsh": nil} {
		if _, err := exec.LookPath(shell); err != nil {
			t.Logf("%s is not installed: its script is not read here", shell)
			continue
		}
		var script, said strings.Builder
		name := map[string]string{"pwsh": "powershell"}[shell]
		if name == "" {
			name = shell
		}
		if code := run([]string{"completion", name}, &script, &said); code != 0 {
			t.Fatal(said.String())
		}
		if args == nil {
			args = []string{"-NoProfile", "-Command", "-"}
		}
		c := exec.Command(shell, args...)
		c.Stdin = strings.NewReader(script.String())
		if out, err := c.CombinedOutput(); err != nil || len(out) > 0 {
			t.Errorf("%s: %v\n%s", shell, err, out)
		}
	}
}
