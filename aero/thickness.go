package aero

// Thickness returns the largest thickness of an outline, chords.
func Thickness(outline []Vec) float64 { return formOf(outline).thickness }
