// Package units reads quantities that people type with their units, and spells
// figures for people with the unit beside them, rounded to what they are good
// for. Inside the program lengths are mm, all else SI.
package units

import (
	"math"
	"strconv"
	"strings"
)

// Gravity is the standard acceleration of free fall, m/s². Source: ISO 80000-3.
const Gravity = 9.80665

// Conversion factors, exact by definition. Source: the international yard and
// pound agreement (1959) and the standard acceleration of free fall.
const (
	Inch  = 25.4            // mm
	Foot  = 12 * Inch       // mm
	Pound = 0.45359237      // kg
	Mile  = 1609.344        // m
	KPH   = 1 / 3.6         // m/s
	MPH   = Mile / 3600     // m/s
	KGF   = Gravity         // N
	LBF   = Pound * Gravity // N

	PSI = LBF / (Inch * Inch) * 10 // bar: N/mm² is 10 bar
)

// Fixed spells x with n digits behind the point and without a negative zero;
// NaN as NotGiven.
func Fixed(x float64, n int) string {
	if math.IsNaN(x) {
		return NotGiven
	}
	t := strconv.FormatFloat(x, 'f', n, 64)
	if strings.Trim(t, "-0.") == "" {
		t = strings.TrimPrefix(t, "-")
	}
	return strings.Replace(t, "-", "−", 1)
}

// Count spells how many there are of something that takes an s in the plural.
func Count(n int, what string) string {
	if n != 1 {
		what += "s"
	}
	return strconv.Itoa(n) + " " + what
}

// Signed is Fixed with a plus sign in front of positive figures.
func Signed(x float64, n int) string {
	t := Fixed(x, n)
	if x > 0 && strings.Trim(t, "0.") != "" {
		return "+" + t
	}
	return t
}
