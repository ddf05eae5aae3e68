package tui

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/calibrate"
	"stanchion/model/carfile"
	"stanchion/model/given"
	"stanchion/model/units"
)

// reads types a line of readings.
func reads(t *testing.T, m Model, text string) Model {
	t.Helper()
	return typed(t, m, "a", text)
}

// A reading shows what it says before it changes anything; enter takes it.
func TestReadingIsSeenBeforeItIsTaken(t *testing.T) {
	m := opened(t, "coupe", 120, 40)
	asked := reads(t, m, "8.9")
	if asked.car != m.car || asked.datum != nil || !isOpen[readingMode](asked) {
		t.Fatal("a reading changes the car before it is taken")
	}
	if back := keys(t, asked, "esc"); back.car != m.car || back.datum != nil || !back.walking() {
		t.Error("going back leaves a correction")
	}
	taken := send(asked, keyMsg("enter"))
	taken = send(taken, solve(taken.asked, calibrate.Corrected(m.car, *taken.datum), nil, taken.speed)())
	if a := taken.row().Angle / plane.Deg; a < 8.85 || a > 8.95 {
		t.Errorf("the setting read as 8.9° shows %.2f° after the correction", a)
	}
	// The same readings have nothing more to say then.
	if d, err := taken.datumNow(); err != nil || d.Angle/plane.Deg > 0.01 || d.Angle/plane.Deg < -0.01 {
		t.Errorf("after the correction the readings ask for %.3f°, %v", d.Angle/plane.Deg, err)
	}
	if bad := reads(t, m, "999"); len(bad.readings.Readings) != 0 || !strings.Contains(as[promptMode](bad).fault, "is it this setting?") || as[promptMode](bad).input.Value() != "999" {
		t.Errorf("999: %q", as[promptMode](bad).fault)
	}
}

// Readings of a demo car add up until one quits; each can be taken back, and that undone.
func TestReadingsAddUp(t *testing.T) {
	m := opened(t, "coupe", 120, 40)
	m = reads(t, m, "floor 0.3 0.5 left 8.9 9.1 right 8.7 8.9")
	m = reads(t, keys(t, m, "esc"), "floor left 9.0")
	if n := len(m.readings.Readings); n != 3 || len(m.readings.Floors) != 1 || m.readings.Readings[2].Floor != "1" {
		t.Fatalf("%d readings are kept: %+v", n, m.readings)
	}
	v := m.View()
	for _, want := range []string{"▸ 3  ", "Left, level on the chord 9.00°", "Floor 1: +0.40°", "Left less right:", "quarter-chord point"} {
		if !strings.Contains(v, want) {
			t.Errorf("the page does not show %q:\n%s", want, v)
		}
	}
	back := keys(t, m, "up", "x")
	if len(back.readings.Readings) != 2 || back.readings.Readings[1].Side != "left" || !strings.Contains(back.message, "reading 2") {
		t.Errorf("after taking reading 2 back: %+v, %q", back.readings.Readings, back.message)
	}
	if again := keys(t, back, "U"); len(again.readings.Readings) != 3 {
		t.Errorf("undo leaves %d readings", len(again.readings.Readings))
	}
	if leaving := keys(t, m, "esc", "q"); !strings.Contains(leaving.message, "the readings are not in a car file") {
		t.Errorf("leaving: %q", leaving.message)
	}
	if none := keys(t, opened(t, "coupe", 120, 40), "a", "esc"); !none.walking() {
		t.Error("esc without any reading does not go back to the walk")
	}
}

// With a file, readings are written to it with an undo, and read from it again.
func TestReadingsAreKeptInTheFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "car.toml")
	if err := os.WriteFile(path, carfile.Start(), 0o600); err != nil {
		t.Fatal(err)
	}
	load := func() (*model.Car, error) { return carfile.Load(path) }
	car, err := load()
	if err != nil {
		t.Fatal(err)
	}
	var done []string
	fail := error(nil)
	src := Source{Name: path, Load: load, Files: func(*model.Car) []string { return []string{path} },
		Change: func(what string, edits func([]byte) ([]carfile.Edit, error)) error {
			if fail != nil {
				return fail
			}
			text, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			all, err := edits(text)
			if err != nil {
				return err
			}
			done = append(done, what)
			return os.WriteFile(path, carfile.Apply(text, all), 0o600)
		}}
	run := func(m Model, cmd tea.Cmd) Model {
		w := walker{m: m}
		w.run(cmd)
		return w.m
	}
	m := New(src, car, car.Speed, units.Metric)
	m.words = true // no look every second
	m = run(m, m.Init())
	m = send(m, tea.WindowSizeMsg{Width: 100, Height: 40})
	press := func(m Model, names ...string) Model {
		for _, name := range names {
			next, cmd := m.Update(keyMsg(name))
			m = run(next.(Model), cmd)
		}
		return m
	}
	row := m.row()
	m = press(m, "a")
	m = send(m, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("left " + units.Fixed(row.Angle/plane.Deg+0.5, 1))})
	m = press(m, "enter")
	if len(done) != 1 || len(m.car.Readings) != 1 || m.car.Readings[0].Side != "left" || m.car.Readings[0].Line == 0 || !strings.Contains(m.message, "kept in the car file") {
		t.Fatalf("done %q, read %+v, %q", done, m.car.Readings, m.message)
	}
	if len(m.changes) != 1 || !m.changes[0].file {
		t.Errorf("changes %+v", m.changes)
	}
	before := m.car.Fixed
	m = press(m, "W")
	if u := m.car.Uncertainty.AngleReading / plane.Deg; u >= 0.295 || !m.car.Before.Turn.Known() {
		t.Errorf("W writes ± %.3f°, %+v", u, m.car.Before)
	}
	if m.car.Fixed.Turn-before.Turn < 0.05*plane.Deg || m.datum != nil || !strings.Contains(m.message, "is in the car file") {
		t.Errorf("W turns the part by %.2f°: %q", (m.car.Fixed.Turn-before.Turn)/plane.Deg, m.message)
	}
	fail = errors.New("the disk is full")
	if m = press(m, "x"); len(m.car.Readings) != 1 || m.message != "the disk is full" {
		t.Errorf("%d readings, %q", len(m.car.Readings), m.message)
	}
	fail = nil
	if m = press(m, "x"); len(m.car.Readings) != 0 || !strings.Contains(m.message, "reading 1 is out of the car file") {
		t.Errorf("%d readings, %q", len(m.car.Readings), m.message)
	}
	if m = press(m, "W"); !strings.Contains(m.message, "no readings yet") {
		t.Errorf("%q", m.message)
	}
}

// Two readings that disagree are not written.
func TestDisagreementIsNotWritten(t *testing.T) {
	m := opened(t, "saloon", 120, 40)
	a := units.Fixed(m.row().Angle/plane.Deg, 1)
	m = reads(t, m, "left "+a)
	m = reads(t, keys(t, m, "esc"), "left "+units.Fixed(m.row().Angle/plane.Deg+5, 1))
	if m = keys(t, m, "W"); !strings.Contains(m.message, "not written") || !strings.Contains(m.View(), "DISAGREES") {
		t.Errorf("%q\n%s", m.message, m.View())
	}
}

// A reading in the file whose setting is gone does not hide the others: it is seen, and can be taken back.
func TestReadingOfNoSetting(t *testing.T) {
	car := *opened(t, "coupe", 120, 40).car
	car.Readings = []model.Reading{{Setting: "gone", Angle: given.Is(0.1)}}
	m := keys(t, openedCar(t, &car, 120, 40), "a")
	for _, want := range []string{"cannot be used together", "there is no setting \"gone\"", "▸ 1  gone"} {
		if !strings.Contains(m.View(), want) {
			t.Errorf("the page does not show %q:\n%s", want, m.View())
		}
	}
	if m = keys(t, m, "esc", "enter"); m.datum != nil || !strings.Contains(m.message, "x takes it back") {
		t.Errorf("%q", m.message)
	}
}

// Both sides with their edges fit into the line.
func TestLongReading(t *testing.T) {
	m := opened(t, "coupe", 120, 40)
	text := "floor 0.35 0.55 left 9.95 10.15 le 1312.5 te 1360.5 h 1320.5 right 9.75 9.95 le 1313.5 te 1361.5 h 1321.5"
	if m = reads(t, m, text); len(m.readings.Readings) != 2 || m.readings.Readings[1].Height.Value() != 1321.5 {
		t.Errorf("%+v, %q", m.readings.Readings, as[promptMode](m).fault)
	}
}

// The example is in the units of the screen.
func TestReadingExample(t *testing.T) {
	if m := (Model{units: units.Imperial}); !strings.Contains(m.readingExample(), "6.4 52.83in") {
		t.Errorf("example %q", m.readingExample())
	}
}

// Left and right that clearly differ are said at the top and written only when W is pressed again; a moved
// mark asks anew.
func TestTwistIsNotWritten(t *testing.T) {
	m := opened(t, "coupe", 80, 24)
	at := func(off float64) string { return units.Fixed(m.row().Angle/plane.Deg+off, 1) }
	m = reads(t, m, "left "+at(-2)+" "+at(-2)+" right "+at(2)+" "+at(2))
	var written []string
	m.src.Change = func(what string, _ func([]byte) ([]carfile.Edit, error)) error {
		written = append(written, what)
		return nil
	}
	if v := strings.Split(m.View(), "\n"); !strings.Contains(v[1], "Left and right differ by 4.0°") {
		t.Errorf("the page begins\n%s", strings.Join(v[:3], "\n"))
	}
	write := func(m Model) Model {
		next, cmd := m.Update(keyMsg("W"))
		w := walker{m: next.(Model)}
		w.run(cmd)
		return w.m
	}
	m = keys(t, m, "up")
	if m = write(m); len(written) != 0 || !strings.Contains(m.message, "not written: left and right differ by 4.0°") {
		t.Errorf("%q, %q", written, m.message)
	}
	if again := write(keys(t, m, "down")); len(written) != 0 {
		t.Errorf("after another key it is written: %q", again.message)
	}
	if m = write(m); len(written) != 1 {
		t.Errorf("W again: %q, %q", written, m.message)
	}
}

// Readings of one setting far off the car file are said so at the top and written only when W is pressed again.
func TestOffTheFileIsNotWritten(t *testing.T) {
	m := opened(t, "coupe", 80, 24)
	var written []string
	m.src.Change = func(what string, _ func([]byte) ([]carfile.Edit, error)) error {
		written = append(written, what)
		return nil
	}
	m.readings = calibrate.Typed{Readings: []model.Reading{{Setting: m.row().ID, Angle: given.Is(m.row().Angle + 5*plane.Deg)}}}
	m = m.with(readingMode{})
	if v := strings.Split(m.View(), "\n"); !strings.Contains(v[1], "The readings, all with one setting, are 5.0°") {
		t.Errorf("the page begins\n%s", strings.Join(v[:3], "\n"))
	}
	write := func(m Model) Model {
		next, cmd := m.Update(keyMsg("W"))
		w := walker{m: next.(Model)}
		w.run(cmd)
		return w.m
	}
	if m = write(m); len(written) != 0 || !strings.Contains(m.message, "check the sign and that these are its holes") || !strings.Contains(m.message, "W again writes it") {
		t.Errorf("%q, %q", written, m.message)
	}
	if m = write(m); len(written) != 1 {
		t.Errorf("W again: %q, %q", written, m.message)
	}
}

// A correction that is applied is said to be, and W on the walk goes to its page; without one it says why not.
func TestAppliedIsSaid(t *testing.T) {
	m := opened(t, "coupe", 80, 24)
	if got := keys(t, m, "W"); !got.walking() || !strings.Contains(got.message, "no correction is applied") {
		t.Errorf("%q", got.message)
	}
	car := m.car
	m = keys(t, reads(t, m, "8.9"), "enter")
	m = send(m, solve(m.asked, calibrate.Corrected(car, *m.datum), nil, m.speed)())
	v := keys(t, m, "a", "esc").View()
	for _, want := range []string{"is applied and not in the car file yet", "as corrected, which is not in the car file yet"} {
		if !strings.Contains(strings.Join(strings.Fields(v), " "), want) {
			t.Errorf("the page does not say %q:\n%s", want, v)
		}
	}
	if strings.Contains(v, "correction 0.00°") {
		t.Errorf("a correction of nothing is shown:\n%s", v)
	}
	if got := keys(t, m, "W"); !strings.Contains(got.message, "a demo car cannot be changed") {
		t.Errorf("W: %q", got.message)
	}
}

// A line that was refused and left with esc is there again.
func TestRefusedLineIsKept(t *testing.T) {
	m := keys(t, reads(t, opened(t, "coupe", 80, 24), "left 8,9"), "esc")
	if got := as[promptMode](keys(t, m, "a")).input.Value(); got != "left 8,9" {
		t.Errorf("the line is %q", got)
	}
	m = reads(t, opened(t, "coupe", 80, 24), "8.9")
	if got := as[promptMode](keys(t, m, "a")).input.Value(); got != "" {
		t.Errorf("after a reading that was taken the line is %q", got)
	}
}
