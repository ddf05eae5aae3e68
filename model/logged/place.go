package logged

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
)

// The ellipsoid of WGS84. Source: NIMA TR8350.2, third edition (2000), table 3.1.
const (
	major      = 6378137.0         // m
	flattening = 1 / 298.257223563 //
	eccentric2 = flattening * (2 - flattening)
	degree     = math.Pi / 180
)

// DegreeLengths are the lengths of a degree of latitude and of longitude at a latitude in degrees, m, along the meridian's and the prime
// vertical's curvature. Source: J. P. Snyder, "Map Projections: A Working Manual", USGS Professional Paper 1395 (1987), eqs. 4-18 to 4-21.
func DegreeLengths(lat float64) (north, east float64) {
	sin, cos := math.Sincos(lat * degree)
	w := 1 - eccentric2*sin*sin
	return degree * major * (1 - eccentric2) / math.Pow(w, 1.5), degree * major * cos / math.Sqrt(w)
}

// Metres is the distance of two places, degrees, by the degree lengths of their middle: within 1 part in 100,000 over 20 km, below 80° of
// latitude.
func Metres(lat1, lon1, lat2, lon2 float64) float64 {
	north, east := DegreeLengths((lat1 + lat2) / 2)
	return math.Hypot((lat2-lat1)*north, turn180(lon2-lon1)*east)
}

// turn180 brings a difference of longitudes to −180 … 180.
func turn180(d float64) float64 {
	if d > 180 {
		return d - 360
	}
	if d < -180 {
		return d + 360
	}
	return d
}

// Plane is a plane that touches the ground at a place; lengths on it are right to 0.05 % up to 3 km north or south of there at 45°.
type Plane struct{ Lat, Lon, north, east float64 }

// NewPlane returns the plane at a place, degrees.
func NewPlane(lat, lon float64) Plane {
	n, e := DegreeLengths(lat)
	return Plane{lat, lon, n, e}
}

// At is a place on the plane, m.
func (p Plane) At(lat, lon float64) (x, y float64) {
	return turn180(lon-p.Lon) * p.east, (lat - p.Lat) * p.north
}

// Back is the place, degrees, of a point on the plane.
func (p Plane) Back(x, y float64) (lat, lon float64) {
	return p.Lat + y/p.north, p.Lon + x/p.east
}

// Plane is the plane that the log's positions are given on, about their median, so that one wrong position does not move it; not ok where it
// has none.
func (l *Log) Plane() (Plane, bool) {
	var lat, lon []float64
	for i := 0; i < len(l.Samples); i++ {
		if s := &l.Samples[i]; s.Has(Lat) {
			lat, lon = append(lat, s.At[Lat]), append(lon, s.At[Lon])
			i += len(l.Samples) / 2000
		}
	}
	if len(lat) == 0 {
		return Plane{}, false
	}
	slices.Sort(lat)
	slices.Sort(lon)
	return NewPlane(lat[len(lat)/2], lon[len(lon)/2]), true
}

// finish puts positions on the plane, and works out speeds from them where the recording has none.
func (l *Log) finish() {
	if p, ok := l.Plane(); ok {
		for i := range l.Samples {
			if s := &l.Samples[i]; s.Has(Lat) {
				s.X, s.Y = p.At(s.At[Lat], s.At[Lon])
			}
		}
	}
	for i := range l.Samples {
		for c := range Channels {
			l.Has[c] = l.Has[c] || l.Samples[i].Has(c)
		}
	}
	if l.Has[Lat] {
		l.moving()
	}
	if math.IsNaN(l.SpeedStdUnc) && l.SpeedFromPosition {
		l.SpeedFromPosition = false
	}
}

// Windows of the fit to positions, s to each side, and points at least.
const (
	halfWindow  = 0.5
	leastPoints = 5
)

// moving fits a parabola over time to the positions about each one, by least squares: its slope is the velocity, the scatter about it
// says how surely. Speeds are put where there are none.
func (l *Log) moving() {
	var at []int
	for i := range l.Samples {
		if l.Samples[i].Has(Lat) {
			at = append(at, i)
		}
	}
	needed := !l.Has[Speed]
	var scatter, uncs []float64
	from, to := 0, 0
	for k, i := range at {
		t := l.Samples[i].Placed
		for from < k && t-l.Samples[at[from]].Placed > halfWindow {
			from++
		}
		to = max(to, k)
		for to+1 < len(at) && l.Samples[at[to+1]].Placed-t <= halfWindow {
			to++
		}
		a, b := from, to
		for b-a+1 < leastPoints && (a > 0 || b < len(at)-1) {
			if a > 0 {
				a--
			}
			if b < len(at)-1 {
				b++
			}
		}
		q, ok := l.parabola(at[a:b+1], t, i)
		if !ok {
			continue
		}
		if q.free > 0 {
			scatter = append(scatter, q.square/float64(q.free))
		}
		if needed {
			l.Samples[i].At[Speed] = math.Hypot(q.vx, q.vy)
			uncs = append(uncs, q.gain)
		}
		if !needed && len(scatter) > 20_000 {
			break
		}
	}
	if len(scatter) > 0 {
		// The median of a sum of squares over its degrees of freedom is that of χ²; outliers do not count.
		slices.Sort(scatter)
		l.PlaceScatter = math.Sqrt(stat.Quantile(0.5, stat.Empirical, scatter, nil) * 1.1) // 4 to 20 degrees of freedom: median 0.84 to 0.97
	}
	if needed && len(uncs) > 0 {
		slices.Sort(uncs)
		l.Has[Speed], l.SpeedFromPosition = true, true
		l.SpeedStdUnc = l.PlaceScatter * stat.Quantile(0.5, stat.Empirical, uncs, nil)
	}
}

// quadratic is a fit of a parabola to positions.
type quadratic struct {
	vx, vy float64 // m/s at its middle
	square float64 // m², sum of squares that is left of both coordinates
	free   int     // degrees of freedom of that
	gain   float64 // 1/s: standard uncertainty of vx for one metre of scatter
}

// parabola fits x and y over time to samples, about t. Those beyond a break from sample i do not count.
func (l *Log) parabola(at []int, t float64, i int) (q quadratic, ok bool) {
	lo, hi := 0, len(at)
	for k := range at {
		if at[k] > i || k == 0 {
			continue
		}
		for j := at[k-1] + 1; j <= at[k]; j++ {
			if l.Samples[j].Break {
				lo = k
			}
		}
	}
	for k := lo + 1; k < len(at); k++ {
		for j := at[k-1] + 1; j <= at[k]; j++ {
			if l.Samples[j].Break && at[k] > i {
				hi = min(hi, k)
			}
		}
	}
	at = at[lo:hi]
	n := len(at)
	if n < 3 {
		return q, false
	}
	x0, y0 := l.Samples[i].X, l.Samples[i].Y
	var s [5]float64
	var bx, by [3]float64
	var xx, yy float64
	for _, k := range at {
		p := &l.Samples[k]
		u, x, y := p.Placed-t, p.X-x0, p.Y-y0
		pow := 1.0
		for j := range s {
			s[j] += pow
			if j < 3 {
				bx[j] += pow * x
				by[j] += pow * y
			}
			pow *= u
		}
		xx, yy = xx+x*x, yy+y*y
	}
	inv, fine := inverse3([3][3]float64{{s[0], s[1], s[2]}, {s[1], s[2], s[3]}, {s[2], s[3], s[4]}})
	if !fine {
		return q, false
	}
	var cx, cy [3]float64
	for r := range 3 {
		for c := range 3 {
			cx[r] += inv[r][c] * bx[c]
			cy[r] += inv[r][c] * by[c]
		}
	}
	q.vx, q.vy, q.free, q.gain = cx[1], cy[1], 2*(n-3), math.Sqrt(max(0, inv[1][1]))
	q.square = max(0, xx-cx[0]*bx[0]-cx[1]*bx[1]-cx[2]*bx[2]) + max(0, yy-cy[0]*by[0]-cy[1]*by[1]-cy[2]*by[2])
	return q, true
}

// inverse3 inverts a symmetric matrix of 3 × 3 by its cofactors.
func inverse3(m [3][3]float64) (inv [3][3]float64, ok bool) {
	cof := func(a, b, c, d int) float64 { return m[a][b]*m[c][d] - m[a][d]*m[c][b] }
	inv = [3][3]float64{
		{cof(1, 1, 2, 2), -cof(0, 1, 2, 2), cof(0, 1, 1, 2)},
		{-cof(1, 0, 2, 2), cof(0, 0, 2, 2), -cof(0, 0, 1, 2)},
		{cof(1, 0, 2, 1), -cof(0, 0, 2, 1), cof(0, 0, 1, 1)},
	}
	det := m[0][0]*inv[0][0] + m[0][1]*inv[1][0] + m[0][2]*inv[2][0]
	if !(math.Abs(det) > 1e-12*math.Abs(m[0][0]*m[1][1]*m[2][2])) {
		return inv, false
	}
	for r := range inv {
		for c := range inv[r] {
			inv[r][c] /= det
		}
	}
	return inv, true
}
