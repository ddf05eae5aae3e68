package tui

import (
	"fmt"
	"math"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model/choose"
	"stanchion/model/laps"
	"stanchion/model/units"
	"stanchion/model/words"
)

// openLaps opens the page on laps by setting: of the notes that are listed, or of all.
func (m Model) openLaps() (Model, tea.Cmd) {
	notes, of := m.book.Notes, ""
	if b, ok := m.notebook(); ok && b.filter() != "" {
		notes, of = slices.Clone(b.notes(m)), fmt.Sprintf(" with %q", b.filter())
		slices.Reverse(notes) // in the order driven
	}
	kept, left := choose.LapNotes(m.table, notes)
	if len(kept)+len(left) == 0 {
		m.message = "no note" + of + " has lap times: the line \"lap times\" of a note takes them"
		return m, nil
	}
	a := laps.Analyse(laps.OfNotes(kept))
	all, from := a.Differences(), words.LapsOfNotes(kept, left)
	return m.over(func(m Model) []string { return m.lapsText("laps by setting"+of, a, all, from) }), nil
}

// lapsText is the page: the answer first, then the runs of each setting on one scale, what was left out, and the fastest
// against the others.
func (m Model) lapsText(head string, a *laps.Analysis, all []laps.Difference, from []string) []string {
	lines := append([]string{titleStyle.Render(head), ""}, words.LapsAnswer(all, m.settingName)...)
	lines = append(lines, "")
	if plot := m.lapsPlot(a); plot != nil {
		lines = append(append(lines, plot...), "")
	}
	lines = append(lines, words.LapsRest(a, all, m.settingName)...)
	lines = append(append(lines, ""), from...)
	return append(lines, "", words.LapsCaution)
}

// lapsPlot is a line for each setting with its laps and the means of its runs on one scale; in words the means.
func (m Model) lapsPlot(a *laps.Analysis) (lines []string) {
	lo, hi := a.Span()
	if math.IsNaN(lo) {
		return nil
	}
	order, wide := a.Fastest(), 7
	for _, s := range order {
		wide = max(wide, len([]rune(m.settingName(s))))
	}
	wide = min(wide, 24)
	one := fmt.Sprintf("%-*s  %4s  %4s  %8s", wide, "setting", "runs", "laps", "mean")
	cells := m.width - 1 - len([]rune(one)) - 2
	below := cells < 24 // the scale goes below each setting
	if below {
		cells = m.width - 3
	}
	cells = max(min(cells, 60), 12)
	from, to := words.LapTime(lo), words.LapTime(hi)
	scale := from + strings.Repeat(" ", max(cells-len(from)-len(to), 1)) + to
	switch {
	case m.words:
	case below:
		lines = append(lines, one, "  "+scale)
	default:
		lines = append(lines, one+"  "+scale)
	}
	for _, s := range order {
		mean, runs, n, _ := a.Mean(s)
		line := leftPad(m.settingName(s), wide) + fmt.Sprintf("  %4d  %4d  %8s", runs, n, words.LapTime(mean))
		if m.words {
			lines = append(lines, fmt.Sprintf("%s: mean %s; runs %s", m.settingName(s), words.LapTime(mean), strings.Join(runMeans(a, s), ", ")))
			continue
		}
		strip := lapStrip(a, s, lo, hi, cells)
		if below {
			lines = append(lines, line, "  "+strip)
		} else {
			lines = append(lines, line+"  "+strip)
		}
	}
	if !m.words {
		lines = append(lines, "○ a lap, ● mean of a run")
	}
	return lines
}

// runMeans spells the means of a setting's runs.
func runMeans(a *laps.Analysis, setting string) (all []string) {
	for i := range a.Runs {
		if r := &a.Runs[i]; r.Setting == setting && r.Mean > 0 {
			all = append(all, fmt.Sprintf("%s (%s)", words.LapTime(r.Mean), units.Count(r.N, "lap")))
		}
	}
	return all
}

// lapStrip draws the laps of a setting and the means of its runs on a scale of so many cells.
func lapStrip(a *laps.Analysis, setting string, lo, hi float64, cells int) string {
	strip := []rune(strings.Repeat("·", cells))
	put := func(t float64, mark rune) {
		at := cells / 2
		if hi > lo {
			at = int(math.Round((t - lo) / (hi - lo) * float64(cells-1)))
		}
		strip[min(max(at, 0), cells-1)] = mark
	}
	for _, means := range []bool{false, true} { // means on top
		for i := range a.Runs {
			r := &a.Runs[i]
			switch {
			case r.Setting != setting || !(r.Mean > 0):
			case means:
				put(r.Mean, '●')
			default:
				r.Counting(func(t float64) { put(t, '○') })
			}
		}
	}
	return string(strip)
}
