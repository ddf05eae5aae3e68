package tui

import (
	"math"
	"strings"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model/modeltest"
	"stanchion/model/units"
)

// type types a text at a prompt that a key opens, and takes it.
func typed(t testing.TB, m Model, key, text string) Model {
	t.Helper()
	m = keys(t, m, key)
	for _, r := range text {
		m = send(m, keyMsg(string(r)))
	}
	return keys(t, m, "enter")
}

// A name, a figure or one side of it is found, among what keeps all limits, by the fewest bolts: on the coupé
// from row 4, B2 the settings above 500 N are those in B2, of which 501 N in row 3 is next; 8.3° is C2, in row 2 as high as before, as
// row 4 is too high with it.
func TestFindByNameAndFigure(t *testing.T) {
	m := opened(t, "coupe", 120, 40)
	for text, want := range map[string]string{
		"1 b2": "row 1, B2", "row 3, C1": "row 3, C1", ">500N": "row 3, B2", "< 200 N": "row 1, C1", "6.3deg": "row 4, A2", "8.3°": "row 2, C2",
		"1300mm": "row 3, B2", "49.8%": "row 2, C2",
	} {
		got := typed(t, m, "/", text)
		if name := got.table.Name(got.row().Setting); name != want {
			t.Errorf("%q finds %s (%.1f°, %.0f N, %.1f %%, %.0f mm), want %s: %s", text, name, got.row().Angle/plane.Deg, got.row().Downforce,
				100*got.row().Share, got.row().Height, want, got.message)
		}
	}
	for _, text := range []string{">5000N", "Z9", "7"} {
		if got := typed(t, m, "/", text); text != "7" && as[promptMode](got).fault == "" {
			t.Errorf("%q finds something", text)
		}
	}
}

// A slot is one band, with the place of the bolt said from its ends; an angle is found to a tenth of a millimetre
// along it: 7.5° of an arc of 120 mm are 15.7 mm.
func TestSlotIsOneBand(t *testing.T) {
	car := modeltest.File(t, "slot.toml")
	for _, s := range sizes {
		m := keys(t, openedCar(t, car, s.w, s.h), "g", "right", "right", "right", "right", "right")
		golden(t, "slot-"+s.name, m)
		if n := strings.Count(m.View(), "├") + strings.Count(m.View(), "◆"); n == 0 {
			t.Errorf("%s: no band:\n%s", s.name, m.View())
		}
	}
	m := typed(t, openedCar(t, car, 80, 24), "/", "7.5deg")
	if !strings.Contains(m.message, "7.5° is at 15.7 mm from the lower end, 5.2 mm from the upper end in slot S") {
		t.Errorf("%q", m.message)
	}
	if math.Abs(m.row().Angle-7.5*plane.Deg) > 1.1*plane.Deg || m.units != units.Metric {
		t.Errorf("it goes to %.1f°", m.row().Angle/plane.Deg)
	}
}
