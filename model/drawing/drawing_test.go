package drawing

import (
	"bytes"
	"compress/zlib"
	"encoding/csv"
	"encoding/xml"
	"fmt"
	"image/png"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/carfile"
	"stanchion/model/units"
)

var day = time.Date(2026, 5, 31, 0, 0, 0, 0, time.UTC)

func upright(t *testing.T) (*model.Car, *Drawing, model.Part) {
	t.Helper()
	c, err := carfile.Demo("coupe")
	if err != nil {
		t.Fatal(err)
	}
	return c, Part(c, 1, []holes.Hole{{ID: "N1", X: 40, Z: 470, D: 8.4}}, day, units.Metric), c.Parts[1]
}

// svgFile is what is read back of an SVG.
type svgFile struct {
	Width   string `xml:"width,attr"`
	ViewBox string `xml:"viewBox,attr"`
	Circles []struct {
		Class string  `xml:"class,attr"`
		X     float64 `xml:"cx,attr"`
		Y     float64 `xml:"cy,attr"`
		R     float64 `xml:"r,attr"`
	} `xml:"circle"`
	Paths []struct {
		Class string `xml:"class,attr"`
		D     string `xml:"d,attr"`
	} `xml:"path"`
}

// Cut-outs are drawn with the outline's pen wherever the outline is: on the part at its own size, and
// from the side; the title says how many there are.
func TestCutoutsAreDrawn(t *testing.T) {
	c, _, _ := upright(t)
	window := []plane.Point{{X: 10, Z: 100}, {X: 70, Z: 100}, {X: 70, Z: 350}, {X: 10, Z: 350}}
	c.Parts[1].Cutouts = [][]plane.Point{window}
	d := Part(c, 1, nil, day, units.Metric)
	drawn := 0
	for _, p := range d.Paths {
		if p.Pen == Outline && p.Closed && len(p.Points) == 4 && p.Points[2] == window[2] {
			drawn++
		}
	}
	if drawn != 1 {
		t.Errorf("the cut-out is drawn %d times", drawn)
	}
	said := false
	for _, l := range d.Whole().Texts {
		said = said || l.Text == "1 cut-out, drawn to size; the car file has the corners"
	}
	if !said {
		t.Error("the title does not say that there is a cut-out")
	}
	table, err := c.Map(c.Speed)
	if err != nil {
		t.Fatal(err)
	}
	r := &table.Rows[0]
	drawn = 0
	for _, p := range Side(table, r, nil, day, units.Metric).Paths {
		if p.Pen != Outline || len(p.Points) != 4 {
			continue
		}
		// Whatever the scale and whichever way it leans, the window is 60 by 250.
		if a := p.Points[0].Distance(p.Points[1]); math.Abs(p.Points[1].Distance(p.Points[2])/a-250.0/60) < 1e-9 {
			drawn++
		}
	}
	if drawn != 1 {
		t.Errorf("the cut-out is drawn %d times from the side", drawn)
	}
}

// An SVG is measured back: one unit is one mm, the bars are 100 mm, and every hole is
// where it is in the part, as wide as it is.
func TestSVGMeasuredBack(t *testing.T) {
	_, d, p := upright(t)
	var f svgFile
	if err := xml.Unmarshal(d.SVG(), &f); err != nil {
		t.Fatal(err)
	}
	box := strings.Fields(f.ViewBox)
	if f.Width != box[2]+"mm" {
		t.Errorf("the sheet is %s wide for %s units", f.Width, box[2])
	}
	bars := 0
	for _, l := range f.Paths {
		var x0, y0, x1, y1 float64
		if n, _ := fmt.Sscanf(l.D, "M%f %fL%f %f", &x0, &y0, &x1, &y1); n == 4 && l.Class == "check" && math.Hypot(x1-x0, y1-y0) > 50 {
			bars++
			if got := math.Hypot(x1-x0, y1-y0); got != 100 {
				t.Errorf("a check bar is %g mm long", got)
			}
		}
	}
	if bars != 2 {
		t.Errorf("%d check bars", bars)
	}
	found := 0
	first := f.Circles[0]
	for _, h := range p.Holes {
		for _, c := range f.Circles {
			if math.Abs(c.X-first.X-(h.X-p.Holes[0].X)) < 1e-5 && math.Abs(c.Y-first.Y+(h.Z-p.Holes[0].Z)) < 1e-5 && c.R == h.D/2 && c.Class == "holes" {
				found++
			}
		}
	}
	if found != len(p.Holes) {
		t.Errorf("%d of %d holes are in the file", found, len(p.Holes))
	}
}

// ring is a closed curve in a page of a PDF, in mm from its lower left corner.
type ring struct{ x, y, w, h float64 }

// readPDF reads the lines and rings of each page of a PDF back from its user space.
func readPDF(t *testing.T, data []byte) (lines [][][4]float64, rings [][]ring) {
	t.Helper()
	const unit = 25.4 / 72
	for _, m := range regexp.MustCompile(`(?s)stream\r?\n(.*?)\r?\nendstream`).FindAllSubmatch(data, -1) {
		z, err := zlib.NewReader(bytes.NewReader(m[1]))
		if err != nil {
			continue
		}
		text, err := io.ReadAll(z)
		if err != nil || !bytes.Contains(text, []byte(" m")) && !bytes.Contains(text, []byte(" l")) {
			continue
		}
		if bytes.HasPrefix(text, []byte{0, 1, 0, 0}) {
			continue // a font
		}
		var nums []float64
		var ls [][4]float64
		var rs []ring
		var x, y float64
		var box *[4]float64
		flush := func() {
			if box != nil {
				rs = append(rs, ring{(box[0] + box[2]) / 2, (box[1] + box[3]) / 2, box[2] - box[0], box[3] - box[1]})
				box = nil
			}
		}
		grow := func(u, v float64) {
			if box == nil {
				box = &[4]float64{x, y, x, y}
			}
			box[0], box[1], box[2], box[3] = min(box[0], u), min(box[1], v), max(box[2], u), max(box[3], v)
		}
		for _, w := range strings.Fields(string(text)) {
			if v, err := strconv.ParseFloat(w, 64); err == nil {
				nums = append(nums, v*unit)
				continue
			}
			n := len(nums)
			switch {
			case w == "m" && n >= 2:
				flush()
				x, y = nums[n-2], nums[n-1]
			case w == "l" && n >= 2:
				ls = append(ls, [4]float64{x, y, nums[n-2], nums[n-1]})
				x, y = nums[n-2], nums[n-1]
			case w == "c" && n >= 6:
				c := nums[n-6:]
				for i := range 33 {
					u := float64(i) / 32
					v := 1 - u
					grow(v*v*v*x+3*v*v*u*c[0]+3*v*u*u*c[2]+u*u*u*c[4], v*v*v*y+3*v*v*u*c[1]+3*v*u*u*c[3]+u*u*u*c[5])
				}
				x, y = nums[n-2], nums[n-1]
			}
			nums = nums[:0]
		}
		flush()
		if len(ls) > 0 {
			lines, rings = append(lines, ls), append(rings, rs)
		}
	}
	return lines, rings
}

// A PDF is measured back from its user space: each page has a bar of 100 mm both ways
// to 0.01 pt, holes are as wide as drilled, and two on one page as far apart.
func TestPDFMeasuredBack(t *testing.T) {
	_, d, p := upright(t)
	for _, paper := range Papers {
		data, err := d.PDF(paper, day)
		if err != nil {
			t.Fatal(err)
		}
		again, _ := d.PDF(paper, day)
		if !bytes.Equal(data, again) {
			t.Errorf("%s: the same drawing gives other bytes", paper.Name)
		}
		lines, rings := readPDF(t, data)
		pages := d.Layout(paper)
		if len(lines) != len(pages.Pages) {
			t.Fatalf("%s: %d pages read, %d laid out", paper.Name, len(lines), len(pages.Pages))
		}
		apart := false
		for n := range lines {
			flat, upright := 0, 0
			for _, l := range lines[n] {
				dx, dy := math.Abs(l[2]-l[0]), math.Abs(l[3]-l[1])
				if dy < 1e-9 && math.Abs(dx-100) < 0.004 {
					flat++
				}
				if dx < 1e-9 && math.Abs(dy-100) < 0.004 {
					upright++
				}
			}
			if flat < 1 || upright < 1 {
				t.Errorf("%s, page %d: %d bars across, %d up", paper.Name, n+1, flat, upright)
			}
			drilled := 0
			for i, a := range rings[n] {
				if math.Abs(a.w-8.4) < 0.01 && math.Abs(a.h-8.4) < 0.01 {
					drilled++
				}
				for _, b := range rings[n][i+1:] { // k1 and k2
					if want := p.Holes[1].X - p.Holes[0].X; math.Abs(math.Hypot(a.x-b.x, a.y-b.y)-want) < 0.01 {
						apart = true
					}
				}
			}
			if drilled < len(p.Holes) {
				t.Errorf("%s, page %d: %d holes of 8.4 mm", paper.Name, n+1, drilled)
			}
		}
		if !apart {
			t.Errorf("%s: no two holes are %g mm apart", paper.Name, p.Holes[1].X-p.Holes[0].X)
		}
	}
}

// A DXF says that it is in mm, and has each hole in the part's own coordinates.
func TestDXFSaysMillimetres(t *testing.T) {
	_, d, p := upright(t)
	text := string(d.DXF())
	if !strings.Contains(text, "$INSUNITS\r\n 70\r\n4\r\n") || !strings.HasSuffix(text, "EOF\r\n") {
		t.Error("it does not say mm, or does not end")
	}
	for _, h := range p.Holes {
		want := fmt.Sprintf("  0\r\nCIRCLE\r\n  8\r\nHOLES\r\n 10\r\n%s\r\n 20\r\n%s\r\n 30\r\n0.0\r\n 40\r\n%s\r\n", fixedPoint(h.X), fixedPoint(h.Z), fixedPoint(h.D/2))
		if !strings.Contains(text, want) {
			t.Errorf("hole %s is not in it", h.ID)
		}
	}
	if !strings.Contains(text, "CIRCLE\r\n  8\r\nNEW_HOLES\r\n 10\r\n40.0") {
		t.Error("the new hole is not on a layer of its own")
	}
}

// A slot's edge is half its width from its middle line everywhere, straight or bent
// either way.
func TestSlotEdge(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(-80, 80)
		s := holes.Slot{Hole: holes.Hole{ID: "S", X: v.Draw(t, "x"), Z: v.Draw(t, "z"), D: rapid.Float64Range(4, 12).Draw(t, "d")}}
		if rapid.Bool().Draw(t, "arc") {
			s.Turn = rapid.Float64Range(0.2, 2.5).Draw(t, "turn") * rapid.SampledFrom([]float64{1, -1}).Draw(t, "way")
			s.Centre = plane.Point{X: s.X + 30 + rapid.Float64Range(0, 50).Draw(t, "r"), Z: s.Z}
		} else {
			s.To = plane.Point{X: s.X + rapid.Float64Range(5, 60).Draw(t, "to"), Z: v.Draw(t, "to z")}
		}
		p := slotPath(s, Hole)
		n := len(p.Points)
		for i := range n {
			a, b := p.Points[i], p.Points[(i+1)%n]
			mid := plane.Point{X: (a.X + b.X) / 2, Z: (a.Z + b.Z) / 2}
			if p.Bulges[i] != 0 {
				from, r, c := arcOf(a, b, p.Bulges[i])
				turn := 4 * math.Atan(p.Bulges[i])
				mid = plane.Point{X: c.X + r*math.Cos(from+turn/2), Z: c.Z + r*math.Sin(from+turn/2)}
			}
			for _, u := range []plane.Point{a, mid} {
				least := math.Inf(1)
				for k := range 2001 {
					q := s.Along(s.Length() * float64(k) / 2000)
					least = min(least, math.Hypot(q.X-u.X, q.Z-u.Z))
				}
				if math.Abs(least-s.D/2) > 0.01 {
					t.Fatalf("the edge is %g mm from the middle line of a slot %g mm wide", least, s.D)
				}
			}
		}
	})
}

func TestHoleTable(t *testing.T) {
	c, _, p := upright(t)
	data, err := HoleTable(c.Parts[1], []holes.Hole{{ID: "N1", X: 40, Z: 470, D: 8.4}})
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil || len(rows) != len(p.Holes)+2 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	if got := strings.Join(rows[len(rows)-1][:4], " ") + " " + rows[len(rows)-1][10]; got != "N1 40 470 8.4 true" {
		t.Errorf("the new hole is %q", got)
	}
}

// Pictures of a setting and of the map hold together, and a name from a file cannot
// break out of its place in them.
func TestPictures(t *testing.T) {
	c, err := carfile.Demo("coupe")
	if err != nil {
		t.Fatal(err)
	}
	c.Name = "<script>& \x1b[31m \u202e"
	table, err := c.Map(c.Speed)
	if err != nil {
		t.Fatal(err)
	}
	for name, d := range map[string]*Drawing{"side": Side(table, &table.Rows[3], nil, day, units.Metric), "map": Map(table, table.Rows[3].ID, day, units.Metric), "wing": Part(c, 2, nil, day, units.Metric)} {
		svg := string(d.SVG())
		var any struct{}
		if err := xml.Unmarshal([]byte(svg), &any); err != nil || strings.Contains(svg, "<script") || strings.ContainsAny(svg, "\x1b\u202e") {
			t.Errorf("%s: the SVG is broken: %v", name, err)
		}
		if _, err := d.PDF(Papers[0], day); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		data, err := d.PNG()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if img, err := png.Decode(bytes.NewReader(data)); err != nil || img.Bounds().Dx() < 300 {
			t.Errorf("%s: the PNG is broken: %v", name, err)
		}
	}
	empty := *table
	empty.Rows = nil
	if len(Map(&empty, "", day, units.Metric).SVG()) == 0 {
		t.Error("a map without settings")
	}
}

// A name in any script, or with a picture in it, is no reason to fall over.
func TestNamesInAnyScript(t *testing.T) {
	c, _, _ := upright(t)
	c.Name = "Вагон 車 🏎️ \U0010FFFF"
	d := Part(c, 1, []holes.Hole{{ID: "🏁1", X: 40, Z: 470, D: 8.4}}, day, units.Metric)
	for _, paper := range Papers {
		if data, err := d.PDF(paper, day); err != nil || len(data) == 0 {
			t.Errorf("%s: %d bytes, %v", paper.Name, len(data), err)
		}
	}
	if _, err := d.PNG(); err != nil {
		t.Error(err)
	}
}
