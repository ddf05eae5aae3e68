// Package silence keeps the terminal from being asked for its background colour when
// the program starts. The terminal library asks in its own initialisation, in every
// command, and waits up to five seconds where the terminal does not answer; it does
// not ask when the answer has been set. Packages that are ready are initialised in the
// order of their import paths (The Go Programming Language Specification, Program
// initialization), so that this one has to be a module of its own, with a path that
// comes before the library's. The explorer asks for itself when it draws.
package silence

import "github.com/charmbracelet/lipgloss"

func init() { lipgloss.SetHasDarkBackground(true) }
