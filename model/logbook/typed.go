package logbook

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"stanchion/model/units"
)

// maxLap is longer than any lap, s.
const maxLap = 7200

// ReadLap reads a lap time, 1:42.3 or 102.3, as seconds.
func ReadLap(text string) (float64, error) {
	if strings.Contains(text, ",") {
		if fixed := strings.ReplaceAll(strings.TrimSpace(text), ",", "."); strings.Count(fixed, ".") == 1 {
			if _, err := ReadLap(fixed); err == nil {
				return math.NaN(), fmt.Errorf("%q; use a decimal point, not a comma: %s", text, fixed)
			}
		}
	}
	minutes, seconds, ok := strings.Cut(strings.TrimSpace(text), ":")
	if !ok {
		minutes, seconds = "0", minutes
	}
	m, err := strconv.Atoi(minutes)
	s, err2 := strconv.ParseFloat(seconds, 64)
	total := float64(m)*60 + s
	if err != nil || err2 != nil || m < 0 || !(s >= 0) || ok && s >= 60 || !(total > 0 && total < maxLap) {
		return math.NaN(), fmt.Errorf("%q; give a time such as 1:42.3", text)
	}
	return total, nil
}

// SpellLap spells seconds as ReadLap reads them, to one digit behind the point or as many as were noted, at
// most three.
func SpellLap(s float64) string {
	s = math.Round(s*1000) / 1000
	m := math.Floor(s / 60)
	text := fmt.Sprintf("%.0f:%06.3f", m, s-60*m)
	for range 2 {
		text = strings.TrimSuffix(text, "0")
	}
	return text
}

// ReadTyres reads four pressures, front left, front right, rear left, rear right, with
// or without a unit behind them, as bar; bare is the unit of bare numbers.
func ReadTyres(text, bare string) (p [4]float64, err error) {
	words := strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ' ' || r == ';' })
	if n := len(words); n == 5 {
		if _, ok := units.Pressures[words[4]]; ok {
			bare, words = words[4], words[:4]
		}
	}
	if len(words) != 4 {
		return p, fmt.Errorf("%q; give four pressures in %s, such as %s", text, bare,
			map[bool]string{true: "28 28 29 29", false: "1.9 1.9 2.0 2.0"}[bare == "psi"])
	}
	for i, w := range words {
		if p[i], err = units.Pressures.Parse(w, bare); err != nil {
			return p, err
		}
		if !(p[i] >= 0.3 && p[i] <= 6) {
			return p, fmt.Errorf("%q; each must be 0.3 to 6 bar, 4.4 to 87 psi", text)
		}
	}
	return p, nil
}

// ReadGrip reads how much grip an end had, -3 to 3.
func ReadGrip(text string) (int, error) {
	g, err := strconv.Atoi(strings.ReplaceAll(strings.TrimSpace(text), "−", "-"))
	if err != nil || g < -3 || g > 3 {
		return NoFeel, fmt.Errorf("%q; give a whole number from -3 to 3", text)
	}
	return g, nil
}

// SpellGrip spells a grip with its sign; a dash stands for one that was not noted.
func SpellGrip(g int) string {
	switch {
	case g == NoFeel:
		return "–"
	case g < 0:
		return fmt.Sprintf("−%d", -g)
	case g > 0:
		return fmt.Sprintf("+%d", g)
	}
	return "0"
}

// Parts are the note in parts that a list wraps between, with what its setting is called: when, what and where are
// one. Nothing in them can act on a terminal.
func (n Note) Parts(setting string, u units.System) []string {
	head := fmt.Sprintf("%-14s %s  %s", n.ID, n.At.Format("2006-01-02 15:04"), setting)
	if n.Venue != "" {
		head += "  " + n.Venue
	}
	return append([]string{units.Printable(head)}, n.brief(u)...)
}

// Brief is what was felt and measured, and with what, without place, setting and time; nothing in it can
// act on a terminal.
func (n Note) Brief(u units.System) string { return strings.Join(n.brief(u), "  ") }

func (n Note) brief(u units.System) (parts []string) {
	add := func(is bool, text string) {
		if is {
			parts = append(parts, units.Printable(text))
		}
	}
	given := func(x float64) bool { return !math.IsNaN(x) }
	parts = n.Inspected.brief()
	add(n.Fitted, "bolted on, not run yet")
	add(n.Feel.Known(), n.Feel.String())
	add(given(n.Lap), "lap "+SpellLap(n.Lap))
	add(given(n.TopSpeed), "top speed "+u.Speed(n.TopSpeed))
	if s := n.Sink; given(s.Speed) && (given(s.Front) || given(s.Rear)) {
		var sank []string
		if given(s.Front) {
			sank = append(sank, "front "+SpellSink(s.Front, u))
		}
		if given(s.Rear) {
			sank = append(sank, "rear "+SpellSink(s.Rear, u))
		}
		add(true, "sank "+strings.Join(sank, ", ")+" at "+u.Speed(s.Speed))
	}
	if laps := n.Driven(); given(laps) {
		add(true, strconv.FormatFloat(laps, 'f', -1, 64)+" laps")
	}
	add(given(n.Coast.DragArea), "drag area "+units.Fixed(n.Coast.DragArea, 3)+" m²")
	add(n.TyreSet != "", "tyres "+n.TyreSet)
	add(n.Driver != "", "driver "+n.Driver)
	add(n.Track != "" && n.Track != TrackDry, "track "+n.Track)
	add(n.Rain != "" && n.Rain != RainNone, n.Rain+" rain")
	add(len(n.Adjustments) > 0, spellAdjustments(n.Adjustments))
	add(n.Text != "", units.PrintableLines(n.Text, " / "))
	return parts
}

// SpellSink spells by how much an axle sank, mm, to 0.1 mm or 0.01 in, as it was typed.
func SpellSink(mm float64, u units.System) string {
	if u.LengthUnit() == "in" {
		return u.Length(mm)
	}
	return u.Dimension(mm)
}

// Short is where the setting was run and how it felt, without which and when;
// nothing in it can act on a terminal.
func (n Note) Short() string {
	var parts []string
	if n.Fitted {
		parts = append(parts, "bolted on, not run yet")
	}
	if n.Feel.Known() {
		parts = append(parts, n.Feel.String())
	}
	if !math.IsNaN(n.Lap) {
		parts = append(parts, "lap "+SpellLap(n.Lap))
	}
	if n.Venue != "" {
		parts = append(parts, n.Venue)
	}
	if n.Text != "" {
		parts = append(parts, units.PrintableLines(n.Text, " / "))
	}
	return units.Printable(strings.Join(parts, "  "))
}
