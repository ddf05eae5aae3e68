package units

import "strings"

// Sides parts a size such as 400x600mm in two; a unit at its end is that of both. The second is "" where there is one side only.
func Sides(text string) (w, h string) {
	w, h, both := strings.Cut(strings.NewReplacer("×", "x", "X", "x").Replace(text), "x")
	if !both {
		return text, ""
	}
	w, h = strings.TrimSpace(w), strings.TrimSpace(h)
	const number = "0123456789./+- "
	if unit := strings.TrimLeft(h, number); strings.Trim(w, number) == "" {
		w += unit
	}
	return w, h
}
