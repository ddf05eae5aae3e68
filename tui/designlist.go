package tui

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"stanchion/model/design"
	"stanchion/model/words"
	"stanchion/tui/widgets"
)

// plateMode shows the search for plates, and then the proposals beside one another.
type plateMode struct {
	scroll  int  // of what is said of the marked one
	picture bool // it is drawn over the whole screen
}

func (plateMode) title() string { return "among the plates proposed" }

func (plateMode) typing() bool { return false }

func (p plateMode) bindings(m Model) []binding {
	if m.plates.searching {
		return []binding{
			{keys: []string{"esc", "q"}, label: "esc stops the search and goes back to the wish", does: "stop the search", run: stopSearch},
			quitting(),
		}
	}
	return []binding{
		{keys: []string{"down", "right", "j", "l", "tab"}, label: "↑↓ choose", does: "the next plate", run: nextPlate(1)},
		{keys: []string{"up", "left", "k", "h", "shift+tab"}, does: "the plate before", run: nextPlate(-1)},
		{keys: []string{"enter"}, label: "enter walk", does: "walk through its settings as if it were on the car", run: func(m Model, _ string) (Model, tea.Cmd) { return m.walkProposal() }},
		{keys: []string{"W", "S"}, label: "W write", does: "write it to a new car file", run: func(m Model, _ string) (Model, tea.Cmd) { return m.askPlateFile() }},
		{keys: []string{"esc", "q", "*"}, label: "esc back", does: "go back; the plates stay", run: func(m Model, k string) (Model, tea.Cmd) {
			p, _ := in[plateMode](m)
			if p.picture && k != "*" {
				p.picture = false
				return m.with(p), nil
			}
			return closeMode(m, k)
		}},
		{keys: []string{"i", "e"}, label: "i wish", does: "change what is wanted", run: func(m Model, _ string) (Model, tea.Cmd) { return m.with(newPlateForm(m)), nil }},
		{keys: []string{"#", "m"}, label: "# rework", does: "rework it: move its holes and its edge, lock what is settled", run: func(m Model, _ string) (Model, tea.Cmd) { return m.startRedraw() }},
		{keys: []string{"z"}, label: "z picture", does: "its picture over the whole screen, and back", run: func(m Model, _ string) (Model, tea.Cmd) {
			p, _ := in[plateMode](m)
			p.picture = !p.picture
			return m.with(p), nil
		}},
		{keys: []string{"x"}, does: "stop working out cut-outs and strength of the plates, or go on with it", run: haltPlates},
		{keys: []string{"pgdown", " "}, label: "space more", does: "more of what is said of it", run: scrollPlate(1)},
		{keys: []string{"pgup"}, does: "what is said of it, back", run: scrollPlate(-1)},
		quitting(),
	}
}

// stopSearch ends the search and opens the form again.
func stopSearch(m Model, _ string) (Model, tea.Cmd) {
	m = m.stopPlates()
	m.plates.unlooked = true
	m.message = "the search is stopped"
	return m.with(newPlateForm(m)), nil
}

func nextPlate(by int) func(Model, string) (Model, tea.Cmd) {
	return func(m Model, _ string) (Model, tea.Cmd) { return m.toPlate(m.plates.at + by), nil }
}

// toPlate marks a proposal, as far as there is one.
func (m Model) toPlate(n int) Model {
	p, _ := in[plateMode](m)
	p.scroll = 0
	m.message = ""
	if m.plates.found != nil {
		m.plates.at = min(max(n, 0), len(m.plates.found.Proposals)-1)
	}
	return m.with(p)
}

func scrollPlate(by int) func(Model, string) (Model, tea.Cmd) {
	return func(m Model, _ string) (Model, tea.Cmd) {
		p, _ := in[plateMode](m)
		most := max(len(p.said(m, m.plateText().W))-m.plateText().H, 0)
		p.scroll = min(max(p.scroll+by*max(m.plateText().H-1, 1), 0), most)
		return m.with(p), nil
	}
}

// other marks the proposal whose number is typed.
func (p plateMode) other(m Model, key tea.KeyMsg) (Model, tea.Cmd) {
	if k := key.String(); !m.plates.searching && len(k) == 1 && k >= "1" && k <= "9" {
		return m.toPlate(int(k[0] - '1')), nil
	}
	return m, nil
}

// marked is the proposal that is marked; nil while there is none.
func (m Model) marked() *design.Proposal {
	d := m.plates.found
	if d == nil || m.plates.at >= len(d.Proposals) {
		return nil
	}
	return &d.Proposals[m.plates.at]
}

// plateHead is how many lines stand above the table: who it is for, and what is wanted.
func (m Model) plateHead() []string {
	w := m.plates.wish.Wish
	if m.plates.found != nil {
		w = m.plates.found.Wish // bolts at the foot and the order of heights filled in
	}
	if w.FootBolts == 0 {
		w.FootBolts = max(4, m.base.Joints[len(m.base.Parts)-3].MinBolts) // what blank stands for
	}
	name := titleStyle.Render(m.car.Name) + "  new plates"
	switch d := m.plates.found; {
	case m.platesStale():
		name = assumedStyle.Render("The car file has changed since: i looks again") + "  " + name
	case d != nil:
		name += quietStyle.Render(" · limits at " + m.units.Speed(d.Proposals[0].Table.Speed))
	}
	lines := []string{name}
	wish := m.wrapped("For "+words.DesignWish(&w, m.units), m.width)
	if len(wish) > 2 {
		wish = append(wish[:1], ansi.Truncate(wish[1], m.width-1, "")+"…")
	}
	return append(lines, wish...)
}

// platesStale reports whether the car's file has changed since plates were looked for.
func (m Model) platesStale() bool { return m.plates.found != nil && m.plates.car != m.base }

// mouse marks the proposal under a click, and scrolls what is said of it.
func (p plateMode) mouse(m Model, msg tea.MouseMsg) (Model, tea.Cmd) {
	if m.plates.found == nil || p.picture {
		return m, nil
	}
	switch n := msg.Y - len(m.plateHead()) - 2; {
	case msg.Button == tea.MouseButtonWheelDown:
		return scrollPlate(1)(m, "")
	case msg.Button == tea.MouseButtonWheelUp:
		return scrollPlate(-1)(m, "")
	case msg.Button == tea.MouseButtonLeft && n >= 0 && n < len(m.plates.found.Proposals):
		return m.toPlate(n), nil
	}
	return m, nil
}

// plateCaution are the lines of caution that always stand there.
func (m Model) plateCaution() (lines []string) {
	for _, l := range m.wrapped(words.PlateCaution+" "+words.Caution, m.width) {
		lines = append(lines, quietStyle.Render(l))
	}
	return lines
}

// plateBody is the part of the screen below the table, for picture and text.
func (m Model) plateBody() widgets.Rect {
	top := len(m.plateHead())
	if m.plates.found != nil {
		top += 2 + len(m.plates.found.Proposals)
	}
	return widgets.Rect{X: 0, Y: top, W: m.width, H: max(m.height-2-len(m.plateCaution())-top, 0)}
}

// plateDrawn is where the picture of the marked proposal stands; empty where there is no room.
func (m Model) plateDrawn() widgets.Rect {
	r := m.plateBody()
	if r.W < 70 || r.H < 5 {
		return widgets.Rect{}
	}
	r.W = min(r.W*2/5, 2*r.H+30)
	return r
}

// plateText is where the text about it stands, without its title.
func (m Model) plateText() widgets.Rect {
	r, left := m.plateBody(), m.plateDrawn().W
	if left > 0 {
		left++
	}
	return widgets.Rect{X: left, Y: r.Y + 1, W: max(r.W-left, 1), H: max(r.H-1, 1)}
}

func (p plateMode) view(m Model) (string, bool) {
	screen := widgets.NewScreen(m.width, m.height, m.glyphs)
	caution := m.plateCaution()
	foot := quietStyle.Render(strings.Join(widgets.Flow(m.plateKeys(p), m.width)[:1], ""))
	message := quietStyle.Render(ansi.Truncate(m.tellingText(), m.width, "…"))
	if m.message != "" {
		message = selectedStyle.Render(ansi.Truncate(m.message, m.width, "…"))
	}
	if pr, ok := in[promptMode](m); ok {
		foot = m.footer()
		if pr.fault != "" {
			message = faultStyle.Render(ansi.Truncate(pr.fault, m.width, "…"))
		}
	}
	body := widgets.Rect{X: 0, Y: 1, W: m.width, H: max(m.height-3-len(caution), 0)}
	switch {
	case m.plates.found == nil:
		screen.Put(widgets.Rect{X: 0, Y: 0, W: m.width, H: max(m.height-2-len(caution), 0)}, append(m.plateHead(), "", m.progressLine()))
	case p.picture:
		screen.Put(widgets.Rect{X: 0, Y: 0, W: m.width, H: 1}, m.plateHead())
		screen.Pane(body, m.plateTitle(body.W), m.plateView)
	default:
		head := m.plateHead()
		screen.Put(widgets.Rect{X: 0, Y: 0, W: m.width, H: len(head)}, head)
		table := m.plateTable(m.width)
		screen.Put(widgets.Rect{X: 0, Y: len(head), W: m.width, H: len(table)}, table)
		drawn, text := m.plateDrawn(), m.plateText()
		if drawn.W > 0 {
			screen.Pane(drawn, m.plateTitle(drawn.W), m.plateView)
		}
		said := p.said(m, text.W)
		title := fmt.Sprintf("plate %d", m.plates.at+1)
		if n := len(said) - text.H; n > 0 {
			title += fmt.Sprintf(" · lines %d to %d of %d", p.scroll+1, p.scroll+text.H, len(said))
		}
		said = said[min(p.scroll, len(said)):]
		text.Y, text.H = text.Y-1, text.H+1
		screen.Pane(text, title, func(int, int) []string { return said })
	}
	lines := append(append([]string{}, caution...), message, foot)
	screen.Put(widgets.Rect{X: 0, Y: m.height - len(lines), W: m.width, H: len(lines)}, lines)
	return screen.String(), true
}

// plateKeys are what keys do, for the last line.
func (m Model) plateKeys(p plateMode) (parts []string) {
	for _, b := range p.bindings(m) {
		if b.label != "" {
			parts = append(parts, b.label)
		}
	}
	return parts
}

// progressLine says how far the search is.
func (m Model) progressLine() string {
	const wide = 30
	full := int(m.plates.part*wide + 0.5)
	return fmt.Sprintf("trying plates  %s%s  %.0f %%", strings.Repeat("█", full), strings.Repeat("·", wide-full), 100*m.plates.part)
}

func (plateMode) typed(*walker, string) {}

// merit reports whether a proposal is the best in a way.
func merit(p *design.Proposal, way design.Merit) bool { return slices.Contains(p.Merits, way) }
