package drawing

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model/units"
)

// tool skips a test where a program is not installed.
func tool(t *testing.T, name string) {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		t.Skipf("%s is not installed (Debian: poppler-utils): PDFs are not rendered here", name)
	}
}

// picture is a page as dots of grey.
type picture struct {
	w, h int
	dots []byte
	dpi  float64
}

// dark reports whether a dot within a step of a place is dark, mm from the lower left corner.
func (p *picture) dark(at plane.Point) bool {
	x, y := int(at.X/25.4*p.dpi), p.h-1-int(at.Z/25.4*p.dpi)
	for dx := -1; dx <= 1; dx++ {
		for dy := -1; dy <= 1; dy++ {
			if u, v := x+dx, y+dy; u >= 0 && v >= 0 && u < p.w && v < p.h && p.dots[v*p.w+u] < 160 {
				return true
			}
		}
	}
	return false
}

// light reports whether the dot at a place is white.
func (p *picture) light(at plane.Point) bool {
	x, y := int(at.X/25.4*p.dpi), p.h-1-int(at.Z/25.4*p.dpi)
	return p.dots[y*p.w+x] > 200
}

// run is the longest dark run along a line of dots, mm: a row at a height, or a column.
func (p *picture) run(at float64, column bool) float64 {
	n, best, now := p.w, 0, 0
	if column {
		n = p.h
	}
	k := int(at / 25.4 * p.dpi)
	for off := -1; off <= 1; off++ {
		now = 0
		for i := range n {
			x, y := i, p.h-1-k+off
			if column {
				x, y = k+off, i
			}
			if p.dots[y*p.w+x] < 160 {
				now++
				best = max(best, now)
			} else {
				now = 0
			}
		}
	}
	return float64(best) / p.dpi * 25.4
}

// rendered is a page of a PDF as poppler shows it.
func rendered(t *testing.T, file string, page int, dpi float64) *picture {
	t.Helper()
	out, err := exec.Command("pdftoppm", "-gray", "-r", fmt.Sprint(dpi), "-f", fmt.Sprint(page), "-l", fmt.Sprint(page), file).Output()
	if err != nil {
		t.Fatalf("pdftoppm: %v", err)
	}
	p := &picture{dpi: dpi}
	var most int
	if _, err := fmt.Sscanf(string(out[:min(len(out), 40)]), "P5\n%d %d\n%d", &p.w, &p.h, &most); err != nil {
		t.Fatal(err)
	}
	p.dots = out[len(out)-p.w*p.h:]
	return p
}

// Drawings are rendered and measured back: the page is as large as it says, both bars are 100 mm long, and every hole's edge is where the
// plate has it, 16 ways round, with nothing a millimetre within it but the centre marks. DRAWN_ALL=1 does so with all parts of all cars.
func TestRendered(t *testing.T) {
	tool(t, "pdftoppm")
	const dpi = 150
	all := cars(t)
	type drawn struct{ car, part, paper string }
	rows := []drawn{{"coupe", "upright", "a4"}, {"saloon", "upright", ""}, {"roadster", "upright", "tabloid"}, {"coupe", "wing", "a4"}}
	if os.Getenv("DRAWN_ALL") != "" {
		for name, c := range all {
			for _, p := range c.Parts {
				for _, paper := range []string{"", "a4", "letter", "a3"} {
					rows = append(rows, drawn{name, p.Name, paper})
				}
			}
		}
	}
	for _, row := range rows {
		c := all[row.car]
		index := 0
		for i, p := range c.Parts {
			if p.Name == row.part {
				index = i
			}
		}
		d := Part(c, index, nil, day, units.Metric)
		s := d.LayoutUsual()
		if p, ok := PaperNamed(row.paper); ok {
			s = d.Layout(p)
		}
		data, err := s.PDF(d.Title, day)
		if err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(t.TempDir(), "part.pdf")
		if err := os.WriteFile(file, data, 0o600); err != nil {
			t.Fatal(err)
		}
		seen := map[string]bool{}
		for k := range s.Pages {
			pic := rendered(t, file, k+1, dpi)
			if math.Abs(float64(pic.w)/dpi*25.4-s.Width) > 0.2 || math.Abs(float64(pic.h)/dpi*25.4-s.Height) > 0.2 {
				t.Errorf("%v: page %d is %d by %d dots, want %g by %g mm", row, k+1, pic.w, pic.h, s.Width, s.Height)
			}
			if flat, up := pic.run(10, false), pic.run(10, true); math.Abs(flat-100) > 0.6 || math.Abs(up-100) > 0.6 {
				t.Errorf("%v: page %d: the bars are %.2f and %.2f mm long", row, k+1, flat, up)
			}
			in := room(s.Width, s.Height)
			by := plane.Pose{X: s.Pages[k].laid[0].at.X, Z: s.Pages[k].laid[0].at.Z, Turn: s.Turn}
			if len(s.Pages) > 1 && !s.Pages[k].tile {
				continue // table and title alone
			}
			part := c.Parts[index].AsDrawn()
			alone := part.Outline != nil && len(Warnings(part, nil, units.Metric)) == 0 // no other edge may pass through a hole
			for _, h := range part.Holes {
				at := by.Apply(h.At())
				if h.Slot != "" || !in.holds(boxAround(h.D/2+0.4, at)) {
					continue
				}
				seen[h.ID] = true
				for i := range 16 {
					// Between the centre marks, which turn with the part.
					way := plane.Pose{Turn: s.Turn + (float64(i)+0.5)*math.Pi/8}.Apply(plane.Point{X: 1})
					if !pic.dark(at.Add(way.Times(h.D / 2))) {
						t.Errorf("%v: page %d: hole %s has no edge %d/16 of the way round", row, k+1, h.ID, i)
					}
					if alone && !pic.light(at.Add(way.Times(h.D/2-1))) {
						t.Errorf("%v: page %d: something is drawn within hole %s", row, k+1, h.ID)
					}
				}
			}
		}
		for _, h := range c.Parts[index].Holes {
			if h.Slot == "" && !seen[h.ID] {
				t.Errorf("%v: hole %s is whole on no page", row, h.ID)
			}
		}
	}
}

// What poppler reads back of the texts is on the page, and all of it: every word of the drawing and its blocks.
func TestTextsReadBack(t *testing.T) {
	tool(t, "pdftotext")
	c := cars(t)["coupe"]
	a4, _ := PaperNamed("a4")
	table, err := c.Map(c.Speed)
	if err != nil {
		t.Fatal(err)
	}
	for what, d := range map[string]*Drawing{"part": Part(c, 1, nil, day, units.Metric), "side": Side(table, &table.Rows[5], nil, day, units.Metric)} {
		data, err := d.PDF(a4, day)
		if err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(t.TempDir(), "part.pdf")
		if err := os.WriteFile(file, data, 0o600); err != nil {
			t.Fatal(err)
		}
		out, err := exec.Command("pdftotext", "-bbox", file, "-").Output()
		if err != nil {
			t.Fatal(err)
		}
		var f struct {
			Pages []struct {
				Width  float64 `xml:"width,attr"`
				Height float64 `xml:"height,attr"`
				Words  []struct {
					X0   float64 `xml:"xMin,attr"`
					Y0   float64 `xml:"yMin,attr"`
					X1   float64 `xml:"xMax,attr"`
					Y1   float64 `xml:"yMax,attr"`
					Text string  `xml:",chardata"`
				} `xml:"word"`
			} `xml:"body>doc>page"`
		}
		if err := xml.NewDecoder(bytes.NewReader(out)).Decode(&f); err != nil {
			t.Fatal(err)
		}
		there := map[string]int{}
		for k, p := range f.Pages {
			for _, w := range p.Words {
				there[w.Text]++
				if w.X0 < 0 || w.Y0 < 0 || w.X1 > p.Width || w.Y1 > p.Height {
					t.Errorf("%s: %q runs off page %d", what, w.Text, k+1)
				}
			}
		}
		want := d.Texts
		for _, b := range d.Blocks {
			want = append(want, b.drawn(1e9)[0].Texts...)
		}
		for _, l := range want {
			if l.angle() != 0 {
				continue // poppler parts words that run upwards at their letters
			}
			for _, w := range strings.Fields(l.Text) {
				if there[w] == 0 {
					t.Errorf("%s: %q is not in the PDF", what, w)
				}
			}
		}
	}
}

// Lines join without spikes, in every format: round, not mitred.
func TestJoins(t *testing.T) {
	c := cars(t)["saloon"]
	d := Part(c, len(c.Parts)-1, nil, day, units.Metric)
	if !bytes.Contains(d.SVG(), []byte(`stroke-linejoin="round"`)) {
		t.Error("the SVG's lines are mitred")
	}
	tool(t, "pdftoppm")
	sharp := &Drawing{Turns: true}
	sharp.path(Path{Points: []plane.Point{{}, {X: 100, Z: 12}, {Z: 24}}, Closed: true, Pen: Bold})
	a4, _ := PaperNamed("a4")
	s := sharp.Layout(a4)
	data, err := s.PDF("", day)
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "sharp.pdf")
	if err := os.WriteFile(file, data, 0o600); err != nil {
		t.Fatal(err)
	}
	// The lines meet at 13.7°: a mitre of a line 0.5 mm wide would stick out by 0.25/sin(6.84°), 2.1 mm.
	pic := rendered(t, file, 1, 150)
	tip := s.Pages[0].laid[0].at.Add(plane.Point{X: 100, Z: 12})
	if !pic.dark(tip) || pic.dark(tip.Add(plane.Point{X: 1})) {
		t.Error("a spike sticks out of the tip")
	}
}
