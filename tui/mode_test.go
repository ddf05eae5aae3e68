package tui

import (
	"context"
	"errors"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
)

// isOpen reports whether a mode of a kind is open.
func isOpen[T mode](m Model) bool {
	_, ok := in[T](m)
	return ok
}

// as returns the open mode of a kind, an empty one where it is not.
func as[T mode](m Model) T {
	t, _ := in[T](m)
	return t
}

// The next key ends the work on a hole where it was.
func TestTheNextKeyEndsTheWorkBefore(t *testing.T) {
	m, first := opened(t, "coupe", 120, 40).startDrill()
	next, second := m.Update(keyMsg("right"))
	if msg := first().(tea.BatchMsg)[0]().(trialMsg); !errors.Is(msg.err, context.Canceled) {
		t.Errorf("the work before goes on: %v", msg.err)
	}
	if msg := second().(trialMsg); msg.err != nil || msg.asked != 2 {
		t.Errorf("question %d: %v", msg.asked, msg.err)
	}
	dropped, _ := next.Update(keyMsg("esc"))
	if !dropped.(Model).walking() {
		t.Error("esc leaves the hole there")
	}
	work := first().(tea.BatchMsg)
	if msg := work[len(work)-1]().(bestMsg); !errors.Is(msg.err, context.Canceled) {
		t.Errorf("the search for the best place goes on after the hole is dropped: %v", msg.err)
	}
	m, sweep := opened(t, "coupe", 120, 40).overSpeed()
	_, again := m.overSpeed()
	if msg := sweep().(sweptMsg); !errors.Is(msg.err, context.Canceled) {
		t.Errorf("the sweep before goes on: %v", msg.err)
	}
	if msg := again().(sweptMsg); msg.err != nil {
		t.Error(msg.err)
	}
}

// Every key of a mode does something there, and its footer lists it.
func TestModesListTheirKeys(t *testing.T) {
	for _, open := range modes() {
		all := open.bindings(Model{})
		if len(all) == 0 || open.title() == "" {
			t.Errorf("%T has no keys", open)
		}
		met := map[string]bool{}
		for _, b := range all {
			if b.run == nil || b.does == "" {
				t.Errorf("%T: %v does nothing, or does not say what", open, b.keys)
			}
			for _, k := range b.keys {
				if met[k] {
					t.Errorf("%T: %s is bound twice", open, k)
				}
				met[k] = true
			}
		}
	}
}
