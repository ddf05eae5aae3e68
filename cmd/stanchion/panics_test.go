//go:build !windows

package main

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/tui"
)

// panics is the explorer with keys that something goes wrong at.
type panics struct {
	tui.Model
	inView bool
}

func wrong() tea.Msg { panic("something went wrong inside") }

func (p panics) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	if k, ok := msg.(tea.KeyMsg); ok {
		switch k.String() {
		case "!":
			wrong()
		case "@":
			p.inView = true
			return p, nil
		case "#":
			return p, wrong
		case "$":
			return p, tea.Batch(func() tea.Msg { return nil }, tea.Batch(wrong, wrong))
		}
	}
	next, cmd := p.Model.Update(msg)
	p.Model = next.(tui.Model)
	return p, cmd
}

func (p panics) View() string {
	if p.inView {
		wrong()
	}
	return p.Model.View()
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
