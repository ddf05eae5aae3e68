package drawing

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/carfile"
	"stanchion/model/given"
	"stanchion/model/units"
)

// cars are the demo cars and those of the tests that draw parts of every kind.
func cars(t *testing.T) map[string]*model.Car {
	t.Helper()
	all := map[string]*model.Car{}
	for _, name := range carfile.Demos() {
		c, err := carfile.Demo(name)
		if err != nil {
			t.Fatal(err)
		}
		all[name] = c
	}
	for _, name := range []string{"slot", "two-necks", "swan-neck", "forked-foot", "measured", "slotted-plate"} {
		file := filepath.Join("..", "..", "testdata", "cars", name+".toml")
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		c, err := carfile.Parse(file, data, func(name string) ([]byte, error) { return os.ReadFile(filepath.Join(filepath.Dir(file), name)) })
		if err != nil {
			t.Fatal(err)
		}
		all[name] = c
	}
	return all
}

// shown are the texts and lines of a page, in its own coordinates, as they are printed: a tile shows no text that is not whole on it.
func (p *Page) shown(s *Sheets) (texts []Text, k ink) {
	in := room(s.Width, s.Height)
	for i, l := range p.laid {
		moved := &Drawing{}
		moved.add(l.Drawing, plane.Pose{X: l.at.X, Z: l.at.Z})
		whole := moved.Texts[:0]
		for _, t := range moved.Texts {
			if i > 0 || !p.tile || grown(in).holds(boxAround(0, t.corners()...)) {
				whole = append(whole, t)
			}
		}
		moved.Texts = whole
		k.add(moved)
		texts = append(texts, whole...)
	}
	return texts, k
}

// look returns what is wrong with a page: a text off the page, on another, or with a line or a mark through it.
func (p *Page) look(s *Sheets) (faults []string) {
	texts, k := p.shown(s)
	in := grown(room(s.Width, s.Height))
	boxes := make([]box, len(texts))
	for i, t := range texts {
		c := t.corners()
		boxes[i] = boxAround(0, c...)
		if !in.holds(boxes[i]) {
			faults = append(faults, fmt.Sprintf("%q is not whole on the page", t.Text))
		}
		lean := math.Abs(math.Remainder(t.angle(), math.Pi/2)) > 1e-6
		for j := range i {
			if !lean && boxes[i].meets(boxAround(-0.1, texts[j].corners()...)) && math.Abs(math.Remainder(texts[j].angle(), math.Pi/2)) < 1e-6 {
				faults = append(faults, fmt.Sprintf("%q lies on %q", t.Text, texts[j].Text))
			}
		}
		// The letters themselves, upright: capitals over the base line.
		by := plane.Pose{X: t.At.X, Z: t.At.Z, Turn: t.angle()}.Inverse()
		w := textWidth(t.Text, t.Size)
		letters := box{plane.Point{X: -w * float64(t.Anchor) / 2}, plane.Point{X: w - w*float64(t.Anchor)/2, Z: 0.73 * t.Size}}
		for _, l := range k.lines {
			if letters.crossed([2]plane.Point{by.Apply(l[0]), by.Apply(l[1])}) {
				faults = append(faults, fmt.Sprintf("a line crosses %q", t.Text))
				break
			}
		}
		for _, m := range p.marks {
			if markBox(m).meets(boxes[i]) {
				faults = append(faults, fmt.Sprintf("a mark lies on %q", t.Text))
			}
		}
	}
	return faults
}

// pageOf is the page on which a text stands, and how many there are.
func pageOf(s *Sheets, text string) (page, n int) {
	page = -1
	for i := range s.Pages {
		texts, _ := s.Pages[i].shown(s)
		for _, t := range texts {
			if t.Text == text {
				page, n = i, n+1
				break
			}
		}
	}
	return page, n
}

// Every part of every car lies on one sheet of the usual papers with its table and title, whole and with nothing on a word; every text of
// it is there. On A4 it takes several, none of them empty, and table and title are on one.
func TestPartsOnPaper(t *testing.T) {
	a4, _ := PaperNamed("a4")
	for name, c := range cars(t) {
		for i := range c.Parts {
			what := name + " " + c.Parts[i].Name
			d := Part(c, i, nil, day, c.System())
			s := d.LayoutUsual()
			if len(s.Pages) != 1 {
				t.Errorf("%s: %d pages of %s", what, len(s.Pages), s.Paper.Name)
			}
			for _, s := range []*Sheets{s, d.Layout(a4)} {
				all := append([]Text(nil), d.Texts...)
				for _, b := range d.Blocks {
					all = append(all, b.drawn(1e9)[0].Texts...)
				}
				there := map[string]bool{}
				for k := range s.Pages {
					texts, _ := s.Pages[k].shown(s)
					for _, text := range texts {
						there[text.Text] = true
					}
				}
				for _, text := range all {
					if !there[text.Text] {
						t.Errorf("%s: %q is on no page of %s", what, text.Text, s.Paper.Name)
					}
				}
				for k := range s.Pages {
					for _, f := range s.Pages[k].look(s) {
						t.Errorf("%s, page %d of %d of %s: %s", what, k+1, len(s.Pages), s.Paper.Name, f)
					}
					if texts, ink := s.Pages[k].shown(s); len(texts) == 0 && !inRoom(s, ink) {
						t.Errorf("%s: page %d of %s is empty", what, k+1, s.Paper.Name)
					}
				}
				table, n := pageOf(s, "dia.")
				if title, m := pageOf(s, c.Parts[i].Name); table != title || n != 1 || m != 1 {
					t.Errorf("%s: table on page %d (%d), title on %d (%d)", what, table, n, title, m)
				}
			}
		}
	}
}

// inRoom reports whether a line of a page is within its margins.
func inRoom(s *Sheets, k ink) bool {
	return slices.ContainsFunc(k.lines, room(s.Width, s.Height).crossed)
}

// Plates drawn at random keep to the same laws on A4, which is too small for most: no word cut, covered or lost, no page that shows nothing
// of its own.
func TestTiledLaws(t *testing.T) {
	a4, _ := PaperNamed("a4")
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.Float64Range(60, 900).Draw(t, "w"), rapid.Float64Range(60, 900).Draw(t, "h")
		lean := rapid.Float64Range(-0.4, 0.4).Draw(t, "lean") * w
		p := model.Part{Part: holes.Part{Name: "plate"}, Outline: []plane.Point{{}, {X: w}, {X: w + lean, Z: h}, {X: lean, Z: h}}}
		n := rapid.IntRange(2, 14).Draw(t, "n")
		for i := range n {
			z := (0.1 + 0.8*rapid.Float64Range(0, 1).Draw(t, "z")) * h
			p.Holes = append(p.Holes, holes.Hole{ID: fmt.Sprintf("H%d", i), X: lean*z/h + (0.1+0.8*float64(i)/float64(n))*w, Z: z, D: 8.4})
		}
		c := &model.Car{Name: "random", Parts: []model.Part{{}, p, {}}, Joints: make([]model.Joint, 2)}
		d := Part(c, 1, nil, day, units.Metric)
		s := d.Layout(a4)
		for k := range s.Pages {
			for _, f := range s.Pages[k].look(s) {
				t.Fatalf("page %d of %d: %s", k+1, len(s.Pages), f)
			}
		}
		for _, text := range d.Texts {
			if page, _ := pageOf(s, text.Text); page < 0 {
				t.Fatalf("%q is on no page", text.Text)
			}
		}
		// Every millimetre of every line is on some tile.
		for _, l := range lines(s.Pages[0].laid[0].Drawing) {
			for i := range 11 {
				q := l[0].Add(l[1].Sub(l[0]).Times(float64(i) / 10))
				if !slices.ContainsFunc(s.Pages, func(p Page) bool {
					in := grown(room(s.Width, s.Height))
					at := q.Add(p.laid[0].at)
					return p.tile && in.lo.X <= at.X && at.X <= in.hi.X && in.lo.Z <= at.Z && at.Z <= in.hi.Z || !p.tile && len(s.Pages) == 1
				}) {
					t.Fatalf("%v is on no page", q)
				}
			}
		}
	})
}

func lines(d *Drawing) [][2]plane.Point {
	var k ink
	k.add(d)
	return k.lines
}

// Windows cover all, overlap by as much as they must, and none cuts a text that another does not show whole. By hand: 300 mm on
// windows of 100 start at 0, 90, 180, 270; a text from 85 to 95 pulls the second one back to 85.
func TestWindows(t *testing.T) {
	if got := windows(0, 300, 100, nil); !slices.Equal(got, []float64{0, 90, 180, 270}) {
		t.Errorf("windows %v", got)
	}
	if got := windows(0, 300, 100, []interval{{85, 105}}); got[1] != 85 {
		t.Errorf("with a text from 85 to 105: %v", got)
	}
	if got := windows(0, 99, 100, nil); len(got) != 1 {
		t.Errorf("one window does: %v", got)
	}
	rapid.Check(t, func(t *rapid.T) {
		hi, size := rapid.Float64Range(1, 3000).Draw(t, "hi"), rapid.Float64Range(150, 800).Draw(t, "size")
		var texts []interval
		for range rapid.IntRange(0, 30).Draw(t, "texts") {
			lo := rapid.Float64Range(0, hi).Draw(t, "lo")
			texts = append(texts, interval{lo, min(hi, lo+rapid.Float64Range(1, 60).Draw(t, "long"))})
		}
		all := windows(0, hi, size, texts)
		for i, w := range all {
			if i > 0 && (w > all[i-1]+size-overlap+1e-9 || w <= all[i-1]) {
				t.Fatalf("window %d starts at %g after %g", i, w, all[i-1])
			}
		}
		if last := all[len(all)-1]; last+size < hi-1e-6 {
			t.Fatalf("%g is beyond the last window", hi)
		}
		for _, x := range texts {
			if !slices.ContainsFunc(all, func(w float64) bool { return w <= x.lo+1e-9 && x.hi <= w+size+1e-9 }) {
				t.Fatalf("the text from %g to %g is whole on none of %v", x.lo, x.hi, all)
			}
		}
	})
}

// One arc slot takes one sheet: its bounds are the arc's. By hand: a slot 8.4 wide on an arc of 10° about a centre 120 mm away reaches
// 4.2 mm beyond its ends, and nowhere near the circle's other side.
func TestArcSlotOnOneSheet(t *testing.T) {
	s := holes.Slot{Hole: holes.Hole{ID: "S", X: 120, D: 8.4}, Turn: 10 * plane.Deg, Step: 4.2}
	var d Drawing
	d.path(slotPath(s, Hole))
	lo, hi := d.Bounds()
	if math.Abs(hi.X-124.2) > 1e-9 || math.Abs(lo.Z+4.2) > 0.02 || lo.X < 110 || hi.Z > 26 {
		t.Errorf("the slot reaches from %v to %v", lo, hi)
	}
	c := &model.Car{Name: "arc", Parts: []model.Part{{}, {Part: holes.Part{Name: "plate"}, Slots: []holes.Slot{s}}, {}}}
	a4, _ := PaperNamed("a4")
	if got := Part(c, 1, nil, day, units.Metric).Layout(a4); len(got.Pages) != 1 {
		t.Errorf("%d pages", len(got.Pages))
	}
}

// The extremes of an arc bound it: none of its points lies beyond them, and they lie on it.
func TestArcExtremes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(-100, 100)
		a, b := plane.Point{X: v.Draw(t, "ax"), Z: v.Draw(t, "az")}, plane.Point{X: v.Draw(t, "bx"), Z: v.Draw(t, "bz")}
		if a.Distance(b) < 1 {
			return
		}
		bulge := rapid.Float64Range(0.05, 3).Draw(t, "bulge") * rapid.SampledFrom([]float64{1, -1}).Draw(t, "way")
		lo, hi := plane.Box(arcExtremes(a, b, bulge))
		from, r, c := arcOf(a, b, bulge)
		dense := []plane.Point{}
		for i := range 4001 {
			s, k := math.Sincos(from + 4*math.Atan(bulge)*float64(i)/4000)
			dense = append(dense, plane.Point{X: c.X + r*k, Z: c.Z + r*s})
		}
		dlo, dhi := plane.Box(dense)
		if off := r * 1e-5; dlo.Distance(lo) > off || dhi.Distance(hi) > off {
			t.Fatalf("bounds %v %v, sampled %v %v", lo, hi, dlo, dhi)
		}
	})
}

// A roll is as wide as there are, and no longer than the drawing takes: less would not do.
func TestRoll(t *testing.T) {
	roll, _ := PaperNamed("roll")
	_, d, _ := upright(t)
	s := d.Layout(roll)
	if len(s.Pages) != 1 || s.Width != 610 || s.Height > 841 {
		t.Errorf("%d pages of %g by %g", len(s.Pages), s.Width, s.Height)
	}
	if !strings.Contains(s.Said(), "a roll 610 mm wide") {
		t.Error(s.Said())
	}
	wide := &model.Car{Name: "wide", Parts: []model.Part{{}, {Part: holes.Part{Name: "plate"}, Thickness: given.Is(6),
		Outline: []plane.Point{{}, {X: 700}, {X: 700, Z: 1200}, {Z: 1200}}}, {}}}
	if s := Part(wide, 1, nil, day, units.Metric).Layout(roll); len(s.Pages) != 1 || s.Width != wideRoll {
		t.Errorf("700 by 1200 mm: %s", s.Said())
	}
}

// A window that shows nothing is no page: of an L of 500 by 700 mm on A4 the far corner is left out. A page that shows only what
// its neighbours do is none either.
func TestNoEmptyPages(t *testing.T) {
	a4, _ := PaperNamed("a4")
	d := &Drawing{Turns: true}
	d.line(plane.Point{}, plane.Point{X: 500}, Outline)
	d.line(plane.Point{}, plane.Point{Z: 700}, Outline)
	// Upright pages of 178 by 265 mm in steps of 168 and 255 take 3 columns by 3 rows; only the L's 5 show a line.
	s := d.tiled(d, a4, 210, 297)
	if len(s.Pages) != 5 {
		t.Errorf("%d pages", len(s.Pages))
	}
	short := &Drawing{}
	short.line(plane.Point{X: 170}, plane.Point{X: 176}, Outline) // within both of two windows
	both := []tile{{box: box{hi: plane.Point{X: 178, Z: 265}}}, {box: box{plane.Point{X: 168}, plane.Point{X: 346, Z: 265}}, row: 0, col: 1}}
	if got := needed(both, short); len(got) != 1 {
		t.Errorf("%d windows are kept", len(got))
	}
}
