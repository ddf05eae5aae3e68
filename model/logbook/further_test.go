package logbook

import (
	"math"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stanchion/model/units"
)

func TestReadWind(t *testing.T) {
	for text, want := range map[string]Wind{
		"4m/s head": {4, 0}, "36 km/h tail": {10, 180}, "36 from 120°": {10, 120}, "5 m/s from left": {5, 270}, "calm": {0, 0},
		"10 mph headwind": {4.4704, 0}, "3 m/s from -30": {3, 330},
	} {
		w, err := ReadWind(text, "km/h")
		if err != nil || math.Abs(w.Speed-want.Speed) > 1e-9 || w.From != want.From {
			t.Errorf("%q is read as %v, %v", text, w, err)
		}
	}
	for _, text := range []string{"4", "head", "strong head", "4m/s 120", "4m/s from there", "400 km/h head", "-3 m/s head", ""} {
		if w, err := ReadWind(text, "km/h"); err == nil {
			t.Errorf("%q is taken for %v", text, w)
		}
	}
	// By hand: 8 m/s from 60° ahead is 4 m/s along the straight, and 150° is from behind.
	if a, b := (Wind{8, 60}).Along(), (Wind{8, 150}).Along(); math.Abs(a-4) > 1e-9 || math.Abs(b+8*math.Sqrt(3)/2) > 1e-9 {
		t.Errorf("along the straight: %v, %v", a, b)
	}
}

func TestReadLaps(t *testing.T) {
	got, err := ReadLaps("out 1:52, 1:43.2 1:43.0 in 1:55")
	want := []LapTime{{112, MarkOut}, {103.2, ""}, {103, ""}, {115, MarkIn}}
	if err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("%v, %v", got, err)
	}
	if text := SpellLaps(want); text != "out 1:52.0 1:43.2 1:43.0 in 1:55.0" {
		t.Errorf("spelt %q", text)
	}
	for _, text := range []string{"out", "out in 1:52", "1:43.2 in", "quick", ""} {
		if l, err := ReadLaps(text); err == nil {
			t.Errorf("%q is taken for %v", text, l)
		}
	}
}

func TestAdjustments(t *testing.T) {
	n := Blank()
	for _, text := range []string{"front bar=2;  splitter = 20  mm", "Front bar = 3, rear wing flap = "} {
		all, err := ReadAdjustments(text)
		if err != nil {
			t.Fatal(err)
		}
		for _, a := range all {
			n.SetAdjustment(a.Name, a.Value)
		}
	}
	if n.Adjusted("front bar") != "3" || n.Adjusted("splitter") != "20 mm" || len(n.Adjustments) != 2 {
		t.Errorf("%v", n.Adjustments)
	}
	n.SetAdjustment("front bar", "")
	n.SetAdjustment("splitter", "")
	if n.Adjustments != nil {
		t.Errorf("taken out, and left: %v", n.Adjustments)
	}
	if _, err := ReadAdjustments("front bar 2"); err == nil {
		t.Error("an adjustment without = is taken")
	}
}

// What is typed comes back from the file as it was, and is spelt so that it can be typed again.
func TestLinesComeBack(t *testing.T) {
	texts := map[string]string{"laps-run": "8", "laps": "out 1:52.0 1:43.25 in 1:55.0", "tyre-laps": "24", "rain": "light",
		"adjust": "front bar = 2, splitter = 20 mm", "minutes": "12.5", "bolts-moved": "2", "changed-by": "the \"boss\""}
	for _, u := range []units.System{units.Metric, units.Imperial} {
		texts["wind"] = u.Speed(10) + " from 120"
		n := Blank()
		n.At = sample(0).At
		n.Sink = Sink{50, -2, 6}
		n.SinkStdUnc, n.TopSpeedStdUnc, n.Coast = 0.4, 0.25, Coast{0.71, 0.012}
		for _, l := range Lines() {
			if err := l.Read(&n, texts[l.Flag], u); err != nil || texts[l.Flag] == "" {
				t.Errorf("%s: %q: %v", l.Flag, texts[l.Flag], err)
			}
		}
		path := filepath.Join(t.TempDir(), "x.notes.toml")
		saved, _, err := Append(path, n)
		if err != nil {
			t.Fatal(err)
		}
		b, err := Read(path)
		if err != nil || len(b.Told) > 0 || len(b.Notes) != 1 {
			t.Fatalf("%v, %v", b.Told, err)
		}
		back := b.Notes[0]
		if !back.At.Equal(saved.At) {
			t.Errorf("at %v", back.At)
		}
		for _, l := range Lines() {
			if got := l.Spell(back, u); got != texts[l.Flag] {
				t.Errorf("%s: %q comes back as %q", l.Flag, texts[l.Flag], got)
			}
			l.Clear(&back)
			if got := l.Spell(back, u); got != "" {
				t.Errorf("%s is taken out, and says %q", l.Flag, got)
			}
		}
		if back.SinkStdUnc != 0.4 || back.TopSpeedStdUnc != 0.25 || back.Coast != n.Coast {
			t.Errorf("%+v", back)
		}
	}
}

// What a hand has made of the further keys costs that key, not the note.
func TestFurtherKeysByHand(t *testing.T) {
	for _, c := range []struct{ line, odd string }{
		{`wind_from_deg = 400`, "wind_from_deg"}, {`rain = "cats"`, "rain"}, {`laps_s = [103.2, "quick"]`, "laps_s"}, {`laps_s = 103.2`, "laps_s"},
		{"laps_s = [103.2]\nlap_marks = [\"late\"]", "laps_s"}, {"lap_marks = [\"out\"]", "lap_marks"}, {`adjustments = ["front bar"]`, "adjustments"},
		{`adjustments = "front bar = 2"`, "adjustments"}, {`laps_run = -1`, "laps_run"},
	} {
		n, odd, wrong := decode([]byte("[[note]]\nid = \"a\"\nat = 2026-05-31T14:05:00Z\nplace = \"north\"\n" + c.line + "\n"))
		if wrong != "" || strings.Join(odd, " ") != c.odd || n.Venue != "north" {
			t.Errorf("%s: odd %v, %s", c.line, odd, wrong)
		}
	}
}

func TestFurtherRoundTrips(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		n := Blank()
		n.ID, n.At = "a", sample(0).At
		for _, k := range numberKeys {
			if rapid.Bool().Draw(r, k.key) {
				*k.of(&n) = rapid.Float64Range(k.least, k.most).Draw(r, "value")
			}
		}
		for range rapid.IntRange(0, 4).Draw(r, "laps") {
			n.Laps = append(n.Laps, LapTime{rapid.Float64Range(0.001, 7000).Draw(r, "s"), rapid.SampledFrom([]string{"", MarkOut, MarkIn}).Draw(r, "mark")})
		}
		for range rapid.IntRange(0, 3).Draw(r, "adjustments") {
			n.SetAdjustment(rapid.StringMatching(`[a-z"\\ ]{0,5}[a-z]`).Draw(r, "name"), rapid.StringMatching(`\PC{0,6}[^ ]`).Draw(r, "value"))
		}
		text := encode(n)
		back, odd, wrong := decode(text[:strings.LastIndex(string(text), "\n"+closing)+1])
		if wrong != "" || len(odd) > 0 {
			r.Fatalf("%s %v\n%s", wrong, odd, text)
		}
		if again := encode(back); string(again) != string(text) {
			r.Fatalf("%s\ncomes back as\n%s", text, again)
		}
	})
}
