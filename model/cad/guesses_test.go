package cad

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// What an SVG drawing moves, sizes or hides in a way that is not read is listed, and not taken where it does not lie; each guess is said.
func TestSVGNotRead(t *testing.T) {
	const mm = `width="200mm" height="100mm" viewBox="0 0 200 100"`
	const plain = `<circle cx="20" cy="20" r="4.2"/>`
	const taken = "H1 20.000,-20.000 d8.400"
	for _, c := range []struct{ size, inner, holes, says string }{
		{mm, `<svg x="100" y="50" width="20" height="20" viewBox="0 0 10 10"><circle cx="5" cy="5" r="2.1"/></svg>`, taken, "1 × svg on layer 0, which lies in another"},
		{mm, `<circle cx="50" cy="20" r="4.2" style="transform: translate(30px,0)"/>`, taken, "1 × circle on layer 0, moved or turned in a way that is not read"},
		{mm, `<g transform="perspective(3)"><circle cx="50" cy="20" r="4.2"/></g>`, taken, "1 × g on layer 0, moved or turned in a way that is not read"},
		{mm, `<circle cx="50" cy="20" r="4.2" transform="translate(10"/>`, taken, "moved or turned in a way that is not read"},
		{mm, `<circle cx="10%" cy="20" r="4.2"/>`, taken, `1 × circle on layer 0, whose cx="10%" is not read`},
		{mm, `<use href="#a" x="50"/>`, taken, "1 × use on layer 0, a copy of what is drawn elsewhere"},
		{mm, `<style>.gone { display : none }</style><circle class="gone" cx="50" cy="20" r="4.2"/>`, taken + "; H2 50.000,-20.000 d8.400", "CHECK WHAT IS SHOWN"},
		{`width="400mm" height="100mm" viewBox="0 0 200 100"`, "", taken, "CHECK THE SIZE: the drawing's width says 2 mm to its unit and its height 1 mm"},
		{`width="566.93px" height="283.46px" viewBox="0 0 755.9 377.9"`, "", "H1 3.969,-3.969 d1.667", "read at 96 pixels to the inch"},
		{`height="100mm" viewBox="0 0 200 100"`, "", taken, ""},
		{mm, `<style>.a { stroke: red }</style>`, taken, ""},
	} {
		f, err := Read("a.svg", []byte("<svg "+c.size+">"+plain+c.inner+"</svg>"), Options{})
		if err != nil {
			t.Errorf("%s %s: %v", c.size, c.inner, err)
			continue
		}
		said := strings.Join(append(f.Notes, f.Ignored...), "\n")
		if spell(f) != c.holes || !strings.Contains(said, c.says) || c.says == "" && said != "" {
			t.Errorf("%s %s: %s and %q; want %s and %q", c.size, c.inner, spell(f), said, c.holes, c.says)
		}
	}
	// By hand: 1 cm is 10 mm, whatever the viewBox: 10/(25.4/96) = 37.795 units of 0.2646 mm.
	f, err := Read("a.svg", []byte(`<svg width="200mm"><circle cx="2cm" cy="20mm" r="4.2mm"/></svg>`), Options{})
	if err != nil || spell(f) != taken {
		t.Errorf("lengths with units: %s, %v", spell(f), err)
	}
	if _, err := Read("a.svg", []byte("<svg><defs>"+strings.Repeat("<g>", 3000)), Options{}); err == nil || !strings.Contains(err.Error(), "too deep") {
		t.Errorf("defs of great depth: %v", err)
	}
}

// A cut-out that may be a bolt's hole is pointed out: a circle of twelve pieces is, a rectangle and one too wide for bolts are not.
func TestNearlyRoundCutouts(t *testing.T) {
	ring := func(n int, x, r float64) string {
		text := fmt.Sprintf("0 LWPOLYLINE\n90 %d\n70 1\n", n)
		for i := range n {
			s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			text += fmt.Sprintf("10 %g\n20 %g\n", x+r*c, 50+r*s)
		}
		return text
	}
	f := read(t, dxf("4", "", rectangle(0, 0, 300, 100)+ring(12, 50, 4.2)+ring(6, 90, 6.5)+ring(12, 150, 30)+rectangle(200, 20, 210, 30)+drilled(20, 20)), Options{})
	if len(f.Cutouts) != 4 || len(f.Holes) != 1 {
		t.Fatalf("%d cut-outs and %d holes", len(f.Cutouts), len(f.Holes))
	}
	said := strings.Join(f.Notes, "\n")
	for _, want := range []string{"cut-out of 12 corners at 50.00, 50.00 is nearly round, 8.40 mm", "cut-out of 6 corners at 90.00, 50.00 is nearly round, 13.00 mm"} {
		if !strings.Contains(said, want) {
			t.Errorf("%q is not said: %s", want, said)
		}
	}
	if strings.Count(said, "nearly round") != 2 {
		t.Errorf("said of others too: %s", said)
	}
}

// A bolt circle is no hole and no cut-out; a lightening hole clear of the others is a cut-out.
func TestBoltCircle(t *testing.T) {
	text := rectangle(0, 0, 300, 100) + "0 CIRCLE\n10 100\n20 50\n40 30\n0 CIRCLE\n10 200\n20 50\n40 30\n"
	for i := range 6 {
		s, c := math.Sincos(math.Pi / 3 * float64(i))
		text += drilled(100+30*c, 50+30*s)
	}
	f := read(t, dxf("4", "", text), Options{})
	if len(f.Holes) != 6 || len(f.Cutouts) != 1 || len(f.Outline) != 4 {
		t.Errorf("%d holes, %d cut-outs", len(f.Holes), len(f.Cutouts))
	}
	if said := strings.Join(f.Ignored, "\n"); !strings.Contains(said, "circle of 60.00 mm at 100.00, 50.00: 6 holes lie on its line") {
		t.Errorf("not said: %s", said)
	}
}

// Circles in chain-dotted lines, of their own or their layer's, are no holes; dashed and continuous ones are.
func TestCentreLines(t *testing.T) {
	circle := func(x float64, more string) string { return fmt.Sprintf("0 CIRCLE\n%s10 %g\n20 20\n40 4.2\n", more, x) }
	text := dxf("4", "", rectangle(0, 0, 200, 100)+circle(20, "")+circle(40, "6 CENTER2\n")+circle(60, "8 middles\n")+
		circle(80, "8 middles\n6 CONTINUOUS\n")+circle(100, "6 HIDDEN\n")+circle(120, "6 ByLayer\n"))
	text = strings.Replace(text, "0\nSECTION\n2\nBLOCKS\n", "0\nSECTION\n2\nTABLES\n0\nTABLE\n2\nLAYER\n0\nLAYER\n2\nMiddles\n70\n0\n62\n7\n6\nACAD_ISO04W100\n0\nENDTAB\n0\nENDSEC\n0\nSECTION\n2\nBLOCKS\n", 1)
	f := read(t, text, Options{})
	if got, want := spell(f), "H1 20.000,20.000 d8.400; H2 80.000,20.000 d8.400; H3 100.000,20.000 d8.400; H4 120.000,20.000 d8.400"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	said := strings.Join(f.Ignored, "\n")
	for _, want := range []string{"1 × CIRCLE on layer 0, drawn as a centre line (CENTER2)", "1 × CIRCLE on layer middles, drawn as a centre line (ACAD_ISO04W100)"} {
		if !strings.Contains(said, want) {
			t.Errorf("%q is not said: %s", want, said)
		}
	}
}

// What a block holds of itself is left out, and the rest of it is there once.
func TestBlockInItself(t *testing.T) {
	f := read(t, dxf("4", "0 BLOCK\n2 R\n0 INSERT\n2 R\n10 20\n20 0\n"+drilled(0, 0)+"0 ENDBLK", "0 INSERT\n2 R\n10 5\n20 5\n0 INSERT\n2 R\n10 50\n20 5"), Options{})
	if got := spell(f); got != "H1 5.000,5.000 d8.400; H2 50.000,5.000 d8.400" || !strings.Contains(strings.Join(f.Ignored, "\n"), "2 × INSERT on layer 0, of a block in itself") {
		t.Errorf("%s; %q", got, f.Ignored)
	}
	chain := ""
	for i := range 20 {
		chain += fmt.Sprintf("0 BLOCK\n2 B%d\n0 INSERT\n2 B%d\n0 ENDBLK\n", i, i+1)
	}
	f = read(t, dxf("4", chain+"0 BLOCK\n2 B20\n"+drilled(0, 0)+"0 ENDBLK", "0 INSERT\n2 B0\n"+drilled(50, 50)), Options{})
	if len(f.Holes) != 1 || !strings.Contains(strings.Join(f.Ignored, "\n"), "nested more than 16 deep") {
		t.Errorf("a chain of blocks: %s; %q", spell(f), f.Ignored)
	}
}
