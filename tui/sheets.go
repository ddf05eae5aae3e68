package tui

import (
	"context"
	"fmt"
	"math"
	"slices"

	"stanchion/model/words"
)

// allText is the page with everything about a setting.
func (m Model) allText() []string {
	lines := words.Describe(m.table, m.row(), m.units)
	if k, name := m.reference(); k != nil && k.ID != m.row().ID {
		moves := []string{"", "From " + name + " (" + m.table.Name(k.Setting) + "), " + words.MoveCount(k.Setting, m.row().Setting) + ":"}
		for _, l := range words.Moves(m.car, k.Setting, m.row().Setting) {
			moves = append(moves, "  "+l)
		}
		lines = slices.Insert(lines, 1, moves...)
	}
	if r, why := m.strengthOf(); why == "" {
		lines = append(lines, "")
		if above := words.AboveDesign(m.frame, m.table.Speed, m.units); above != "" {
			lines = append(lines, above)
		}
		lines = append(lines, "Strength at "+m.units.Speed(m.frame.Table.Speed)+": "+words.ResultHeadline(m.frame, r, m.units)+".",
			words.Caution)
		if r.Solved != nil {
			if turn, ok, _ := m.frame.TurnUnder(context.Background(), m.table, m.row()); ok {
				if text := words.UnderLoad(m.table, m.row(), turn, m.units); text != "" {
					lines = append(lines, text)
				}
			}
		}
	} else {
		lines = append(lines, "", "Strength NOT CHECKED: "+why+".")
	}
	return append(lines, m.ranLines()...)
}

// compareText is the page on what changes from the kept setting to this one: which
// bolts, and every figure with whether the difference is more than it is uncertain.
func (m Model) compareText() []string {
	r := m.row()
	k, name := m.reference()
	if k == nil {
		return []string{needsReference(m)}
	}
	what := map[string]string{"kept": "the kept setting", "car": "what is on the car"}[name]
	lines := []string{titleStyle.Render("from " + what + " to this setting"), "", fmt.Sprintf("%-6s", name) + m.table.Name(k.Setting), "this  " + m.table.Name(r.Setting), ""}
	was, is := words.BoltLines(m.car, k.Setting), words.BoltLines(m.car, r.Setting)
	for i := range is {
		if is[i] == was[i] {
			lines = append(lines, "leave  "+is[i])
		}
	}
	for _, moves := range words.Moves(m.car, k.Setting, r.Setting) {
		lines = append(lines, "move   "+moves)
	}
	narrow := m.width < 70 && !m.words
	if narrow {
		lines = append(lines, "", fmt.Sprintf("%-18s%9s%10s", "", "this", "change ±"))
	} else {
		lines = append(lines, "", fmt.Sprintf("%-18s%9s%9s%10s   %s", "", name, "this", "change", "uncertain by"))
	}
	now, before := *r, *k
	for _, l := range m.paneLines() {
		by, band := m.change(l, &now, &before), ""
		if std, ok := l.StdUncOf(m.differenceStdUnc(&now, &before)); ok && l.beside == nil && !math.IsNaN(std) {
			change, about := l.ChangeWithStdUnc(l.Of(m.table, &now), l.Of(m.table, &before), std, l.units)
			by, band = change, "   ± "+about
			if mark := markOf(l.Of(m.table, &now)-l.Of(m.table, &before), std); !m.words {
				by = mark + by
			}
		}
		line := fmt.Sprintf("%-15s%3s%9s%9s%10s", l.name, l.Unit(l.units), m.spell(l, &before), m.spell(l, &now), by)
		if l.beside != nil {
			line = fmt.Sprintf("%-15s%3s%9s%9s%10s", l.name, l.Unit(l.units), m.spell(l, &before), m.spell(l, &now), m.change(l, &now, &before)+","+
				l.beside.Change(l.beside.Of(m.table, &now), l.beside.Of(m.table, &before), l.units))
		}
		if narrow {
			line = fmt.Sprintf("%-15s%3s%9s%8s", l.name, l.Unit(l.units), m.spell(l, &now), by)
		}
		lines = append(lines, line+band)
	}
	lines = append(lines, "", "± is one standard uncertainty of the change: what both settings share cancels.")
	if !m.words {
		lines = append(lines, markAlike+" no clear difference: smaller than its ±; "+markNotSure+" not sure: less than twice its ±.")
	}
	if a, why := m.strengthAt(r); why == "" {
		if b, why := m.strengthAt(k); why == "" {
			lines = append(lines, "", "strength, "+name+": "+words.ResultHeadline(m.frame, b, m.units)+".",
				"strength, this: "+words.ResultHeadline(m.frame, a, m.units)+".", words.Caution)
		}
	}
	if r.Gap.Known() {
		lines = append(lines, "clearance, "+name+": "+words.Gap(k.Gap, m.units)+".", "clearance, this: "+words.Gap(r.Gap, m.units)+".")
	}
	return lines
}

func needsNotes(m Model) string {
	if len(m.book.Notes) == 0 {
		return "nothing is noted yet: m notes how a setting was"
	}
	return needsRows(m)
}
