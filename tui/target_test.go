package tui

import (
	"strings"
	"testing"

	"stanchion/model"
)

// atField goes to the line of the form whose name begins so.
func atField(t testing.TB, m Model, name string) Model {
	t.Helper()
	m = keys(t, m, "i")
	for i, f := range targetFields() {
		if strings.HasPrefix(strings.TrimSpace(f.Name), name) {
			for range i {
				m = keys(t, m, "down")
			}
			return m
		}
	}
	t.Fatalf("the form has no %q", name)
	return m
}

// typedInto types a text into a line of the form and takes it.
func typedInto(t testing.TB, m Model, name, text string) Model {
	t.Helper()
	m = atField(t, m, name)
	for _, r := range text {
		m = keys(t, m, string(r))
	}
	return keys(t, m, "enter")
}

// What is typed into a line takes the place of what it held; a cursor key before it goes on with that.
func TestTypingReplacesATarget(t *testing.T) {
	m := wish(t, opened(t, "coupe", 80, 24), "49.9", "0.3")
	if again := wish(t, m, "49.5"); again.target == nil || again.target.FrontShare.Value.Value() != 0.495 || again.target.FrontShare.Tolerance != 0.003 {
		t.Errorf("typed 49.5 over 49.9%%: %+v, %q", again.target, again.message)
	}
	open := keys(t, m, "i", "backspace", "backspace", "8", "enter")
	if open.target == nil || open.target.FrontShare.Value.Value() != 0.498 {
		t.Errorf("49.9%% without two letters and with an 8: %+v", open.target)
	}
	if same := keys(t, m, "i", "down", "up", "enter"); same.target.FrontShare.Value.Value() != 0.499 {
		t.Error("looking at a line changes it")
	}
}

// Every line of the form is read into the target that it names, with its unit, and the screen says what was
// understood; a fault leaves the form open at its line, on a small screen too.
func TestEveryLineOfTheTarget(t *testing.T) {
	for _, size := range [][2]int{{80, 24}, {50, 20}} {
		m := keys(t, opened(t, "coupe", size[0], size[1]), " ")
		for _, f := range targetFields() {
			if f.tolerance {
				continue
			}
			name := strings.TrimSpace(f.Name)
			text := strings.Split(f.Hint(m.units), ",")[0]
			got := typedInto(t, m, name, text)
			if got.target == nil || !got.walking() {
				t.Fatalf("%s %q: %s", name, text, got.View())
			}
			bad := typedInto(t, m, name, "furlongs")
			if !isOpen[targetMode](bad) || !strings.Contains(bad.View(), "furlongs") || !strings.Contains(bad.View(), "▸ "+name) {
				t.Errorf("%s takes furlongs:\n%s", name, bad.View())
			}
		}
	}
	wide := typedInto(t, opened(t, "coupe", 200, 60), "front share at", "50±1@120km/h")
	if !strings.Contains(wide.message, "front share 50.0 ± 1.0 % at 120 km/h") {
		t.Errorf("understood: %q", wide.message)
	}
	if from := typedInto(t, opened(t, "coupe", 80, 24), "keep the foot", "yes"); !isOpen[targetMode](from) || !strings.Contains(from.View(), "nothing is kept") {
		t.Errorf("a foot that is kept with nothing on the car:\n%s", from.View())
	}
	if strength := typedInto(t, opened(t, "coupe", 80, 24), "strength", "80%"); len(strength.hits) == 0 {
		t.Error("no setting of the demo holds with 80 %")
	}
}

// Stalled settings are shown only when they are asked for, and said to be.
func TestStalledTargetIsLoud(t *testing.T) {
	m := opened(t, "coupe", 120, 40)
	car := *m.car
	car.Limits = model.Limits{}
	m = send(m, solve(m.asked, &car, nil, m.speed)())
	m = typedInto(t, m, "angle, at least", "14deg")
	if len(m.hits) != 0 {
		t.Fatalf("%d at 14° and more without asking", len(m.hits))
	}
	m = typedInto(t, m, "stalled ones too", "yes")
	if len(m.hits) == 0 || !strings.Contains(m.message, "STALLED") || !m.target.Stalled {
		t.Errorf("%d, %q", len(m.hits), m.message)
	}
}

// What is typed and left with esc is there when the form is opened again, with its unit; taken, or given back as it
// was, nothing is kept beside the target.
func TestEscKeepsWhatIsTyped(t *testing.T) {
	m := atField(t, opened(t, "coupe", 80, 24), "drag, at most")
	m = keys(t, m, "6", "0", "esc")
	if m.target != nil || !strings.Contains(m.message, "goes on with what is typed") {
		t.Fatalf("%+v, %q", m.target, m.message)
	}
	again := keys(t, m, "u", "i")
	if v := again.View(); !strings.Contains(v, "60N") {
		t.Fatalf("it is gone:\n%s", v)
	}
	taken := keys(t, again, "enter")
	if taken.target == nil || taken.target.MaxDrag.Value() != 60 || taken.targetDraft != nil {
		t.Errorf("taken: %+v, %q", taken.target, taken.targetDraft)
	}
	if left := keys(t, taken, "i", "esc"); left.targetDraft != nil || left.message != "" {
		t.Errorf("nothing was typed: %q, %q", left.targetDraft, left.message)
	}
}

// The arrows put in and take out the yes of a line that has nothing else.
func TestArrowsAnswerYesLines(t *testing.T) {
	m := keys(t, atField(t, keys(t, opened(t, "coupe", 80, 24), "@"), "keep the foot"), "right")
	if v := as[targetMode](m).form; v.Fields[v.At].Value() != "yes" {
		t.Fatalf("right: %q", v.Fields[v.At].Value())
	}
	if took := keys(t, m, "enter"); took.target == nil || !took.target.FootStays {
		t.Errorf("taken: %+v", took.target)
	}
	if v := as[targetMode](keys(t, m, "left")).form; v.Fields[v.At].Value() != "" {
		t.Errorf("left: %q", v.Fields[v.At].Value())
	}
}

// The line about a setting that meets the target is whole at 120 columns, with its strength.
func TestNextHitIsSaidWhole(t *testing.T) {
	m := keys(t, wish(t, keys(t, opened(t, "coupe", 120, 40), "@"), "49.9"), "]")
	for range m.hits {
		if !strings.Contains(m.message, "strength") || len([]rune(m.message)) > 235 {
			t.Errorf("%d cells: %s", len([]rune(m.message)), m.message)
		}
		m = keys(t, m, "]")
		if strings.HasPrefix(m.message, "no further") {
			break
		}
	}
}

// A target that nothing can meet keeps the form open at the line, with what to change.
func TestClashingTargetIsSaid(t *testing.T) {
	m := atField(t, opened(t, "coupe", 80, 24), "downforce, at least")
	m = keys(t, m, "6", "0", "0", "down", "4", "0", "0", "enter")
	if !isOpen[targetMode](m) || m.target != nil || !strings.Contains(m.View(), `it is below "downforce, at least": nothing lies`) {
		t.Errorf("at least 600 N and at most 400 N:\n%s", m.View())
	}
	if high := typedInto(t, opened(t, "coupe", 80, 24), "front share", "150"); !isOpen[targetMode](high) || !strings.Contains(high.View(), "0 to 100 %") {
		t.Errorf("a share of 150 %%:\n%s", high.View())
	}
}
