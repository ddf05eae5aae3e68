package widgets

import (
	"fmt"
	"math"
	"strings"
)

// Curve is one line of a plot: points in order, and the letter at its end.
type Curve struct {
	X, Y []float64
	Mark rune
}

// Plot draws curves as lines of plain text, w by h cells with their axes. NaN
// breaks a curve.
func Plot(w, h int, curves []Curve, yName, xUnit string, glyphs Glyphs) []string {
	const left = 7
	lo, hi, low, high := math.Inf(1), math.Inf(-1), 0.0, math.Inf(-1)
	for _, c := range curves {
		for i := range c.X {
			if math.IsNaN(c.Y[i]) {
				continue
			}
			lo, hi = min(lo, c.X[i]), max(hi, c.X[i])
			low, high = min(low, c.Y[i]), max(high, c.Y[i])
		}
	}
	if !(hi > lo) || !(high > low) || w < left+10 || h < 4 {
		return nil
	}
	cv := NewCanvas(w-left-1, h-2, []Look{{}}, glyphs)
	at := func(x, y float64) (float64, float64) {
		return (x - lo) / (hi - lo) * float64(2*cv.W-1), (high - y) / (high - low) * float64(4*cv.H-1)
	}
	for _, c := range curves {
		for i := 1; i < len(c.X); i++ {
			x0, y0 := at(c.X[i-1], c.Y[i-1])
			x1, y1 := at(c.X[i], c.Y[i])
			cv.Line(x0, y0, x1, y1, 0, 1)
		}
		for i := len(c.X) - 1; i >= 0; i-- {
			if !math.IsNaN(c.Y[i]) {
				x, y := at(c.X[i], c.Y[i])
				cv.Label(min(int(x)/2, cv.W-1), int(y)/4, string(c.Mark), 0)
				break
			}
		}
	}
	lines := []string{yName}
	for y, l := range cv.Lines() {
		label := ""
		switch y {
		case 0:
			label = fmt.Sprintf("%.0f", high)
		case cv.H - 1:
			label = fmt.Sprintf("%.0f", low)
		}
		lines = append(lines, strings.TrimRight(fmt.Sprintf("%*s│%s", left, label, l), " "))
	}
	return append(lines, strings.Repeat(" ", left)+"└"+strings.Repeat("─", cv.W),
		fmt.Sprintf("%*s%.0f%*.0f %s", left+1, "", lo, cv.W-len(xUnit)-len(fmt.Sprintf("%.0f", lo))-1, hi, xUnit))
}
