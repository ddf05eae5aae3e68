package drawing

import (
	"bytes"
	"context"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"stanchion/model"
	"stanchion/model/card"
	"stanchion/model/modeltest"
	"stanchion/model/units"
)

// cardsOf makes cards of some settings of a car, without solving its plates: strength has no part in how cards look.
func cardsOf(t *testing.T, c *model.Car, u units.System, rows ...int) *card.Set {
	t.Helper()
	fast := *c
	fast.DesignSpeed = model.Car{}.DesignSpeed
	table := modeltest.TableOf(t, &fast)
	w := card.Wish{Date: day, Units: u, Over: 40}
	for _, i := range rows {
		w.Rows = append(w.Rows, &table.Rows[i%len(table.Rows)])
	}
	w.Cards = w.Rows
	s, err := card.Of(context.Background(), table, w)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Every card of every car is one page with all of it within the margins, no line of text on another, and all bolts named.
func TestCardsOnAPage(t *testing.T) {
	for name, c := range cars(t) {
		u := units.Metric
		if name == "roadster" {
			u = units.Imperial
		}
		s := cardsOf(t, c, u, 0, 4)
		p := usualPapers(u.Inches())[0]
		pages := cardPages(s, p)
		if len(pages) != 1+len(s.Cards) {
			t.Errorf("%s: %d pages for %d cards", name, len(pages), len(s.Cards))
		}
		for k, page := range pages {
			d := page[len(page)-1]
			lo, hi := d.Bounds()
			if lo.X < cardMargin-1 || lo.Z < cardMargin-1e-9 || hi.X > p.Width-cardMargin+1 || hi.Z > p.Height-cardMargin+1e-9 {
				t.Errorf("%s, page %d: from %v to %v on %v", name, k+1, lo, hi, p)
			}
			for i, a := range d.Texts {
				for _, b := range d.Texts[:i] {
					if boxAround(-0.15, a.corners()...).meets(boxAround(-0.15, b.corners()...)) && !a.Up && !b.Up {
						t.Errorf("%s, page %d: %q lies on %q", name, k+1, a.Text, b.Text)
					}
				}
			}
			if k == 0 {
				continue
			}
			if len(page) != 2 || page[0].Texts[0].Text != strings.Join(s.Cards[k-1].Marks, ", ") {
				t.Errorf("%s, page %d: nothing stands across a card without a check of strength", name, k+1)
			}
			for j, f := range s.Cards[k-1].Row.Fits {
				for _, q := range f.Pairs {
					both := c.Parts[j].Holes[q.Lower].ID + " + " + c.Parts[j+1].Holes[q.Upper].ID
					found := false
					for _, l := range d.Texts {
						found = found || l.Text == both
					}
					if !found {
						t.Errorf("%s, page %d: no bolt is called %q", name, k+1, both)
					}
				}
			}
		}
	}
}

// The page for the phone is well-formed, needs no network and no script, and what a car file says is text in it, whatever it is.
func TestCardsHTML(t *testing.T) {
	c := *cars(t)["coupe"]
	c.Name = `<script>alert("x")</script> & sons` + "\x1b[31m"
	s := cardsOf(t, &c, units.Metric, 3, 14)
	page := CardsHTML(s)
	var text strings.Builder
	boxes, pictures, marks := 0, 0, 0
	d := xml.NewDecoder(bytes.NewReader(page))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatalf("not well-formed: %v", err)
		}
		switch token := token.(type) {
		case xml.CharData:
			text.Write(token)
		case xml.StartElement:
			switch token.Name.Local {
			case "script", "link", "img", "iframe", "object":
				t.Errorf("a <%s> in it", token.Name.Local)
			case "input":
				boxes++
			case "svg":
				pictures++
			}
			for _, a := range token.Attr {
				switch {
				case a.Name.Local == "src" || strings.HasPrefix(a.Name.Local, "on"),
					a.Name.Local == "href" && !strings.HasPrefix(a.Value, "#"):
					t.Errorf("%s=%q in it", a.Name.Local, a.Value)
				case a.Name.Local == "data-marks" && a.Value != "":
					marks++
				}
			}
		}
	}
	for _, banned := range []string{"http", "url(", "@import", "\x1b"} {
		if bytes.Contains(page, []byte(banned)) {
			t.Errorf("%q in it", banned)
		}
	}
	if !strings.Contains(text.String(), c.Name[:len(c.Name)-5]) {
		t.Error("the car's name is not in it as it stands in the file")
	}
	want := 0
	for _, k := range s.Cards {
		want += len(k.Ticks)
		for _, n := range append(k.Set, k.Does...) {
			if !strings.Contains(text.String(), n.Text) {
				t.Errorf("%s %q is not in it", n.Name, n.Text)
			}
		}
	}
	if boxes != want || pictures != 6 || marks != 2 {
		t.Errorf("%d boxes to tick of %d, %d pictures of 6, %d marks of 2", boxes, want, pictures, marks)
	}
}

// What poppler reads back of a card's file: a page for each, with its angle, readings, torque, mark and caution.
func TestCardsReadBack(t *testing.T) {
	tool(t, "pdftotext")
	s := cardsOf(t, cars(t)["coupe"], units.Metric, 3, 14)
	data, err := CardsPDF(s)
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "card.pdf")
	if err := os.WriteFile(file, data, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("pdftotext", "-layout", file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	pages := strings.Split(strings.TrimRight(string(out), "\f"), "\f")
	if len(pages) != 1+len(s.Cards) {
		t.Fatalf("%d pages for an overview and %d cards", len(pages), len(s.Cards))
	}
	for i, k := range s.Cards {
		words := strings.Join(strings.Fields(pages[i+1]), " ")
		for _, want := range []string{k.Title, "22 N·m dry", "STRENGTH NOT CHECKED", "This card is no approval.", "2026-05-31", "at 160 km/h", k.ID} {
			if !strings.Contains(words, want) {
				t.Errorf("%s: %q is not on its page", k.Title, want)
			}
		}
	}
}
