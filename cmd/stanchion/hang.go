package main

import (
	"math"
	"os"
	"strings"

	"github.com/charmbracelet/x/term"

	"stanchion/model/words"
)

// hang prints lines that are broken between words at so many cells, and what follows two blanks in.
func (p *printer) hang(cells int, lines ...string) {
	for _, l := range lines {
		p.f("%s\n", strings.Join(words.Hang(l, cells), "\n"))
	}
}

// cells is how wide the terminal is that is printed to. What goes into a file or a pipe has no width.
func (p *printer) cells() int {
	if f, ok := p.w.(*os.File); ok {
		if w, _, err := term.GetSize(f.Fd()); err == nil && w > 0 {
			return w
		}
	}
	return math.MaxInt
}
