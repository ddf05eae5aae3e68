package tui

import (
	"context"
	"errors"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/aero"
	"stanchion/model"
)

// manyFree is a car of about n settings without limits and in a flow that is the same at all heights, so that all of
// them are looked at.
func manyFree(tb testing.TB, n int) *model.Car {
	tb.Helper()
	car := manyCar(tb, n)
	flow, err := aero.NewFlow([]aero.FlowPoint{{Above: 0.1, Ratio: 1}})
	if err != nil {
		tb.Fatal(err)
	}
	car.Flow = flow
	car.Limits = model.Limits{}
	return car
}

// asked types a target and takes it, without doing what follows.
func asked(t testing.TB, m Model, name, text string) (Model, tea.Cmd) {
	t.Helper()
	m = atField(t, m, name)
	for _, r := range text {
		m = send(m, keyMsg(string(r)))
	}
	next, cmd := m.Update(keyMsg("enter"))
	return next.(Model), cmd
}

// answered is the answer to a question which settings meet the target.
func answered(t testing.TB, cmd tea.Cmd) pickedMsg {
	t.Helper()
	switch msg := cmd().(type) {
	case pickedMsg:
		return msg
	case tea.BatchMsg:
		for _, c := range msg {
			if c != nil {
				if found, ok := c().(pickedMsg); ok {
					return found
				}
			}
		}
	}
	t.Fatal("nothing is asked")
	return pickedMsg{}
}

// Settings are looked for in the background: the key is answered at once with a line that says so, with 7000
// settings too, the walk goes on meanwhile, ] says what it waits for, and the answer goes to the best.
func TestPickingIsInTheBackground(t *testing.T) {
	m, cmd := asked(t, opened(t, "coupe", 80, 24), "front share", "49.9")
	if !m.picking() || m.hits != nil || m.message != looking || !strings.Contains(m.View(), "looking for settings") || !strings.Contains(m.View(), "working it out") {
		t.Fatalf("%v, %d hits, %q:\n%s", m.picking(), len(m.hits), m.message, m.View())
	}
	walked := send(m, keyMsg("right"))
	if waits := send(walked, keyMsg("]")); waits.message != looking {
		t.Errorf("] says %q", waits.message)
	}
	answer := answered(t, cmd)
	got := send(walked, answer)
	if got.picking() || len(got.hits) == 0 || got.current != got.hits[0].Row || !strings.Contains(got.message, "meet the target") {
		t.Errorf("%d hits, at %d, %q", len(got.hits), got.current, got.message)
	}
	open := send(send(m, keyMsg("enter")), answer)
	if open.current != m.current || len(open.hits) == 0 || !strings.Contains(open.message, "meet the target") {
		t.Errorf("with a page open it went from %d to %d, %d hits, %q", m.current, open.current, len(open.hits), open.message)
	}
}

// Esc ends the work: the command comes back with nothing, no target is left that settings would seem to miss, and
// what was typed is there for the next time.
func TestEscStopsPicking(t *testing.T) {
	m, cmd := asked(t, openedCar(t, manyFree(t, 2000), 80, 24), "downforce, at least", "300N")
	stopped := send(m, keyMsg("esc"))
	if stopped.picking() || stopped.target != nil || !strings.HasPrefix(stopped.message, "stopped") {
		t.Fatalf("%+v, %q", stopped.target, stopped.message)
	}
	msg := answered(t, cmd)
	if !errors.Is(msg.err, context.Canceled) {
		t.Errorf("the work went on: %v, %d hits", msg.err, len(msg.hits))
	}
	if late := send(stopped, msg); late.hits != nil || late.chances != nil || late.message != stopped.message {
		t.Errorf("a late answer is taken: %d hits, %q", len(late.hits), late.message)
	}
	if again := keys(t, stopped, "i"); !strings.Contains(again.View(), "300N") {
		t.Errorf("what was typed is gone:\n%s", again.View())
	}
}

// The answer to an older question is dropped: after space the question is another one, and the best of it is
// gone to all the same, as was asked.
func TestOlderPicksAreDropped(t *testing.T) {
	m, first := asked(t, opened(t, "coupe", 80, 24), "front share", "49.9")
	next, second := m.Update(keyMsg(" "))
	m = next.(Model)
	if old := answered(t, first); !errors.Is(old.err, context.Canceled) {
		t.Errorf("the older work went on: %v", old.err)
	} else if old.err = nil; send(m, old).hits != nil || !send(m, old).picking() {
		t.Error("an older answer is taken")
	}
	if got := send(m, answered(t, second)); got.picking() || len(got.hits) == 0 || got.current != got.hits[0].Row {
		t.Errorf("%d hits, at %d", len(got.hits), got.current)
	}
}

// The key that takes a target, and its frame, at 7000 settings of which all are looked at.
func BenchmarkTakeTarget(b *testing.B) {
	m := openedCar(b, manyFree(b, 7000), 120, 40)
	form := atField(b, m, "downforce, at least")
	for _, r := range "300N" {
		form = send(form, keyMsg(string(r)))
	}
	b.ReportMetric(float64(len(m.table.Rows)), "settings")
	for b.Loop() {
		began := time.Now()
		next, cmd := form.Update(keyMsg("enter"))
		b.ReportMetric(float64(time.Since(began).Microseconds()), "µs/key")
		_ = next.View()
		b.StopTimer()
		began = time.Now()
		msg := answered(b, cmd)
		b.ReportMetric(time.Since(began).Seconds(), "s/answer")
		b.ReportMetric(float64(len(msg.hits)), "hits")
		b.StartTimer()
	}
}
