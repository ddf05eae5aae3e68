package logbook

import (
	"bytes"
	"fmt"
	"hash/crc32"
	"math"
	"regexp"
	"strconv"
	"strings"
	"time"

	"stanchion/model/toml"
	"stanchion/model/units"
)

const head = `# Notes of stanchion, one after the other. Each ends with a line that has its
# checksum. Correct a note by a new one that replaces it.
notes_format = 1
`

// opening and closing of a note in the file.
const (
	opening = "[[note]]"
	closing = "# end "
)

// encode spells a note as it stands in the file, with its closing line.
func encode(n Note) []byte {
	var b bytes.Buffer
	b.WriteString("\n" + opening + "\n")
	text := func(key, v string) {
		if v != "" {
			fmt.Fprintf(&b, "%s = %s\n", key, toml.Quote(v))
		}
	}
	number := func(key string, v float64) {
		if !math.IsNaN(v) && !math.IsInf(v, 0) {
			fmt.Fprintf(&b, "%s = %s\n", key, strconv.FormatFloat(v, 'f', -1, 64))
		}
	}
	feel := func(key string, v int) {
		if v != NoFeel {
			fmt.Fprintf(&b, "%s = %d\n", key, v)
		}
	}
	text("id", n.ID)
	text("replaces", n.Replaces)
	fmt.Fprintf(&b, "at = %s\n", n.At.Format(time.RFC3339))
	text("place", n.Venue)
	text("setting", n.Setting)
	if n.Fitted {
		b.WriteString("fitted_only = true\n")
	}
	number("speed_m_s", n.Speed)
	number("air_temperature_c", n.Air.Temperature)
	number("air_pressure_hpa", n.Air.Pressure)
	number("air_humidity_pct", n.Air.Humidity)
	for i, key := range tyreKeys {
		number(key, n.Tyres[i])
	}
	text("tyre_set", n.TyreSet)
	number("fuel_kg", n.Fuel)
	text("driver", n.Driver)
	text("track", n.Track)
	number("lap_s", n.Lap)
	number("top_speed_m_s", n.TopSpeed)
	number("sink_speed_m_s", n.Sink.Speed)
	number("sink_front_mm", n.Sink.Front)
	number("sink_rear_mm", n.Sink.Rear)
	feel("front_grip_slow", n.Feel.FrontSlow)
	feel("rear_grip_slow", n.Feel.RearSlow)
	feel("front_grip_fast", n.Feel.FrontFast)
	feel("rear_grip_fast", n.Feel.RearFast)
	for _, k := range feelKeys {
		feel(k.key, *k.of(&n.Feel))
	}
	for _, k := range numberKeys {
		number(k.key, *k.of(&n))
	}
	for _, k := range textKeys {
		text(k.key, *k.of(&n))
	}
	encodeLists(&b, n)
	text("text", n.Text)
	n.Inspected.encode(&b)
	text("car_digest", n.Car)
	e := n.Expected
	for _, f := range []struct {
		key string
		v   float64
	}{
		{"expected_height_mm", e.Height}, {"expected_angle_deg", e.Angle}, {"expected_cl", e.CL},
		{"expected_downforce_n", e.Downforce}, {"expected_downforce_band_n", e.DownforceStdUnc},
		{"expected_drag_n", e.Drag}, {"expected_drag_band_n", e.DragStdUnc},
		{"expected_front_share_pct", e.Share}, {"expected_balance_shift_pp", e.Shift},
	} {
		number(f.key, f.v)
	}
	fmt.Fprintf(&b, "%s%s %08x\n", closing, n.ID, crc32.ChecksumIEEE(b.Bytes()))
	return b.Bytes()
}

var tyreKeys = [4]string{"tyre_front_left_bar", "tyre_front_right_bar", "tyre_rear_left_bar", "tyre_rear_right_bar"}

// block is one note's bytes in a file, and what was made of them.
type block struct {
	from, to int
	note     Note
	whole    bool // it ends with its closing line
	sound    bool // the checksum is right
	odd      []string
	wrong    string // why it cannot be read; "" when it can
}

// opened is the line that a note starts with, also as a person may have spaced it.
var opened = regexp.MustCompile(`^\s*\[\[\s*note\s*\]\]\s*(#.*)?$`)

func opens(line []byte) bool { return bytes.Contains(line, []byte("[[")) && opened.Match(line) }

// blocks finds the notes of a file. Every note starts with a line [[note]], which
// can stand nowhere else: strings are on one line.
func blocks(data []byte) []block {
	var starts []int
	for at := 0; at < len(data); {
		end := bytes.IndexByte(data[at:], '\n')
		line := data[at:]
		if end >= 0 {
			line = data[at : at+end]
		}
		if opens(line) {
			starts = append(starts, at)
		}
		if end < 0 {
			break
		}
		at += end + 1
	}
	var all []block
	for i, from := range starts {
		to := len(data)
		if i+1 < len(starts) {
			to = starts[i+1]
		}
		if from > 0 && data[from-1] == '\n' {
			from-- // the empty line before belongs to the note
			if i > 0 && len(all) > 0 && all[len(all)-1].to > from {
				all[len(all)-1].to = from
			}
		}
		all = append(all, read(data, from, to))
	}
	return all
}

// read makes a note of the bytes of one block.
func read(data []byte, from, to int) block {
	b := block{from: from, to: to}
	text := data[from:to]
	at := bytes.LastIndex(text, []byte("\n"+closing))
	if at < 0 {
		b.wrong = "it has no closing line"
		return b
	}
	line := text[at+1:]
	end := bytes.IndexByte(line, '\n')
	if end < 0 {
		b.wrong = "its closing line is cut short"
		return b
	}
	b.whole = true
	b.to = from + at + 1 + end + 1
	fields := bytes.Fields(line[len(closing):end])
	sum := crc32.ChecksumIEEE(text[:at+1])
	b.sound = len(fields) == 2 && string(fields[1]) == fmt.Sprintf("%08x", sum)
	b.note, b.odd, b.wrong = decode(text[:at+1])
	return b
}

// decode reads a note's keys. odd are those whose values cannot be used, as a hand
// may have left them; wrong is why there is no note.
func decode(text []byte) (n Note, odd []string, wrong string) {
	var doc struct {
		Note []map[string]any `toml:"note"`
	}
	if err := toml.Decode(string(text), &doc); err != nil {
		return Note{}, nil, err.Error()
	}
	if len(doc.Note) != 1 {
		return Note{}, nil, "it is not a note"
	}
	m := keys{of: doc.Note[0]}
	n = Blank()
	// An id is shown in many places: it is made safe for a terminal here.
	n.ID, n.Replaces = units.Printable(m.text("id")), units.Printable(m.text("replaces"))
	n.Venue, n.Setting = m.text("place"), m.text("setting")
	n.Text, n.Car = m.text("text"), m.text("car_digest")
	n.Fitted, _ = m.of["fitted_only"].(bool)
	switch at := m.of["at"].(type) {
	case time.Time:
		n.At = at
	default:
		return Note{}, nil, "it has no time"
	}
	if n.ID == "" {
		return Note{}, nil, "it has no id"
	}
	n.Speed = m.number("speed_m_s")
	n.Air = Air{m.number("air_temperature_c"), m.number("air_pressure_hpa"), m.number("air_humidity_pct")}
	for i, key := range tyreKeys {
		n.Tyres[i] = m.number(key)
	}
	n.Fuel, n.Lap, n.TopSpeed = m.number("fuel_kg"), m.number("lap_s"), m.number("top_speed_m_s")
	n.Sink = Sink{m.number("sink_speed_m_s"), m.number("sink_front_mm"), m.number("sink_rear_mm")}
	n.Feel.FrontSlow, n.Feel.RearSlow = m.feel("front_grip_slow", 3), m.feel("rear_grip_slow", 3)
	n.Feel.FrontFast, n.Feel.RearFast = m.feel("front_grip_fast", 3), m.feel("rear_grip_fast", 3)
	for _, k := range feelKeys {
		*k.of(&n.Feel) = m.feel(k.key, k.most)
	}
	n.TyreSet, n.Driver = m.text("tyre_set"), m.text("driver")
	if n.Track = m.text("track"); n.Track != "" {
		track, err := ReadTrack(n.Track)
		if n.Track = track; err != nil {
			m.odd = append(m.odd, "track")
		}
	}
	m.decodeFurther(&n)
	n.Inspected = m.inspection()
	n.Expected = Prediction{
		m.number("expected_height_mm"), m.number("expected_angle_deg"), m.number("expected_cl"),
		m.number("expected_downforce_n"), m.number("expected_downforce_band_n"),
		m.number("expected_drag_n"), m.number("expected_drag_band_n"),
		m.number("expected_front_share_pct"), m.number("expected_balance_shift_pp"),
	}
	if !(n.Lap > 0 && n.Lap < maxLap) && !math.IsNaN(n.Lap) {
		n.Lap, m.odd = math.NaN(), append(m.odd, "lap_s")
	}
	return n, m.odd, ""
}

// formatOf returns the format that a file says it has, 0 when it says none.
func formatOf(data []byte) int {
	first := data
	if i := bytes.Index(data, []byte("\n"+opening)); i >= 0 {
		first = data[:i]
	} else {
		first = data[:bytes.LastIndexByte(data, '\n')+1] // a line that is cut short says nothing
	}
	for _, line := range strings.Split(string(first), "\n") {
		key, value, ok := strings.Cut(line, "=")
		if ok && strings.TrimSpace(key) == "notes_format" {
			value, _, _ = strings.Cut(value, "#")
			n, err := strconv.Atoi(strings.TrimSpace(value))
			if err != nil {
				return -1
			}
			return n
		}
	}
	return 0
}
