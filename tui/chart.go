package tui

import (
	"math"
	"slices"

	"stanchion/holes/plane"
	"stanchion/model"
)

// chart places settings on a grid of cells: angle across, height up. With few settings each line is
// a level, so that close heights never hide each other, and a cell has its figure; with many the
// heights are to scale, and a cell has a digit.
type chart struct {
	w, h      int       // cells of the plot itself, without its axes
	left      int       // cells taken by the height labels
	lo, hi    float64   // angle, degrees
	low, high float64   // height, mm
	levels    []float64 // mm, the highest first; nil with many settings
	every     int       // lines from level to level
}

// fewSettings is how many settings a map names by their figures at most.
const fewSettings = 60

// figureWide is how wide a figure with its marks is.
const figureWide = 7

// chartFor returns the chart of a pane of w by h cells.
func (m Model) chartFor(w, h int) chart {
	c := chart{left: 6}
	c.w, c.h = w-c.left-1, h-2
	c.lo, c.hi, c.low, c.high = m.memo.extents(m.table)
	if c.hi-c.lo < 1 {
		c.lo, c.hi = c.lo-1, c.hi+1
	}
	if c.high-c.low < 10 {
		c.low, c.high = c.low-10, c.high+10
	}
	if len(m.table.Rows) <= fewSettings && c.w > 3*figureWide && !m.grid.Slotted { // a slot is a band, not a row of figures
		levels := m.levelHeights()
		if len(levels) <= c.h && c.apart(m, levels) {
			c.levels, c.every = levels, max(1, min(3, (c.h-1)/max(len(levels)-1, 1)))
			c.h = min(c.h, (len(levels)-1)*c.every+1)
		}
	}
	return c
}

// levelHeights lists the heights of the settings, those within 8 mm as one, the highest first.
func (m Model) levelHeights() []float64 {
	const together = 8
	var all []float64
	sum, n, last := 0.0, 0, math.Inf(-1)
	for i := range m.table.Rows {
		h := m.table.Rows[i].Height
		if n > 0 && h-last > together {
			all = append(all, sum/float64(n))
			sum, n = 0, 0
		}
		sum, n, last = sum+h, n+1, h
	}
	all = append(all, sum/float64(max(n, 1)))
	slices.Reverse(all)
	return all
}

// apart reports whether the figures of settings at one level have room beside each other.
func (c chart) apart(m Model, levels []float64) bool {
	d := c
	d.levels, d.every = levels, 1
	at := map[int][]int{}
	for i := range m.table.Rows {
		x, y := d.cell(&m.table.Rows[i])
		at[y] = append(at[y], x)
	}
	for _, xs := range at {
		slices.Sort(xs)
		for i := 1; i < len(xs); i++ {
			if xs[i]-xs[i-1] < figureWide-1 {
				return false
			}
		}
	}
	return true
}

// margin keeps figures in the middle of their cell within the plot.
func (c chart) margin() int {
	if c.levels == nil {
		return 0
	}
	return figureWide/2 + 1
}

// column returns where an angle in degrees lies across.
func (c chart) column(angle float64) int {
	k := c.margin()
	return k + int(math.Round((angle-c.lo)/(c.hi-c.lo)*float64(c.w-1-2*k)))
}

// angleAt is the angle in degrees of a column.
func (c chart) angleAt(x int) float64 {
	k := c.margin()
	return c.lo + float64(x-k)/float64(max(c.w-1-2*k, 1))*(c.hi-c.lo)
}

// heightAt is the height of a line, mm: between levels by straight lines.
func (c chart) heightAt(y int) float64 {
	if c.levels == nil {
		return c.high - float64(y)/float64(max(c.h-1, 1))*(c.high-c.low)
	}
	i, part := y/c.every, float64(y%c.every)/float64(c.every)
	if i+1 >= len(c.levels) {
		return c.levels[len(c.levels)-1]
	}
	return c.levels[i] + part*(c.levels[i+1]-c.levels[i])
}

// line returns the line of a height.
func (c chart) line(height float64) int {
	if c.levels == nil {
		return int(math.Round((c.high - height) / (c.high - c.low) * float64(c.h-1)))
	}
	best, y := math.Inf(1), 0
	for i, l := range c.levels {
		if d := math.Abs(l - height); d < best {
			best, y = d, i*c.every
		}
	}
	return y
}

// cell returns the cell of a row within the plot.
func (c chart) cell(r *model.Row) (x, y int) {
	return c.column(r.Angle / plane.Deg), c.line(r.Height)
}
