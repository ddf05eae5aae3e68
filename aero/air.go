package aero

import "math"

// Air is the state of the air around the car.
type Air struct {
	Pressure    float64 // Pa, as a barometer at the place reads it
	Temperature float64 // K
	Humidity    float64 // relative, 0 to 1
}

// Celsius is 0 °C in K, by definition.
const Celsius = 273.15

// Standard atmosphere constants.
// Source: ISO 2533:1975, Standard Atmosphere (the same model as the U.S.
// Standard Atmosphere, 1976, below 32 km), primary constants.
const (
	standardGravity     = 9.80665   // m/s²
	standardPressure    = 101325.0  // Pa, at sea level
	standardTemperature = 288.15    // K, at sea level
	standardLapse       = -0.0065   // K per m of geopotential altitude
	gasConstant         = 287.05287 // J/(kg·K), dry air
	earthRadius         = 6356766.0 // m, of the geopotential altitude
	tropopause          = 11000.0   // m
)

// StandardAir returns the dry standard atmosphere at a geopotential altitude
// in m, for -2000 m to 11 000 m. Below 3000 m geometric altitude differs from
// it by less than 1.5 m.
// Source: ISO 2533:1975, eq. for a layer of constant lapse rate.
func StandardAir(altitude float64) Air {
	h := math.Max(-2000, math.Min(tropopause, altitude))
	t := standardTemperature + standardLapse*h
	return Air{
		Pressure:    standardPressure * math.Pow(t/standardTemperature, -standardGravity/(standardLapse*gasConstant)),
		Temperature: t,
	}
}

// Geopotential returns the geopotential altitude in m of a geometric one.
func Geopotential(geometric float64) float64 {
	return earthRadius * geometric / (earthRadius + geometric)
}

// CIPM-2007 constants.
// Source: A. Picard, R. S. Davis, M. Gläser, K. Fujii, "Revised formula for the
// density of moist air (CIPM-2007)", Metrologia 45 (2008) 149-155, appendix A;
// the compressibility coefficients are set down from memory and checked by the
// independent OIML R 111-1 (E.3-1) in the tests.
const (
	airOverGas   = 3.483740e-3 // kg·K/J: Ma/R at 400 ppm CO₂, eq. (2)
	lighterWater = 0.3780      // 1 - Mv/Ma, eq. (2)
)

// saturation returns the vapour pressure over water in Pa at t in K,
// CIPM-2007 eq. (A1.1).
func saturation(t float64) float64 {
	return math.Exp(1.2378847e-5*t*t - 1.9121316e-2*t + 33.93711047 - 6.3431645e3/t)
}

// Density returns the density of moist air in kg/m³ by CIPM-2007. Its own
// uncertainty is 22 parts in a million between 600 and 1100 hPa and 15 and
// 27 °C; outside of that, within a road car's weather, it stays within 0.1 %
// of an ideal mixture.
func (a Air) Density() float64 {
	t, p := a.Temperature, a.Pressure
	c := t - Celsius
	enhancement := 1.00062 + 3.14e-8*p + 5.6e-7*c*c
	xv := a.Humidity * enhancement * saturation(t) / p
	z := 1 - p/t*(1.58123e-6-2.9331e-8*c+1.1043e-10*c*c+
		(5.707e-6-2.051e-8*c)*xv+(1.9898e-4-2.376e-6*c)*xv*xv) +
		p*p/(t*t)*(1.83e-11-0.765e-8*xv*xv)
	return airOverGas * p / (z * t) * (1 - lighterWater*xv)
}

// Viscosity returns the dynamic viscosity in Pa·s by Sutherland's law.
// Source: U.S. Standard Atmosphere, 1976, eq. (51).
func (a Air) Viscosity() float64 {
	t := a.Temperature
	return 1.458e-6 * math.Pow(t, 1.5) / (t + 110.4)
}

// Reynolds returns the Reynolds number of a chord in m at speed v in m/s.
func (a Air) Reynolds(chord, v float64) float64 {
	return a.Density() * v * chord / a.Viscosity()
}
