package logbook

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

var asItStands = func(text string) (string, error) { return text, nil }

// drawnNote draws a note of which anything may be noted.
func drawnNote(t *rapid.T) Note {
	n := Blank()
	text := rapid.StringOf(rapid.OneOf(rapid.Rune(), rapid.SampledFrom([]rune("'=-+;,\n\t \"\\u0041|"))))
	maybe := func(name string, to *float64, least, most float64) {
		if rapid.Bool().Draw(t, name) {
			*to = rapid.Float64Range(least, most).Draw(t, name) + 0
		}
	}
	n.At = time.Unix(rapid.Int64Range(1.5e9, 1.8e9).Draw(t, "at"), rapid.SampledFrom([]int64{0, 0, 500_000_000}).Draw(t, "fraction")).In(time.FixedZone("", 3600*rapid.IntRange(-11, 12).Draw(t, "zone")))
	for _, s := range []*string{&n.Venue, &n.TyreSet, &n.Driver, &n.Text, &n.Car, &n.ChangedBy} {
		*s = strings.ToValidUTF8(text.Draw(t, "text"), "")
	}
	n.Setting = rapid.SampledFrom([]string{"", "1:k1+2:k2/A:F+A2:R"}).Draw(t, "setting")
	n.Track = rapid.SampledFrom([]string{"", TrackDry, TrackWet}).Draw(t, "track")
	n.Rain = rapid.SampledFrom([]string{"", RainNone, RainHeavy}).Draw(t, "rain")
	maybe("lap", &n.Lap, 60, 200)
	maybe("fuel", &n.Fuel, 0, 80)
	maybe("speed", &n.Speed, 10, 60)
	maybe("temperature", &n.Air.Temperature, -10, 40)
	for i := range n.Tyres {
		maybe("tyre", &n.Tyres[i], 1, 3)
	}
	if rapid.Bool().Draw(t, "sink") {
		n.Sink = Sink{50, rapid.Float64Range(-20, 20).Draw(t, "front"), 0.1}
	}
	for _, k := range numberKeys {
		maybe(k.key, k.of(&n), k.least, k.most)
	}
	for _, k := range feelKeys {
		if rapid.Bool().Draw(t, k.key) {
			*k.of(&n.Feel) = rapid.IntRange(-3, k.most).Draw(t, k.key)
		}
	}
	for range rapid.IntRange(0, 3).Draw(t, "laps") {
		n.Laps = append(n.Laps, LapTime{rapid.Float64Range(50, 200).Draw(t, "lap"), rapid.SampledFrom([]string{"", "", MarkIn, MarkOut}).Draw(t, "mark")})
	}
	for i := range rapid.IntRange(0, 2).Draw(t, "adjustments") {
		n.SetAdjustment(fmt.Sprintf("bar; %d", i), "="+strings.ToValidUTF8(text.Draw(t, "value"), ""))
	}
	if rapid.Bool().Draw(t, "checked") {
		n.Inspected = Inspection{Looked: []string{"torque; foot", "paint"}, Failed: []string{"paint"}, Found: text.Draw(t, "found"), Setting: n.Setting, Struck: StruckSpin}
	}
	maybe("downforce", &n.Expected.Downforce, -100, 3000)
	maybe("shift", &n.Expected.Shift, -9, 9)
	return n
}

// A notebook as a table, and the table in an empty notebook, are the same notes; in the same notebook it is nothing
// new; saved by a spreadsheet that puts semicolons and decimal commas it is the same again.
func TestTableComesBack(t *testing.T) {
	dir := t.TempDir()
	path, empty := filepath.Join(dir, "x.notes.toml"), filepath.Join(dir, "empty.notes.toml")
	rapid.Check(t, func(t *rapid.T) {
		data := []byte(head)
		var ids []string
		for range rapid.IntRange(1, 3).Draw(t, "notes") {
			n := drawnNote(t)
			n.ID = freshID(ids, n.At)
			if len(ids) > 0 && rapid.Bool().Draw(t, "correction") {
				n.Replaces = rapid.SampledFrom(ids).Draw(t, "of")
				n.Withdrawn = rapid.Bool().Draw(t, "takes back")
			}
			ids = append(ids, n.ID)
			data = append(data, encode(n)...)
		}
		if err := os.WriteFile(path, data, 0o644); err != nil {
			t.Fatal(err)
		}
		b, err := Read(path)
		if err != nil || len(b.Told) > 0 || len(b.All) != len(ids) {
			t.Fatal(err, b.Told)
		}
		var table bytes.Buffer
		if err := WriteCSV(&table, Keys(), b.All); err != nil {
			t.Fatal(err)
		}
		text := table.String()
		if rapid.Bool().Draw(t, "of another place") {
			text = "\uFEFF" + otherPlace(t, text)
		}
		r, err := ReadCSV([]byte(text), asItStands, time.Unix(1.9e9, 0))
		r.Faults = slices.DeleteFunc(r.Faults, func(f Fault) bool { return f.Unlikely })
		if err != nil || len(r.Faults)+len(r.Unknown) > 0 {
			t.Fatalf("%v, %+v of\n%s", err, r.Faults, text)
		}
		os.Remove(empty)
		if _, err := quick.take(empty, r.rows, true, true); err != nil {
			t.Fatal(err)
		}
		back, err := Read(empty)
		if err != nil || len(back.Told) > 0 {
			t.Fatal(err, back.Told)
		}
		if len(back.All) != len(b.All) {
			t.Fatal("notes are lost")
		}
		byID := func(notes []Note) []Note {
			notes = slices.Clone(notes)
			slices.SortFunc(notes, func(a, b Note) int { return strings.Compare(a.ID, b.ID) })
			return notes
		}
		exactly := cmp.Options{cmpopts.EquateNaNs(), cmpopts.EquateEmpty()}
		if d := cmp.Diff(byID(b.All), byID(back.All), exactly); d != "" {
			t.Fatalf("%s\nby way of\n%s", d, text)
		}
		if m, err := quick.take(path, r.rows, true, false); err != nil || len(m.Taken) > 0 || m.Same != len(ids) {
			t.Fatalf("in the same notebook: %+v, %v", m, err)
		}
	})
}

// otherPlace is a table as a spreadsheet saves it where a comma stands in numbers.
func otherPlace(t *rapid.T, text string) string {
	t.Helper()
	r, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	for i, row := range r {
		for j, cell := range row {
			if i > 0 {
				if _, number := numeric(allKnown().of[r[0][j]]); number {
					cell = strings.Replace(cell, ".", ",", 1)
				}
			}
			if j > 0 {
				out.WriteByte(';')
			}
			out.WriteString(`"` + strings.ReplaceAll(cell, `"`, `""`) + `"`)
		}
		out.WriteString("\r\n")
	}
	return out.String()
}

// A table made by hand, and one clear line for each fault of it.
func TestTableMadeByHand(t *testing.T) {
	now := time.Date(2026, 12, 1, 0, 0, 0, 0, time.UTC)
	r, err := ReadCSV([]byte("At;Setting;Lap s;fuel_kg;balance_fast_middle;weather\n2026-11-25 10:30;a;1:42,3;20,5;+1;sun\n25.11.2026 11:00;b;102.25;;;\n"), asItStands, now)
	if err != nil || len(r.Faults) > 0 || len(r.rows) != 2 || !slices.Equal(r.Unknown, []string{"weather"}) {
		t.Fatalf("%+v, %v", r, err)
	}
	if n := r.rows[0].note; n.Lap != 102.3 || n.Fuel != 20.5 || n.Feel.Fast.Middle != 1 || n.At.Format("15:04") != "10:30" || n.Setting != "a" {
		t.Errorf("%+v", n)
	}
	if n := r.rows[1].note; n.Lap != 102.25 || n.At.Format("2006-01-02 15:04") != "2026-11-25 11:00" {
		t.Errorf("%+v", n)
	}
	for _, c := range []struct{ table, want string }{
		{"at,lap_s\nsoon,92\n", `2:1 at "soon" is not a time; write it as 2026-11-25 10:30`},
		{"at,lap_s\n11/25/2026 10:30,92\n", `2:1 at "11/25/2026 10:30" is not a time`},
		{"lap_s,at\n92,\n", `2:4 at it has no time`},
		{"at,lap_s\n2026-11-25 10:30,\"1,42\"\n", `2:18 lap_s "1,42" is not clear`},
		{"at,lap_s\n2026-11-25 10:30,fast\n", `2:18 lap_s "fast" is not a number`},
		{"at;fuel_kg;speed_m_s\n2026-11-25 10:30;20,5;1.234\n", `2:23 speed_m_s "1.234" is not clear beside numbers with a decimal comma`},
		{"at,balance_fast_middle\n2026-11-25 10:30,7\n", `2:18 balance_fast_middle "7" cannot be used`},
		{"at,lap_s\n2026-11-25 10:30,9000\n", `2:18 lap_s "9000" cannot be used`},
		{"at,tyre_front_left_bar\n2026-11-25 10:30,28\n", `2:18 tyre_front_left_bar 28 bar; it must be 0.3 to 6 bar`},
		{"at,sink_front_mm\n2026-11-25 10:30,3\n", `2:1 sink_speed_m_s it is missing`},
		{"at,id\n2026-11-25 10:30,my note\n", `2:18 id "my note" cannot be an id`},
		{"at,fitted_only\n2026-11-25 10:30,perhaps\n", `2:18 fitted_only "perhaps"; give true or false`},
		{"at,lap_s\n2099-11-25 10:30,92\n", `2:1 at 2099-11-25 10:30 is before 1970 or in the future`},
		{"at,at\n2026-11-25 10:30,\n", `1:4 at the column is there twice`},
		{"at,track\n2026-11-25 10:30,icy\n", `2:18 track "icy" cannot be used`},
		{"at,fitted_only,balance_fast_middle\n2026-11-25 10:30,yes,1\n", `2:1  a setting that is only bolted on`},
	} {
		r, err := ReadCSV([]byte(c.table), asItStands, now)
		if err != nil || len(r.Faults) != 1 {
			t.Errorf("%q: %+v, %v", c.table, r.Faults, err)
			continue
		}
		f := r.Faults[0]
		if got := fmt.Sprintf("%d:%d %s %s", f.Line, f.Col, f.Key, f.What); !strings.HasPrefix(got, c.want) {
			t.Errorf("%q: %s, want %s", c.table, got, c.want)
		}
	}
	for table, want := range map[string]string{"": "no head line", "lap_s,fuel\n1,2\n": "no column at", "at\n\xff": "not UTF-8"} {
		if _, err := ReadCSV([]byte(table), asItStands, now); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %s", table, err, want)
		}
	}
}

func FuzzReadCSV(f *testing.F) {
	var table bytes.Buffer
	if err := WriteCSV(&table, Keys(), []Note{sample(0)}); err != nil {
		f.Fatal(err)
	}
	f.Add(table.Bytes())
	f.Add([]byte("at;lap_s;laps_s\n2026-11-25;1:42,3;\"1,5; 2\"\n"))
	dir := f.TempDir()
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := ReadCSV(data, asItStands, time.Unix(1.9e9, 0))
		if err != nil {
			return
		}
		for _, fault := range r.Faults {
			if fault.Line < 1 || fault.Col < 1 || strings.Contains(fault.What, "\n") {
				t.Fatalf("%+v", fault)
			}
		}
		m, err := quick.take(filepath.Join(dir, "none.notes.toml"), r.rows, true, false)
		if err != nil {
			t.Fatal(err)
		}
		text := []byte(head)
		for i := range m.Taken {
			text = append(text, m.Taken[i].block...)
		}
		b := parse("x", text)
		if len(b.Told) > 0 || len(b.All) != len(m.Taken) {
			t.Fatalf("%q of %q", b.Told, text)
		}
	})
}

// What is cut short in any way, and any other file beside a notebook, is put back into a book that can be read.
func FuzzRecover(f *testing.F) {
	whole := encode(sample(0))
	f.Add(whole[:len(whole)/2], whole[:60])
	f.Add([]byte("[[note]]\nid = 'a'\nat = 1\nat = 2026-01-01\nx = [\n\x00"), []byte("# end"))
	dir := f.TempDir()
	f.Fuzz(func(t *testing.T, torn, tail []byte) {
		path := filepath.Join(dir, "x.notes.toml")
		data := append(append([]byte(head), whole...), tail...)
		if os.WriteFile(path+".torn-1", torn, 0o644) != nil {
			t.Fatal("cannot write")
		}
		r, err := planRecovery(path, data, nil, time.Unix(1.8e9, 0))
		if err != nil {
			t.Fatal(err)
		}
		length, _ := wholeNotes(ended(data))
		text := bytes.Clone(data[:min(length, len(data))])
		for i := range r.Notes {
			text = append(append(text, r.Notes[i].block...), r.Notes[i].takeBack...)
		}
		before, after := parse("x", data[:min(length, len(data))]), parse("x", text)
		if len(after.All) < len(before.All)+len(r.Notes) {
			t.Fatalf("%d notes and %d put back are %d", len(before.All), len(r.Notes), len(after.All))
		}
		again, err := planRecovery(path, text, nil, time.Unix(1.8e9, 0))
		if err != nil || len(again.Notes) > 0 {
			t.Fatalf("again: %+v, %v", again.Notes, err)
		}
	})
}

// What another notebook holds, whatever it is, leaves one that can be read, and is taken once.
func FuzzMerge(f *testing.F) {
	f.Add([]byte(head + string(encode(sample(0)))))
	f.Add([]byte("[[note]]\nid = 'a'\nreplaces = 'b'\nat = 2026-01-01T00:00:00Z\n# end a 0\n[[note]]\nid = 'b'\nreplaces = 'a'\nat = 2026-01-01T00:00:00Z\nx.y = {z = [1, {w = 2}]}\n# end b 0\n"))
	n := sample(1)
	n.ID = "2026-11-25.1"
	ours := append([]byte(head), encode(n)...)
	dir := f.TempDir()
	f.Fuzz(func(t *testing.T, data []byte) {
		theirs, _, err := incomingNotes(filepath.Join(dir, "x.notes.toml"), data)
		if err != nil {
			t.Fatal(err)
		}
		m, err := planMerge("x", ours, theirs, false)
		if err != nil {
			return // a note that cannot be written as it stands
		}
		text := bytes.Clone(ours)
		for i := range m.Taken {
			text = append(text, m.Taken[i].block...)
		}
		b := parse("x", text)
		if len(b.All) != 1+len(m.Taken) {
			t.Fatalf("%d notes of 1 and %d", len(b.All), len(m.Taken))
		}
		if again, err := planMerge("x", text, theirs, false); err != nil || len(again.Taken) > 0 {
			t.Fatalf("again: %d, %v", len(again.Taken), err)
		}
	})
}
