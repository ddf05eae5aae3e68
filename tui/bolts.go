package tui

import (
	"fmt"
	"math"
	"strings"

	"stanchion/model/bolting"
	"stanchion/model/words"
	"stanchion/tui/widgets"
)

// boltsView says which bolts go where, which to move from the setting that is compared with, and what is
// outside the limits.
func (m Model) boltsView(w, h int) []string {
	r := m.row()
	if r == nil {
		return nil
	}
	var lines []string
	add := func(style func(...string) string, text string) {
		for _, l := range widgets.Wrap(text, w) {
			lines = append(lines, style(l))
		}
	}
	plain := func(s ...string) string { return strings.Join(s, "") }
	for _, l := range words.BoltsInShort(m.car, r.Setting) {
		add(plain, l)
	}
	if k, name := m.reference(); k != nil && k.ID != r.ID {
		text := words.MoveCount(k.Setting, r.Setting)
		if sizeOf(m.width, m.height) == phone { // one line says which
			text = strings.Join(words.MovesInShort(m.car, k.Setting, r.Setting), "; ")
			if text == "" {
				text = "no bolt to move"
			}
			lines = append(lines, selectedStyle.Render(widgets.Shorten("from "+name+": "+text, w)))
		} else if moves := words.Moves(m.car, k.Setting, r.Setting); len(moves) > 0 && h > 4 {
			text += ": " + strings.Join(moves, "; ")
		}
		if sizeOf(m.width, m.height) != phone {
			add(selectedStyle.Render, "from "+name+" ("+m.table.Name(k.Setting)+"): "+text)
		}
	}
	for _, o := range words.Outside(r, m.units) {
		add(outsideStyle.Render, "× "+o)
	}
	if ran := m.ranLine(r); ran != "" {
		add(plain, ran)
	}
	if s, ok := bolting.InSlot(m.table, r); ok {
		add(plain, "slot "+s.Slot.ID+": "+s.Slot.Where(s.Distance))
	}
	if ways := words.Ways(m.table, r); len(ways) > 0 {
		add(quietStyle.Render, "same place bolted otherwise (;): "+strings.Join(ways, "; "))
	}
	if len(lines) > h && h > 0 {
		lines = append(lines[:h-1], quietStyle.Render("… enter shows all"))
	}
	return lines
}

// moreView fills what a large screen has left: what the ± comes from, strength, clearance, what was run
// and what is assumed, each whole or not at all.
func (m Model) moreView(w, room int) []string {
	r := m.row()
	if r == nil {
		return nil
	}
	var lines []string
	add := func(title string, body []string) {
		if len(body) == 0 || len(lines)+len(body)+1 > room {
			return
		}
		rule := strings.Repeat("─", max(0, w-len([]rune(title))-4))
		lines = append(lines, quietBrush.Paint("── ")+title+quietBrush.Paint(" "+rule))
		lines = append(lines, body...)
	}
	add("strength, nearest to its limit first", m.nearestLimits(w, 4))
	add("where the ± of the downforce comes from", m.whereFrom(w, room < 24))
	var assumed []string
	for _, a := range m.car.Assumed {
		for _, l := range widgets.Wrap(a.What+": "+a.Value, w) {
			assumed = append(assumed, assumedStyle.Render(l))
		}
	}
	add("assumed, as the file says nothing", assumed)
	if r.Gap.Known() {
		add("clearance", widgets.Wrap(words.Gap(r.Gap, m.units), w))
	}
	var ran []string
	notes := m.notesOf(r)
	for i := len(notes) - 1; i >= 0 && len(ran) < 5; i-- {
		ran = append(ran, widgets.Wrap(notes[i].At.Format("2 Jan")+" "+notes[i].Short(), w)[0])
	}
	add("what was run here", ran)
	add("the wing's data", widgets.Wrap(m.table.Wing.From, w))
	return lines
}

// whereFrom lists the largest contributions to the ± of the downforce.
func (m Model) whereFrom(w int, short bool) []string {
	most := 8
	if short {
		most = 4
	}
	var lines []string
	sure := m.sure()
	for _, c := range sure.budget.Parts {
		if c.Downforce == 0 || len(lines) == most {
			continue
		}
		lines = append(lines, fmt.Sprintf("%-28s %4s %s", c.What, m.units.ForceFigure(math.Abs(c.Downforce)), m.units.ForceUnit()))
	}
	if sure.measure != "" {
		lines = append(lines, widgets.Wrap("measure next: "+sure.measure+" (y: how)", w)...)
	}
	return lines
}

// nearestLimits lists the loads that come closest to what may be borne.
func (m Model) nearestLimits(w, n int) []string {
	r, why := m.strengthOf()
	if why != "" {
		return widgets.Wrap("NOT CHECKED: "+why, w)
	}
	var lines []string
	for _, c := range r.Checks {
		if c.Layout && c.Utilisation() <= 1 {
			continue
		}
		if len(lines) == n {
			break
		}
		lines = append(lines, widgets.Wrap(fmt.Sprintf("%5s  %s", words.UsedPercent(c.Utilisation()), words.CheckBrief(c, m.units)), w)[0])
	}
	for _, missing := range m.frame.Missing {
		lines = append(lines, widgets.Wrap("missing: "+missing, w)...)
	}
	return lines
}

// tableLine is the line of the table that the setting is in, for screens that have room for no more.
func (m Model) tableLine(w, h int) []string {
	l, ok := m.holeTableIn(w, 4)
	if !ok {
		return widgets.Wrap(m.emptyText(), w)
	}
	at, _ := m.grid.Cell(m.row().ID)
	p := m.paintedNow()
	head := l.headings(m)
	line := fmt.Sprintf("%-*s", l.left, widgets.Shorten(m.lineName(at.Line), l.left-1))
	for k := l.cols[0]; k < l.cols[1]; k++ {
		line += m.cellText(p, bolting.Cell{Line: at.Line, Column: k}, l.wide[k-l.cols[0]])
	}
	return append(head, line)[max(0, 4-h):]
}

// wrapped is wrap, but for the walk in words, which says a text in one piece.
func (m Model) wrapped(text string, w int) []string {
	if m.words {
		return []string{text}
	}
	return widgets.Wrap(text, w)
}
