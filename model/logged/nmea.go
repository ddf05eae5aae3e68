package logged

import (
	"bytes"
	"errors"
	"io"
	"math"
	"strconv"
	"strings"
	"time"
)

// nmeaReader reads the sentences RMC, GGA and VTG of any talker; what has one time is one sample.
// Source: NMEA 0183, version 3.01: the checksum is the exclusive or of the characters between $ and *, latitude is ddmm.mmm, longitude
// dddmm.mmm, speed in knots in RMC and in km/h in field 7 of VTG, status A is valid, quality 0 of GGA is no fix.
type nmeaReader struct {
	lines *lines
	held  Sample // the sample that sentences are added to
	open  bool
	tod   float64 // s of the day of the sample that is open
	last  float64 // s of the day of the sentence before, for midnight
	day   float64 // s from the first day's begin to this one's
	base  float64 // s from 1970 to the first day's begin
	dated bool
	given bool // a sample was given before
	known bool // a time was read
	begun time.Time
}

func (n *nmeaReader) read(told *Told) (s Sample, ok bool, err error) {
	for {
		text, fits, err := n.lines.next()
		if err != nil {
			if errors.Is(err, io.EOF) && n.open {
				n.open = false
				return n.held, true, nil
			}
			return s, false, err
		}
		at := bytes.IndexByte(text, '$') // loggers put stamps of their own before it
		if at < 0 {
			if len(bytes.TrimSpace(text)) > 0 && text[0] != '!' && text[0] != '#' {
				told.leave(Fault{Line: n.lines.line, Why: BadLine, Text: string(text)})
			}
			continue
		}
		text = text[at:]
		if !fits {
			told.leave(Fault{Line: n.lines.line, Why: BadLine})
			continue
		}
		fields, why, ok := sentence(string(text))
		if !ok {
			told.leave(Fault{Line: n.lines.line, Why: why, Text: string(text)})
			continue
		}
		if len(fields[0]) != 5 {
			continue // a maker's own
		}
		if s, ok = n.take(fields, told); ok {
			return s, true, nil
		}
	}
}

// sentence checks a sentence and returns its fields, the first one without $.
func sentence(text string) (fields []string, why Reason, ok bool) {
	body, sum, has := strings.Cut(text[1:], "*")
	if has {
		want, err := strconv.ParseUint(strings.TrimSpace(sum), 16, 8)
		var got byte
		for i := range len(body) {
			got ^= body[i]
		}
		if err != nil || uint64(got) != want {
			return nil, Checksum, false
		}
	}
	fields = strings.Split(body, ",")
	if len(fields) < 2 || len(fields) > 100 {
		return nil, BadLine, false
	}
	return fields, 0, true
}

// take adds a sentence to the sample that is open; where it begins another, the one before is returned.
func (n *nmeaReader) take(fields []string, told *Told) (done Sample, ok bool) {
	at := func(i int) string {
		if i < len(fields) {
			return strings.TrimSpace(fields[i])
		}
		return ""
	}
	line := n.lines.line
	wrong := func(column string, why Reason, text string) { told.leave(Fault{line, column, why, text}) }
	kind := fields[0][2:]
	if kind == "VTG" {
		if v, fine := number(at(7), ';'); n.open && fine {
			n.held.At[Speed] = v / 3.6
		}
		return done, false
	}
	if kind != "RMC" && kind != "GGA" {
		return done, false
	}
	tod, fine := timeOfDay(at(1))
	if !fine {
		if at(1) == "" {
			wrong("", NoTime, "")
		} else {
			wrong("time", BadNumber, at(1))
		}
		return done, false
	}
	if !n.open || tod != n.tod {
		if n.open {
			done, ok, n.given = n.held, true, true
		}
		n.begin(tod, line)
	}
	switch kind {
	case "RMC":
		if d, is := date(at(9)); is {
			if !n.dated { // what came before it had no date: days go on from there
				n.dated, n.base = true, float64(d.Unix())-n.day
				if !n.given {
					n.begun = d.Add(time.Duration(tod * float64(time.Second)))
				}
			}
			n.day = float64(d.Unix()) - n.base
			n.held.absolute = n.day + tod
		}
		if at(2) != "A" {
			wrong("", NoFix, "")
			return done, ok
		}
		n.place(at(3), at(4), at(5), at(6), wrong)
		if v := at(7); v != "" {
			if x, fine := number(v, ';'); fine {
				n.held.At[Speed] = x * 1852 / 3600
			} else {
				wrong("speed", BadNumber, v)
			}
		}
	case "GGA":
		if q := at(6); q == "0" || q == "" {
			wrong("", NoFix, "")
			return done, ok
		}
		n.place(at(2), at(3), at(4), at(5), wrong)
		if x, fine := number(at(9), ';'); fine {
			n.held.At[Elevation] = x
		}
	}
	return done, ok
}

// begin opens a sample at a time of the day.
func (n *nmeaReader) begin(tod float64, line int) {
	if n.known && tod < n.last-day/2 {
		n.day += day
	}
	n.held, n.open, n.tod, n.last, n.known = blank(), true, tod, tod, true
	n.held.Line, n.held.absolute = line, n.day+tod
}

// place reads a position.
func (n *nmeaReader) place(lat, ns, lon, ew string, wrong func(string, Reason, string)) {
	x, fine := minutes(lat, ns, "N", "S")
	y, also := minutes(lon, ew, "E", "W")
	if !fine || !also {
		wrong("position", BadNumber, lat+" "+lon)
		return
	}
	n.held.At[Lat], n.held.At[Lon] = x, y
}

// minutes reads degrees and minutes, ddmm.mmmm, in degrees.
func minutes(text, side, plus, minus string) (float64, bool) {
	x, ok := number(text, ';')
	if !ok || x < 0 {
		return 0, false
	}
	degrees := math.Trunc(x / 100)
	part := x - 100*degrees
	x = degrees + part/60
	switch {
	case part >= 60:
		return 0, false
	case side == plus:
		return x, true
	case side == minus:
		return -x, true
	}
	return 0, false
}

// timeOfDay reads hhmmss.ss, in seconds.
func timeOfDay(text string) (float64, bool) {
	x, ok := number(text, ';')
	if !ok || len(text) < 6 || x < 0 {
		return 0, false
	}
	h, m := math.Trunc(x/10000), math.Mod(math.Trunc(x/100), 100)
	s := x - 10000*h - 100*m
	return 3600*h + 60*m + s, h < 24 && m < 60 && s < 61
}

// date reads ddmmyy.
func date(text string) (time.Time, bool) {
	t, err := time.Parse("020106", text)
	return t, err == nil
}
