package tui

import (
	"fmt"
	"math"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"stanchion/model"
	"stanchion/model/units"
	"stanchion/model/words"
)

// plainText leaves colours out of a text, and says in words what marks stand for.
func plainText(s string) string {
	s = ansi.Strip(s)
	if strings.HasPrefix(s, "marks:") {
		return s // which is about the marks themselves
	}
	for _, r := range [][2]string{{"▸", ""}, {"◂", ""}, {"•", ""}, {"×", "not:"}, {"✗", "not:"}, {"≈", "(less than it is uncertain by)"}, {"−", "-"}, {"──", ""}, {"Δ", "change of "}} {
		s = strings.ReplaceAll(s, r[0], r[1])
	}
	return strings.TrimSpace(s)
}

// spoken is the setting that is shown, in sentences.
func (m Model) spoken() []string {
	r := m.row()
	var lines []string
	add := func(format string, args ...any) { lines = append(lines, plainText(fmt.Sprintf(format, args...))) }
	u, bands := m.units, m.table.Bands(r)
	add("Setting %d of %d, %s.", m.current+1, len(m.table.Rows), r.ID)
	add("Height %s, angle to ground %s° ± %s°, angle of attack %s°, %s.", u.Length(r.Height), units.Fixed(r.Angle/model.Deg, 1), units.Fixed(bands.Angle/model.Deg, 1), units.Fixed(r.Attack/model.Deg, 1), words.Stall(r))
	if math.IsNaN(r.Downforce) {
		add("No forces are known at %s.", u.Speed(m.table.Speed))
	} else {
		add("At %s downforce %s ± %s, drag %s %s, front share %s %%, balance shift %s ± %s points.", u.Speed(m.table.Speed), u.Force(r.Downforce), u.ForceFigure(bands.Downforce),
			u.ForceFigure(r.Drag), u.ForceUnit(), units.Fixed(100*r.Share, 1), units.Signed(100*r.Shift, 1), units.Fixed(100*bands.Shift, 1))
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
		add("Against the kept setting %s: downforce %s %s, front share %s points; w says all.", k.ID,
			units.Signed((r.Downforce-k.Downforce)/m.units.ForceSize(), 0), m.units.ForceUnit(), units.Signed(100*(r.Share-k.Share), 1))
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
