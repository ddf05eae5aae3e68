package logged

import (
	"bytes"
	"errors"
	"io"
	"math"
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
		return nil, errors.New("it is not a text file: export it from the logger as CSV, GPX or NMEA")
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
