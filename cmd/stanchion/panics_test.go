//go:build !windows

package main

import (
	"fmt"
	"strings"

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

// bare is as little as a program of the terminal library can be.
type bare struct{ w, h int }

func (b bare) Init() tea.Cmd { return nil }

func (b bare) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		b.w, b.h = msg.Width, msg.Height
	case tea.KeyMsg:
		return b, tea.Quit
	}
	return b, nil
}

func (b bare) View() string {
	lines := make([]string, b.h)
	for i := range lines {
		lines[i] = fmt.Sprintf("line %d %s", i, strings.Repeat("x", max(0, b.w-12)))
	}
	return strings.Join(lines, "\n")
}
