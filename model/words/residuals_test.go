package words

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/calibrate"
	"stanchion/model/given"
	"stanchion/model/modeltest"
	"stanchion/model/units"
)

// levelled is a fit of readings with the given offs in degrees, each so many times its ±.
func levelled(t *model.Table, times ...float64) calibrate.Datum {
	nan := math.NaN()
	d := calibrate.Datum{Angle: 0.01, AngleStdUnc: 0.004, Z: nan, Twist: nan, Lean: nan, Tests: len(times), Threshold: 2.5}
	for _, x := range times {
		d.Residuals = append(d.Residuals, calibrate.Residual{Reading: model.Reading{Setting: t.Rows[0].ID, Angle: given.Is(6.4 * plane.Deg), Turned: given.Is(6.6 * plane.Deg)},
			Off: 0.1 * x * plane.Deg, Heights: calibrate.Heights{Quarter: nan, Leading: nan, Trailing: nan}, Times: x})
	}
	return d
}

// Readings that fit are one line, however many they are, and those that stand out one each.
func TestResidualsWorthALine(t *testing.T) {
	table := modeltest.Table(t, "saloon")
	name := table.Name(table.Rows[0].Setting)
	d := levelled(table, 0.1, 0.4, 0.2)
	if got, want := residualLines(table, d, units.Metric), []string{"All 3 readings fit: most off is reading 2, " + name + ", 0.4 times its ±."}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	if got, want := numberedReadings(table, d), []string{fmt.Sprintf("Readings: 1 %s; 2 %s; 3 %s.", name, name, name)}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	if got := append(numberedReadings(table, levelled(table, 1)), numberedReadings(table, levelled(table, make([]float64, 13)...))...); len(got) != 0 {
		t.Errorf("one and 13: %q", got)
	}
	d = levelled(table, 0.1, 1.4, 0.2)
	if got, want := residualLines(table, d, units.Metric)[0], "All 3 readings fit: most off is reading 2, "+name+", 1.4 times its ±: angle off by +0.14° (read to ±0.2°)."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	d = levelled(table, 0.1, 2.1, 0.2)
	got := residualLines(table, d, units.Metric)
	if want := []string{"Readings that stand out from what all say together:", "2  " + name + ":  angle off by +0.21° (read to ±0.2°)  2.1 times its ±",
		"2 of 3 readings fit: most off is reading 3, " + name + ", 0.2 times its ±."}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	d.Residuals[0].Suspect, d.Residuals[2].Disagree = true, true
	if got := strings.Join(residualLines(table, d, units.Metric), "\n"); !strings.Contains(got, "SUSPECT") || !strings.Contains(got, "DISAGREES") || strings.Contains(got, "fit:") {
		t.Error(got)
	}
	if got := residualLines(table, levelled(table, math.NaN()), units.Metric); len(got) != 0 {
		t.Errorf("one reading: %q", got)
	}
	if got := residualLines(table, levelled(table, make([]float64, 40)...), units.Metric); len(got) != 1 || !strings.HasPrefix(got[0], "All 40 readings fit") {
		t.Errorf("40 readings: %q", got)
	}
	if got, want := ReadingList(table, levelled(table, 0.1, 2.1), units.Metric), []string{"1  " + name + ":  6.40° and turned 6.60°, fits",
		"2  " + name + ":  angle off by +0.21° (read to ±0.2°)  2.1 times its ±"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// What became of the file's own angle, and what to do where the readings are far off it.
func TestWithTheFileInWords(t *testing.T) {
	table := modeltest.Table(t, "saloon")
	at := units.Fixed(table.Car.Fixed.Turn/plane.Deg, 2) + "° ± 0.30°"
	d := levelled(table, math.NaN())
	d.WithTheFile = calibrate.WithTheFile{Standing: calibrate.WithFile, Read: 0.9 * plane.Deg, ReadStdUnc: 0.3 * plane.Deg, FileStdUnc: 0.3 * plane.Deg, Times: 3.14, Settings: 2}
	for standing, want := range map[calibrate.Standing][2]string{
		calibrate.WithFile:    {"", "by the car file " + at + ": together, each by its ±, "},
		calibrate.WithoutFile: {"", at + " is 3.1 times the ± of the difference off what 2 settings agree on: it does not count."},
		calibrate.AgainstFile: {"all with one setting, are 0.9°, 3.1 times the ± of the difference, off the car file: check the sign and that these are its holes, then read a second setting", "The car file has " + at + "."},
		calibrate.FileAssumed: {"", "The car file's angle is assumed, so it does not count: a sign turned"},
		calibrate.Flipped:     {"with their signs changed they would agree", "The car file has " + at + "."},
	} {
		d.Standing = standing
		if got := OffTheFile(table, d); !strings.Contains(got, want[0]) || (got == "") != (want[0] == "") {
			t.Errorf("%s: %q", standing, got)
		}
		if got := withTheFile(table, d); !strings.Contains(got, want[1]) {
			t.Errorf("%s: %q, want %q", standing, got, want[1])
		}
		if alarmed := len(DatumAlarms(table, d, units.Metric)) > 0; alarmed != (want[0] != "") {
			t.Errorf("%s: alarm %v", standing, alarmed)
		}
	}
	d.Standing, d.Settings = calibrate.FileAssumed, 1
	if got := withTheFile(table, d); !strings.HasSuffix(got, ": a sign turned in these readings would not show; one more on a setting at least 2° off would tell.") {
		t.Errorf("one setting: %q", got)
	}
	// Written is what the file has to what lines spell, its ± too.
	d.Angle, d.AngleStdUnc = 0, table.Car.Uncertainty.AngleReading
	if !Written(table.Car, d) {
		t.Error("what the file has is to be written")
	}
	table.Car.Assumed = append(table.Car.Assumed, model.Assumption{What: "bracket's angle", Said: true})
	if Written(table.Car, d) {
		t.Error("what the file calls assumed is to be written")
	}
	table.Car.Assumed = table.Car.Assumed[:len(table.Car.Assumed)-1]
	for _, off := range []func(*calibrate.Datum){func(d *calibrate.Datum) { d.Angle = 0.006 * plane.Deg }, func(d *calibrate.Datum) { d.AngleStdUnc -= 0.006 * plane.Deg }} {
		other := d
		if off(&other); Written(table.Car, other) {
			t.Errorf("%g ± %g rad is not written", other.Angle, other.AngleStdUnc)
		}
	}
}
