//go:build docs

package main

import (
	"cmp"
	"compress/gzip"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"
)

func init() { extra = append(extra, newGendocs) }

// newGendocs writes man pages, completions and the licences of all that is linked,
// for packaging; it is built with -tags docs alone, and run in the project's folder. The date is fixed
// by SOURCE_DATE_EPOCH, so that builds repeat byte for byte; RELEASE is the version.
func newGendocs() *cobra.Command {
	return &cobra.Command{
		Use:    "gendocs DIR",
		Short:  "write man pages and shell completions",
		Hidden: true,
		Args:   arguments(1, 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			dir, root := args[0], cmd.Root()
			if err := os.MkdirAll(dir, 0o755); err != nil {
				return err
			}
			date := time.Unix(0, 0).UTC()
			var seconds int64
			if _, err := fmt.Sscan(os.Getenv("SOURCE_DATE_EPOCH"), &seconds); err == nil {
				date = time.Unix(seconds, 0).UTC()
			}
			root.DisableAutoGenTag = true
			if err := doc.GenManTree(root, &doc.GenManHeader{Title: "STANCHION", Section: "1", Source: "stanchion", Date: &date}, dir); err != nil {
				return err
			}
			for _, t := range topics() {
				if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("stanchion-%s.%d", t.name, t.section())), []byte(t.man(date)), 0o644); err != nil {
					return err
				}
			}
			if err := sectionsOfCommands(dir); err != nil {
				return err
			}
			release := cmp.Or(os.Getenv("RELEASE"), "0.0.0")
			if err := writeChangelog(dir, release, date); err != nil {
				return err
			}
			if err := compress(dir); err != nil {
				return err
			}
			for name, text := range map[string]string{"stanchion.bash": bashScript, "_stanchion": zshScript, "stanchion.fish": fishScript} {
				if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
					return err
				}
			}
			return writeLicences(filepath.Join(dir, "THIRD_PARTY_LICENCES.txt"))
		},
	}
}

// section is that of the topic's man page: 5 for what files hold, 7 for all else.
func (t topic) section() int {
	if t.name == "carfile" || t.name == "notes" {
		return 5
	}
	return 7
}

// man is a topic as a man page: its text as it stands.
func (t topic) man(date time.Time) string {
	title, body, _ := strings.Cut(t.text(), "\n")
	body = strings.ReplaceAll(strings.Trim(body, "\n"), "\\", "\\e")
	lines := strings.Split(body, "\n")
	for i, l := range lines {
		if strings.HasPrefix(l, ".") || strings.HasPrefix(l, "'") {
			lines[i] = "\\&" + l
		}
	}
	return fmt.Sprintf(".TH STANCHION-%s %d %q stanchion\n.SH NAME\nstanchion-%s \\- %s\n.SH %q\n.nf\n%s\n.fi\n",
		strings.ToUpper(t.name), t.section(), date.Format("2006-01-02"), t.name, t.short, strings.ToUpper(title),
		strings.ReplaceAll(strings.Join(lines, "\n"), "-", "\\-"))
}

// ofCommands are the sections that the page of every command has beside what the library writes.
const ofCommands = `.SH EXIT STATUS
.TP
0
done
.TP
1
the question has no answer, or the answer is no
.TP
2
bad input or usage
.SH ENVIRONMENT
.TP
STANCHION_UNITS
the unit system that figures are shown in and bare numbers are in: file, metric or imperial
.TP
VISUAL, EDITOR
the program that the explorer opens the car file in
.TP
NO_COLOR
no colours when it is set
.TP
PAGER
the program that long answers on a terminal go through; none where it is empty
.TP
COLUMNS
how wide printed lines may be, in a pipe
.TP
LC_ALL, LC_CTYPE, LANG, TERM
what the screen is drawn with
.SH FILES
.TP
CAR.toml
the car file: stanchion-carfile(5)
.TP
CAR.notes.toml
its notebook, beside it: stanchion-notes(5)
.TP
CAR.toml.backups
copies of every version that the program has changed
.TP
$XDG_CONFIG_HOME/stanchion/config.toml
units = "imperial" for good
`

// sectionsOfCommands puts them before SEE ALSO, or at the end, and names the pages on the files there.
func sectionsOfCommands(dir string) error {
	pages, err := filepath.Glob(filepath.Join(dir, "*.1"))
	if err != nil {
		return err
	}
	const also = ".SH SEE ALSO\n"
	for _, page := range pages {
		text, err := os.ReadFile(page)
		if err != nil {
			return err
		}
		before, after, _ := strings.Cut(string(text), also)
		const files = "stanchion-carfile(5), stanchion-notes(5)"
		if after = strings.TrimSpace(after); after != "" {
			after += ", "
		}
		if err := os.WriteFile(page, []byte(strings.TrimRight(before, "\n")+"\n"+ofCommands+also+after+files+"\n"), 0o644); err != nil {
			return err
		}
	}
	return nil
}

// compress replaces each man page in a folder and the list of changes by its gzipped form, as Debian
// wants it.
func compress(dir string) error {
	pages, err := filepath.Glob(filepath.Join(dir, "*.[157]"))
	if err != nil {
		return err
	}
	for _, page := range append(pages, filepath.Join(dir, "changelog")) {
		data, err := os.ReadFile(page)
		if err != nil {
			return err
		}
		f, err := os.Create(page + ".gz")
		if err != nil {
			return err
		}
		z, err := gzip.NewWriterLevel(f, gzip.BestCompression)
		if err != nil {
			return err
		}
		if _, err := z.Write(data); err != nil {
			return err
		}
		if err := z.Close(); err != nil {
			return err
		}
		if err := f.Close(); err != nil {
			return err
		}
		if err := os.Remove(page); err != nil {
			return err
		}
	}
	return nil
}
