package logged

import (
	"bufio"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// gpxReader reads points of GPX tracks, version 1.1 and, for its speeds, 1.0. Names count whatever their namespace or prefix is.
// Source: Topografix, "GPX 1.1 Schema Documentation" (2004), types trkType, trksegType, wptType: lat and lon are decimal degrees of WGS84, time is
// ISO 8601 in UTC, ele is in metres; GPX 1.0 had speed in metres per second.
type gpxReader struct {
	d      *xml.Decoder
	clock  clock
	begins bool // the next point is the first of its segment
	points int
}

func newGPX(r io.Reader) *gpxReader {
	g := &gpxReader{d: xml.NewDecoder(&dense{r: r})}
	g.d.CharsetReader = charset
	return g
}

// dense gives up where nothing of a markup language comes for long, so that no text of any length is held.
type dense struct {
	r       io.Reader
	without int
}

func (d *dense) Read(p []byte) (int, error) {
	n, err := d.r.Read(p)
	for _, b := range p[:n] {
		if d.without++; b == '<' || b == '>' {
			d.without = 0
		}
	}
	if d.without > longestLine+len(p) {
		return 0, errors.New("a text in it has no end")
	}
	return n, err
}

// charset reads the two encodings beside UTF-8 that are met.
func charset(label string, r io.Reader) (io.Reader, error) {
	switch strings.ToLower(label) {
	case "utf-8", "us-ascii", "ascii":
		return r, nil
	case "iso-8859-1", "latin1", "windows-1252":
		return &latin{r: bufio.NewReader(r)}, nil
	}
	return nil, errors.New("its encoding is not UTF-8; save it as UTF-8")
}

// latin makes UTF-8 of ISO 8859-1, whose bytes are Unicode's first 256 characters.
type latin struct {
	r    *bufio.Reader
	held []byte
}

func (l *latin) Read(p []byte) (n int, err error) {
	for n < len(p) {
		if len(l.held) == 0 {
			b, err := l.r.ReadByte()
			if err != nil {
				return n, err
			}
			l.held = utf8.AppendRune(l.held[:0], rune(b))
		}
		k := copy(p[n:], l.held)
		n, l.held = n+k, l.held[k:]
	}
	return n, nil
}

// read reads the next point; ok is false where it is left out.
func (g *gpxReader) read(told *Told) (s Sample, ok bool, err error) {
	for {
		token, err := g.d.Token()
		if err != nil {
			if !errors.Is(err, io.EOF) {
				told.CutAt, _ = g.d.InputPos()
				told.CutWhy = err.Error()
				err = io.EOF
			}
			return s, false, err
		}
		start, is := token.(xml.StartElement)
		if !is {
			continue
		}
		switch start.Name.Local {
		case "trk", "trkseg":
			g.begins = true
		case "trkpt":
			return g.point(start, told)
		}
	}
}

// point reads one point up to its end.
func (g *gpxReader) point(start xml.StartElement, told *Told) (s Sample, ok bool, err error) {
	s = blank()
	s.Line, _ = g.d.InputPos()
	g.points++
	wrong := func(column string, why Reason, text string) { told.leave(Fault{s.Line, column, why, text}) }
	for _, a := range start.Attr {
		of, is := map[string]Channel{"lat": Lat, "lon": Lon}[a.Name.Local]
		if !is {
			continue
		}
		x, fine := number(strings.TrimSpace(a.Value), ';')
		if !fine {
			wrong(a.Name.Local, BadNumber, a.Value)
			continue
		}
		s.At[of] = x
	}
	text, timed := "", false
	for depth := 1; depth > 0; {
		token, err := g.d.Token()
		if err != nil {
			if !errors.Is(err, io.EOF) {
				told.CutAt, _ = g.d.InputPos()
				told.CutWhy = err.Error()
			}
			return s, false, io.EOF
		}
		switch x := token.(type) {
		case xml.StartElement:
			depth++
			text = ""
		case xml.CharData:
			if len(text) < 100 {
				text += string(x)
			}
		case xml.EndElement:
			depth--
			text = strings.TrimSpace(text)
			switch x.Name.Local {
			case "time":
				if depth > 1 {
					break
				}
				t, fine := g.clock.read(text, ';', 1)
				if !fine {
					wrong("time", BadNumber, text)
					return s, false, g.end(depth)
				}
				s.absolute, timed = t, true
			case "ele", "speed":
				of := map[string]Channel{"ele": Elevation, "speed": Speed}[x.Name.Local]
				if v, fine := number(text, ';'); fine {
					s.At[of] = v
				} else {
					wrong(x.Name.Local, BadNumber, text)
				}
			}
			text = ""
		}
	}
	if !timed {
		wrong("", NoTime, "")
		return s, false, nil
	}
	s.Break, g.begins = g.begins, false
	return s, true, nil
}

// end passes over the rest of a point.
func (g *gpxReader) end(depth int) error {
	for ; depth > 0; depth-- {
		if err := g.d.Skip(); err != nil {
			return io.EOF
		}
	}
	return nil
}

// errNoTimes is that of a route, or of a track whose times were taken out.
type errNoTimes struct{ points int }

func (e errNoTimes) Error() string {
	return fmt.Sprintf("none of its %d points has a time; export it with times, as a track and not as a route", e.points)
}
