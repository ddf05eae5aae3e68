package tui

import "github.com/charmbracelet/lipgloss"

// Styles are named by meaning. Colours are from the terminal's own sixteen, so
// that they follow its light or dark scheme; nothing is told by colour alone.
var (
	titleStyle    = lipgloss.NewStyle().Bold(true)
	quietStyle    = lipgloss.NewStyle().Foreground(lipgloss.AdaptiveColor{Light: "8", Dark: "7"}).Faint(true)
	selectedStyle = lipgloss.NewStyle().Bold(true).Foreground(lipgloss.AdaptiveColor{Light: "5", Dark: "13"})
	keptStyle     = lipgloss.NewStyle().Foreground(lipgloss.AdaptiveColor{Light: "6", Dark: "14"})
	withinStyle   = lipgloss.NewStyle().Foreground(lipgloss.AdaptiveColor{Light: "2", Dark: "10"})
	outsideStyle  = lipgloss.NewStyle().Foreground(lipgloss.AdaptiveColor{Light: "1", Dark: "9"})
	assumedStyle  = lipgloss.NewStyle().Italic(true).Foreground(lipgloss.AdaptiveColor{Light: "3", Dark: "11"})
	figureStyle   = lipgloss.NewStyle().Bold(true)
	faultStyle    = lipgloss.NewStyle().Bold(true).Foreground(lipgloss.AdaptiveColor{Light: "1", Dark: "9"})
	wingStyle     = selectedStyle
	uprightStyle  = lipgloss.NewStyle()
	bracketStyle  = lipgloss.NewStyle().Foreground(lipgloss.AdaptiveColor{Light: "4", Dark: "7"})
	carStyle      = quietStyle
	boltStyle     = lipgloss.NewStyle().Bold(true).Foreground(lipgloss.AdaptiveColor{Light: "3", Dark: "11"})
)
