package units

import (
	"math"
	"strings"
	"testing"
)

// By hand: 106 1/4 in = 106.25·25.4 = 2698.75 mm; 8 ft 10 in = 106 in = 2692.4 mm;
// 1 psi = 4.448222 N / 645.16 mm² = 0.0689476 bar; 72 °F = 40/1.8 = 22.222 °C.
func TestTypedQuantities(t *testing.T) {
	for text, want := range map[string]float64{
		"106 1/4in": 2698.75, "106 1/4": 2698.75, "106¼in": 2698.75, "8' 10\"": 2692.4, "8'10\"": 2692.4, "8ft 10in": 2692.4, "8 ft 10 1/2 in": 2705.1, "8′ 10″": 2692.4, "8’ 10”": 2692.4,
		"5/16in": 7.9375, "2.5m": 2500, "-3/8 in": -9.525, "−2in": -50.8, "  12 mm ": 12, "12": 304.8, "+1in": 25.4, "1 m 20 cm": 1200,
	} {
		if got, err := Lengths.Parse(text, "in"); err != nil || math.Abs(got-want) > 1e-9 {
			t.Errorf("%q = %g mm, %v; want %g", text, got, err, want)
		}
	}
	if got, err := Pressures.Parse("28psi", "bar"); err != nil || math.Abs(got-28*0.0689476) > 1e-5 {
		t.Errorf("28 psi = %g bar, %v", got, err)
	}
	for text, want := range map[string]float64{"72F": 22.2222, "72 °F": 22.2222, "72": 22.2222, "22C": 22, "-4°F": -20} {
		if got, err := Temperature(text, "°F"); err != nil || math.Abs(got-want) > 1e-3 {
			t.Errorf("%q = %g °C, %v; want %g", text, got, err, want)
		}
	}
}

func TestTypedFaults(t *testing.T) {
	for text, want := range map[string]string{
		"1,5in": "use a decimal point, not a comma: 1.5in", "1/0in": "is not a number", "1 2in": "is not a number", "1.5 1/2in": "is not a number", "1/2 1/4in": "is not a number", "10in 8ft": "larger unit first", "1in 2in": "larger unit first",
		"": "type for example 120in", "in": "is not a number", "5 furlongs": `has the unit "furlongs"`, "1e400": "", "--5": "is not a number", "1 3/2in": "is not a number", "8ft 10": "larger unit first",
	} {
		got, err := Lengths.Parse(text, "ft")
		if text == "8ft 10" || text == "" {
			got, err = Lengths.Parse(text, map[string]string{"8ft 10": "m", "": "in"}[text])
		}
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q = %g, %v; want %q", text, got, err, want)
		}
	}
	if _, err := Temperature("22,5C", "°C"); err == nil || !strings.Contains(err.Error(), "22.5C") {
		t.Error(err)
	}
}

// What is mixed in a file is shown mixed.
func TestMixedSystem(t *testing.T) {
	s := SystemOf("mm", "kg", "mph")
	if got := s.Length(25.4) + ", " + s.Speed(44.704) + ", " + s.Force(100); got != "25 mm, 100 mph, 100 N (10 kgf)" {
		t.Error(got)
	}
	if s == Metric || SystemOf("in", "lb", "mph") != Imperial || SystemOf("mm", "kg", "km/h") != Metric {
		t.Error("systems are not told apart")
	}
	if got := SystemOf("mm", "kg", "m/s").Speed(12.34); got != "12.3 m/s" {
		t.Error(got)
	}
	p := Say("%s at %s, %s and %s: %d", MM(25.4), MetresPerSecond(44.704), Newtons(44.48222), Say("%s", FineMM(2.54)), 7)
	if got := p.In(Imperial); got != "1.00 in at 100 mph, 10 lbf and 0.100 in: 7" {
		t.Error(got)
	}
	if got := p.In(Metric); got != "25 mm at 161 km/h, 44 N and 2.5 mm: 7" {
		t.Error(got)
	}
}
