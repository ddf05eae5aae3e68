package widgets

import (
	"strings"
	"testing"
)

func TestPlotIsPlain(t *testing.T) {
	lines := Plot(40, 8, []Curve{{X: []float64{0, 50, 100}, Y: []float64{0, 25, 100}, Mark: 'A'}}, "force, N", "km/h", Braille)
	if len(lines) != 9 || !strings.Contains(lines[1], "100│") || !strings.Contains(strings.Join(lines, ""), "A") {
		t.Errorf("%d lines:\n%s", len(lines), strings.Join(lines, "\n"))
	}
	if Plot(40, 8, nil, "", "", Braille) != nil {
		t.Error("nothing is plotted")
	}
}
