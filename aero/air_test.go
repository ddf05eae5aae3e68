package aero

import (
	"fmt"
	"math"
	"testing"
)

func ExampleStandardAir() {
	// ISO 2533:1975, geopotential altitude 1000 m: 281.650 K, 89 874.6 Pa.
	a := StandardAir(1000)
	fmt.Printf("%.3f K, %.1f Pa\n", a.Temperature, a.Pressure)
	// Output: 281.650 K, 89874.6 Pa
}

// U.S. Standard Atmosphere, 1976 (NASA-TM-X-74335), table I, by geometric
// altitude; the last two rows ISO 2533:1975, by geopotential altitude.
func TestPublishedAtmosphere(t *testing.T) {
	for _, row := range []struct {
		h, temperature, pressure, rho float64
	}{
		{Geopotential(0), 288.150, 101325, 1.22500},
		{Geopotential(500), 284.900, 95461.3, 1.16727},
		{Geopotential(1000), 281.651, 89876.3, 1.11166},
		{Geopotential(3000), 268.659, 70121.2, 0.909254},
		{1000, 281.650, 89874.6, 1.11164},
		{3000, 268.650, 70108.5, 0.909121},
	} {
		a := StandardAir(row.h)
		rho := a.Pressure / (gasConstant * a.Temperature)
		if off(a.Temperature, row.temperature) > 2e-5 || off(a.Pressure, row.pressure) > 2e-5 || off(rho, row.rho) > 2e-5 {
			t.Errorf("StandardAir(%.1f m) = %.3f K, %.1f Pa, %.6f kg/m³; want %.3f, %.1f, %.6f",
				row.h, a.Temperature, a.Pressure, rho, row.temperature, row.pressure, row.rho)
		}
		// The real gas of CIPM-2007 is at most 0.05 % denser than the ideal one.
		if r := a.Density()/row.rho - 1; r < 0 || r > 6e-4 {
			t.Errorf("CIPM density at %.0f m is %.5f %% off the standard atmosphere", row.h, 100*r)
		}
	}
	// Same source, sea level: ν = 1.4607e-5 m²/s, μ = 1.7894e-5 Pa·s.
	if mu := StandardAir(0).Viscosity(); off(mu, 1.7894e-5) > 1e-4 {
		t.Errorf("viscosity %.5g Pa·s, want 1.7894e-5", mu)
	}
}

// Densities from the CIPM-2007 formula, computed independently, and the
// simpler OIML R 111-1:2004 eq. (E.3-1) beside them.
func TestMoistAirDensity(t *testing.T) {
	for _, row := range []struct{ p, c, rh, cipm, oiml float64 }{
		{101325, 20, 0.5, 1.199314, 1.199294},
		{101325, 20, 0, 1.204557, 1.204494},
		{95000, 30, 0.6, 1.080955, 1.080949},
		{101325, 35, 0.8, 1.126607, 1.126102},
	} {
		rho := Air{row.p, row.c + Celsius, row.rh}.Density()
		if off(rho, row.cipm) > 2e-6 || off(rho, row.oiml) > 1e-3 {
			t.Errorf("Density(%.0f Pa, %.0f °C, %.0f %%) = %.6f kg/m³, want %.6f", row.p, row.c, 100*row.rh, rho, row.cipm)
		}
	}
}

// Saturation pressures of IAPWS SR1-86 (Wagner and Pruss 1993), Pa.
func TestSaturation(t *testing.T) {
	for _, row := range []struct{ c, want, within float64 }{
		{0.01, 611.66, 0.003}, {10, 1228.1, 0.003}, {20, 2339.2, 0.003}, {26.85, 3536.58941, 0.003}, {30, 4246.9, 0.004},
	} {
		if got := saturation(row.c + Celsius); off(got, row.want) > row.within {
			t.Errorf("saturation(%.2f °C) = %.2f Pa, want %.2f within %.1f %%", row.c, got, row.want, 100*row.within)
		}
	}
}

func ExampleDynamicPressure() {
	// By hand: ½ · 1.225 · (160/3.6)² = 1209.88 Pa.
	fmt.Printf("%.2f Pa\n", DynamicPressure(1.225, 160/3.6))
	// Output: 1209.88 Pa
}

// off returns by how much got is off want, as a fraction of want.
func off(got, want float64) float64 { return math.Abs(got/want - 1) }
