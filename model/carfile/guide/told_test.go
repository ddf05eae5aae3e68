package guide

import (
	"strings"
	"testing"

	"stanchion/model/units"
)

// What is wrong with spacings and rows is said with what to type.
func TestSpacingsAndRowsThatCannotBeUsed(t *testing.T) {
	base := Answers{"road": "exist", "parts": "one", "bolt.head": "M8", "p1.d": "8.4", "p1.1.how": "arc", "p1.1.radius": "100"}
	q, _ := find("p1.1.angles", base, units.Metric)
	for text, want := range map[string]string{
		"0 20 20 chord":          "give the first hole's angle, chord or length",
		"chord 20":               "give the first hole's angle, chord or length",
		"0 chord 201":            "a chord is at most 200.0 mm",
		"0 chord 0":              "more than 0",
		"0 length inner 20":      "with a caliper use chord",
		"0 chord 20 30 in 4":     "with in give one spacing",
		"0 chord 20 in 1":        "from 2 to 40",
		"0 length 100 in 8":      "goes 401° round",
		"0 chord 20,5":           "decimal points",
		"0 chord 20 20 sideways": "",
		"20 mm apart":            "for spacings in mm put chord or length before them",
	} {
		if err := q.Check(text, base, units.Metric); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
	if err := q.Check("0 chord 20", base.With("p1.1.radius", ""), units.Metric); err == nil || !strings.Contains(err.Error(), "radius") {
		t.Errorf("without a radius: %v", err)
	}
	if got := q.Understood("0 chord 100 100", base, units.Metric); got != "3 angles: 0, 60, 120°" {
		t.Errorf("understood as %q", got)
	}
	rows, _ := find("p1.1.rows", base.With("p1.1.how", "rows"), units.Metric)
	for _, text := range []string{"0", "41", "1,1", "3,1", "1,x", "2-1", "1-50", "-3", "1.5"} {
		if err := rows.Check(text, base, units.Metric); err == nil || !strings.Contains(err.Error(), "such as 1,3,5,7") {
			t.Errorf("rows %q: %v", text, err)
		}
	}
	if got := rows.Understood("1,3,5,7", base, units.Metric); got != "4 of 7: 1, 3, 5, 7" {
		t.Errorf("understood as %q", got)
	}
}

// A mirror image, a side that has no meaning and one that the distances contradict are told apart, each with what settles it.
func TestSidesAreSaidTruly(t *testing.T) {
	base := Answers{"road": "exist", "parts": "one", "bolt.head": "M8", "p1.d": "8.4", "p1.1.how": "distances", "p1.1.way": "behind"}
	const triangle = "1-2 60, 1-3 80, 2-3 100"
	const quad = triangle + ", 1-4 100, 2-4 80, 3-4 60"
	for text, want := range map[string]string{
		triangle:                    "fit the plate and its mirror image alike; say which side of the line from 1 to 2 hole 3 is on: add 3 above, or 3 below",
		triangle + ", 3 behind":     "3 behind: sides are those of the line from 1 to 2, which goes back; say 3 above or 3 below",
		quad + ", 3 above, 4 below": "the sides of holes 3, 4 cannot all be right",
		triangle + ", 3 above":      "",
		triangle + ", 3 below":      "",
		quad + ", 3 above, 4 above": "",
	} {
		_, err := base.With("p1.1.distances", text).resolve(0, units.Metric)
		if want == "" && err != nil || want != "" && (err == nil || !strings.Contains(err.Error(), want)) {
			t.Errorf("%s: %v, want %q", text, err, want)
		}
	}
	// From two holes that are known the distances alone say the side.
	known := Answers{"road": "exist", "parts": "one", "bolt.head": "M8", "p1.d": "8.4", "p1.1.how": "places", "p1.1.places": "A 0 0, B 60 0, C 0 80",
		"p1.2.how": "distances"}
	all, err := known.With("p1.2.distances", "A-D 100, B-D 80, C-D 60").resolve(0, units.Metric)
	if err != nil || len(all) != 4 || all[3].Z < 79 {
		t.Fatalf("%v %v", all, err)
	}
	_, err = known.With("p1.2.distances", "A-D 100, B-D 80, C-D 60, D below").resolve(0, units.Metric)
	if err == nil || !strings.Contains(err.Error(), "by the distances hole D is on the other side of the line from A to B than you said") {
		t.Errorf("against the distances: %v", err)
	}
}

// The command to design plates can be copied: one line, or lines that a shell takes for one; a name that a shell would
// take apart is quoted.
func TestDesignLines(t *testing.T) {
	a := Answers{"road": "make", "want_heights": "1200 1240 1280", "want_angles": "0 to 12 by 2"}
	whole := DesignCommand(a, "my car's.toml", units.Metric)
	if !strings.HasPrefix(whole, `stanchion design 'my car'\''s.toml' --height 1200 `) {
		t.Error(whole)
	}
	for _, cells := range []int{40, 60, 76, 200} {
		lines := DesignLines(a, "my car's.toml", cells, units.Metric)
		joined := ""
		for i, l := range lines {
			if len(l) > cells {
				t.Errorf("%d cells: %q", cells, l)
			}
			if more := strings.HasSuffix(l, ` \`); more != (i < len(lines)-1) {
				t.Errorf("%d cells: %q", cells, lines)
			}
			joined += strings.TrimSuffix(l, `\`)
		}
		if strings.Join(strings.Fields(joined), " ") != whole {
			t.Errorf("%d cells: %q", cells, lines)
		}
	}
}

// The section in the pictures hangs as a rear wing does: its camber is below the chord line.
func TestTheSectionIsUpsideDown(t *testing.T) {
	lo, hi := 0.0, 0.0
	for _, p := range profile {
		lo, hi = min(lo, p[1]), max(hi, p[1])
	}
	if -lo < 2*hi || hi <= 0 {
		t.Errorf("it reaches from %.3f to %.3f of the chord", lo, hi)
	}
}
