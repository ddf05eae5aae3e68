package tui

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model/carfile/guide"
	"stanchion/model/units"
	"stanchion/tui/widgets"
)

// At 80×24 no picture of the start hides a number that was given or asked for, nor the name of a hole that is told now or
// before: names that have no room of their own are added to one beside, "○k1,k2".
func TestGuidePicturesShowTheirLabels(t *testing.T) {
	for name, answers := range map[string][]string{"plates": plates, "coupe": coupe} {
		m := send(Guided(Source{Guide: func(string, []byte) (Source, error) { return Source{}, nil }}, units.Metric), tea.WindowSizeMsg{Width: 80, Height: 24})
		for _, answer := range answers {
			g := as[guideMode](m)
			q := g.questions(m)[g.step]
			view, sketch := m.View(), guide.Draw(q, g.answers, m.units)
			for _, d := range sketch.Measures {
				if !strings.Contains(view, widgets.Shorten(d.Text, 24)) {
					t.Errorf("%s, %s: measure %q is not in the picture:\n%s", name, q.Key, d.Text, view)
				}
			}
			for _, d := range sketch.Discs {
				named := strings.Contains(view, d.Name+"●") || strings.Contains(view, d.Name+"○") || strings.Contains(view, d.Name+"·")
				for _, sign := range []string{"●", "○", "·", ","} {
					named = named || strings.Contains(view, sign+d.Name)
				}
				if d.Name != "" && !named {
					t.Errorf("%s, %s: hole %q (now %v) is not in the picture:\n%s", name, q.Key, d.Name, d.Now, view)
				}
			}
			m = typeIn(t, m, answer)
		}
	}
}
