package drawing

import (
	"math"
	"slices"
	"strings"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model/units"
)

// Every setting's sheet is one sheet of A4, with nothing on a word; the angle stands at the wing, measured back from its two lines; each
// bolt has the names of both its holes beside it, and every other hole that takes bolts has its own.
func TestSettingSheets(t *testing.T) {
	a4, _ := PaperNamed("a4")
	for name, c := range cars(t) {
		table, err := c.Map(c.Speed)
		if err != nil {
			t.Fatal(err)
		}
		for _, i := range []int{0, len(table.Rows) / 2, len(table.Rows) - 1} {
			r := &table.Rows[i]
			d := Side(table, r, nil, day, units.Metric)
			s := d.Layout(a4)
			if len(s.Pages) != 1 {
				t.Errorf("%s, %s: %d pages", name, r.ID, len(s.Pages))
			}
			for k := range s.Pages {
				for _, f := range s.Pages[k].look(s) {
					t.Errorf("%s, %s: %s", name, r.ID, f)
				}
			}
			angle := units.Fixed(r.Angle/plane.Deg, 1) + "°"
			if !slices.ContainsFunc(d.Texts, func(l Text) bool { return l.Text == angle }) {
				t.Errorf("%s, %s: no %q at the wing", name, r.ID, angle)
			}
			nose := r.Pose.Apply(plane.Point{})
			drawn := false
			for _, p := range d.Paths {
				if p.Pen == Dimension && p.Bulges != nil { // the arc of the angle turns about the nose, by the angle
					_, _, centre := arcOf(p.Points[0], p.Points[1], p.Bulges[0])
					if math.Abs(centre.X/nose.X-centre.Z/nose.Z) > 1e-6 || math.Abs(4*math.Atan(p.Bulges[0])-r.Angle) > 1e-9 {
						t.Errorf("%s, %s: the arc turns by %g° about %v", name, r.ID, 4*math.Atan(p.Bulges[0])/plane.Deg, centre)
					}
				}
				if p.Pen == Centre && len(p.Points) == 2 {
					way := p.Points[1].Sub(p.Points[0])
					drawn = drawn || math.Abs(plane.Wrap(way.Angle()-r.Angle)) < 1e-9 && math.Abs(p.Points[0].X/nose.X-p.Points[0].Z/nose.Z) < 1e-9
				}
			}
			if !drawn {
				t.Errorf("%s, %s: no line at the wing's angle", name, r.ID)
			}
			texts := map[string]Text{}
			picture := d.Blocks[0].picture
			for _, l := range picture.Texts {
				texts[l.Text] = l
			}
			for j, f := range r.Fits {
				lower, upper := usedHoles(table, j)
				for _, q := range f.Pairs {
					delete(lower, q.Lower)
					delete(upper, q.Upper)
					both := c.Parts[j].Holes[q.Lower].ID + " + " + c.Parts[j+1].Holes[q.Upper].ID
					l, ok := texts[both]
					if !ok {
						t.Errorf("%s, %s: no bolt is called %q", name, r.ID, both)
						continue
					}
					if near := nearestBolt(picture, l); near > 12 {
						t.Errorf("%s, %s: %q is %g mm from every bolt", name, r.ID, both, near)
					}
				}
				for k := range lower {
					if h := c.Parts[j].Holes[k]; h.Slot == "" && texts[h.ID].Text == "" {
						t.Errorf("%s, %s: hole %s of %s has no name", name, r.ID, h.ID, c.Parts[j].Name)
					}
				}
				for k := range upper {
					if h := c.Parts[j+1].Holes[k]; h.Slot == "" && texts[h.ID].Text == "" {
						t.Errorf("%s, %s: hole %s of %s has no name", name, r.ID, h.ID, c.Parts[j+1].Name)
					}
				}
			}
		}
	}
}

// nearestBolt is how far a name is from the nearest filled circle, mm.
func nearestBolt(d *Drawing, l Text) float64 {
	least := math.Inf(1)
	b := boxAround(0, l.corners()...)
	for _, k := range d.Circles {
		if k.Filled {
			to := plane.Point{X: min(max(k.Centre.X, b.lo.X), b.hi.X), Z: min(max(k.Centre.Z, b.lo.Z), b.hi.Z)}
			least = min(least, to.Distance(k.Centre)-k.Radius)
		}
	}
	return least
}

// The bolts of a joint's picture are as far apart as on the car, at its scale.
func TestDetailToScale(t *testing.T) {
	c := cars(t)["coupe"]
	table, err := c.Map(c.Speed)
	if err != nil {
		t.Fatal(err)
	}
	r := &table.Rows[0]
	for j, f := range r.Fits {
		d := detail(table, r, j, detailWidth, detailHeight)
		scale := 0.0
		for _, l := range d.Texts {
			if _, text, ok := strings.Cut(l.Text, ", 1:"); ok {
				for _, s := range detailScales {
					if strings.HasPrefix(text, units.Fixed(s, 0)+",") || strings.HasPrefix(text, units.Fixed(s, 1)+",") {
						scale = s
					}
				}
			}
		}
		var at []plane.Point
		for _, k := range d.Circles {
			if k.Filled {
				at = append(at, k.Centre)
			}
		}
		a, b := c.Parts[j].Holes[f.Pairs[0].Lower], c.Parts[j].Holes[f.Pairs[1].Lower]
		if got, want := at[0].Distance(at[1])*scale, a.At().Distance(b.At()); math.Abs(got-want) > 1e-6 {
			t.Errorf("joint %d at 1:%g: bolts are %g mm apart, want %g", j, scale, got, want)
		}
	}
}

// The map is one sheet of A4 for cars with few settings, with nothing on a word.
func TestMapSheet(t *testing.T) {
	for name, c := range cars(t) {
		table, err := c.Map(c.Speed)
		if err != nil {
			t.Fatal(err)
		}
		s := Map(table, "", day, units.Metric).LayoutUsual()
		for k := range s.Pages {
			for _, f := range s.Pages[k].look(s) {
				t.Errorf("%s: %s", name, f)
			}
		}
		if len(s.Pages) != 1 {
			t.Errorf("%s: %d pages of %s", name, len(s.Pages), s.Paper.Name)
		}
	}
}
