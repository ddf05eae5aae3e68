package tui

import (
	"fmt"
	"math"
	"regexp"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"stanchion/model/units"
)

// header names the car, the setting, the speed and the air; a fault of the car file takes its place.
func (m Model) header() string {
	if n := len(m.faults); n > 0 {
		return faultStyle.Render(m.faultLine())
	}
	right := m.units.Speed(m.speed)
	if m.table != nil && m.width >= 70 {
		right += fmt.Sprintf("  air %.3f kg/m³", m.table.Density)
	}
	if m.working || m.picking() {
		right = "working it out…  " + right
	}
	left := titleStyle.Render(m.car.Name)
	if p := m.proposalText(); p != "" {
		left = outsideStyle.Render(p) + "  " + left
	}
	if r := m.row(); r != nil && m.width >= 70 {
		left += "  " + selectedStyle.Render(m.table.Name(r.Setting))
		if m.is(r, m.onCar) {
			left += " on the car"
		}
	}
	if laid := m.laid(); laid != "" {
		left += faultStyle.Render(laid)
	}
	right = m.glyphs.Spell(right)
	room := m.width - ansi.StringWidth(right) - 1
	// What the figures are scaled by, and how many values are assumed, stays; what else there is gives way.
	scaled, assumed := m.scaledText(false), m.assumedText(m.width < 80)
	if ansi.StringWidth(left+scaled+assumed) > room {
		assumed = m.assumedText(true)
	}
	if ansi.StringWidth(left+scaled+assumed) > room {
		scaled = m.scaledText(true)
	}
	const carName = 12 // of it, that stays at least
	_, bad := m.checksText(0)
	name := ansi.StringWidth(left)
	if bad {
		name = min(name, carName)
	}
	checks, _ := m.checksText(room - name - ansi.StringWidth("  "+scaled+assumed))
	if checks != "" {
		style := assumedStyle
		if bad {
			style = outsideStyle
		}
		checks = style.Render("  " + checks)
	}
	tail := checks + selectedStyle.Render(scaled) + assumedStyle.Render(assumed)
	left = ansi.Truncate(m.glyphs.Spell(left), max(room-ansi.StringWidth(tail), 0), m.glyphs.Spell("…")) + tail
	gap := max(1, m.width-ansi.StringWidth(left)-ansi.StringWidth(right))
	return left + strings.Repeat(" ", gap) + right
}

// assumedText counts for the first line what is assumed; "" for nothing.
func (m Model) assumedText(short bool) string {
	n := len(m.car.Assumed)
	switch {
	case n == 0:
		return ""
	case short:
		return fmt.Sprintf("  %d assumed: e", n)
	}
	return "  " + units.Count(n, "value") + " assumed: e lists them"
}

// scaledText says for the first line what the figures are fitted or scaled to; "" for nothing.
func (m Model) scaledText(short bool) string {
	text := ""
	add := func(whole, brief string) {
		if short {
			whole = brief
		}
		text += "  " + whole
	}
	if m.car.TrackFit.Known() {
		add("fitted to track", "fitted")
	}
	if m.scaledToClaim() {
		add("scaled to claim", "scaled")
	}
	return text
}

// scaledToClaim reports whether the maker's figure scales the wing's lift: what a fit to the track alone does not make
// of it.
func (m Model) scaledToClaim() bool {
	if m.table == nil || !m.car.Claim.Speed.Known() || !m.car.Claim.Downforce.Known() {
		return false
	}
	scale := m.table.Wing.LiftScale
	if s := m.car.TrackFit.Downforce; m.car.TrackFit.Estimate == nil && s.Known() {
		scale /= s.Factor
	}
	return math.Abs(scale-1) > 1e-9
}

// faultAt is the place that a fault of a file begins with.
var faultAt = regexp.MustCompile(`^(.*?):(\d+)(:\d+)?: `)

// faultLine says that the car file is broken, where, and what is shown.
func (m Model) faultLine() string {
	name, line := m.src.Name, ""
	if at := faultAt.FindStringSubmatch(m.faults[0]); at != nil {
		line = ", line " + at[2]
	}
	return fmt.Sprintf("! %s: %s%s; showing the last good version; e lists, E mends", units.Printable(name), units.Count(len(m.faults), "fault"), line)
}
