package tui

import (
	"github.com/charmbracelet/lipgloss"

	"stanchion/tui/widgets"
)

// Styles are named by meaning. Colours are numbers of the palette of 256 that terminals share, first on a
// light ground, then on a dark one. Each has at least 4.5:1 of contrast on white or on black; nothing is
// told by colour alone, and never red against green.
func colour(light, dark string) lipgloss.AdaptiveColor {
	return lipgloss.AdaptiveColor{Light: light, Dark: dark}
}

func fore(light, dark string) lipgloss.Style {
	return lipgloss.NewStyle().Foreground(colour(light, dark))
}

var (
	titleStyle    = lipgloss.NewStyle().Bold(true)
	quietStyle    = widgets.Quiet
	selectedStyle = fore("55", "183").Bold(true)
	keptStyle     = fore("24", "81")
	withinStyle   = fore("23", "116")
	outsideStyle  = fore("130", "215").Bold(true)
	assumedStyle  = fore("58", "186").Italic(true)
	figureStyle   = lipgloss.NewStyle().Bold(true)
	faultStyle    = widgets.Fault
)

// The inks of the side view, by what they stand for.
const (
	inkNone widgets.Ink = iota
	inkCar
	inkBracket
	inkUpright
	inkKept
	inkWing
	inkHole
	inkBolt
	inkLimit
	inkAngle
	inkTyre
)

// looks are how the inks look: a line in the foreground, an area in the background. Only the wing is
// filled where there are no colours: all else is told by its outline.
var looks = []widgets.Look{
	inkNone:    {},
	inkCar:     {Style: quietStyle.Background(colour("254", "236"))},
	inkBracket: {Style: fore("238", "250").Background(colour("250", "241"))},
	inkUpright: {Style: fore("236", "252").Background(colour("252", "239"))},
	inkKept:    {Style: keptStyle},
	inkWing:    {Style: fore("25", "111").Background(colour("68", "68")), Solid: true},
	inkHole:    {Style: lipgloss.NewStyle()},
	inkBolt:    {Style: selectedStyle},
	inkLimit:   {Style: fore("94", "179")},
	inkAngle:   {Style: titleStyle},
	inkTyre:    {Style: quietStyle.Background(colour("245", "243"))},
}

// shades are the five steps that maps are painted in, from little to much: the text and what it
// stands on. On a dark ground much is light, on a light one dark.
var shades = [5]lipgloss.Style{
	shade("16", "195", "231", "17"),
	shade("16", "153", "231", "24"),
	shade("16", "74", "16", "31"),
	shade("231", "25", "16", "74"),
	shade("231", "17", "16", "153"),
}

func shade(lightText, light, darkText, dark string) lipgloss.Style {
	return lipgloss.NewStyle().Foreground(colour(lightText, darkText)).Background(colour(light, dark))
}

// brushes of what maps write often.
var (
	quietBrush    = widgets.NewBrush(quietStyle)
	outsideBrush  = widgets.NewBrush(outsideStyle)
	selectedBrush = widgets.NewBrush(selectedStyle.Reverse(true))
	keptBrush     = widgets.NewBrush(keptStyle.Bold(true))
	limitBrush    = widgets.NewBrush(looks[inkLimit].Style)
	newBrush      = widgets.NewBrush(selectedStyle)
	headBrush     = widgets.NewBrush(titleStyle)
	shadeBrushes  = func() (all [len(shades)]*widgets.Brush) {
		for i, s := range shades {
			all[i] = widgets.NewBrush(s)
		}
		return all
	}()
)
