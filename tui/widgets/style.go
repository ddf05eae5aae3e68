package widgets

import "github.com/charmbracelet/lipgloss"

// What widgets draw in: what is less pressing, and what is wrong. Each has at least 4.5:1 of contrast
// on black or on white.
var (
	Quiet = lipgloss.NewStyle().Foreground(lipgloss.AdaptiveColor{Light: "240", Dark: "248"})
	Fault = lipgloss.NewStyle().Bold(true).Foreground(lipgloss.AdaptiveColor{Light: "130", Dark: "215"})
)

var quiet = NewBrush(Quiet)
