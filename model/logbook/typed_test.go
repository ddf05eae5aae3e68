package logbook

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestReadLap(t *testing.T) {
	for text, want := range map[string]float64{"1:42.3": 102.3, "102.3": 102.3, "0:59.999": 59.999, " 2:00 ": 120} {
		if got, err := ReadLap(text); err != nil || math.Abs(got-want) > 1e-9 {
			t.Errorf("ReadLap(%q) = %v, %v; want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "1:60", "-1:20", "1:-2", "x", "0", "NaN", "1:NaN", "Inf", "9999"} {
		if got, err := ReadLap(text); err == nil {
			t.Errorf("ReadLap(%q) = %v, want an error", text, got)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		s := float64(rapid.IntRange(1, 7_199_000).Draw(t, "ms")) / 1000
		if got, err := ReadLap(SpellLap(s)); err != nil || math.Abs(got-s) > 1e-9 {
			t.Fatalf("%v spelt %q reads back as %v, %v", s, SpellLap(s), got, err)
		}
	})
}

func TestReadTyresAndGrip(t *testing.T) {
	if p, err := ReadTyres("1.9, 1.9 2.0,2.05", "bar"); err != nil || p != [4]float64{1.9, 1.9, 2, 2.05} {
		t.Errorf("%v, %v", p, err)
	}
	for _, text := range []string{"", "1.9", "1.9,1.9,2.0", "1,1,1,x", "1,1,1,9", "1,1,1,NaN"} {
		if p, err := ReadTyres(text, "bar"); err == nil {
			t.Errorf("ReadTyres(%q) = %v, want an error", text, p)
		}
	}
	for g := -3; g <= 3; g++ {
		if got, err := ReadGrip(SpellGrip(g)); err != nil || got != g {
			t.Errorf("%d reads back as %d, %v", g, got, err)
		}
	}
	for _, text := range []string{"", "4", "-4", "1.5", "–"} {
		if g, err := ReadGrip(text); err == nil {
			t.Errorf("ReadGrip(%q) = %d, want an error", text, g)
		}
	}
	if s := Blank().Feel.String(); s != "feel not noted" {
		t.Errorf("%q", s)
	}
}

// By hand: 1 psi is 0.0689476 bar.
func TestReadTyresInPsi(t *testing.T) {
	for _, row := range [][2]string{{"28 28 29 30", "psi"}, {"28 28 29 30 psi", "bar"}, {"28psi 28psi 29psi 30psi", "bar"}} {
		p, err := ReadTyres(row[0], row[1])
		if err != nil || math.Abs(p[0]-1.93053) > 1e-4 || math.Abs(p[3]-2.06843) > 1e-4 {
			t.Errorf("%q: %v bar, %v", row[0], p, err)
		}
	}
}

// A decimal comma is named as what is wrong, with the time as it is to be typed.
func TestReadLapComma(t *testing.T) {
	for text, want := range map[string]string{"1:42,3": "use a decimal point, not a comma: 1:42.3", "102,3": "not a comma: 102.3", "1,42,3": "give a time such as", "a,b": "give a time such as"} {
		if _, err := ReadLap(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("ReadLap(%q) says %v, want %q", text, err, want)
		}
	}
}
