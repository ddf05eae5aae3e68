package widgets

import "github.com/charmbracelet/lipgloss"

// What widgets draw in: what is less pressing, and what is wrong. Colours are from the
// terminal's own sixteen, so that they follow its light or dark scheme.
var (
	Quiet = lipgloss.NewStyle().Foreground(lipgloss.AdaptiveColor{Light: "8", Dark: "7"}).Faint(true)
	Fault = lipgloss.NewStyle().Bold(true).Foreground(lipgloss.AdaptiveColor{Light: "1", Dark: "9"})
)
