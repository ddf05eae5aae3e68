package tui

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// View draws the screen: exactly as many lines as the terminal has, none wider.
func (m Model) View() string {
	switch {
	case m.width == 0:
		return ""
	case m.car == nil && m.open == nil: // the last look, on the way out
		return fit([]string{m.message}, m.width, m.height)
	case m.width < leastWidth || m.height < leastHeight:
		return fit(wrap(fmt.Sprintf("stanchion needs a window of %d×%d; this one has %d×%d. q leaves.", leastWidth, leastHeight, m.width, m.height), m.width), m.width, m.height)
	}
	if m.open != nil {
		if whole, drawn := m.open.view(m); drawn {
			return whole
		}
	}
	p := layout(m.width, m.height)
	screen := newScreen(m.width, m.height)
	screen.put(rect{0, 0, m.width, 1}, []string{m.header()})
	screen.pane(p.side, sightNames[m.sight], m.sideView)
	screen.pane(p.chart, m.mapTitle(), m.mapView)
	screen.pane(p.figures, m.figuresTitle(), m.figuresView)
	if d, ok := in[drillMode](m); ok {
		screen.pane(p.bolts, "a new hole in "+m.car.Parts[d.hole.Part].Name, func(w, h int) []string { return d.lines(m, w, h) })
	} else {
		screen.pane(p.bolts, m.boltsTitle(), m.boltsView)
	}
	screen.put(rect{0, m.height - 1, m.width, 1}, []string{m.footer()})
	if prompt, ok := in[promptMode](m); ok && prompt.fault != "" {
		screen.over(m.height-2, faultStyle.Render(prompt.fault))
	}
	return screen.String()
}

// header names the car, the speed and the air.
func (m Model) header() string {
	right := m.units.Speed(m.speed)
	if m.table != nil {
		right += fmt.Sprintf("  air %.3f kg/m³", m.table.Density)
	}
	if m.working {
		right = "working it out…  " + right
	}
	left := ansi.Truncate("stanchion  "+m.car.Name+m.laid(), m.width-ansi.StringWidth(right)-1, "…")
	gap := max(1, m.width-ansi.StringWidth(left)-ansi.StringWidth(right))
	return titleStyle.Render(left) + strings.Repeat(" ", gap) + right
}

func (m Model) boltsTitle() string {
	return "bolts: upper part's hole in lower's"
}

// figuresTitle counts where in the list the setting is.
func (m Model) figuresTitle() string {
	if m.row() == nil {
		return "figures"
	}
	return fmt.Sprintf("estimate: setting %d of %d at %s", m.current+1, len(m.table.Rows), m.units.Speed(m.table.Speed))
}

// footer shows the prompt, a message, or what keys do.
func (m Model) footer() string {
	if p, ok := in[promptMode](m); ok {
		return p.label + ": " + p.input.View()
	}
	if m.message != "" {
		return selectedStyle.Render(ansi.Truncate(m.message, m.width, "…"))
	}
	if d, ok := in[drillMode](m); ok {
		return selectedStyle.Render(m.footerOf(d))
	}
	return quietStyle.Render(ansi.Truncate(footerKeys(m.width), m.width, "…"))
}

// footerKeys lists what keys do, as much as there is room for; how to get help and
// how to leave are always there.
func footerKeys(w int) string {
	label := map[string]string{}
	for _, a := range keyTable() {
		label[a.keys[0]] = a.label
	}
	const last = "? help  q quit"
	text := ""
	for _, k := range footerOrder {
		if ansi.StringWidth(text+label[k]+"  "+last) > w {
			break
		}
		text += label[k] + "  "
	}
	return text + last
}

// screen is a grid of lines that panes are put into, left to right.
type screen struct {
	w     int
	lines []string
	used  []int // cells taken in each line
}

func newScreen(w, h int) *screen { return &screen{w, make([]string, h), make([]int, h)} }

// put places lines into a rectangle, cut or filled to its size. Panes that
// share lines are put from left to right.
func (s *screen) put(r rect, lines []string) {
	for i := range r.h {
		y := r.y + i
		if y >= len(s.lines) {
			return
		}
		text := ""
		if i < len(lines) {
			text = lines[i]
		}
		if gap := r.x - s.used[y]; gap > 0 {
			s.lines[y] += strings.Repeat(" ", gap)
		}
		text = ansi.Truncate(withoutSelectors(text), r.w, "…")
		s.lines[y] += text + strings.Repeat(" ", max(0, r.w-ansi.StringWidth(text)))
		s.used[y] = r.x + r.w
	}
}

// pane puts a title line and what view draws below it.
func (s *screen) pane(r rect, title string, view func(w, h int) []string) {
	title = ansi.Truncate(title, r.w-4, "…")
	rule := strings.Repeat("─", max(0, r.w-ansi.StringWidth(title)-4))
	s.put(rect{r.x, r.y, r.w, 1}, []string{quietStyle.Render("── ") + title + quietStyle.Render(" "+rule)})
	s.put(rect{r.x, r.y + 1, r.w, r.h - 1}, view(r.w, r.h-1))
}

// over puts a text over a whole line.
func (s *screen) over(y int, text string) {
	s.lines[y], s.used[y] = "", 0
	s.put(rect{0, y, s.w, 1}, []string{text})
}

func (s *screen) String() string { return strings.Join(s.lines, "\n") }

// fit cuts or fills lines to a screen.
func fit(lines []string, w, h int) string {
	s := newScreen(w, h)
	s.put(rect{0, 0, w, h}, lines)
	return s.String()
}

// withoutSelectors leaves out variation selectors (U+FE00 to U+FE0F): after a letter
// they make it one cell or two, as the terminal likes, so no width could be promised.
func withoutSelectors(text string) string {
	if !strings.Contains(text, "\xef\xb8") { // how all of them begin in UTF-8
		return text
	}
	return strings.Map(func(r rune) rune {
		if isSelector(r) {
			return -1
		}
		return r
	}, text)
}

func isSelector(r rune) bool { return r >= '\ufe00' && r <= '\ufe0f' }
