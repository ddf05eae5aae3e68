package main

import (
	"bytes"
	"context"
	"io"
	"math"
	"os"
	"strconv"
	"strings"

	"github.com/charmbracelet/x/term"
	"github.com/spf13/cobra"

	"stanchion/model/words"
)

// widestProse is how many cells a line of prose has at most on a wide terminal: longer ones are hard to follow.
const widestProse = 100

// extent is how wide, and on a terminal how high, what a command prints may be, in cells.
type extent struct {
	prose  int // where prose is broken
	rows   int // where rows of tables are stacked: without end for a file or a pipe, so that one row is one line
	height int // lines of the terminal; 0 for a file or a pipe
}

// endless is the extent of what is laid out by somebody else.
var endless = extent{math.MaxInt, math.MaxInt, 0}

// extentOf is the extent of a writer: a terminal's own size, or else $COLUMNS for prose, or 80.
func extentOf(w io.Writer) extent {
	if f, ok := w.(*os.File); ok && term.IsTerminal(f.Fd()) {
		if cells, lines, err := term.GetSize(f.Fd()); err == nil && cells > 0 {
			return terminalExtent(cells, lines)
		}
		return terminalExtent(columnsSaid(), 0)
	}
	return extent{columnsSaid(), math.MaxInt, 0}
}

func terminalExtent(cells, lines int) extent { return extent{min(cells, widestProse), cells, lines} }

// columnsSaid is $COLUMNS, or 80.
func columnsSaid() int {
	if n, err := strconv.Atoi(os.Getenv("COLUMNS")); err == nil && n >= 20 {
		return n
	}
	return words.LineWidth
}

// page lays a command's answer for people out: prose is broken between words, and rows of a table that is wider than
// the terminal are stacked. On a terminal it is held until the command ends, for a pager.
type page struct {
	to     io.Writer
	extent extent
	part   string   // of a line that has not ended
	block  []string // rows of a table so far
	held   *bytes.Buffer
	err    error
}

func newPage(to io.Writer, s extent) *page {
	p := &page{to: to, extent: s}
	if s.height > 0 {
		p.held = &bytes.Buffer{}
		p.to = p.held
	}
	return p
}

type pageKey struct{}

// pageOf is the page that a command prints on.
func pageOf(cmd *cobra.Command) *page {
	if ctx := cmd.Context(); ctx != nil {
		if p, ok := ctx.Value(pageKey{}).(*page); ok {
			return p
		}
	}
	return newPage(cmd.OutOrStdout(), extent{words.LineWidth, math.MaxInt, 0})
}

func onPage(p *page) context.Context { return context.WithValue(context.Background(), pageKey{}, p) }

// print takes text, which may hold parts of lines.
func (p *page) print(text string) error {
	for {
		line, rest, ended := strings.Cut(text, "\n")
		p.part += line
		if !ended {
			return p.err
		}
		line, p.part, text = p.part, "", rest
		if n := gaps(line); n > 1 || n > 0 && p.block != nil {
			p.block = append(p.block, strings.TrimRight(line, " "))
			continue
		}
		p.endBlock()
		if command := strings.TrimLeft(line, " "); command != line && strings.HasPrefix(command, "stanchion ") {
			p.write(line) // it is there to be copied
			continue
		}
		p.write(words.HangAtText(line, p.extent.prose)...)
	}
}

// verbatim takes text that is laid out already: only a terminal that is too narrow breaks it.
func (p *page) verbatim(text string) error {
	p.endBlock()
	p.write(reflowed(strings.Split(strings.TrimSuffix(text, "\n"), "\n"), p.extent.rows)...)
	return p.err
}

// gaps counts where two blanks or more stand within a line. A row of a table has two, or one below such a row.
func gaps(line string) (n int) {
	rest := strings.TrimSpace(line)
	for {
		_, after, found := strings.Cut(rest, "  ")
		if !found {
			return n
		}
		n, rest = n+1, strings.TrimLeft(after, " ")
	}
}

// endBlock prints the rows of a table that has come to its end.
func (p *page) endBlock() {
	if p.block != nil {
		p.write(stacked(p.block, p.extent.rows)...)
	}
	p.block = nil
}

func (p *page) write(lines ...string) {
	for _, l := range lines {
		if p.err == nil {
			_, p.err = io.WriteString(p.to, l+"\n")
		}
	}
}

// end prints what is left, and shows what was held: through a pager where there is one and it is longer than the terminal.
func (p *page) end(stdout io.Writer, pager []string) error {
	p.endBlock()
	if p.part != "" && p.err == nil {
		_, p.err = io.WriteString(p.to, p.part)
		p.part = ""
	}
	if p.held == nil || p.err != nil {
		return p.err
	}
	text := p.held.Bytes()
	p.held = nil
	if len(pager) > 0 && bytes.Count(text, []byte("\n")) >= p.extent.height {
		if paged(text, pager, stdout) {
			return nil
		}
	}
	_, p.err = stdout.Write(text)
	return p.err
}

// row takes a whole row of a table, whatever it holds, that is broken on a narrow terminal alone.
func (p *page) row(line string) error {
	p.endBlock()
	p.write(words.HangAtText(line, p.extent.rows)...)
	return p.err
}
