package logged

import (
	"errors"
	"fmt"
	"io"
	"math"
	"runtime"
	"slices"
	"strings"
	"testing"
)

func read(t *testing.T, text string, named map[string]string) *Log {
	t.Helper()
	l, err := Read(strings.NewReader(text), named, nil)
	if err != nil {
		t.Fatalf("%v in\n%s", err, text)
	}
	return l
}

// One and the same drive in the conventions of several loggers: 10, 20 and 30 m/s at 0, 1 and 2 s.
func TestTablesOfManyKinds(t *testing.T) {
	for what, text := range map[string]string{
		"plain":             "time,speed_kmh\n0,36\n1,72\n2,108\n",
		"brackets":          "\uFEFF\"Time [s]\",\"GPS Speed [km/h]\"\n0,36\n1,72\n2,108\n",
		"semicolons, comma": "Zeit;Geschwindigkeit\n0,0;36,0\n1,0;72,0\n2,0;108,0\n",
		"tabs":              "Time\tVelocity (m/s)\n0\t10\n1\t20\n2\t30\n",
		"line of units":     "Time,Speed,Distance\ns,mph,m\n0,22.369362921,0\n1,44.738725841,15\n2,67.108088762,40\n",
		"preamble":          "Format,log\nSession,test\n\"Sample rate\",1\nDriver,\"Doe, J\"\n\nTime,Speed,RPM\ns,km/h,rpm\n\n0.000,36,3000\n1.000,72,3100\n2.000,108,3200\n",
		"quoted commas":     "\"time\",\"speed [km/h]\"\n\"0,0\",\"36,0\"\n\"1,0\",\"72,0\"\n\"2,0\",\"108,0\"\n",
		"times of day":      "utc time,speed (kn)\n23:59:59.0,19.438444924\n00:00:00.0,38.876889849\n00:00:01.0,58.315334773\n",
		"dates":             "timestamp;speed m/s\n2026-05-01T10:00:00Z;10\n2026-05-01T10:00:01Z;20\n2026-05-01T10:00:02Z;30\n",
		"1970 in ms":        "Timestamp,Speed (m/s)\n1760000000000,10\n1760000001000,20\n1760000002000,30\n",
		"ms":                "time [ms],speed [m/s]\n0,10\n1000,20\n2000,30\n",
		"CRLF":              "time,speed m/s\r\n0,10\r\n1,20\r\n2,30\r\n",
	} {
		var named map[string]string
		if what == "semicolons, comma" {
			named = map[string]string{"time": "zeit", "speed": "Geschwindigkeit [km/h]"}
		}
		l, err := Read(strings.NewReader(text), named, nil)
		if err != nil {
			t.Errorf("%s: %v", what, err)
			continue
		}
		for i, want := range []float64{10, 20, 30} {
			if len(l.Samples) != 3 || math.Abs(l.Samples[i].At[Speed]-want) > 1e-6 || math.Abs(l.Samples[i].T-float64(i)) > 1e-6 {
				t.Errorf("%s: %d samples; at %d s %v", what, len(l.Samples), i, l.Samples)
				break
			}
		}
		if l.Told.Sum() != 0 || l.Format != CSV {
			t.Errorf("%s: %+v", what, l.Told)
		}
	}
}

// What cannot be told is asked for, with the columns that there are.
func TestColumnsThatCannotBeTold(t *testing.T) {
	for text, want := range map[string]string{
		"a,b,c\n1,2,3\n2,3,4\n":     "time speed",
		"time,b,c\n1,2,3\n2,3,4\n":  "speed",
		"t,speed\n1,2\n2,3\n":       "speed unit",
		"speed kmh,b\n1,2\n2,3\n":   "time",
		"time,lat\n1,2\n2,3\n":      "speed",
		"time,speed [V]\n0,1\n1,2":  "speed unit",
		"time;speed [x]\n0;1\n1;2;": "speed unit",
	} {
		_, err := Read(strings.NewReader(text), nil, nil)
		var need *NeedColumns
		if !errors.As(err, &need) {
			t.Errorf("%q: %v", text, err)
			continue
		}
		got := strings.Join(need.Missing, " ")
		if need.Unit {
			got += " unit"
		}
		if got != want || len(need.Names) < 2 {
			t.Errorf("%q: %s of %v, want %s", text, got, need.Names, want)
		}
	}
	if _, err := Read(strings.NewReader("time,v1\n0,1\n1,2\n"), map[string]string{"speed": "v2"}, nil); err == nil {
		t.Error("a column that is not there is taken")
	}
}

// Ride heights by side are one channel by their mean, also where a person names them; a side that says nothing makes no mean.
func TestSides(t *testing.T) {
	l := read(t, "Time [s],Speed [m/s],Ride Height FL [mm],Ride Height FR [mm],Damper RL [mm],Damper RR [mm],Lateral Acc [g],G Force Long [g]\n0,10,100,110,5,7,1,-0.5\n1,20,90,,6,8,0,0\n", nil)
	s := l.Samples[0].At
	if s[FrontRide] != 105 || s[RearTravel] != 6 || math.Abs(s[LatAcc]-9.80665) > 1e-9 || math.Abs(s[LongAcc]+4.903325) > 1e-9 {
		t.Errorf("%v", s)
	}
	if l.Samples[1].Has(FrontRide) {
		t.Error("one side is the mean of both")
	}
	l = read(t, "Time [s],Speed [m/s],a [in],b [in]\n0,10,4,6\n1,20,5,5\n", map[string]string{"front_ride": "a+b"})
	if got := l.Samples[0].At[FrontRide]; math.Abs(got-127) > 1e-9 {
		t.Errorf("%g mm, want 5 in", got)
	}
}

// A broken line costs that line, and is counted by its reason.
func TestBrokenLines(t *testing.T) {
	text := "time,speed m/s,lat,lon\n0,10,50,10\n1,x,50.0001,10\n2\n3,12,50.0003,10\n2.5,12,50.0003,10\n3,12,50.0003,10\n4,900,50.0004,10\n5,12,51,10\n6,12,0,0\n7,12,50.0007,10\n\"8,12\n,12,50,10\n9,12,95,10\n20,12,50.0020,10\n"
	l := read(t, text, nil)
	want := map[Reason]int{BadNumber: 1, BadLine: 2, TimeBack: 1, DoubledTime: 1, OutOfRange: 2, Jump: 1, NoFix: 1, NoTime: 1}
	for r := range Reasons {
		if l.Told.Left[r] != want[r] {
			t.Errorf("%s: %d, want %d", r, l.Told.Left[r], want[r])
		}
	}
	if f := l.Told.First[0]; f.Line != 3 || f.Column != "speed m/s" || f.Text != "x" {
		t.Errorf("%+v", f)
	}
	if l.Told.Gaps != 1 || l.Told.Gap != 11 || len(l.Told.First) != mostNamed {
		t.Errorf("%+v", l.Told)
	}
}

// A clock that is set back, or a first stamp far ahead, costs a few samples and not the rest of the file.
func TestClockSet(t *testing.T) {
	var b strings.Builder
	b.WriteString("time,speed m/s\n99999,10\n")
	for i := range 100 {
		fmt.Fprintf(&b, "%d,10\n", i)
	}
	l := read(t, b.String(), nil)
	if l.Told.Resets != 1 || l.Told.Read != 1+100-settled+1 {
		t.Errorf("%+v", l.Told)
	}
	// A first position that is wrong as well.
	b.Reset()
	b.WriteString("time,lat,lon\n0,10,10\n")
	for i := range 100 {
		fmt.Fprintf(&b, "%g,%.6f,10\n", 0.1*float64(i+1), 50+float64(i)*2e-5)
	}
	l = read(t, b.String(), nil)
	if l.Told.Left[Jump] != settled-1 || l.Told.Read != 101 {
		t.Errorf("%+v", l.Told)
	}
	if v := l.Samples[60].At[Speed]; math.Abs(v-2e-5*111229/0.1) > 0.05 { // a degree at 50° is 111 229 m
		t.Errorf("%.3f m/s", v)
	}
}

// Tracks as programs write them: a default namespace, a prefix, extensions with a speed of their own, two segments, points without times.
const gpxDefault = `<?xml version="1.0" encoding="UTF-8"?>
<gpx version="1.1" creator="x" xmlns="http://www.topografix.com/GPX/1/1"><metadata><time>2026-05-01T09:00:00Z</time></metadata>
<wpt lat="1" lon="1"><time>2026-05-01T09:00:00Z</time></wpt>
<trk><name>a &amp; b</name><trkseg>
<trkpt lat="50.0" lon="10.0"><ele>300.5</ele><time>2026-05-01T10:00:00Z</time></trkpt>
<trkpt lat="50.0001" lon="10.0"><time>2026-05-01T10:00:01.000Z</time></trkpt>
<trkpt lat="50.0002" lon="10.0"></trkpt>
<trkpt lat="50.0003" lon="10.0"><time>2026-05-01T12:00:03+02:00</time></trkpt>
</trkseg><trkseg>
<trkpt lat="50.0010" lon="10.0"><time>2026-05-01T10:00:04Z</time></trkpt>
</trkseg></trk><trk><trkseg>
<trkpt lat="50.0011" lon="10.0"><time>2026-05-01T10:00:05Z</time></trkpt>
</trkseg></trk></gpx>`

func TestGPX(t *testing.T) {
	l := read(t, gpxDefault, nil)
	if l.Format != GPX || l.Told.Read != 5 || l.Told.Left[NoTime] != 1 || l.Samples[0].At[Elevation] != 300.5 || l.Samples[2].T != 3 {
		t.Fatalf("%+v %+v", l.Told, l.Samples)
	}
	for i, want := range []bool{true, false, false, true, true} {
		if l.Samples[i].Break != want {
			t.Errorf("sample %d: break %v", i, l.Samples[i].Break)
		}
	}
	if l.Begun.Format("2006-01-02 15:04:05") != "2026-05-01 10:00:00" {
		t.Error(l.Begun)
	}
	prefixed := strings.NewReplacer("<gpx ", "<g:gpx ", "</gpx>", "</g:gpx>", "<trk", "<g:trk", "</trk", "</g:trk", "<ele", "<g:ele", "</ele", "</g:ele",
		"<time", "<g:time", "</time", "</g:time", "xmlns=", "xmlns:g=").Replace(gpxDefault)
	m := read(t, prefixed, nil)
	if len(m.Samples) != len(l.Samples) || m.Samples[4].T != l.Samples[4].T || m.Samples[0].At[Elevation] != 300.5 {
		t.Errorf("prefixed: %+v", m.Samples)
	}
	old := `<gpx version="1.0"><trk><trkseg><trkpt lat='50' lon='10'><time>2026-05-01T10:00:00Z</time><speed>12.5</speed></trkpt>
<trkpt lat='50.0001' lon='10'><time>2026-05-01T10:00:01Z</time><extensions><x:TrackPointExtension xmlns:x="u"><x:time>7</x:time><x:speed>13.5</x:speed></x:TrackPointExtension></extensions></trkpt></trkseg></trk></gpx>`
	o := read(t, old, nil)
	if o.Samples[0].At[Speed] != 12.5 || o.Samples[1].At[Speed] != 13.5 || o.Samples[1].T != 1 {
		t.Errorf("%+v", o.Samples)
	}
	// A file that is cut short has what stands before the cut.
	c := read(t, gpxDefault[:strings.Index(gpxDefault, `lon="10.0"><time>2026-05-01T12`)], nil)
	if c.Told.Read != 2 || c.Told.CutAt == 0 {
		t.Errorf("%+v", c.Told)
	}
	_, err := Read(strings.NewReader(strings.ReplaceAll(strings.ReplaceAll(gpxDefault, "<time>", "<x>"), "</time>", "</x>")), nil, nil)
	if err == nil || !strings.Contains(err.Error(), "none of its 6 points has a time") {
		t.Error(err)
	}
	latin := strings.Replace(strings.Replace(gpxDefault, "UTF-8", "ISO-8859-1", 1), "a &amp; b", "a \xe9", 1)
	if l := read(t, latin, nil); l.Told.Read != 5 {
		t.Errorf("%+v", l.Told)
	}
}

// sum gives a sentence its checksum.
func sum(body string) string {
	var x byte
	for i := range len(body) {
		x ^= body[i]
	}
	return fmt.Sprintf("$%s*%02X\r\n", body, x)
}

// The example sentences that descriptions of NMEA 0183 give: 48° 07.038' N, 11° 31.000' E, 22.4 knots, 545.4 m, checksums 6A and 47.
func TestPublishedSentences(t *testing.T) {
	l := read(t, "$GPRMC,123519,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W*6A\n$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47\n"+
		sum("GNRMC,123520,A,4807.038,S,01131.010,W,022.4,084.4,230394,,"), nil)
	s := l.Samples[0].At
	if math.Abs(s[Lat]-48.1173) > 1e-9 || math.Abs(s[Lon]-11.516666667) > 1e-8 || math.Abs(s[Speed]-22.4*1852/3600) > 1e-9 || s[Elevation] != 545.4 {
		t.Errorf("%v", s)
	}
	if l.Begun.Format("2006-01-02 15:04:05") != "1994-03-23 12:35:19" || l.Format != NMEA {
		t.Error(l.Begun, l.Format)
	}
	if l.Told.Left[Jump] != 1 { // south and west are another place
		t.Errorf("%+v", l.Told)
	}
}

// Midnight, two talkers, VTG's speed, sentences that are damaged, no fix, and a logger's own stamp before the sentence.
func TestSentences(t *testing.T) {
	text := sum("GNGGA,235959.00,5000.000,N,01000.000,E,1,09,1,300,M,,M,,") + sum("GNRMC,235959.00,A,5000.000,N,01000.000,E,,,300426,,") + sum("GPVTG,0,T,,M,19.4,N,36.0,K") +
		sum("GPGSV,1,1,00") + "12:00 " + sum("GNRMC,000000.00,A,5000.006,N,01000.000,E,19.4384,0,010526,,") +
		strings.Replace(sum("GNRMC,000001.00,A,5000.012,N,01000.000,E,19.4384,0,010526,,"), "5000.012", "5000.912", 1) +
		sum("GNRMC,000002.00,V,,,,,,,010526,,") + "noise\n" + sum("GNRMC,000003.00,A,5000.018,N,01000.000,E,19.4384,0,010526,,")
	l := read(t, text, nil)
	if len(l.Samples) != 4 || l.Samples[0].At[Speed] != 10 || l.Samples[1].T != 1 || l.Samples[3].T != 4 || math.Abs(l.Samples[1].At[Speed]-10) > 1e-4 {
		t.Fatalf("%+v", l.Samples)
	}
	if l.Told.Left[Checksum] != 1 || l.Told.Left[NoFix] != 1 || l.Told.Left[BadLine] != 1 {
		t.Errorf("%+v", l.Told)
	}
	// Without a date midnight is found too.
	l = read(t, sum("GPGGA,235959.50,5000.000,N,01000.000,E,1,09,1,300,M,,M,,")+sum("GPGGA,000000.50,5000.006,N,01000.000,E,1,09,1,300,M,,M,,"), nil)
	if l.Samples[1].T != 1 {
		t.Errorf("%+v", l.Samples)
	}
}

// rows is an endless table cut at a length, made as it is read.
type rows struct {
	n, left int
	held    []byte
}

func (r *rows) Read(p []byte) (int, error) {
	if len(r.held) == 0 {
		if r.left == 0 {
			return 0, io.EOF
		}
		r.left--
		if r.n == 0 {
			r.held = []byte("time,speed [km/h],lat,lon,throttle\n")
		}
		for range 500 {
			r.held = fmt.Appendf(r.held, "%.2f,%.2f,%.7f,%.7f,%d\n", 0.01*float64(r.n), 100.0, 50+1e-7*float64(r.n%90000), 10.0, r.n%100)
			r.n++
		}
	}
	k := copy(p, r.held)
	r.held = r.held[k:]
	return k, nil
}

// What is kept is bounded: of eight times as long a file it is not more.
func TestMemoryIsBounded(t *testing.T) {
	held := func(chunks int) (uint64, int) {
		l, err := Read(&rows{left: chunks}, nil, nil)
		if err != nil {
			t.Fatal(err)
		}
		var m runtime.MemStats
		runtime.GC()
		runtime.ReadMemStats(&m)
		n := len(l.Samples)
		runtime.KeepAlive(l)
		return m.HeapAlloc, n
	}
	_, few := held(100)
	if few != 12500 { // 50 000 rows of 10 ms in steps of 40 ms
		t.Errorf("%d samples", few)
	}
	if testing.Short() {
		return
	}
	k := keeper{}
	for i := range 3 * mostKept {
		s := blank()
		s.T = float64(i) * firstStep * 1.0001
		s.At[Speed] = float64(i)
		k.add(s)
	}
	if n := len(k.done()); n > mostKept || n < mostKept/2 || cap(k.kept) > 2*mostKept {
		t.Errorf("%d kept of %d, room for %d", n, 3*mostKept, cap(k.kept))
	}
	if !slices.IsSortedFunc(k.kept, func(a, b Sample) int {
		if a.T < b.T {
			return -1
		}
		return 1
	}) {
		t.Error("not in order")
	}
}

// Lengths of a degree on WGS84, as the table of Snyder (1987), table 1 and the usual ones for WGS84 have them, and Vincenty's inverse solution of the line
// Flinders Peak to Buninyong, 54 972.271 m (Geocentric Datum of Australia Technical Manual, GRS 80), which a plane meets to 2 in 100,000.
func TestDegreeLengths(t *testing.T) {
	for _, c := range [][3]float64{{0, 110574, 111320}, {15, 110649, 107550}, {30, 110852, 96486}, {45, 111132, 78847}, {60, 111412, 55800}, {75, 111618, 28902}} {
		if n, e := DegreeLengths(c[0]); math.Abs(n-c[1]) > 0.6 || math.Abs(e-c[2]) > 0.6 {
			t.Errorf("at %g°: %.1f and %.1f m, want %g and %g", c[0], n, e, c[1], c[2])
		}
	}
	dms := func(d, m, s float64) float64 { return d + m/60 + s/3600 }
	got := Metres(-dms(37, 57, 3.72030), dms(144, 25, 29.52440), -dms(37, 39, 10.15610), dms(143, 55, 35.38390))
	if math.Abs(got/54972.271-1) > 2e-5 {
		t.Errorf("%.3f m, want 54972.271", got)
	}
	if d := Metres(0, 179.9999, 0, -179.9999); math.Abs(d-22.264) > 0.01 {
		t.Errorf("%.3f m over the date line", d)
	}
}

func FuzzCSV(f *testing.F) {
	f.Add([]byte("time,speed m/s\n0,10\n1,20\n"))
	f.Add([]byte("a;b\n\n\"x;1\n0,5;1,5\n"))
	f.Add([]byte("Time\tLap\tspeed kmh\ns\t#\tkm/h\n1:02:03\t1\t2\n"))
	f.Fuzz(fuzzed)
}

func FuzzGPX(f *testing.F) {
	f.Add([]byte(gpxDefault))
	f.Add([]byte("<gpx><trkpt lat='1' lon='2'><time>2026-05-01T10:00:00Z</time><trkpt/></trkpt>"))
	f.Fuzz(fuzzed)
}

func FuzzNMEA(f *testing.F) {
	f.Add([]byte("$GPRMC,123519,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W*6A\n$GPGGA,123520,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47\n"))
	f.Add([]byte("$GPRMC,,V,,,,,,,,,,N*53\n$GPVTG,,,,,,,,,N*30\n"))
	f.Fuzz(fuzzed)
}

// Whatever is read: samples go on in time and are within their ranges, and lines and laps are found without harm.
func fuzzed(t *testing.T, data []byte) {
	l, err := Read(strings.NewReader(string(data)), map[string]string{"speed": "b [m/s]"}, nil)
	if err != nil {
		l, err = Read(strings.NewReader(string(data)), nil, nil)
	}
	if err != nil {
		return
	}
	for i := range l.Samples {
		s := &l.Samples[i]
		if i > 0 && !(s.T > l.Samples[i-1].T) {
			t.Fatalf("sample %d at %g s after %g s", i, s.T, l.Samples[i-1].T)
		}
		if !math.IsNaN(s.X) && math.Abs(s.At[Lat]) > 90 {
			t.Fatal(s)
		}
	}
	if line, _, ok := l.FindLine(); ok {
		l.Laps([]Line{line})
	}
}
