//go:build !windows

package main

import (
	tea "github.com/charmbracelet/bubbletea"

	"stanchion/tui"
)

// panics is the explorer with a key that something goes wrong at.
type panics struct{ tui.Model }

func (p panics) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	if k, ok := msg.(tea.KeyMsg); ok && k.String() == "!" {
		panic("something went wrong inside")
	}
	next, cmd := p.Model.Update(msg)
	if m, ok := next.(tui.Model); ok {
		return panics{m}, cmd
	}
	return next, cmd
}
