package words

import (
	"math"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model/strength"
)

// Size of the picture of a plate, in cells; a cell is twice as high as wide.
const (
	pictureCols = 44
	pictureRows = 20
)

// What a cell of the picture shows beside tenths of the strength used.
const (
	picMetal = '.' // metal that no stress is read on: under washers, at edges
	picBolt  = 'o'
	picOver  = '!' // the whole strength and more
	picWorst = 'X' // the most heavily loaded place
)

// PlatePicture draws a plate as lines of characters, seen from the left, front to the left: each is how
// many tenths of its strength the plate uses there in its worst load case.
func PlatePicture(f *strength.Analysis, r strength.Result, p *strength.SolvedPlate) []string {
	shape, bolts := f.Drawn(r, p.Part)
	if shape == nil {
		return nil
	}
	lo, hi := shape.Box()
	step := max((hi.X-lo.X)/pictureCols, (hi.Z-lo.Z)/(2*pictureRows))
	cols, rows := int(math.Ceil((hi.X-lo.X)/step)), int(math.Ceil((hi.Z-lo.Z)/(2*step)))
	used := make([][]float64, rows)
	cell := func(at plane.Point) (row, col int) {
		return min(max(int((hi.Z-at.Z)/(2*step)), 0), rows-1), min(max(int((at.X-lo.X)/step), 0), cols-1)
	}
	for i := range used {
		used[i] = make([]float64, cols)
		for j := range used[i] {
			used[i][j] = math.NaN()
		}
	}
	for _, u := range p.Field {
		i, j := cell(u.At)
		used[i][j] = max(u.Share, maxOr(used[i][j], 0))
	}
	var lines []string
	for i := range rows {
		line := make([]rune, cols)
		for j := range cols {
			at := plane.Point{X: lo.X + (float64(j)+0.5)*step, Z: hi.Z - (float64(i)+0.5)*2*step}
			line[j] = ' '
			switch u := used[i][j]; {
			case u >= 1:
				line[j] = picOver
			case !math.IsNaN(u):
				line[j] = '0' + rune(u*10)
			case shape.Inside(at):
				line[j] = near(p.Field, at, step)
			}
		}
		lines = append(lines, string(line))
	}
	put := func(at plane.Point, r rune) {
		i, j := cell(at)
		line := []rune(lines[i])
		line[j] = r
		lines[i] = string(line)
	}
	for _, b := range bolts {
		put(b, picBolt)
	}
	if w := p.Worst.Line; w[0] != w[1] {
		put(w[0].Add(w[1]).Times(0.5), picWorst)
	}
	return lines
}

// PictureTitle begins the line above the pictures of plates, which end with an empty line.
const PictureTitle = "Strength used, in tenths"

// pictureWidth is how wide pictures stand beside one another, and pictureGap how far apart.
const (
	pictureWidth = 74
	pictureGap   = 4
)

// pictureLines draws all plates that were solved, beside one another as far as there is room.
func pictureLines(f *strength.Analysis, r strength.Result) []string {
	var lines []string
	var row [][]string
	width := 0
	flush := func() {
		if len(row) > 0 {
			lines = append(lines, beside(row)...)
		}
		row, width = nil, 0
	}
	for i := range r.Solved.Plates {
		p := &r.Solved.Plates[i]
		picture := PlatePicture(f, r, p)
		if picture == nil {
			continue
		}
		picture = append([]string{p.Name + ", " + UsedPercent(p.Worst.Utilisation())}, picture...)
		w := 0
		for _, l := range picture {
			w = max(w, len([]rune(l)))
		}
		if width > 0 && width+pictureGap+w > pictureWidth {
			flush()
		}
		row, width = append(row, picture), width+pictureGap+w
	}
	flush()
	if lines == nil {
		return nil
	}
	title := PictureTitle + ", each plate in its worst load case, seen from the left, front to the left (o bolt, . not read, ! all of it and more, X most):"
	return append(append([]string{title}, lines...), "")
}

// beside puts pictures beside one another, their feet level.
func beside(all [][]string) []string {
	high := 0
	for _, p := range all {
		high = max(high, len(p))
	}
	lines := make([]string, high)
	for _, p := range all {
		w := 0
		for _, l := range p {
			w = max(w, len([]rune(l)))
		}
		for i := range lines {
			l := ""
			switch k := i - (high - len(p)); {
			case i == 0:
				l = p[0]
			case k >= 1:
				l = p[k]
			}
			lines[i] += strings.Repeat(" ", pictureGap) + l + strings.Repeat(" ", w-len([]rune(l)))
		}
	}
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
		if lines[i] == "" {
			lines[i] = " " // an empty line ends the pictures
		}
	}
	return lines
}

// near is the cell of a place that no chord was cut through, by the nearest that is within a cell.
func near(field []strength.Used, at plane.Point, step float64) rune {
	best, share := 1.6*step, math.NaN()
	for _, u := range field {
		if d := u.At.Distance(at); d < best {
			best, share = d, u.Share
		}
	}
	switch {
	case math.IsNaN(share):
		return picMetal
	case share >= 1:
		return picOver
	}
	return '0' + rune(share*10)
}

func maxOr(x, otherwise float64) float64 {
	if math.IsNaN(x) {
		return otherwise
	}
	return x
}
