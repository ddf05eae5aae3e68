package tui

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"stanchion/tui/widgets"
)

// View draws the screen: exactly as many lines as the terminal has, none wider.
func (m Model) View() string {
	switch {
	case m.width == 0:
		return ""
	case m.car == nil && m.open == nil: // the last look, on the way out
		return widgets.Fit([]string{m.message}, m.width, m.height)
	case m.width < minWidth || m.height < minHeight:
		return widgets.Fit(widgets.Wrap(fmt.Sprintf("stanchion needs a window of %d×%d; this one has %d×%d. q leaves.", minWidth, minHeight,
			m.width, m.height), m.width), m.width, m.height)
	}
	if m.open != nil {
		if whole, drawn := m.open.view(m); drawn {
			return whole
		}
	}
	p := layout(m.width, m.height)
	screen := widgets.NewScreen(m.width, m.height)
	screen.Put(widgets.Rect{X: 0, Y: 0, W: m.width, H: 1}, []string{m.header()})
	screen.Pane(p.side, sightNames[m.sight], m.sideView)
	screen.Pane(p.chart, m.mapTitle(), m.mapView)
	screen.Pane(p.figures, m.figuresTitle(), m.figuresView)
	if d, ok := in[drillMode](m); ok {
		screen.Pane(p.bolts, "a new hole in "+m.car.Parts[d.hole.Part].Name, func(w, h int) []string { return d.lines(m, w, h) })
	} else {
		screen.Pane(p.bolts, m.boltsTitle(), m.boltsView)
	}
	screen.Put(widgets.Rect{X: 0, Y: m.height - 1, W: m.width, H: 1}, []string{m.footer()})
	if prompt, ok := in[promptMode](m); ok && prompt.fault != "" {
		screen.Over(m.height-2, faultStyle.Render(prompt.fault))
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
