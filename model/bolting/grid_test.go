package bolting

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/modeltest"
)

// hatch is a car whose foot goes together with two bolts or four.
func hatch(t *testing.T) *model.Table {
	t.Helper()
	return modeltest.TableOf(t, modeltest.File(t, "hatch.toml"))
}

// text writes a grid's headings and what stands in each cell, by name.
func text(t *model.Table, g *Grid) string {
	var b strings.Builder
	for _, c := range g.Columns {
		fmt.Fprintf(&b, " %s-%s", c.Front, c.Rear)
	}
	for i, l := range g.Lines {
		fmt.Fprintf(&b, "\n%s:", l.Name)
		for k := range g.Columns {
			s, ok := g.Setting(Cell{i, k, 0})
			if !ok {
				b.WriteString(" -")
				continue
			}
			r, _ := t.Find(s.ID)
			fmt.Fprintf(&b, " %.0f", r.Height)
		}
	}
	return b.String()
}

// The demo coupé's foot has four heights 25 mm apart, its head seven pairs of holes: by angle
// A-A1, C-C1, B-B1 … (turns of −2° + 0°, 2°, 4°, 8°, 10°, 12°, 16°).
func TestGridOfTheCoupe(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	g := NewGrid(table, ByAngle)
	want := ` A-A1 C-C1 B-B1 A-A2 C-C2 B-B2 A-A3
4: 1270 1370 1321 1271 1372 1322 1273
3: 1245 1346 1296 1246 1347 1297 1248
2: 1220 1321 1271 1221 1322 1272 1223
1: 1195 1296 1246 1197 1297 1247 1198`
	if got := text(table, g); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	if !g.Even {
		t.Error("all lines have one turn")
	}
	for i, want := range []float64{-1.7, 0.3, 2.3, 6.3, 8.3, 10.3, 14.3} {
		if a := g.Columns[i].Angle / plane.Deg; math.Abs(a-want) > 0.06 {
			t.Errorf("column %d is %.2f°, want %.1f°", i, a, want)
		}
	}
	order := ""
	for _, c := range NewGrid(table, ByHole).Columns {
		order += c.Rear + " "
	}
	if order != "A1 A2 A3 B1 B2 C1 C2 " {
		t.Errorf("by hole: %s", order)
	}
}

// Every setting and every other way of bolting it has one cell, its own, and steps lead through all
// of them.
func TestEverySettingHasItsCell(t *testing.T) {
	for _, table := range []*model.Table{modeltest.Table(t, "coupe"), modeltest.Table(t, "saloon"), modeltest.Table(t, "roadster"), hatch(t)} {
		for _, order := range []Order{ByAngle, ByHole} {
			g := NewGrid(table, order)
			n, met := 0, map[Cell]bool{}
			for i := range table.Rows {
				for _, w := range table.Rows[i].Ways() {
					c, ok := g.Cell(w.ID)
					s, there := g.Setting(c)
					if !ok || !there || s.ID != w.ID || s.Row != i || met[c] {
						t.Fatalf("%s: %s stands at %v as %v", table.Car.Name, w.ID, c, s)
					}
					met[c] = true
					n++
					angle := g.Columns[c.Column].Angle + g.Lines[c.Line].Turn
					if g.Columns[c.Column].Slot == "" && math.Abs(angle-table.Rows[i].Angle) > 0.06*plane.Deg {
						t.Errorf("%s: column and line give %.2f°, it has %.2f°", w.ID, angle/plane.Deg, table.Rows[i].Angle/plane.Deg)
					}
				}
			}
			if n != len(g.cells) {
				t.Errorf("%s: %d settings, %d cells", table.Car.Name, n, len(g.cells))
			}
			walked := 0
			for i := range g.Lines {
				at := Cell{i, -1, 0}
				for k := range g.Columns { // the first of the line
					if _, ok := g.Setting(Cell{i, k, 0}); ok {
						at = Cell{i, k, 0}
						break
					}
				}
				for ok := true; ok; walked++ {
					at, ok = g.Step(at, 0, 1)
				}
			}
			if walked != n {
				t.Errorf("%s: steps lead through %d of %d", table.Car.Name, walked, n)
			}
		}
	}
}

// With the rear row of the bracket 6 mm higher, what is bolted across both rows leans by
// atan(6/62) = 5.53° more than what is bolted along one: a column is not one angle.
func TestUnevenGrid(t *testing.T) {
	table := hatch(t)
	if g := NewGrid(table, ByAngle); !g.Even || len(g.Columns) != 10 {
		t.Errorf("as drawn: even %v, %d columns", g.Even, len(g.Columns))
	}
	bracket := &table.Car.Parts[0]
	for i := 4; i < 8; i++ {
		bracket.Holes[i].Z += 6
	}
	table, err := table.Car.Map(table.Speed)
	if err != nil {
		t.Fatal(err)
	}
	g := NewGrid(table, ByAngle)
	most := 0.0
	for _, l := range g.Lines {
		most = max(most, l.Turn/plane.Deg)
	}
	if g.Even || math.Abs(most-5.53) > 0.05 {
		t.Errorf("even %v, a line leans by %.2f°", g.Even, most)
	}
	var names []string
	for i, l := range g.Lines {
		names = append(names, l.Name)
		if i > 0 && math.Round(l.Height) > math.Round(g.Lines[i-1].Height) {
			t.Errorf("line %s stands below a lower one", l.Name)
		}
	}
	slices.Sort(names)
	if n := len(slices.Compact(names)); n != len(g.Lines) {
		t.Errorf("%d names for %d lines", n, len(g.Lines))
	}
}

// A slot about the front bolt, 120 mm away, over 10°: it is one column, and 7.5° is at 120 mm ·
// 7.5·π/180 = 15.708 mm from its lower end, 1 mm being 1/120 rad.
func TestSlotByHand(t *testing.T) {
	table := modeltest.TableOf(t, modeltest.File(t, "slot.toml"))
	g := NewGrid(table, ByAngle)
	if len(g.Lines) != 1 || len(g.Columns) != 2 || g.Columns[0].Rear != "Q" || g.Columns[1].Slot != "S" || g.Columns[1].Rear != "S" || len(g.Columns[1].Fits) != 6 {
		t.Fatalf("%d lines, columns %+v", len(g.Lines), g.Columns)
	}
	r, ok := table.Find("P:F+S@12.6:R")
	if !ok {
		t.Fatal("no place at 12.6 mm")
	}
	in, ok := InSlot(table, r)
	if !ok || math.Abs(in.Distance-12.566) > 1e-3 || math.Abs(in.Angle-6*plane.Deg) > 1e-9 || math.Abs(in.PerMM-1.0/120) > 1e-6 {
		t.Errorf("in the slot %+v; want 12.566 mm, 6°, 1/120 rad/mm", in)
	}
	at, ok := SlotFor(table, r, 7.5*plane.Deg)
	if !ok || math.Abs(at.Distance-15.708) > 1e-3 || math.Abs(at.Angle-7.5*plane.Deg) > 1e-6*plane.Deg {
		t.Errorf("7.5° at %+v, want 15.708 mm", at)
	}
	if at, ok := SlotFor(table, r, 11*plane.Deg); ok {
		t.Errorf("11° at %+v; the slot ends at 10°", at)
	}
	cell, _ := g.Cell(r.ID)
	next, ok := g.Step(cell, 0, 1)
	if s, _ := g.Setting(next); !ok || s.ID != "P:F+S@16.8:R" {
		t.Errorf("the next place is %v", s)
	}
	first, _ := g.Cell("P:F+Q:R")
	if next, _ = g.Step(first, 0, 1); next != (Cell{0, 1, 0}) {
		t.Errorf("right of Q is %v", next)
	}
	if _, ok = g.Step(first, 0, -1); ok {
		t.Error("there is something left of Q")
	}
	if _, ok = InSlot(table, &table.Rows[0]); ok {
		t.Error("a round hole reads as a slot")
	}
}

func TestEmptyGrid(t *testing.T) {
	g := NewGrid(&model.Table{Car: modeltest.Car(t, "coupe")}, ByAngle)
	if len(g.Lines)+len(g.Columns) != 0 {
		t.Errorf("%+v", g)
	}
}

// Where every way of bolting the foot leans by the same, by 3° here, the columns have that in their angles and the
// lines none of it; steps end at the first and at the last line.
func TestLeanOfAllLines(t *testing.T) {
	table := modeltest.Table(t, "coupe")
	before := NewGrid(table, ByAngle)
	for i, h := range table.Car.Parts[1].Holes {
		if h.Joint == "foot" {
			at := plane.About(plane.Point{}, -3*plane.Deg).Apply(h.At())
			table.Car.Parts[1].Holes[i].X, table.Car.Parts[1].Holes[i].Z = at.X, at.Z
		}
	}
	leaning, err := table.Car.Map(table.Speed)
	if err != nil {
		t.Fatal(err)
	}
	g := NewGrid(leaning, ByAngle)
	if !g.Even || len(g.Lines) != len(before.Lines) {
		t.Fatalf("%d lines, even %v", len(g.Lines), g.Even)
	}
	for i := range g.Columns {
		if by := (g.Columns[i].Angle - before.Columns[i].Angle) / plane.Deg; math.Abs(by-3) > 0.01 {
			t.Errorf("column %d leans by %.2f°", i, by)
		}
	}
	for i := range g.Lines {
		if math.Abs(g.Lines[i].Turn) > 1e-9 {
			t.Errorf("line %d leans by %.2f° more", i, g.Lines[i].Turn/plane.Deg)
		}
	}
	last := len(g.Lines) - 1
	if _, ok := g.Step(Cell{0, 1, 0}, -1, 0); ok {
		t.Error("there is a line above the first")
	}
	if _, ok := g.Step(Cell{last, 1, 0}, 1, 0); ok {
		t.Error("there is a line below the last")
	}
	if to, ok := g.Step(Cell{0, 1, 0}, 1, 0); !ok || to != (Cell{1, 1, 0}) {
		t.Errorf("below the first is %v", to)
	}
}
