package logged

import "math"

// checker leaves out what cannot be.
type checker struct {
	told   *Told
	begun  bool
	first  float64 // stamp of the first sample
	last   float64 // stamp of the last one that passed
	shift  float64 // s that is added to stamps since the clock was set
	back   int     // samples in a row whose stamps go back
	backAt float64
	lat    float64 // the last position that passed
	lon    float64
	placed float64 // its stamp
	has    bool
	far    int // positions in a row that jump, but not from one another
	farLat float64
	farLon float64
	farAt  float64
	step   float64 // s, the least step between stamps
}

// settled is after how many samples in a row that agree among themselves what came before is taken to be what was wrong.
const settled = 10

// ranges are within what values are taken.
var ranges = [Channels][2]float64{
	Speed: {0, 1.5 * MaxSpeed}, Lat: {-90, 90}, Lon: {-180, 360}, Elevation: {-1000, 9000}, Distance: {-1e8, 1e8},
	FrontRide: {-1000, 2000}, RearRide: {-1000, 2000}, FrontTravel: {-1000, 1000}, RearTravel: {-1000, 1000},
	LongAcc: {-100, 100}, LatAcc: {-100, 100}, Throttle: {-1e4, 1e4}, Brake: {-1e4, 1e6}, Lap: {-1e6, 1e6},
}

// passes checks a sample, takes out of it what cannot be, and sets its time; not ok where the whole sample is left out.
func (c *checker) passes(s *Sample) bool {
	if !c.timed(s) {
		return false
	}
	for ch := range Channels {
		x := s.At[ch]
		if !math.IsNaN(x) && (x < ranges[ch][0] || x > ranges[ch][1]) {
			c.told.leave(Fault{s.Line, ch.String(), OutOfRange, ""})
			s.At[ch] = math.NaN()
		}
	}
	c.place(s)
	return true
}

// timed sets a sample's time, where it goes on from the one before.
func (c *checker) timed(s *Sample) bool {
	t := s.absolute + c.shift
	if !c.begun {
		c.begun, c.first, c.last, c.step = true, t, t, math.Inf(1)
		s.T = 0
		return true
	}
	switch dt := t - c.last; {
	case dt == 0:
		c.told.leave(Fault{s.Line, "", DoubledTime, ""})
		c.back = 0
		return false
	case dt < 0:
		c.told.leave(Fault{s.Line, "", TimeBack, ""})
		if c.back++; c.back > 1 && t <= c.backAt {
			c.back = 1
		}
		c.backAt = t
		if c.back < settled {
			return false
		}
		c.told.Resets++
		c.told.Left[TimeBack]-- // this one is taken
		c.shift += c.last + LongestStep + 1 - t
		t, s.Break = c.last+LongestStep+1, true
	case dt > LongestStep:
		c.told.Gaps++
		c.told.Gap = max(c.told.Gap, dt)
		s.Break = true
	default:
		c.step = min(c.step, dt)
	}
	c.back, c.last = 0, t
	s.T = t - c.first
	return true
}

// place takes a position out that jumps, or that only repeats the one before.
func (c *checker) place(s *Sample) {
	if !s.Has(Lat) || !s.Has(Lon) {
		s.At[Lat], s.At[Lon] = math.NaN(), math.NaN()
		return
	}
	lat, lon := s.At[Lat], s.At[Lon]
	none := func(why Reason) {
		c.told.leave(Fault{s.Line, "position", why, ""})
		s.At[Lat], s.At[Lon] = math.NaN(), math.NaN()
	}
	if lat == 0 && lon == 0 {
		none(NoFix)
		return
	}
	if lon > 180 {
		lon -= 360
		s.At[Lon] = lon
	}
	if c.has && lat == c.lat && lon == c.lon && s.T-c.placed < LongestStep && !(s.At[Speed] < 1) { // held by the logger until the next fix
		s.At[Lat], s.At[Lon] = math.NaN(), math.NaN()
		return
	}
	if c.has && Metres(c.lat, c.lon, lat, lon) > MaxSpeed*(s.T-c.placed)+20 {
		if c.far > 0 && Metres(c.farLat, c.farLon, lat, lon) <= MaxSpeed*(s.T-c.farAt)+20 {
			c.far++
		} else {
			c.far = 1
		}
		c.farLat, c.farLon, c.farAt = lat, lon, s.T
		if c.far < settled {
			none(Jump)
			return
		}
		s.Break = true // what came before was wrong
	}
	c.has, c.far, c.lat, c.lon, c.placed = true, 0, lat, lon, s.T
	s.Placed = s.T
}

// stamp is the step that stamps stand on, s; 0 where it is fine.
func (c *checker) stamp() float64 {
	for _, step := range []float64{1, 0.1, 0.01} {
		if c.step >= step*0.999 {
			return step
		}
	}
	return 0
}
