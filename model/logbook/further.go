package logbook

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"stanchion/model/toml"
	"stanchion/model/units"
)

// Wind is the wind on the main straight.
type Wind struct {
	Speed float64 // m/s
	From  float64 // degrees from the direction of travel: 0 head wind, 90 from the right, 180 tail wind
}

// How it rained during a run.
const (
	RainNone  = "none"
	RainLight = "light"
	RainHeavy = "heavy"
)

// LapTime is one lap of a run, in the order driven.
type LapTime struct {
	Seconds float64
	Mark    string // MarkOut, MarkIn; "" for a timed lap
}

// Marks of laps that are not timed ones.
const (
	MarkOut = "out"
	MarkIn  = "in"
)

// Adjustment is what else on the car can be set, and how it was: splitter, bars, dampers, Gurney flap.
// Its name has no "=".
type Adjustment struct{ Name, Value string }

// String is the adjustment as it stands in the file, "front bar = 2".
func (a Adjustment) String() string { return a.Name + " = " + a.Value }

// Coast is what coast-downs of the whole car gave.
type Coast struct{ DragArea, StdUnc float64 } // m²

// numberKeys are further numbers of a note by their keys in the file, with the least and the most that each can be.
var numberKeys = []struct {
	key         string
	least, most float64
	of          func(*Note) *float64
}{
	{"wind_m_s", 0, 60, func(n *Note) *float64 { return &n.Wind.Speed }},
	{"wind_from_deg", 0, 360, func(n *Note) *float64 { return &n.Wind.From }},
	{"tyre_laps", 0, 100000, func(n *Note) *float64 { return &n.TyreLaps }},
	{"laps_run", 0, 100000, func(n *Note) *float64 { return &n.LapsRun }},
	{"minutes_spent", 0, 100000, func(n *Note) *float64 { return &n.Minutes }},
	{"bolts_moved", 0, 1000, func(n *Note) *float64 { return &n.BoltsMoved }},
	{"sink_std_unc_mm", 0, 200, func(n *Note) *float64 { return &n.SinkStdUnc }},
	{"top_speed_std_unc_m_s", 0, 100, func(n *Note) *float64 { return &n.TopSpeedStdUnc }},
	{"coast_drag_area_m2", 0, 10, func(n *Note) *float64 { return &n.Coast.DragArea }},
	{"coast_drag_area_std_unc_m2", 0, 10, func(n *Note) *float64 { return &n.Coast.StdUnc }},
}

// textKeys are further texts of a note by their keys in the file.
var textKeys = []struct {
	key string
	of  func(*Note) *string
}{
	{"rain", func(n *Note) *string { return &n.Rain }},
	{"changed_by", func(n *Note) *string { return &n.ChangedBy }},
}

// encodeLists spells lap times and further adjustments as they stand in the file.
func encodeLists(b *bytes.Buffer, n Note) {
	var times, marks, set []string
	marked := false
	for _, l := range n.Laps {
		times = append(times, strconv.FormatFloat(l.Seconds, 'f', -1, 64))
		marks = append(marks, toml.Quote(l.Mark))
		marked = marked || l.Mark != ""
	}
	for _, a := range n.Adjustments {
		set = append(set, toml.Quote(a.String()))
	}
	if len(times) > 0 {
		fmt.Fprintf(b, "laps_s = [%s]\n", strings.Join(times, ", "))
	}
	if marked {
		fmt.Fprintf(b, "lap_marks = [%s]\n", strings.Join(marks, ", "))
	}
	if len(set) > 0 {
		fmt.Fprintf(b, "adjustments = [%s]\n", strings.Join(set, ", "))
	}
}

// decodeFurther reads the further keys; what cannot be used is left out, and its key marked.
func (m *keys) decodeFurther(n *Note) {
	for _, k := range numberKeys {
		x := m.number(k.key)
		if x < k.least || x > k.most {
			m.unusable(k.key)
			x = math.NaN()
		}
		*k.of(n) = x
	}
	for _, k := range textKeys {
		*k.of(n) = m.text(k.key)
	}
	if n.Rain != "" {
		rain, err := ReadRain(n.Rain)
		if n.Rain = rain; err != nil {
			m.unusable("rain")
		}
	}
	m.laps(n)
	m.adjustments(n)
}

// laps reads the lap times with their marks.
func (m *keys) laps(n *Note) {
	times, _ := m.of["laps_s"].([]any)
	marks, _ := m.of["lap_marks"].([]any)
	for i, t := range times {
		one := keys{of: map[string]any{"s": t}}
		l := LapTime{Seconds: one.number("s")}
		if i < len(marks) {
			l.Mark, _ = marks[i].(string)
		}
		if !(l.Seconds > 0 && l.Seconds < maxLap) || l.Mark != "" && l.Mark != MarkOut && l.Mark != MarkIn {
			n.Laps = nil
			m.unusable("laps_s")
			return
		}
		n.Laps = append(n.Laps, l)
	}
	if len(times) == 0 {
		m.notA("laps_s", m.of["laps_s"] == nil)
	}
	if len(marks) > len(times) {
		m.unusable("lap_marks")
	}
}

// notA marks a key unless it is fine.
func (m *keys) notA(key string, fine bool) {
	if !fine {
		m.unusable(key)
	}
}

// adjustments reads the further adjustments.
func (m *keys) adjustments(n *Note) {
	list, ok := m.of["adjustments"].([]any)
	m.notA("adjustments", ok || m.of["adjustments"] == nil)
	for _, v := range list {
		text, _ := v.(string)
		name, value, ok := strings.Cut(text, " = ")
		if !ok || name == "" || value == "" {
			m.unusable("adjustments")
			continue
		}
		n.Adjustments = append(n.Adjustments, Adjustment{name, value})
	}
	sortAdjustments(n.Adjustments)
}

func sortAdjustments(all []Adjustment) {
	slices.SortStableFunc(all, func(a, b Adjustment) int { return strings.Compare(a.Name, b.Name) })
}

// Adjusted returns the value of an adjustment, however its name's letters are large or small; "" where it was not noted.
func (n Note) Adjusted(name string) string {
	for _, a := range n.Adjustments {
		if strings.EqualFold(a.Name, name) {
			return a.Value
		}
	}
	return ""
}

// SetAdjustment notes an adjustment; an empty value takes it out.
func (n *Note) SetAdjustment(name, value string) {
	n.Adjustments = slices.DeleteFunc(slices.Clone(n.Adjustments), func(a Adjustment) bool { return strings.EqualFold(a.Name, name) })
	if value != "" {
		n.Adjustments = append(n.Adjustments, Adjustment{name, value})
		sortAdjustments(n.Adjustments)
	}
	if len(n.Adjustments) == 0 {
		n.Adjustments = nil
	}
}

// Driven is how many laps of a run are noted: as counted, or as many as were timed; NaN where neither is.
func (n Note) Driven() float64 {
	if math.IsNaN(n.LapsRun) && len(n.Laps) > 0 {
		return float64(len(n.Laps))
	}
	return n.LapsRun
}

// Along returns the head wind on the main straight, m/s, negative for a tail wind; NaN where it is not noted.
func (w Wind) Along() float64 { return w.Speed * math.Cos(w.From*math.Pi/180) }

// FurtherNumber is one further number of a note, by its key.
type FurtherNumber struct {
	Key   string
	Value float64 // NaN where it was not noted
}

// Numbers lists the further numbers of a note in the order of the file.
func (n Note) Numbers() (all []FurtherNumber) {
	for _, k := range numberKeys {
		all = append(all, FurtherNumber{k.key, *k.of(&n)})
	}
	return all
}

// FurtherText is one further text of a note, by its key.
type FurtherText struct{ Key, Value string }

// Texts lists the further texts of a note in the order of the file.
func (n Note) Texts() (all []FurtherText) {
	for _, k := range textKeys {
		all = append(all, FurtherText{k.key, *k.of(&n)})
	}
	return all
}

// spellAdjustments spells further adjustments as ReadAdjustments reads them.
func spellAdjustments(all []Adjustment) string {
	var parts []string
	for _, a := range all {
		parts = append(parts, a.String())
	}
	return units.Printable(strings.Join(parts, ", "))
}
