package tui

import (
	"fmt"
	"math"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/bolting"
	"stanchion/model/choose"
	"stanchion/model/units"
	"stanchion/model/words"
)

// plainLine leaves colours out of a line.
func plainLine(s string) string { return strings.TrimRight(ansi.Strip(s), " ") }

// plainText leaves colours out of a text, and says in words what marks stand for.
func plainText(s string) string {
	s = ansi.Strip(s)
	if strings.HasPrefix(s, "marks:") {
		return s // which is about the marks themselves
	}
	for _, r := range [][2]string{{"▸", ""}, {"◂", ""}, {"•", ""}, {"×", "not:"}, {"✗", "not:"}, {markAlike, "(less than it is uncertain by)"},
		{"−", "-"}, {"──", ""}, {"Δ", "change of "}} {
		s = strings.ReplaceAll(s, r[0], r[1])
	}
	return strings.TrimSpace(s)
}

// spoken is the setting that is shown, a fact a line, in the order of the screen: which it is and how it
// stands, its figures with the change to the setting that is compared with, its bolts.
func (m Model) spoken() []string {
	r := m.row()
	var lines []string
	add := func(format string, args ...any) { lines = append(lines, plainText(fmt.Sprintf(format, args...))) }
	u := m.units
	if p := m.proposalText(); p != "" {
		add("%s.", p)
	}
	if checks, _ := m.checksText(math.MaxInt); checks != "" {
		add("%s: %% lists the checks.", upper(checks))
	}
	add("Setting %s, %d of %d, at %s.", m.table.Name(r.Setting), m.current+1, len(m.table.Rows), u.Speed(m.table.Speed))
	limits := "Keeps all limits"
	if !r.Within() {
		limits = "BREAKS A LIMIT: " + strings.Join(words.Outside(r, u), "; ")
	}
	if r.Stalled {
		limits = "STALLED, figures are rough. " + limits
	}
	hold, _ := m.holdText()
	add("%s. %s. An estimate, not approval of wing or mounting.", limits, upper(hold))
	if math.IsNaN(r.Downforce) {
		add("No forces are known at %s.", u.Speed(m.table.Speed))
	}
	k, name := m.reference()
	if k != nil && k.ID == r.ID {
		k = nil
	}
	budget := m.table.Budget(r)
	var difference model.Contribution
	head := "Figures"
	if k != nil {
		difference = model.DifferenceStdUnc(budget, m.table.Budget(k))
		head += fmt.Sprintf(", with the change to the %s setting %s", name, m.table.Name(k.Setting))
	}
	add("%s:", head)
	for _, l := range m.paneLines() {
		if l.name != "" && !math.IsNaN(l.Of(m.table, r)) {
			add("%s", m.spokenFigure(l, r, k, budget, difference))
		}
	}
	if r.Gap.Known() {
		add("Clearance: %s.", words.Gap(r.Gap, u))
	}
	for _, l := range words.BoltLines(m.car, r.Setting) {
		add("Bolts, %s.", l)
	}
	if k != nil {
		add("From %s: %s; %s.", name, words.MoveCount(k.Setting, r.Setting), strings.Join(words.Moves(m.car, k.Setting, r.Setting), "; "))
	}
	if ran := m.ranLine(r); ran != "" {
		add("%s.", upper(ran))
	}
	switch n := len(m.car.Assumed); n {
	case 0:
	case 1:
		add("1 value is assumed: e says which.")
	default:
		add("%d values are assumed: e lists them.", n)
	}
	return lines
}

// spokenFigure is one figure in words, with its change to another row.
func (m Model) spokenFigure(l paneLine, r, k *model.Row, budget model.Budget, difference model.Contribution) string {
	if l.beside != nil {
		return fmt.Sprintf("%s %s %s, %s %s %s.", upper(l.Name), l.Spell(l.Of(m.table, r), l.units), l.Unit(l.units), l.beside.Name,
			l.beside.Spell(l.beside.Of(m.table, r), l.units), l.beside.Unit(l.units))
	}
	text := upper(strings.TrimSpace(l.name)) + " " + m.spell(l, r)
	if std, ok := l.StdUncOf(budget.Contribution); ok {
		text += " ± " + l.SpellStdUnc(std, l.units)
	}
	text = strings.TrimSpace(text + " " + l.Unit(l.units))
	if l.Assumed(m.car) {
		text += ", resting on what is assumed"
	}
	if k == nil {
		return text + "."
	}
	text += "; change " + m.change(l, r, k)
	if std, ok := l.StdUncOf(difference); ok {
		text += " ± " + l.SpellStdUnc(std, l.units)
		switch choose.ClarityOf(l.Of(m.table, r)-l.Of(m.table, k), std) {
		case choose.NoClearDifference:
			text += ", no clear difference"
		case choose.NotSure:
			text += ", difference uncertain"
		}
	}
	return text + "."
}

// spokenTable is the table of holes in words: what it shows, its columns, then row by row.
func (m Model) spokenTable() []string {
	g := m.grid
	if g == nil || len(g.Columns) == 0 {
		return nil
	}
	p := m.paintedNow()
	lines := []string{"Hole table, " + m.paintTitle()[2:] + ". Columns, by front hole, rear hole and angle:"}
	for i := range g.Columns {
		c := &g.Columns[i]
		angle := units.Fixed(c.Angle/plane.Deg, 1) + " degrees"
		if half := (c.Fits[len(c.Fits)-1].Pose.Turn - c.Fits[0].Pose.Turn) / 2; c.Slot != "" {
			angle = "slot, " + units.Fixed((c.Angle-half)/plane.Deg, 1) + " to " + units.Fixed((c.Angle+half)/plane.Deg, 1) + " degrees"
		}
		lines = append(lines, plainText(fmt.Sprintf("column %d: %s, %s, %s", i+1, c.Front, c.Rear, angle)))
	}
	for i := range g.Lines {
		var cells []string
		for k := range g.Columns {
			cells = append(cells, m.spokenCell(p, bolting.Cell{Line: i, Column: k}))
		}
		name := m.lineName(i)
		if name == "" {
			name = "all"
		}
		lines = append(lines, plainText(name+": "+strings.Join(cells, ", ")))
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

// spokenCell is what stands in a cell of the table, of a slot at its first and its last place, and where the bolt is.
func (m Model) spokenCell(p *painted, at bolting.Cell) string {
	var first, last, here string
	for place := range m.grid.Columns[at.Column].Fits {
		at.Place = place
		s, ok := m.grid.Setting(at)
		if !ok {
			continue
		}
		text := "not known"
		if v := p.values[s.Row]; !math.IsNaN(v) {
			text = paintings()[m.paint].cell(m, &m.table.Rows[s.Row], v)
		}
		if !m.table.Rows[s.Row].Within() {
			text += " breaks a limit"
		}
		if s.ID == m.row().ID {
			here = text + " here"
		}
		if first == "" {
			first = text
		}
		last = text
	}
	switch {
	case first == "":
		return "none"
	case m.grid.Columns[at.Column].Slot == "":
		if here != "" {
			return here
		}
		return first
	case here != "":
		return first + " to " + last + ", " + here
	}
	return first + " to " + last
}
