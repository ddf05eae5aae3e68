package drawing

import (
	"math"
	"strings"
	"testing"
	"time"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/inspect"
	"stanchion/model/logbook"
	"stanchion/model/modeltest"
	"stanchion/model/strength"
	"stanchion/model/units"
	"stanchion/model/words"
)

// lookOf is a list whose upright is most heavily loaded at two places that the test puts there.
func lookOf(t *testing.T, u units.System) words.Look {
	t.Helper()
	car := modeltest.Car(t, "coupe")
	f, err := strength.Single(car)
	if err != nil {
		t.Fatal(err)
	}
	table, err := car.Map(car.Speed)
	if err != nil {
		t.Fatal(err)
	}
	row := &table.Rows[8]
	r, err := f.Best(f.Table.RowAt(row.Position))
	if err != nil {
		t.Fatal(err)
	}
	r.Solved = &strength.Solved{Plates: []strength.SolvedPlate{{Part: 1, Name: "upright",
		Field: []strength.Used{{At: plane.Point{X: 30, Z: 50}, Share: 0.5}, {At: plane.Point{X: 30, Z: 250}, Share: 0.4}}}}}
	return words.Look{Frame: f, Result: &r, Table: table, Row: row, Named: true, Units: u}
}

// All that the list has stands on its pages, nothing over their edges, whatever the paper.
func TestChecksOnPaper(t *testing.T) {
	day := time.Date(2026, 5, 5, 0, 0, 0, 0, time.UTC)
	for _, u := range []units.System{units.Metric, units.Imperial} {
		l := lookOf(t, u)
		look := logbook.Blank()
		look.ID, look.At = "1", day
		look.Inspected = logbook.Inspection{Looked: []string{"play"}, Failed: []string{"play"}, Found: strings.Repeat("a click at the left tip, ", 12)}
		report := inspect.Of(l.Table.Car, logbook.Book{All: []logbook.Note{look}, Checks: []logbook.Note{look}}, day)
		l.Report = &report
		paper := usualPapers(u.Inches())[0]
		var said []string
		for i, d := range checkPages(l, day, paper) {
			lo, hi := d.Bounds()
			if lo.X < 0 || lo.Z < 0 || hi.X > paper.Width || hi.Z > paper.Height {
				t.Errorf("page %d reaches from %v to %v, the paper is %g by %g", i+1, lo, hi, paper.Width, paper.Height)
			}
			for _, text := range d.Texts {
				said = append(said, text.Text)
			}
		}
		all := strings.Join(said, " ")
		for _, want := range []string{"STOP: play of the wing by hand FAILED on 5 May 2026: a click", "torque of joint foot", "1: upright at", "what was found", "licensed engineer",
			words.Caution[:20]} {
			if !strings.Contains(all, want) {
				t.Errorf("no %q in %s", want, all)
			}
		}
		if data, err := ChecksPDF(l, day); err != nil || !strings.HasPrefix(string(data), "%PDF") {
			t.Errorf("%v", err)
		}
	}
}

// The places are drawn where they are: 200 mm apart along the plate, at the scale that stands over it.
func TestPlacesOnPaper(t *testing.T) {
	l := lookOf(t, units.Metric)
	part := &model.Part{}
	for i := range l.Table.Car.Parts {
		if l.Table.Car.Parts[i].Name == "upright" {
			part = &l.Table.Car.Parts[i]
		}
	}
	hot := l.Frame.HotPlaces(*l.Result)
	if len(hot) != 2 {
		t.Fatalf("%v", hot)
	}
	d := platePicture(part, hot)
	var rings []Circle
	for _, c := range d.Circles {
		if c.Pen == Bold {
			rings = append(rings, c)
		}
	}
	lo, hi := boxAround(0, part.Outline...).lo, boxAround(0, part.Outline...).hi
	s := scaleFor(plateScales, hi.X-lo.X, hi.Z-lo.Z, checkPlateWide, checkPlateHigh)
	if len(rings) != 2 || math.Abs(rings[1].Centre.Z-rings[0].Centre.Z-200/s) > 1e-9 || math.Abs(rings[0].Centre.X-(30-lo.X)/s) > 1e-9 || math.Abs(rings[0].Centre.Z-(50-lo.Z)/s) > 1e-9 {
		t.Errorf("places at %v, 1:%g", rings, s)
	}
}
