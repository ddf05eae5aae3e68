package logged

import (
	"bytes"
	"errors"
	"io"
	"math"
	"time"
)

// source gives one sample after the other; the error is io.EOF at the end.
type source interface {
	read(*Told) (s Sample, ok bool, err error)
}

// Read reads a recording. named are the columns of a CSV that a person has named, by key: "speed" to "Velocity [km/h]"; "front_ride" to
// "LeftF+RightF" for two columns whose mean counts. kept are those that were named for another file: they count where the table has them. An
// error of columns that cannot be told is a *NeedColumns.
//
// What is kept is bounded, however long the file is: see keep.
func Read(r io.Reader, named, kept map[string]string) (*Log, error) {
	in := newLines(r)
	begin, err := in.r.Peek(4096)
	if len(begin) == 0 {
		if err == nil || errors.Is(err, io.EOF) {
			err = errors.New("it is empty")
		}
		return nil, err
	}
	if bytes.HasPrefix(begin, []byte{0xFF, 0xFE}) || bytes.HasPrefix(begin, []byte{0xFE, 0xFF}) {
		return nil, errors.New("it is UTF-16; save it as UTF-8")
	}
	if bytes.IndexByte(begin, 0) >= 0 {
		return nil, errors.New("it is no text: export it from the logger as CSV, GPX or NMEA")
	}
	l := &Log{SpeedStdUnc: math.NaN(), PlaceScatter: math.NaN()}
	var from source
	clean := bytes.TrimLeft(bytes.TrimPrefix(begin, []byte("\uFEFF")), " \t\r\n")
	switch {
	case bytes.HasPrefix(clean, []byte("<")):
		if bytes.HasPrefix(begin, []byte("\uFEFF")) {
			_, _ = in.r.Discard(3)
		}
		l.Format, from = GPX, newGPX(in.r)
	case isNMEA(begin):
		l.Format, from = NMEA, &nmeaReader{lines: in}
	default:
		c, unused, err := openCSV(in, named, kept)
		if err != nil {
			return nil, err
		}
		l.Format, l.Columns, l.Unused, from = CSV, c.use, unused, c
	}
	k := keeper{}
	check := checker{told: &l.Told}
	for {
		s, ok, err := from.read(&l.Told)
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, err
		}
		if ok && check.passes(&s) {
			l.Told.Read++
			k.add(s)
		}
	}
	l.Samples, l.Step = k.done(), k.step
	switch f := from.(type) {
	case *gpxReader:
		l.Begun = f.clock.dated
		if len(l.Samples) == 0 && f.points > 0 && l.Told.Left[NoTime] == f.points {
			return nil, errNoTimes{f.points}
		}
	case *nmeaReader:
		l.Begun = f.begun
	case *csvReader:
		l.Begun = f.clock.dated
	}
	if len(l.Samples) < 2 {
		return l, errNoSamples(l)
	}
	l.Stamp = check.stamp()
	l.finish()
	return l, nil
}

// errNoSamples says that nothing of a file could be used, and why.
func errNoSamples(l *Log) error {
	why, most := Reasons, 0
	for r, n := range l.Told.Left {
		if n > most {
			why, most = Reason(r), n
		}
	}
	if most == 0 {
		return errors.New("it has fewer than two samples")
	}
	return errors.New("it has fewer than two samples that can be used; most were left out because of: " + why.String())
}

// isNMEA reports whether a file begins with sentences.
func isNMEA(begin []byte) bool {
	for _, l := range bytes.SplitN(begin, []byte("\n"), 20) {
		at := bytes.IndexByte(l, '$')
		if at < 0 || len(l) < at+7 || l[at+6] != ',' {
			continue
		}
		switch string(l[at+3 : at+6]) {
		case "RMC", "GGA", "VTG", "GSA", "GSV", "GLL":
			return true
		}
	}
	return false
}

// checker leaves out what cannot be.
type checker struct {
	told    *Told
	begun   bool
	first   float64 // stamp of the first sample
	last    float64 // stamp of the last one that passed
	shift   float64 // s that is added to stamps since the clock was set
	back    int     // samples in a row whose stamps go back
	backAt  float64
	lat     float64 // the last position that passed
	lon     float64
	placed  float64 // its stamp
	has     bool
	far     int // positions in a row that jump, but not from one another
	farLat  float64
	farLon  float64
	farAt   float64
	step    float64 // s, the least step between stamps
	coarse  bool    // all stamps stand on whole multiples of step10
	stamped int
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

// keeper keeps samples within a bound: those of one step in time are averaged, and the step doubles whenever there would be too many.
type keeper struct {
	kept []Sample
	step float64
	open mean
	slot float64
	has  bool
}

// mostKept is how many samples are kept at most: about four hours at 20 Hz, 60 MB.
const mostKept = 300_000

// firstStep is what samples are averaged over at first, s: a car moves by 4 m in it at most, and nothing that is read from a recording
// is faster.
const firstStep = 0.04

// mean is a mean of samples, each channel's of those that have it.
type mean struct {
	sum   Sample
	n     [Channels]int
	count int
	place int
}

func (m *mean) add(s *Sample) {
	if m.count == 0 {
		m.sum = *s
		for c := range m.n {
			m.n[c] = 0
			if s.Has(Channel(c)) {
				m.n[c] = 1
			} else {
				m.sum.At[c] = 0
			}
		}
		m.count, m.place = 1, 0
		if m.sum.Placed = 0; !math.IsNaN(s.Placed) {
			m.sum.Placed, m.place = s.Placed, 1
		}
		return
	}
	m.sum.T += s.T
	m.count++
	if !math.IsNaN(s.Placed) {
		m.sum.Placed += s.Placed
		m.place++
	}
	for c := range m.n {
		if s.Has(Channel(c)) {
			if Channel(c) == Lap && m.n[c] > 0 {
				continue // a number, not a quantity
			}
			m.sum.At[c] += s.At[c]
			m.n[c]++
		}
	}
}

func (m *mean) value() Sample {
	s := m.sum
	s.T /= float64(m.count)
	s.Placed /= float64(m.place) // NaN for none
	for c := range m.n {
		s.At[c] /= float64(m.n[c])
	}
	return s
}

func (k *keeper) add(s Sample) {
	if k.step == 0 {
		k.step = firstStep
	}
	slot := math.Floor(s.T / k.step)
	if k.has && slot == k.slot && !s.Break {
		k.open.add(&s)
		return
	}
	k.flush()
	if len(k.kept) >= mostKept {
		k.halve()
		slot = math.Floor(s.T / k.step)
	}
	k.open.count = 0
	k.open.add(&s)
	k.slot, k.has = slot, true
}

func (k *keeper) flush() {
	if k.has {
		k.kept = append(k.kept, k.open.value())
	}
	k.has = false
}

// halve averages pairs that are close enough in a step of twice the length.
func (k *keeper) halve() {
	k.step *= 2
	out := k.kept[:0]
	var m mean
	slot := math.NaN()
	for i := range k.kept {
		s := k.kept[i]
		at := math.Floor(s.T / k.step)
		if m.count > 0 && (at != slot || s.Break) {
			out = append(out, m.value())
			m.count = 0
		}
		m.add(&s)
		slot = at
	}
	k.kept = append(out, m.value())
}

func (k *keeper) done() []Sample {
	k.flush()
	return k.kept
}

// BegunAt is when a sample was taken, where stamps have a date.
func (l *Log) BegunAt(t float64) (time.Time, bool) {
	return l.Begun.Add(time.Duration(t * float64(time.Second))), !l.Begun.IsZero()
}
