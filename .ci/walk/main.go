// Command walk records a walk through the explorer, from the program itself, as one SVG whose frames
// follow one another: the picture of the README.
//
//	go run ./.ci/walk > testdata/walk.svg
//
// It needs no terminal: it gives the explorer keys and draws what it shows. Block elements, dots and rules are
// drawn as shapes, so that the picture is the same whatever font a viewer has.
package main

import (
	"bufio"
	"fmt"
	"html"
	"image/color"
	"io"
	"os"
	"strings"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/vt"
	"github.com/muesli/termenv"

	"stanchion/model"
	"stanchion/model/carfile"
	"stanchion/model/units"
	"stanchion/tui"
)

// frame is one step of the walk: keys, and what is said below the picture then.
type frame struct{ keys, says string }

var walk = []frame{
	{"", "Every way to bolt the wing: rows of the foot, holes of the head, the downforce of each"},
	{"space", "space keeps this setting: now every figure shows its change from it"},
	{"left left down", "arrows walk as the bolts do; the picture follows the joint that is changed"},
	{"up right", "≈ and grey: no clear difference; × breaks a limit, and the line below says which"},
	{"left 2", "the number keys paint the maps: 2 is the front share"},
	{"1 t", "t: the same settings by place, lines of equal downforce, limits, and what a hole would add"},
	{"esc y", "y: why a figure is what it is, and which measurement would narrow it most"},
	{"esc s", "s: does it hold, what is nearest to its limit, what would help"},
	{"esc d", "d: a trial hole starts at the best place and runs along the curve on which the bolts go in"},
	{"left left", "each place is judged before it is drilled; the table shows what appears"},
	{"esc : l i d", ": every job, found by a word"},
}

const (
	columns, lines = 120, 36
	seconds        = 4 // a frame
	wide, high     = 8.0, 16.0
	border         = 10.0
)

func main() {
	if err := record(os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// explorer is the program, with its commands done at once.
type explorer struct{ m tea.Model }

func (e *explorer) give(msg tea.Msg) {
	next, cmd := e.m.Update(msg)
	e.m = next
	e.do(cmd)
}

func (e *explorer) do(cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	switch msg := cmd().(type) {
	case nil:
	case tea.BatchMsg:
		for _, c := range msg {
			e.do(c)
		}
	default:
		e.give(msg)
	}
}

var named = map[string]tea.KeyType{"left": tea.KeyLeft, "right": tea.KeyRight, "up": tea.KeyUp, "down": tea.KeyDown, "enter": tea.KeyEnter, "esc": tea.KeyEsc}

func (e *explorer) press(key string) {
	if k, ok := named[key]; ok {
		e.give(tea.KeyMsg{Type: k})
		return
	}
	if key == "space" {
		e.give(tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}})
		return
	}
	e.give(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(key)})
}

// record walks and writes the picture.
func record(to io.Writer) error {
	lipgloss.SetColorProfile(termenv.ANSI256)
	lipgloss.SetHasDarkBackground(true)
	car, err := carfile.Demo(carfile.DemoName)
	if err != nil {
		return err
	}
	run := func([]string, units.System, int) (string, bool) { return "", false }
	e := &explorer{tui.New(tui.Source{Name: "demo", Load: func() (*model.Car, error) { return car, nil }, Run: run}, car, car.Speed, units.Metric)}
	e.do(e.m.Init())
	e.give(tea.WindowSizeMsg{Width: columns, Height: lines})
	w := &writer{lines: map[string]int{}}
	for _, f := range walk {
		for _, k := range strings.Fields(f.keys) {
			e.press(k)
		}
		w.frame(e.m.View(), f.says)
	}
	out := bufio.NewWriter(to)
	w.write(out)
	return out.Flush()
}

// writer gathers the frames; lines that come again are drawn once.
type writer struct {
	lines  map[string]int
	drawn  []string
	frames [][]int
	says   []string
}

func (w *writer) frame(view, says string) {
	e := vt.NewEmulator(columns, lines)
	go func() { _, _ = io.Copy(io.Discard, e) }() // an emulator waits until its answers are read
	_, _ = e.Write([]byte(strings.ReplaceAll(view, "\n", "\r\n")))
	var rows []int
	for y := range lines {
		text := line(e, y)
		n, met := w.lines[text]
		if !met {
			n = len(w.drawn)
			w.lines[text] = n
			w.drawn = append(w.drawn, text)
		}
		rows = append(rows, n)
	}
	w.frames, w.says = append(w.frames, rows), append(w.says, says)
}

func hex(c color.Color, otherwise string) string {
	if c == nil {
		return otherwise
	}
	r, g, b, _ := c.RGBA()
	return fmt.Sprintf("#%02x%02x%02x", r>>8, g>>8, b>>8)
}

const ground, ink = "#101014", "#d8d8d8"

// line draws a line of the screen at y = 0.
func line(e *vt.Emulator, y int) string {
	var b strings.Builder
	for x := 0; x < columns; {
		c := e.CellAt(x, y)
		if c == nil || c.Content == "" {
			x++
			continue
		}
		fore, back := hex(c.Style.Fg, ink), hex(c.Style.Bg, "")
		if c.Style.Attrs&(1<<5) != 0 { // reverse
			if back == "" {
				back = ground
			}
			fore, back = back, fore
		}
		n := 0 // cells that look alike and are drawn alike
		text := ""
		r := []rune(c.Content)[0]
		for x+n < columns {
			d := e.CellAt(x+n, y)
			if d == nil || d.Content == "" || d.Style != c.Style || drawnAs([]rune(d.Content)[0]) != drawnAs(r) {
				break
			}
			text += d.Content
			n++
		}
		n = max(n, 1)
		if back != "" {
			fmt.Fprintf(&b, `<rect x="%g" width="%g" height="%g" fill="%s"/>`, wide*float64(x), wide*float64(n), high, back)
		}
		switch drawnAs(r) {
		case asShape:
			fmt.Fprintf(&b, `<path d="%s" fill="%s"/>`, shapes(x, []rune(text)), fore)
		default:
			weight := ""
			if c.Style.Attrs&1 != 0 {
				weight = ` font-weight="bold"`
			}
			for _, w := range words(text) {
				fmt.Fprintf(&b, `<text x="%g" y="12" textLength="%g" fill="%s"%s xml:space="preserve">%s</text>`, wide*float64(x+w.from),
					wide*float64(len([]rune(w.text))), fore, weight, html.EscapeString(w.text))
			}
		}
		x += n
	}
	return b.String()
}

// word is a text with no wide gap in it, and the cell that it begins at.
type word struct {
	from int
	text string
}

// words parts a text at two or more blanks, so that what follows a gap stands where it belongs in any font.
func words(text string) (all []word) {
	cells := []rune(text)
	for i := 0; i < len(cells); i++ {
		if cells[i] == ' ' {
			continue
		}
		from := i
		for i+1 < len(cells) && !(cells[i+1] == ' ' && (i+2 >= len(cells) || cells[i+2] == ' ')) {
			i++
		}
		all = append(all, word{from, string(cells[from : i+1])})
	}
	return all
}

// How a sign is drawn.
const (
	asText = iota
	asShape
)

func drawnAs(r rune) int {
	if r > 0x2800 && r <= 0x28ff || strings.ContainsRune("─│┊┃└├┤═▀▄█▌▐▖▗▘▙▚▛▜▝▞▟", r) {
		return asShape
	}
	return asText
}

// quarters of the block elements: upper left 1, upper right 2, lower left 4, lower right 8.
var quarters = map[rune]int{'▀': 3, '▄': 12, '█': 15, '▌': 5, '▐': 10, '▖': 4, '▗': 8, '▘': 1, '▙': 13, '▚': 9, '▛': 7, '▜': 11, '▝': 2, '▞': 6, '▟': 14}

// shapes is the path of signs that are drawn as shapes, from a column on.
func shapes(x int, signs []rune) string {
	var b strings.Builder
	box := func(x, y, w, h float64) { fmt.Fprintf(&b, "M%g %gh%gv%gh-%gz", x, y, w, h, w) }
	for i := 0; i < len(signs); i++ {
		r, left := signs[i], wide*float64(x+i)
		if strings.ContainsRune("█▀▄─", r) { // a run of them is one box
			from := i
			for i+1 < len(signs) && signs[i+1] == r {
				i++
			}
			y, h := 0.0, high
			switch r {
			case '▀':
				h = high / 2
			case '▄':
				y, h = high/2, high/2
			case '─':
				y, h = high/2-0.5, 1
			}
			box(left, y, wide*float64(i-from+1), h)
			continue
		}
		middle, centre := left+wide/2, high/2
		switch q, block := quarters[r]; {
		case block:
			for k := range 4 {
				if q&(1<<k) != 0 {
					box(left+wide/2*float64(k%2), high/2*float64(k/2), wide/2, high/2)
				}
			}
		case r > 0x2800:
			for k, bit := range []rune{1, 2, 4, 64, 8, 16, 32, 128} {
				if (r-0x2800)&bit != 0 {
					box(left+wide*(0.25+0.5*float64(k/4))-1, high*(0.125+0.25*float64(k%4))-1, 2, 2)
				}
			}
		case r == '═':
			box(left, centre-2, wide, 1)
			box(left, centre+1, wide, 1)
		case r == '│':
			box(middle-0.5, 0, 1, high)
		case r == '┃':
			box(middle-1, 0, 2, high)
		case r == '┊':
			for k := range 4 {
				box(middle-0.5, 1+4*float64(k), 1, 2)
			}
		case r == '└':
			box(middle-0.5, 0, 1, centre)
			box(middle, centre-0.5, wide/2, 1)
		case r == '├':
			box(middle-0.5, 0, 1, high)
			box(middle, centre-0.5, wide/2, 1)
		case r == '┤':
			box(middle-0.5, 0, 1, high)
			box(left, centre-0.5, wide/2, 1)
		}
	}
	return b.String()
}

// write writes the picture: the lines, then the frames that use them.
func (w *writer) write(b *bufio.Writer) {
	n := len(w.frames)
	width, height := wide*columns+2*border, high*(lines+2)+2*border
	fmt.Fprintf(b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %.0f %.0f" width="%.0f" height="%.0f" font-family="ui-monospace,'DejaVu Sans Mono',Menlo,Consolas,monospace" font-size="13">`+"\n",
		width, height, width, height)
	fmt.Fprintf(b, "<title>a walk through the explorer with the invented demo car</title>\n<style>.f{visibility:hidden;animation:w %ds step-end infinite}.f0{visibility:visible}@keyframes w{0%%{visibility:visible}%.3f%%{visibility:hidden}}@media (prefers-reduced-motion:reduce){.f{animation:none}}</style>\n",
		n*seconds, 100/float64(n))
	fmt.Fprintf(b, `<rect width="100%%" height="100%%" rx="6" fill="%s"/>`+"\n<defs>\n", ground)
	for i, l := range w.drawn {
		fmt.Fprintf(b, `<g id="l%d">%s</g>`+"\n", i, l)
	}
	fmt.Fprint(b, "</defs>\n")
	for i, rows := range w.frames {
		first := ""
		if i == 0 {
			first = " f0"
		}
		fmt.Fprintf(b, `<g class="f%s" style="animation-delay:%ds">`, first, i*seconds)
		for y, l := range rows {
			if w.drawn[l] != "" {
				fmt.Fprintf(b, `<use href="#l%d" x="%g" y="%g"/>`, l, border, border+high*float64(y))
			}
		}
		fmt.Fprintf(b, `<text x="%g" y="%g" fill="#ffd787" font-weight="bold">%s</text></g>`+"\n", border, border+high*(lines+1.3), html.EscapeString(w.says[i]))
	}
	fmt.Fprint(b, "</svg>\n")
}
