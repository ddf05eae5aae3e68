package tui

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/lipgloss"

	"stanchion/model"
	"stanchion/model/strength"
	"stanchion/model/units"
	"stanchion/model/words"
)

// strengthOf checks the setting that is shown; why says when it cannot be.
func (m Model) strengthOf() (r strength.Result, why string) {
	if m.held == nil {
		return m.strengthAt(m.row())
	}
	if h := m.held; h.frame != m.frame || h.id != m.row().ID || m.frame == nil {
		h.frame, h.id = m.frame, m.row().ID
		h.result, h.why = m.strengthAt(m.row())
	}
	return m.held.result, m.held.why
}

// holdings is what strength said last: a screen asks for it in several places.
type holdings struct {
	frame  *strength.Analysis
	id     string
	result strength.Result
	why    string
}

// strengthAt checks a setting.
func (m Model) strengthAt(row *model.Row) (r strength.Result, why string) {
	if m.frame == nil {
		return r, m.weak
	}
	r, err := m.frame.Best(m.frame.Table.RowAt(row.Position))
	if err != nil {
		return r, err.Error()
	}
	return r, ""
}

// holdText says in a few words how the strength of the setting shown stands, and
// whether that is bad.
func (m Model) holdText() (text string, bad bool) {
	r, why := m.strengthOf()
	switch why {
	case "":
	case checking:
		return "strength …", false
	default:
		return "strength not checked", false
	}
	dots := ""
	switch {
	case m.beingSolved():
		dots = " …"
	case m.words && r.Solved == nil:
		dots = " by formulas"
	}
	used, ok := r.Used()
	switch v := r.Verdict(); {
	case v != strength.DoesNotHold && m.frame.Slower(m.table.Speed):
		return "strength NOT CHECKED", true // at the speed on the screen
	case v == strength.DoesNotHold:
		return fmt.Sprintf("DOES NOT HOLD, %s", words.UsedPercent(used.Utilisation())) + dots, true
	case v == strength.NotChecked && m.beingSolved() && r.Solvable():
		return "strength …", false
	case v == strength.NotChecked || !ok:
		return "strength NOT CHECKED" + dots, true
	}
	return fmt.Sprintf("strength %s used", words.UsedPercent(used.Utilisation())) + dots, false
}

// holdShort says how the strength of the setting shown stands, as a figure or as what stands in its
// way, and whether that is bad; "" while it is worked out.
func (m Model) holdShort() (text string, bad bool) {
	r, why := m.strengthOf()
	switch why {
	case "":
	case checking:
		return "", false
	default:
		return "NOT CHECKED", true
	}
	used, ok := r.Used()
	switch v := r.Verdict(); {
	case v == strength.DoesNotHold:
		return "DOES NOT HOLD " + words.UsedPercent(used.Utilisation()), true
	case v == strength.NotChecked && m.beingSolved() && r.Solvable():
		return "", false
	case v == strength.NotChecked || !ok || m.frame.Slower(m.table.Speed):
		return "NOT CHECKED", true
	}
	text = units.Fixed(100*used.Utilisation(), 0)
	if m.solvedLater(r) {
		text += "…" // by formulas
	}
	return text, false
}

// solvedLater reports whether the plates of the setting shown are to be solved, so that what is known of it will change.
func (m Model) solvedLater(r strength.Result) bool {
	return m.src.Solves && !m.words && m.frameRow() != nil && !m.wasSolved(m.frameRow())
}

// notChecked says what is not checked of the setting shown; "" where all is, or it does not hold anyway.
func (m Model) notChecked() string {
	r, why := m.strengthOf()
	if why != "" || r.Verdict() != strength.NotChecked || m.beingSolved() && r.Solvable() {
		return ""
	}
	return words.OpenText(r.Open)
}

// mayBeSaid reports whether how much of its strength a setting uses says how it stands at a speed: all of it was
// checked, up to that speed, or it does not hold anyway.
func mayBeSaid(frame *strength.Analysis, r strength.Result, speed float64) bool {
	v := r.Verdict()
	return v == strength.DoesNotHold || v != strength.NotChecked && !frame.Slower(speed)
}

// usedAt is how much of its strength a setting uses.
func (m Model) usedAt(row *model.Row) (float64, bool) {
	r, why := m.strengthAt(row)
	if why != "" {
		return 0, false
	}
	used, ok := r.Used()
	if !ok || !mayBeSaid(m.frame, r, m.table.Speed) {
		return 0, false
	}
	return used.Utilisation(), true
}

func needsFrame(m Model) string {
	if why := needsRows(m); why != "" {
		return why
	}
	_, why := m.strengthOf()
	return why
}

// strengthText is the page on what bears the loads and what would give first.
func (m Model) strengthText() []string {
	r, why := m.strengthOf()
	if why != "" {
		return []string{why}
	}
	if m.words && m.src.Solves {
		if solved, err := m.frame.Solve(context.Background(), r.Row); err == nil {
			r = solved
		}
	}
	helps, waiting := m.helpsNow(r)
	lines := words.StrengthLines(m.frame, r, helps, m.units, 12)
	lines[0] = titleStyle.Render(lines[0])
	lines[2] = verdictStyle(r.Verdict()).Render(lines[2])
	shadePictures(lines)
	if above := words.AboveDesign(m.frame, m.table.Speed, m.units); above != "" {
		lines = slices.Insert(lines, 2, above, "")
	}
	switch {
	case m.beingSolved():
		lines = slices.Insert(lines, 1, "The plates are being solved as they are drawn …")
	case waiting:
		lines = slices.Insert(lines, 1, "What would help is being worked out …")
	}
	return lines
}

// shadePictures colours the pictures of plates by how much of its strength each place uses.
func shadePictures(lines []string) {
	in := false
	for i, l := range lines {
		switch {
		case strings.HasPrefix(l, words.PictureTitle):
			in = true
		case l == "":
			in = false
		case in:
			lines[i] = shaded(l)
		}
	}
}

// shaded colours a line of a picture: half of the strength and more, and eight tenths and more.
func shaded(line string) string {
	var b strings.Builder
	for _, r := range line {
		switch {
		case r == '!' || r == 'X' || r == '8' || r == '9':
			b.WriteString(outsideStyle.Render(string(r)))
		case r >= '5' && r <= '7':
			b.WriteString(assumedStyle.Render(string(r)))
		case r == 'o':
			b.WriteString(figureStyle.Render(string(r)))
		case r == ' ':
			b.WriteRune(r)
		default:
			b.WriteString(quietStyle.Render(string(r)))
		}
	}
	return b.String()
}

// verdictStyle is how a verdict is coloured.
func verdictStyle(v strength.Verdict) lipgloss.Style {
	if v == strength.Passes {
		return withinStyle.Bold(true)
	}
	return outsideStyle
}
