package main

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"stanchion/model/words"
)

// hang prints lines of prose that are broken at so many cells where that is less than the page has.
func (p *printer) hang(cells int, lines ...string) {
	for _, l := range lines {
		if cells < p.cells() {
			l = strings.Join(words.HangAtText(l, cells), "\n")
		}
		p.f("%s\n", l)
	}
}

// cells is where prose is broken.
func (p *printer) cells() int { return p.on.extent.prose }

// row prints a row of a table: one line, but on a terminal that is too narrow.
func (p *printer) row(format string, args ...any) {
	if p.err == nil {
		p.err = p.on.row(strings.TrimRight(fmt.Sprintf(format, args...), " "))
	}
}

// rowWith prints a row with a remark behind it, or below where the terminal has no room; "" for none.
func (p *printer) rowWith(line, remark string) {
	switch whole := line + "   " + remark; {
	case remark == "":
		p.row("%s", line)
	case utf8.RuneCountInString(whole) <= p.on.extent.rows:
		p.row("%s", whole)
	default:
		p.row("%s", line)
		p.row("    %s", remark)
	}
}

// picture prints lines of a drawing, which cannot be broken.
func (p *printer) picture(lines ...string) {
	if p.err == nil {
		p.on.endBlock()
		p.on.write(lines...)
		p.err = p.on.err
	}
}

// pieces prints a row of figures that each have their name, two blanks between them; on a terminal that has no room for
// all, in as many lines as they take, below one another.
func (p *printer) pieces(head string, all ...string) {
	line, wide := head, utf8.RuneCountInString
	for i, piece := range all {
		if i > 0 && wide(line)+2+wide(piece) > p.on.extent.rows {
			p.row("%s", line)
			line = strings.Repeat(" ", wide(head)) + piece
			continue
		}
		if i > 0 {
			line += "  "
		}
		line += piece
	}
	p.row("%s", line)
}
