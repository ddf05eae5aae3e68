package tui

import (
	"math"
	"strings"
	"testing"

	"stanchion/holes/plane"
)

// typedGoal types what a hole is to do while one is placed.
func typedGoal(t *testing.T, m Model, text string) Model {
	t.Helper()
	open := keys(t, m, "x")
	p := as[promptMode](open)
	p.input.SetValue(text)
	return keys(t, open.with(p), "enter")
}

// What holes are to do can be typed while one is placed: the first is then placed, others with it, and enter keeps all.
func TestGoalsWhileAHoleIsPlaced(t *testing.T) {
	m := keys(t, opened(t, "coupe", 120, 40), "d")
	fill := typedGoal(t, m, "fill 2")
	d := as[drillMode](fill)
	if len(d.also) != 1 || d.trial == nil || len(d.trial.Holes) != 2 || !strings.Contains(fill.View(), "with N2 in upright at x") {
		t.Fatalf("two holes: %+v, %q", d.also, fill.message)
	}
	one := typedGoal(t, m, "fill")
	if d := as[drillMode](one); len(d.also) != 0 || !strings.Contains(one.message, "the widest steps shrink by 4.0° in all") {
		t.Errorf("one hole: %+v, %q", d.also, one.message)
	}
	between := typedGoal(t, m, "between row 4, B1 and row 4, B2 by angle")
	if d := as[drillMode](between); len(d.trial.Useful) == 0 || !strings.Contains(between.message, "lie between in angle") {
		t.Errorf("between: %q", between.message)
	}
	down := typedGoal(t, m, "340N")
	r := &as[drillMode](down).trial.Table.Rows[as[drillMode](down).trial.Useful[0]]
	if math.Abs(r.Downforce/340-1) > 0.03 {
		t.Errorf("340 N: %.0f N, %.1f°, %q", r.Downforce, r.Angle/plane.Deg, down.message)
	}
	bolts := typedGoal(t, m, "all bolts")
	if !strings.Contains(bolts.message, "bolt") {
		t.Errorf("bolts: %q", bolts.message)
	}
	steps := typedGoal(t, m, "steps 9")
	if !strings.Contains(steps.message, "no new hole is needed") {
		t.Errorf("steps: %q", steps.message)
	}
	// What cannot be read stays typed, with what to do.
	for text, why := range map[string]string{"between row 4, B1": "name two settings", "between row 4, B1 and row 9, B9": "names", "steps": "such as", "between row 4, B1 and row 4, B1": "name two"} {
		got := typedGoal(t, m, text)
		if p, ok := in[promptMode](got); !ok || !strings.Contains(p.fault, why) || p.input.Value() != text {
			t.Errorf("%q: %+v", text, got.message)
		}
	}
	if kept := keys(t, fill, "enter"); len(kept.unsaved) != 2 || !strings.Contains(kept.View(), "[not in the file: +N1 +N2]") {
		t.Errorf("%d holes are kept", len(kept.unsaved))
	}
}

// At 80 columns the line for goals is said whole, and so is what is wrong with a bad one; ctrl+c ends a search that is
// going on and leaves the hole, esc drops it and ends the search too.
func TestGoalsAtEightyColumns(t *testing.T) {
	m := keys(t, opened(t, "coupe", 80, 24), "d")
	if v := keys(t, m, "x").View(); !strings.Contains(v, goalHint) {
		t.Errorf("the goals are cut:\n%s", v)
	}
	for _, bad := range []string{"fillx", "a b c"} {
		got := typedGoal(t, m, bad)
		if lines := strings.Split(got.View(), "\n"); !strings.Contains(lines[22], "all bolts") {
			t.Errorf("%q: %q", bad, lines[22])
		}
	}
	for _, key := range []string{"ctrl+c", "esc"} {
		open := keys(t, m, "x")
		p := as[promptMode](open)
		p.input.SetValue("fill 2")
		next, search := open.with(p).Update(keyMsg("enter")) // and the search has not begun
		stopped := send(next.(Model), keyMsg(key))
		d, placing := in[drillMode](stopped)
		if placing != (key == "ctrl+c") || placing && (d.stopWanted != nil || d.hole != as[drillMode](m).hole || !strings.Contains(stopped.message, "stopped")) {
			t.Errorf("%s: %T, %q", key, stopped.open, stopped.message)
		}
		msg := search()
		if batch, ok := msg.(wantedMsg); !ok || batch.err == nil {
			t.Errorf("%s: the search goes on: %+v", key, msg)
		}
		if after := send(stopped, msg); after.message != stopped.message {
			t.Errorf("%s: %q", key, after.message)
		}
	}
}
