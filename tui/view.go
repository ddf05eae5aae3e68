package tui

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"stanchion/model/words"
	"stanchion/tui/widgets"
)

// View draws the screen: exactly as many lines as the terminal has, none wider.
func (m Model) View() string {
	switch {
	case m.width == 0:
		return ""
	case m.car == nil && m.open == nil: // the last look, on the way out
		return widgets.Fit([]string{m.message}, m.width, m.height, m.glyphs)
	case m.width < MinWidth || m.height < MinHeight:
		return widgets.Fit(widgets.Wrap(fmt.Sprintf("stanchion needs a window of %d×%d; this one has %d×%d. q leaves; stanchion --plain says it in words.",
			MinWidth, MinHeight, m.width, m.height), m.width), m.width, m.height, m.glyphs)
	}
	if m.open != nil {
		if whole, drawn := m.open.view(m); drawn {
			return whole
		}
	}
	screen := widgets.NewScreen(m.width, m.height, m.glyphs)
	screen.Put(widgets.Rect{X: 0, Y: 0, W: m.width, H: 1}, []string{m.header()})
	if m.large != notLarge {
		m.largeView(screen)
	} else {
		m.homeView(screen)
	}
	screen.Put(widgets.Rect{X: 0, Y: m.height - 2, W: m.width, H: 2}, m.lastLines(m.standing()))
	return screen.String()
}

// large is a picture that takes the whole screen.
type large int

const (
	notLarge large = iota
	largeTable
	largeMap
	largeSide
)

// panes lays out the home screen.
func (m Model) panes() panes {
	lines := 8
	if m.grid != nil {
		lines = len(m.grid.Lines) + 6
	}
	return layout(m.width, m.height, lines)
}

// homeView draws all panes.
func (m Model) homeView(screen *widgets.Screen) {
	p := m.panes()
	pane := func(r widgets.Rect, title string, view func(w, h int) []string) {
		if r.W > 0 && r.H > 1 {
			screen.Pane(r, title, view)
		}
	}
	joint := m.focusJoint()
	see := m.headSight(p.size)
	pane(p.whole, m.sightName(seeWhole, 0), m.sideView(seeWhole, 0))
	head, foot := joint, 0
	if p.size == widest {
		head = len(m.car.Joints) - 1
		if joint != head {
			foot = joint
		}
	}
	pane(p.head, m.sightName(see, head), m.sideView(see, head))
	if head == 0 {
		pane(p.foot, m.sightName(seeParts, 0), m.sideView(seeParts, 0))
	} else {
		pane(p.foot, m.sightName(seeJoint, foot), m.sideView(seeJoint, foot))
	}
	table := m.tableTitle(p)
	if p.size == phone { // there is no room for a legend
		table += " · × breaks a limit"
		if ansi.StringWidth(table) > m.width-4 {
			table = strings.Replace(table, "hole table", "holes", 1)
		}
	}
	pane(p.table, table, m.tablePane)
	pane(p.chart, "by place · "+m.paintTitle(), m.mapView)
	pane(p.figures, m.figuresTitle(), m.figuresView)
	pane(p.bolts, "bolts, each side", m.boltsView)
	if p.more.H > 1 {
		screen.Put(p.more, m.moreView(p.more.W, p.more.H))
	}
}

// tableTitle is the title of the hole table in the home screen: what its cells mean where there is no room for that in
// the legend below it.
func (m Model) tableTitle(p panes) string {
	by := paintings()[m.paint]
	title := m.paintTitle()
	if by.brief != "" && p.chart.W == 0 && p.size != phone {
		title = by.key + " " + by.brief
	}
	return fitting(p.table.W, "hole table · "+title, title)
}

// fitting is the first title that fits into a pane that is w wide, or else the last.
func fitting(w int, titles ...string) string {
	for _, t := range titles {
		if ansi.StringWidth(t) <= w-titleFrame {
			return t
		}
	}
	return titles[len(titles)-1]
}

// titleFrame is what stands around the title of a pane: two dashes and a space before it, a space behind.
const titleFrame = 4

// headSight is what the picture of the head shows: on large screens the whole rear has a pane of its own.
func (m Model) headSight(s size) sight {
	if s >= wide && m.sight == seeWhole && m.large == notLarge {
		return seeParts
	}
	return m.sight
}

// tablePane is the table in the home screen: on the smallest ones its line alone.
func (m Model) tablePane(w, h int) []string {
	if sizeOf(m.width, m.height) == phone {
		return m.tableLine(w, h)
	}
	return m.holeTableView(w, h)
}

// largeView draws one picture over the whole body of the screen.
func (m Model) largeView(screen *widgets.Screen) {
	r := widgets.Rect{X: 0, Y: 1, W: m.width, H: m.height - 3}
	foot := m.underLarge()
	switch m.large {
	case largeTable:
		screen.Pane(widgets.Rect{X: r.X, Y: r.Y, W: r.W, H: r.H - len(foot)}, "hole table · "+m.paintTitle(), m.holeTableView)
	case largeMap:
		by := "by place · " + m.paintTitle()
		screen.Pane(widgets.Rect{X: r.X, Y: r.Y, W: r.W, H: r.H - len(foot)}, fitting(r.W, by+" · angle to level, height of the quarter chord", by+" · angle to level, height", by), m.mapView)
	default:
		foot = nil
		screen.Pane(r, m.sightName(m.sight, m.focusJoint()), m.sideView(m.sight, m.focusJoint()))
	}
	screen.Put(widgets.Rect{X: 0, Y: r.Y + r.H - len(foot), W: r.W, H: len(foot)}, foot)
}

// figuresTitle says which setting the figures are of, and what they are compared with.
func (m Model) figuresTitle() string {
	if m.row() == nil {
		return "figures"
	}
	if sizeOf(m.width, m.height) == phone {
		return m.table.Name(m.row().Setting)
	}
	return "at " + m.units.Speed(m.table.Speed)
}

// lastLines are the last two lines: what is typed wrong, a message, or how things stand; then what is typed, or
// what keys do. A message that is too long for one line takes the other too.
func (m Model) lastLines(standing string) []string {
	prompt, typing := in[promptMode](m)
	text, style := m.message, selectedStyle
	if typing && prompt.fault != "" {
		text, style = prompt.fault, faultStyle
	}
	if text == "" {
		return []string{ansi.Truncate(standing, m.width, "…"), m.footer()}
	}
	lines := widgets.Wrap(m.glyphs.Spell(text), m.width)
	if len(lines) == 1 || typing {
		return []string{style.Render(ansi.Truncate(text, m.width, "…")), m.footer()}
	}
	if len(lines) > 2 {
		lines[1] = ansi.Truncate(lines[1], m.width-1, "") + "…"
	}
	return []string{style.Render(lines[0]), style.Render(lines[1])}
}

// standing says how the setting stands: its limits, its strength, and that it is an estimate.
func (m Model) standing() string {
	r := m.row()
	if r == nil {
		return ""
	}
	hold, bad := m.holdText()
	style := quietStyle
	if bad {
		style = outsideStyle
	}
	if why := m.notChecked(); why != "" && m.width >= 100 {
		hold += ": " + ansi.Truncate(why, m.width/3, "…")
	}
	hold = style.Render(upper(hold))
	if m.frame != nil && !bad && m.width >= 100 {
		hold += quietStyle.Render(" up to " + m.units.Speed(m.frame.Table.Speed))
	}
	var first string
	switch out := words.Outside(r, m.units); {
	case len(out) > 0:
		first = outsideStyle.Render("× " + out[0])
		if len(out) > 1 {
			first += outsideStyle.Render(fmt.Sprintf(" and %d more", len(out)-1))
		}
	case r.Stalled:
		first = outsideStyle.Render("~ STALLED: figures are rough")
	default:
		first = withinStyle.Render("Keeps all limits")
	}
	// The verdict and its caution stay; what else there is gives way where there is no room.
	for _, caution := range []string{" · an estimate, not approval of wing or mounting", " · an estimate, not approval", " · an estimate"} {
		whole := first + " · " + hold + quietStyle.Render(caution)
		if ansi.StringWidth(whole) <= m.width {
			return whole
		}
	}
	rest := " · " + hold + quietStyle.Render(" · an estimate")
	if room := m.width - ansi.StringWidth(rest); room > 4 {
		return ansi.Truncate(first, room, "…") + rest
	}
	return hold + quietStyle.Render(" · an estimate")
}

// footer shows the prompt, or what keys do.
func (m Model) footer() string {
	if p, ok := in[promptMode](m); ok {
		return p.label + ": " + p.input.View()
	}
	if d, ok := in[drillMode](m); ok {
		return selectedStyle.Render(ansi.Truncate(m.footerOf(d), m.width, "…"))
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
	const last = ": jobs  ? keys  q quit"
	text := ""
	for _, k := range footerOrder {
		if ansi.StringWidth(text+label[k]+"  "+last) > w {
			break
		}
		text += label[k] + "  "
	}
	return text + last
}
