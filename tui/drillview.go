package tui

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/calibrate"
	"stanchion/model/drill"
	"stanchion/model/units"
	"stanchion/model/words"
	"stanchion/tui/widgets"
)

// laidOn is a car with what was kept for this walk laid on it: holes that are not
// in its file, and the correction of its fixed part.
func (m Model) laidOn(car *model.Car) *model.Car {
	for _, h := range m.unsaved {
		if h.Part < len(car.Parts) {
			car = drill.With(car, h)
		}
	}
	if m.datum != nil {
		car = calibrate.Corrected(car, *m.datum)
	}
	return car
}

// laid says what is laid on the car, for the header; "" when nothing is.
func (m Model) laid() string {
	text := ""
	for _, h := range m.unsaved {
		text += " +" + h.ID
	}
	if m.datum != nil {
		text += " corrected"
	}
	if text != "" {
		where := "not in the file"
		if m.proposed != nil {
			where = "added"
		}
		text = " [" + where + ":" + text + "]"
	}
	return text
}

// stripLines is how many lines the strip takes with its title.
const stripLines = 4

// view draws the hole in the side view, what it would change beside it, the curve that it runs along, and the
// table of holes with it.
func (d drillMode) view(m Model) (string, bool) {
	screen := widgets.NewScreen(m.width, m.height, m.glyphs)
	screen.Put(widgets.Rect{X: 0, Y: 0, W: m.width, H: 1}, []string{m.header()})
	body := m.height - 3
	with := d.with(m)
	table := min(max(len(with.grid.Lines)+5, 8), body/2)
	if m.height < 24 {
		table = 6
	}
	upper := body - table - stripLines
	left := m.width * 11 / 20
	name := d.hole.ID + " in " + m.car.Parts[d.hole.Part].Name
	if m.width < 80 { // one above the other: what it adds matters more
		left = 0
	}
	side := widgets.Rect{X: 0, Y: 1, W: left, H: upper}
	text := widgets.Rect{X: left + min(left, 1), Y: 1, W: m.width - left - min(left, 1), H: upper}
	if left > 0 {
		screen.Pane(side, m.sightName(m.sight, d.hole.Part)+" · hole "+name, with.sideView(m.sight, d.hole.Part))
	}
	screen.Pane(text, "hole "+name, func(w, h int) []string { return d.lines(m, w, h) })
	strip := widgets.Rect{X: 0, Y: 1 + upper, W: m.width, H: stripLines}
	screen.Pane(strip, d.stripTitle(m), func(w, h int) []string { return d.stripView(m, w, h) })
	title := "hole table with " + d.hole.ID + " · " + with.paintTitle() + " · + new, of use"
	if d.trial != nil && d.trial.Verdict.Worth == drill.CannotDrill {
		title = "hole table as if " + d.hole.ID + " could be drilled there · " + with.paintTitle()
	}
	screen.Pane(widgets.Rect{X: 0, Y: 1 + upper + stripLines, W: m.width, H: table}, title, with.holeTableView)
	screen.Put(widgets.Rect{X: 0, Y: m.height - 2, W: m.width, H: 2}, m.lastLines(d.standing(m)))
	return screen.String(), true
}

// with is the explorer of the car with the hole in it: what is shown is the first setting that the hole adds
// in the row that is shown, or else the setting itself.
func (d drillMode) with(m Model) Model {
	if d.trial == nil || d.grid == nil || len(d.trial.Table.Rows) == 0 {
		return m
	}
	w := m
	w.car, w.table, w.grid = d.trial.Table.Car, d.trial.Table, d.grid
	w.memo, w.held, w.frame, w.weak = &memo{}, &holdings{}, nil, "not with a hole that is tried"
	w.slow, w.hits = nil, nil
	if paintings()[w.paint].slow != nil {
		w.paint = 0
	}
	if d.trial.Verdict.Worth != drill.CannotDrill {
		w.added = append([]int{}, d.trial.Useful...)
	}
	here := m.row()
	w.current = -1
	nearest := math.Inf(1)
	for _, i := range d.trial.Added { // the angle that the hole is there for first, then the row that is shown
		r := &w.table.Rows[i]
		off := math.Abs(r.Height-here.Height) / 10
		if d.curve >= 0 {
			off += 100 * math.Abs(math.Remainder(r.Angle-d.turn-d.lean(m), 2*math.Pi)) / plane.Deg
		}
		if off < nearest {
			w.current, nearest = i, off
		}
	}
	if w.current >= 0 {
		return w
	}
	if i, ok := w.table.Index(here.ID); ok {
		w.current = i
		return w
	}
	w.current = 0
	return w
}

// standing says in a line whether the hole can be drilled and is worth it.
func (d drillMode) standing(m Model) string {
	if d.trial == nil {
		return quietStyle.Render("trying it…")
	}
	style := outsideStyle
	if d.trial.Verdict.Good() {
		style = withinStyle
	}
	return quietStyle.Render("Strength with it NOT CHECKED · ") + style.Render(words.Trial(d.trial, m.units))
}

// stripTitle says which bolts go in along the curve.
func (d drillMode) stripTitle(m Model) string {
	if d.curve < 0 {
		return "moved freely: " + d.missText(m)
	}
	k := d.curves[d.curve]
	upper := m.car.Parts[k.Part+1].Holes
	return fmt.Sprintf("along the curve on which the bolts go in: %s in %s, %s in %s", upper[k.Through].ID, m.car.Parts[k.Part].Holes[k.Partner].ID,
		upper[k.Moving].ID, d.hole.ID)
}

// missText says by how much the hole is off the nearest curve.
func (d drillMode) missText(m Model) string {
	nearest, which := math.Inf(1), -1
	for i, k := range d.curves {
		if _, off := k.Nearest(m.car, d.hole.At()); off < nearest {
			nearest, which = off, i
		}
	}
	if which < 0 {
		return "no two bolts of the part above are apart"
	}
	k := d.curves[which]
	return fmt.Sprintf("%s off the curve about %s", m.units.Dimension(nearest), m.car.Parts[k.Part].Holes[k.Partner].ID)
}

// stripView draws how places along the curve stand, with the angles that settings have and where the hole is.
func (d drillMode) stripView(m Model, w, h int) []string {
	if d.curve < 0 {
		return []string{"", quietStyle.Render("arrows move it across, up and down; f goes back to the nearest curve")}
	}
	if len(m.table.Rows) > stripSettings {
		return []string{"", quietStyle.Render("too many settings to judge every place: what this one adds stands above")}
	}
	if d.strip == nil || d.stripOf != d.curve {
		return []string{"", quietStyle.Render("working out the places along it…")}
	}
	from, to := d.reach(m)
	if to-from < 1e-3 {
		from, to = from-1e-3, to+1e-3
	}
	n := w - 4
	column := func(turn float64) int {
		return 2 + int(math.Round((turn-from)/(to-from)*float64(n-1)))
	}
	marks, ticks := []rune(strings.Repeat(" ", w)), []rune(strings.Repeat(" ", w))
	for x := range n {
		turn := from + (to-from)*float64(x)/float64(max(n-1, 1))
		i := slices.IndexFunc(d.strip, func(p drill.Place) bool { return p.Turn >= turn-1e-9 })
		if i < 0 {
			i = len(d.strip) - 1
		}
		marks[2+x] = map[drill.Holds]rune{drill.TooNear: 'x', drill.AddsNothing: '·', drill.NewStep: '#'}[d.strip[i].Holds]
	}
	if x := column(d.turn); x >= 0 && x < w {
		marks[x] = '◆'
	}
	lean := d.lean(m)
	met := map[int]bool{}
	var angles []float64
	for i := range m.table.Rows {
		angles = append(angles, m.table.Rows[i].Fits[d.hole.Part].Pose.Turn)
	}
	slices.Sort(angles)
	for _, a := range angles {
		x := column(a)
		label := []rune("╵" + units.Fixed((a+lean)/plane.Deg, 1))
		if x < 0 || x >= w || met[x] || x+len(label) > w || ticks[max(x-1, 0)] != ' ' || ticks[x] != ' ' {
			continue
		}
		met[x] = true
		copy(ticks[x:], label)
	}
	legend := "◆ here  # new  · nothing new  x cannot be drilled  ╵ angles in use, °"
	return []string{string(marks), string(ticks), quietStyle.Render(legend)}[:min(3, h)]
}

func (d drillMode) tell(w *walker) {
	w.say("%s.", upper(d.stripTitle(w.m)))
	for _, l := range d.lines(w.m, w.m.width, 100) {
		w.say("%s", plainText(l))
	}
	if d.stripOf == d.curve && d.curve >= 0 && d.strip != nil {
		w.say("%s", d.usefulText())
	}
	w.say("%s", plainText(w.m.footerOf(d)))
}

func (drillMode) typed(*walker, string) {}

// lines says where the hole is and what it would change.
func (d drillMode) lines(m Model, w, h int) []string {
	var lines []string
	add := func(format string, args ...any) {
		lines = append(lines, widgets.Wrap(fmt.Sprintf(format, args...), w)...)
	}
	u := m.units
	add("x %s, z %s, dia. %s", u.Dimension(d.hole.X), u.Dimension(d.hole.Z), u.Dimension(d.hole.D))
	if also := d.alsoText(m); also != "" {
		add("%s", also)
	}
	if d.trial == nil {
		return append(lines, "trying it…")
	}
	for _, l := range widgets.Wrap(words.Trial(d.trial, m.units), w) {
		if d.trial.Verdict.Good() {
			l = withinStyle.Render(l)
		} else {
			l = outsideStyle.Render(l)
		}
		lines = append(lines, l)
	}
	added := slices.Clone(d.trial.Useful)
	for _, i := range d.trial.Added {
		if !slices.Contains(added, i) {
			added = append(added, i)
		}
	}
	for _, i := range added { // what is of use first
		r := &d.trial.Table.Rows[i]
		text := fmt.Sprintf("  %s  %s°  %s  %s ±%s %s", d.trial.Table.Name(r.Setting), units.Fixed(r.Angle/plane.Deg, 1), u.Length(r.Height),
			u.ForceFigure(r.Downforce), u.ForceFigure(d.trial.Table.Budget(r).Downforce), u.ForceUnit())
		if slices.Contains(d.trial.Useful, i) {
			text = "+" + text[1:]
		}
		if out := words.Outside(r, u); len(out) > 0 {
			text += "  × " + out[0]
		}
		lines = append(lines, widgets.Shorten(text, w))
	}
	if n := len(d.trial.Further); n > 0 {
		add("%s gain a bolt", units.Count(n, "setting"))
	}
	for _, r := range d.trial.Rules {
		mark, minimum := "ok", "min. "+u.Dimension(r.Need)
		if !r.Must {
			mark, minimum = "less than is usual", "usual "+u.Dimension(r.Need)
		} else if !r.OK {
			mark = "TOO LITTLE"
		}
		add("%s %s, %s: %s", words.Rule(r), u.Dimension(r.Have), minimum, mark)
	}
	if len(lines) > h && h > 0 {
		lines = lines[:h]
	}
	return lines
}
