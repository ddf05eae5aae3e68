//go:build docs

package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"sort"
	"strings"
)

// writeLicences writes the licences of every module that is linked into the program
// on any of the systems that it is released for, and of Go itself, into one file. A
// module without one is an error.
func writeLicences(file string) error {
	dirs := map[string]string{}
	for _, system := range []string{"linux", "darwin", "windows"} {
		list := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{if not .Main}}{{.Path}} {{.Version}}|{{.Dir}}{{end}}{{end}}",
			"./cmd/stanchion")
		list.Env = append(os.Environ(), "GOOS="+system, "CGO_ENABLED=0")
		list.Stderr = os.Stderr
		out, err := list.Output()
		if err != nil {
			return fmt.Errorf("go list: %w", err)
		}
		for _, l := range strings.Split(string(out), "\n") {
			if name, dir, ok := strings.Cut(strings.TrimSpace(l), "|"); ok && !strings.HasPrefix(name, "a.stanchion/") { // which is ours
				dirs[name] = dir
			}
		}
	}
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return fmt.Errorf("go env: %w", err)
	}
	dirs["Go and its standard library"] = strings.TrimSpace(string(root))
	var names []string
	for n := range dirs {
		names = append(names, n)
	}
	sort.Strings(names)
	var b strings.Builder
	fmt.Fprintf(&b, "stanchion links the following; their licences are below.\n")
	for _, n := range names {
		found, err := licencesIn(dirs[n])
		if err != nil {
			return fmt.Errorf("%s: %w", n, err)
		}
		fmt.Fprintf(&b, "\n%s\n%s\n\n%s\n", strings.Repeat("=", 78), n, strings.TrimSpace(found))
	}
	return os.WriteFile(file, []byte(b.String()), 0o644)
}

// licencesIn returns the texts of the licence files of a folder, those of a folder of licences of what a module has taken
// in from elsewhere among them, or what its README says of it.
func licencesIn(dir string) (string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return "", err
	}
	text := ""
	for _, e := range entries {
		if !isLicence(e.Name()) {
			continue
		}
		files := []string{filepath.Join(dir, e.Name())}
		if e.IsDir() {
			if files, err = filepath.Glob(filepath.Join(dir, e.Name(), "*")); err != nil {
				return "", err
			}
		}
		for _, f := range files {
			data, err := os.ReadFile(f)
			if err != nil {
				return "", err
			}
			if e.IsDir() {
				text += filepath.Base(f) + ":\n\n"
			}
			text += strings.TrimSpace(string(data)) + "\n\n"
		}
	}
	if text != "" {
		return text, nil
	}
	readme, err := os.ReadFile(filepath.Join(dir, "README.md")) // a few say it there alone
	if i := strings.Index(strings.ToLower(string(readme)), "# license"); err == nil && i >= 0 {
		return "As its README says:\n\n" + string(readme[i:]), nil
	}
	return "", fmt.Errorf("no licence in %s", dir)
}

// isLicence reports whether a file or folder of that name holds terms.
func isLicence(name string) bool {
	name = strings.ToUpper(name)
	for _, start := range []string{"LICENSE", "LICENCE", "COPYING", "NOTICE", "PATENTS", "THIRD_PARTY_LICENSES"} {
		if strings.HasPrefix(name, start) {
			return true
		}
	}
	return false
}
