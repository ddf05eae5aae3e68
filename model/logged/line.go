package logged

import (
	"math"
)

// Line is a line across the track, on the plane of a log, m, that is crossed in one direction.
type Line struct {
	AX, AY, BX, BY float64 // its ends
	HX, HY         float64 // direction in which it is crossed, of length 1; 0, 0 for the one in which it is crossed most
}

// LineOf is the line from one place to another, m on the plane.
func LineOf(ax, ay, bx, by float64) Line { return Line{AX: ax, AY: ay, BX: bx, BY: by} }

// LineAcross is the line of a width, m, square to a direction of travel in rad from north to the east, about a place.
func LineAcross(x, y, heading, width float64) Line {
	hx, hy := math.Sincos(heading)
	half := width / 2
	return Line{x - half*hy, y + half*hx, x + half*hy, y - half*hx, hx, hy}
}

// Crossing is one time over a line.
type Crossing struct {
	T      float64 // s
	StdUnc float64 // s
	X, Y   float64 // m, where
	Speed  float64 // m/s
	After  int     // index of the first sample after it
	ahead  bool    // with B to the right
}

// unevenAcc is how much the acceleration can change between two samples: braking begins or ends within them. m/s². Common practice, no source.
const unevenAcc = 5.0

// Crossings lists the times over a line. The time between two samples is taken where the straight line between their positions meets it: what
// an acceleration bends that by is at most a·dt²/8, which is in the uncertainty together with the scatter of positions and the step of stamps.
func (l *Log) Crossings(line Line) []Crossing {
	var all []Crossing
	last := -1
	for i := range l.Samples {
		s := &l.Samples[i]
		if s.Break {
			last = -1
		}
		if math.IsNaN(s.X) {
			continue
		}
		if last >= 0 {
			if c, ok := l.crossing(line, last, i); ok {
				all = append(all, c)
			}
		}
		last = i
	}
	if line.HX != 0 || line.HY != 0 {
		return all
	}
	ahead := 0
	for _, c := range all {
		if c.ahead {
			ahead++
		} else {
			ahead--
		}
	}
	var most []Crossing
	for _, c := range all {
		if c.ahead == (ahead >= 0) {
			most = append(most, c)
		}
	}
	return most
}

// crossing is where the way between two samples meets a line.
func (l *Log) crossing(line Line, i, k int) (c Crossing, ok bool) {
	p, q := &l.Samples[i], &l.Samples[k]
	dx, dy := q.X-p.X, q.Y-p.Y
	ex, ey := line.BX-line.AX, line.BY-line.AY
	cross := dx*ey - dy*ex
	dt := q.Placed - p.Placed
	if cross == 0 || dt <= 0 || dt > LongestStep {
		return c, false
	}
	if (line.HX != 0 || line.HY != 0) && dx*line.HX+dy*line.HY <= 0 {
		return c, false
	}
	fx, fy := line.AX-p.X, line.AY-p.Y
	along := (fx*ey - fy*ex) / cross  // 0 at p, 1 at q
	across := (fx*dy - fy*dx) / cross // 0 at A, 1 at B
	if along < 0 || along >= 1 || across < 0 || across > 1 {
		return c, false
	}
	speed := math.Hypot(dx, dy) / dt
	bent := unevenAcc * dt * dt / 8 / math.Sqrt(3) // m; a rectangular distribution up to it, JCGM 100:2008, 4.3.7
	// Where the line is met: between two positions that scatter by σ each way, √((1−a)² + a²)·σ along the way.
	off := math.Hypot(bent, l.scatter()*math.Hypot(1-along, along))
	return Crossing{T: p.Placed + along*dt, StdUnc: math.Hypot(off/speed, l.Stamp/math.Sqrt(12)), X: p.X + along*dx, Y: p.Y + along*dy,
		Speed: speed, After: k, ahead: cross < 0}, true
}

// leastScatter is what a position is off by at least from its neighbours, m: receivers smooth. Common practice, no source.
const leastScatter = 0.1

func (l *Log) scatter() float64 {
	if math.IsNaN(l.PlaceScatter) {
		return leastScatter
	}
	return max(l.PlaceScatter, leastScatter)
}

// Ways in which a line is looked for.
const (
	cellSize   = 25.0 // m
	headings   = 8    // sectors of direction
	newVisit   = 20.0 // s after which the same place counts again
	lineWidth  = 40.0 // m
	fastEnough = 8.0  // m/s
)

// FindLine finds a line for laps: across the place that was passed most often in the same direction, of those the one passed fastest. times
// is how often it was passed; not ok where no place was passed twice.
func (l *Log) FindLine() (line Line, times int, ok bool) {
	type key struct{ x, y, h int }
	type cell struct {
		visits, n           int
		last                float64
		x, y, hx, hy, speed float64
	}
	cells := map[key]*cell{}
	for i := range l.Samples {
		s := &l.Samples[i]
		if math.IsNaN(s.X) || !(s.At[Speed] >= fastEnough) {
			continue
		}
		hx, hy, fine := l.direction(i)
		if !fine {
			continue
		}
		k := key{int(math.Floor(s.X / cellSize)), int(math.Floor(s.Y / cellSize)), int(math.Round(math.Atan2(hx, hy)/(2*math.Pi)*headings)+headings) % headings}
		c := cells[k]
		if c == nil {
			if len(cells) > 100_000 { // a journey, not a track
				break
			}
			c = &cell{last: math.Inf(-1)}
			cells[k] = c
		}
		if s.T-c.last > newVisit {
			c.visits++
		}
		c.last = s.T
		c.n++
		c.x, c.y, c.hx, c.hy, c.speed = c.x+s.X, c.y+s.Y, c.hx+hx, c.hy+hy, c.speed+s.At[Speed]
	}
	var best *cell
	var at key
	for k, c := range cells {
		if best == nil || c.visits > best.visits || c.visits == best.visits && (c.speed/float64(c.n) > best.speed/float64(best.n) ||
			c.speed/float64(c.n) == best.speed/float64(best.n) && (k.x < at.x || k.x == at.x && k.y < at.y)) {
			best, at = c, k
		}
	}
	if best == nil || best.visits < 2 {
		return line, 0, false
	}
	n := float64(best.n)
	return LineAcross(best.x/n, best.y/n, math.Atan2(best.hx, best.hy), lineWidth), best.visits, true
}

// direction is the direction of travel at a sample, of length 1, by the positions about it.
func (l *Log) direction(i int) (hx, hy float64, ok bool) {
	a, b := i, i
	for a > 0 && !l.Samples[a].Break && i-a < 5 {
		a--
		if !math.IsNaN(l.Samples[a].X) {
			break
		}
	}
	for b < len(l.Samples)-1 && b-i < 5 && !l.Samples[b+1].Break {
		b++
		if !math.IsNaN(l.Samples[b].X) {
			break
		}
	}
	dx, dy := l.Samples[b].X-l.Samples[a].X, l.Samples[b].Y-l.Samples[a].Y
	d := math.Hypot(dx, dy)
	if !(d > 0.5) {
		return 0, 0, false
	}
	return dx / d, dy / d, true
}
