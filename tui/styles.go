package tui

import (
	"github.com/charmbracelet/lipgloss"

	"stanchion/tui/widgets"
)

// Styles are named by meaning. Colours are from the terminal's own sixteen, so
// that they follow its light or dark scheme; nothing is told by colour alone.
var (
	titleStyle    = lipgloss.NewStyle().Bold(true)
	quietStyle    = widgets.Quiet
	selectedStyle = lipgloss.NewStyle().Bold(true).Foreground(lipgloss.AdaptiveColor{Light: "5", Dark: "13"})
	keptStyle     = lipgloss.NewStyle().Foreground(lipgloss.AdaptiveColor{Light: "6", Dark: "14"})
	withinStyle   = lipgloss.NewStyle().Foreground(lipgloss.AdaptiveColor{Light: "2", Dark: "10"})
	outsideStyle  = lipgloss.NewStyle().Foreground(lipgloss.AdaptiveColor{Light: "1", Dark: "9"})
	assumedStyle  = lipgloss.NewStyle().Italic(true).Foreground(lipgloss.AdaptiveColor{Light: "3", Dark: "11"})
	figureStyle   = lipgloss.NewStyle().Bold(true)
	faultStyle    = widgets.Fault
	wingStyle     = selectedStyle
	uprightStyle  = lipgloss.NewStyle()
	bracketStyle  = lipgloss.NewStyle().Foreground(lipgloss.AdaptiveColor{Light: "4", Dark: "7"})
	carStyle      = quietStyle
	boltStyle     = lipgloss.NewStyle().Bold(true).Foreground(lipgloss.AdaptiveColor{Light: "3", Dark: "11"})
)

// The inks of the side view, by what a dot stands for.
const (
	inkNone widgets.Ink = iota
	inkCar
	inkBracket
	inkUpright
	inkKept
	inkWing
	inkBolt
)

var inkStyles = []lipgloss.Style{
	inkNone: {}, inkCar: carStyle, inkBracket: bracketStyle, inkUpright: uprightStyle,
	inkKept: keptStyle, inkWing: wingStyle, inkBolt: boltStyle,
}
