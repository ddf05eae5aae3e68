package fastener

import (
	"math"
	"testing"
)

// By hand, from 0.90, 0.85, 0.50 and 1.25 V for aluminium, steel, stainless steel, zinc.
func TestGalvanic(t *testing.T) {
	for _, c := range []struct {
		plate, bolt Kind
		want        Corrosion
		volts       float64
	}{
		{Aluminium, CarbonSteel, ZincFirst, 0.35},
		{Aluminium, Stainless, PlateCorrodes, 0.40},
		{Aluminium, Aluminium, NoCouple, 0},
		{CarbonSteel, CarbonSteel, ZincFirst, 0.40},
		{CarbonSteel, Stainless, PlateCorrodes, 0.35},
		{CarbonSteel, Aluminium, NoCouple, 0.05},
		{Stainless, CarbonSteel, BoltCorrodes, 0.75},
		{Stainless, Stainless, NoCouple, 0},
		{Stainless, Aluminium, BoltCorrodes, 0.40},
		{UnknownKind, Stainless, CorrosionUnknown, 0},
		{Aluminium, UnknownKind, CorrosionUnknown, 0},
	} {
		if got := Galvanic(c.plate, c.bolt); got.Corrosion != c.want || math.Abs(got.Volts-c.volts) > 1e-9 || got.Source == "" {
			t.Errorf("bolt %d in plate %d: %+v, want %d, %g V", c.bolt, c.plate, got, c.want, c.volts)
		}
	}
}

func TestKindOfGrade(t *testing.T) {
	for name, want := range map[string]Kind{"8.8": CarbonSteel, "12.9": CarbonSteel, "SAE 5": CarbonSteel, "A2-70": Stainless, "A4-80": Stainless, "": UnknownKind} {
		if got := KindOfGrade(Grade{Name: name}); got != want {
			t.Errorf("%q: %d, want %d", name, got, want)
		}
	}
}
