package tui

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// keyNames spells keys for people.
var keyNames = map[string]string{
	"left": "←", "right": "→", "up": "↑", "down": "↓", " ": "space", "pgdown": "page down", "pgup": "page up",
	"shift+tab": "shift tab",
}

// KeyHelp lists every key with what it does, a line each, under what they have in
// common.
func KeyHelp() []string {
	var lines []string
	head := func(title string) {
		if lines != nil {
			lines = append(lines, "")
		}
		lines = append(lines, title)
	}
	for _, g := range allGroups() {
		head(g.title)
		for _, a := range g.actions {
			lines = append(lines, keyLine(a.keys, a.does))
		}
	}
	for _, open := range modes() {
		head(open.title())
		for _, b := range open.bindings(Model{}) {
			lines = append(lines, keyLine(b.keys, b.does))
		}
	}
	return lines
}

// keyLine is the line of one action in the help.
func keyLine(keys []string, does string) string {
	names := make([]string, len(keys))
	for i, k := range keys {
		names[i] = k
		if n, ok := keyNames[k]; ok {
			names[i] = n
		}
	}
	return fmt.Sprintf("  %-14s %s", strings.Join(names, ", "), does)
}

// keyColumn is where what a key does begins in keyLine, where the names of the keys are not longer.
const keyColumn = 17

// hanging wraps a line so that what goes on below stands under its text, from a column on.
func (m Model) hanging(line string, column, w int) []string {
	if ansi.StringWidth(line) <= w || m.words || w < 2*column {
		return []string{line}
	}
	first := m.wrapped(line, w)[0]
	lines := []string{first}
	for _, l := range m.wrapped(strings.TrimSpace(strings.TrimPrefix(line, first)), w-column) {
		lines = append(lines, strings.Repeat(" ", column)+l)
	}
	return lines
}

// helpText is what the help screen says, before it is cut to the window.
func (m Model) helpText() []string {
	lines := []string{titleStyle.Render("keys"), ""}
	for _, l := range KeyHelp() {
		lines = append(lines, m.hanging(l, keyColumn, m.width-1)...)
	}
	lines = append(lines, "", "mouse", "  a click in table, map or close view goes to the setting there, one on a figure asks why",
		"  the wheel scrolls pages, walks over table and map, and zooms over a picture", "  hold shift to select text, as the terminal does", "",
		"On a page about a setting the keys of the other pages lead there.", "",
		titleStyle.Render("what you see"), "")
	for _, text := range []string{
		"a setting goes by its row in the table of holes and the hole of the wing's joint that tells it from all others; / takes such a name, too.",
		"height: of the quarter-chord point above ground. angle: chord line against level ground, trailing edge up is positive. angle of attack: the chord against the air that meets it.",
		"± is one standard uncertainty, from play, reading of the angle, flow, section data, speed and air; \"stanchion show\" lists the largest first. ≈ before a change: smaller than the uncertainty of the difference; ?: less than twice as large, so not sure.",
		"share shift: percentage points (pp) of front share that the wing's forces move, against the same car at the same speed without them.",
		"settings that were run, by the last note that says how they felt: u understeer, o oversteer, = neutral, ? not noted. Grip is from −3 (none) to +3 (more than wanted).",
		"marks: [ ] this setting, ( ) the kept one, < > on the car, × breaks a limit, ~ stalled, + what a new hole would add; on a map of many settings ◆ this one, ◇ the kept one, digits from 0 for the least to 9 for the most. A figure with * behind its name rests on something assumed: e says on what.",
		"Estimates for choosing a setting, not approval: a wing that comes off hurts people. Have a licensed engineer check what runs on track or road, and keep to local road rules and the event's technical rules.",
	} {
		lines = append(lines, m.wrapped(text, min(m.width-2, 96))...)
		lines = append(lines, "")
	}
	return lines
}
