package widgets

import (
	"math"
	"strings"
	"testing"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"
	"pgregory.net/rapid"
)

var testLooks = []Look{{}, {Style: lipgloss.NewStyle()}, {Style: lipgloss.NewStyle(), Solid: true}}

// drawn is a picture's text.
func drawn(c *Canvas) string { return strings.Join(c.Lines(), "\n") }

// A square of 4 by 8 dots from the corner on covers two cells by two, whole; a lower half of a cell is ▄; an area that is not
// solid is nothing without colours.
func TestFillByHand(t *testing.T) {
	lipgloss.SetColorProfile(termenv.Ascii)
	c := NewCanvas(3, 3, testLooks, Braille)
	c.Fill([]float64{-0.5, 3.4, 3.4, -0.5}, []float64{-0.5, -0.5, 7.4, 7.4}, 2)
	if got := drawn(c); got != "██ \n██ \n   " {
		t.Errorf("a square is\n%s", got)
	}
	c = NewCanvas(2, 1, testLooks, Braille)
	c.Fill([]float64{-0.5, 1.4, 1.4, -0.5}, []float64{1.5, 1.5, 3.4, 3.4}, 2)
	if got := drawn(c); got != "▄ " {
		t.Errorf("a lower half is %q", got)
	}
	c = NewCanvas(2, 1, testLooks, Braille)
	c.Fill([]float64{-0.5, 3, 3, -0.5}, []float64{-0.5, -0.5, 3, 3}, 1)
	if got := drawn(c); got != "  " {
		t.Errorf("what is not solid is %q without colours", got)
	}
	if !c.Plain() {
		t.Error("without colours outlines must tell")
	}
}

// An opening of 4 by 4 dots in an area of 12 by 12 leaves the cells in it empty, whichever way round
// it runs; what was there before it stays.
func TestOpeningByHand(t *testing.T) {
	lipgloss.SetColorProfile(termenv.Ascii)
	square := func(lo, hi float64) Ring {
		return Ring{[]float64{lo - 0.5, hi - 0.6, hi - 0.6, lo - 0.5}, []float64{lo - 0.5, lo - 0.5, hi - 0.6, hi - 0.6}}
	}
	hole := square(4, 8)
	turned := Ring{[]float64{hole.Xs[3], hole.Xs[2], hole.Xs[1], hole.Xs[0]}, []float64{hole.Ys[3], hole.Ys[2], hole.Ys[1], hole.Ys[0]}}
	for _, opening := range []Ring{hole, turned} {
		c := NewCanvas(6, 3, testLooks, Braille)
		c.FillRings([]Ring{square(0, 12), opening}, 2)
		if got := drawn(c); got != "██████\n██  ██\n██████" {
			t.Errorf("an area with an opening is\n%s", got)
		}
		c = NewCanvas(6, 3, testLooks, Braille)
		c.Dot(4, 4, 1) // the first of the opening
		c.FillRings([]Ring{square(0, 12), opening}, 2)
		if got := drawn(c); got != "██████\n██⠁ ██\n██████" {
			t.Errorf("with a dot behind it\n%s", got)
		}
	}
}

// Text covers lines, lines cover areas; in ASCII all is ASCII.
func TestLayersByHand(t *testing.T) {
	lipgloss.SetColorProfile(termenv.Ascii)
	for g, want := range map[Glyphs]string{Braille: "A⠉⠉█", Blocks: "A▀▀█", ASCII: "A''#"} {
		c := NewCanvas(4, 1, testLooks, g)
		c.Fill([]float64{-0.5, 8, 8, -0.5}, []float64{-0.5, -0.5, 4, 4}, 2)
		c.Line(0, 0, 5, 0, 1, 1)
		c.Label(0, 0, "A", 1)
		if got := drawn(c); got != want {
			t.Errorf("glyphs %d: %q, want %q", g, got, want)
		}
		if c.Free(0, 0, 1) || !c.Free(1, 0, 3) || c.Free(1, 0, 4) || c.Free(0, 1, 1) {
			t.Error("what is free is not told")
		}
	}
}

// With colours an area has the colour of its look, and what is on it stands on that colour.
func TestFillColours(t *testing.T) {
	lipgloss.SetColorProfile(termenv.ANSI256)
	defer lipgloss.SetColorProfile(termenv.Ascii)
	c := NewCanvas(2, 1, []Look{{}, {Style: lipgloss.NewStyle().Foreground(lipgloss.Color("21")).Background(lipgloss.Color("52"))}}, Braille)
	c.Fill([]float64{-0.5, 4, 4, -0.5}, []float64{-0.5, -0.5, 4, 4}, 1)
	c.Label(1, 0, "x", 0)
	if got := drawn(c); got != "\x1b[38;5;52m█\x1b[0m\x1b[48;5;52mx\x1b[0m" {
		t.Errorf("%q", got)
	}
}

// Nothing that is drawn leaves the picture, whatever is asked for, and every line is as wide as it.
func TestCanvasHoldsAnything(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		w, h := rapid.IntRange(0, 12).Draw(rt, "w"), rapid.IntRange(0, 8).Draw(rt, "h")
		c := NewCanvas(w, h, testLooks, Glyphs(rapid.IntRange(0, 2).Draw(rt, "glyphs")))
		number := rapid.OneOf(rapid.Float64Range(-50, 50), rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e300, -1e300}))
		for range 5 {
			n := rapid.IntRange(0, 6).Draw(rt, "corners")
			xs, ys := make([]float64, n), make([]float64, n)
			for i := range n {
				xs[i], ys[i] = number.Draw(rt, "x"), number.Draw(rt, "y")
			}
			c.Fill(xs, ys, Ink(rapid.IntRange(0, 2).Draw(rt, "ink")))
			if n > 1 {
				c.Line(xs[0], ys[0], xs[1], ys[1], 1, rapid.IntRange(0, 3).Draw(rt, "gap"))
			}
			c.Label(rapid.IntRange(-9, 20).Draw(rt, "at"), rapid.IntRange(-3, 12).Draw(rt, "line"), "label", 2)
		}
		lines := c.Lines()
		if len(lines) != h {
			rt.Fatalf("%d lines", len(lines))
		}
		for _, l := range lines {
			if ansi.StringWidth(l) != w {
				rt.Fatalf("%q is not %d wide", l, w)
			}
		}
	})
}

// In ASCII no sign is left that is not, and each is as wide as it was where it stands in a column.
func TestSpellsASCII(t *testing.T) {
	for text, want := range map[string]string{"529±53": "529+-53", "−3.3 °": "-3.3 d", "row 1–6 · ×": "row 1-6 . x", "Demo coupé": "Demo coupe", "車": "?", "─│└ ✓": "-|+ v"} {
		if got := ASCII.Spell(text); got != want {
			t.Errorf("%q is spelt %q, want %q", text, got, want)
		}
		if Braille.Spell(text) != text {
			t.Errorf("%q is changed for a terminal that has all", text)
		}
	}
}

// Texts flow onto lines whole; only one that is wider than a line is broken.
func TestFlowByHand(t *testing.T) {
	got := Flow([]string{"one", "two", "three four five", "six"}, 10)
	if strings.Join(got, "|") != "one  two|three four|five|six" {
		t.Errorf("%q", got)
	}
}
