package tui

import (
	"fmt"
	"math"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"stanchion/model/figures"
	"stanchion/model/words"
)

// plainText leaves colours out of a text, and says in words what marks stand for.
func plainText(s string) string {
	s = ansi.Strip(s)
	if strings.HasPrefix(s, "marks:") {
		return s // which is about the marks themselves
	}
	for _, r := range [][2]string{{"▸", ""}, {"◂", ""}, {"•", ""}, {"×", "not:"}, {"✗", "not:"}, {"≈", "(less than it is uncertain by)"},
		{"−", "-"}, {"──", ""}, {"Δ", "change of "}} {
		s = strings.ReplaceAll(s, r[0], r[1])
	}
	return strings.TrimSpace(s)
}

// spoken is the setting that is shown, in sentences.
func (m Model) spoken() []string {
	r := m.row()
	var lines []string
	add := func(format string, args ...any) { lines = append(lines, plainText(fmt.Sprintf(format, args...))) }
	u := m.units
	add("Setting %d of %d, %s.", m.current+1, len(m.table.Rows), r.ID)
	figure := func(k figures.Key) string { return words.LongFigure(m.table, r, figures.Get(k), u) }
	add("Height %s, angle to ground %s, angle of attack %s, %s.", figure(figures.Height), figure(figures.GroundAngle),
		figure(figures.Attack), words.Stall(r))
	if math.IsNaN(r.Downforce) {
		add("No forces are known at %s.", u.Speed(m.table.Speed))
	} else {
		add("At %s downforce %s, drag %s, front share %s, balance shift %s.", u.Speed(m.table.Speed),
			figure(figures.Downforce), figure(figures.Drag), figure(figures.FrontShare), figure(figures.BalanceShift))
	}
	limits := "Keeps all limits"
	if !r.Within() {
		limits = "BREAKS A LIMIT: " + strings.Join(words.Outside(r, u), "; ")
	}
	hold, _ := m.holdText()
	add("%s. %s.", limits, upper(hold))
	if r.Gap.Known() {
		add("Clearance: %s.", words.Gap(r.Gap, u))
	}
	for _, l := range words.BoltLines(m.car, r.Setting) {
		add("Bolts, %s.", l)
	}
	if ran := m.ranLine(r); ran != "" {
		add("%s.", upper(ran))
	}
	if k := m.keptRow(); k != nil && k != r {
		change := func(key figures.Key) string {
			f := figures.Get(key)
			return f.Change(f.Of(m.table, r), f.Of(m.table, k), u) + " " + f.ChangeUnit(u)
		}
		add("Against the kept setting %s: downforce %s, front share %s; w says all.", k.ID, change(figures.Downforce), change(figures.FrontShare))
	}
	switch n := len(m.car.Assumed); n {
	case 0:
	case 1:
		add("One thing is assumed: enter says which.")
	default:
		add("%d things are assumed: enter says which.", n)
	}
	return lines
}

// upper begins a sentence.
func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
