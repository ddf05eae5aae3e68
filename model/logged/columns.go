package logged

import (
	"slices"
	"strings"
)

// TimeKey is what the column of times is called in --columns.
const TimeKey = "time"

// timeColumn stands for the column of times among the channels.
const timeColumn Channel = -1

// Column is one column of a table that is used.
type Column struct {
	Of    Channel // timeColumn for the times
	Name  string  // as the table has it
	Unit  string  // as the table or the person has it; "" where it is not said
	size  float64 // what a value is multiplied by
	index int
}

// Key is what the column is of.
func (c Column) Key() string {
	if c.Of == timeColumn {
		return TimeKey
	}
	return c.Of.Key()
}

// Keys lists what columns can be named for.
func Keys() []string {
	all := []string{TimeKey}
	for c := range Channels {
		all = append(all, c.Key())
	}
	return all
}

func channelOf(key string) (Channel, bool) {
	if key == TimeKey {
		return timeColumn, true
	}
	for c := range Channels {
		if c.Key() == key {
			return c, true
		}
	}
	return 0, false
}

// usual are the names that columns go by, without units, in small letters, words apart by one blank.
var usual = map[string]Channel{
	"time": timeColumn, "t": timeColumn, "timestamp": timeColumn, "time stamp": timeColumn, "elapsed": timeColumn, "elapsed time": timeColumn, "seconds": timeColumn,
	"log time": timeColumn, "session time": timeColumn, "utc": timeColumn, "utc time": timeColumn, "gps time": timeColumn, "date time": timeColumn, "datetime": timeColumn,
	"seconds elapsed": timeColumn,
	"speed":           Speed, "gps speed": Speed, "speed gps": Speed, "velocity": Speed, "vehicle speed": Speed, "ground speed": Speed, "speed over ground": Speed, "wheel speed": Speed,
	"car speed": Speed, "v": Speed,
	"lat": Lat, "latitude": Lat, "gps lat": Lat, "gps latitude": Lat, "position lat": Lat, "lat gps": Lat, "latitude gps": Lat,
	"lon": Lon, "lng": Lon, "longitude": Lon, "gps lon": Lon, "gps long": Lon, "gps longitude": Lon, "position lon": Lon, "long": Lon, "lon gps": Lon, "longitude gps": Lon,
	"elevation": Elevation, "ele": Elevation, "altitude": Elevation, "alt": Elevation, "gps altitude": Elevation, "gps alt": Elevation,
	"distance": Distance, "dist": Distance, "total distance": Distance, "gps distance": Distance,
	"throttle": Throttle, "throttle position": Throttle, "throttle pos": Throttle, "tps": Throttle, "accelerator": Throttle, "accelerator pedal": Throttle, "pedal": Throttle,
	"throttle pedal": Throttle,
	"brake":          Brake, "brake pressure": Brake, "brake position": Brake, "brake pos": Brake, "brake pedal": Brake, "brake front": Brake, "front brake": Brake,
	"brake pressure front": Brake, "front brake pressure": Brake,
	"lap": Lap, "lap number": Lap, "lap no": Lap, "lap nr": Lap,
}

// sizes are what units of a column are in the package's own.
var sizes = map[Channel]map[string]float64{
	timeColumn: {"s": 1, "sec": 1, "secs": 1, "second": 1, "seconds": 1, "ms": 1e-3, "msec": 1e-3, "min": 60, "us": 1e-6, "µs": 1e-6, "ns": 1e-9},
	Speed: {"m/s": 1, "ms": 1, "mps": 1, "m/sec": 1, "km/h": 1 / 3.6, "kmh": 1 / 3.6, "kph": 1 / 3.6, "km/hr": 1 / 3.6, "kmph": 1 / 3.6, "mph": 0.44704, "mi/h": 0.44704,
		"kn": 1852.0 / 3600, "kt": 1852.0 / 3600, "kts": 1852.0 / 3600, "knot": 1852.0 / 3600, "knots": 1852.0 / 3600, "ft/s": 0.3048},
	Lat: {"": 1, "deg": 1, "degree": 1, "degrees": 1, "°": 1, "rad": 57.29577951308232}, Elevation: lengths, Distance: lengths, FrontRide: short, FrontTravel: short,
	LongAcc:  {"m/s²": 1, "m/s2": 1, "m/s^2": 1, "m/s/s": 1, "mps2": 1, "ms-2": 1, "g": 9.80665},
	Throttle: {"": 1, "%": 1, "pct": 1, "percent": 1, "v": 1, "deg": 1, "°": 1},
	Brake:    {"": 1, "%": 1, "pct": 1, "percent": 1, "bar": 1, "psi": 1, "kpa": 1, "mpa": 1, "v": 1, "n": 1},
	Lap:      {"": 1, "#": 1},
}

var lengths = map[string]float64{"": 1, "m": 1, "km": 1000, "ft": 0.3048, "feet": 0.3048, "mi": 1609.344, "mile": 1609.344, "miles": 1609.344, "cm": 0.01, "mm": 1e-3}
var short = map[string]float64{"mm": 1, "cm": 10, "m": 1000, "in": 25.4, "inch": 25.4, "inches": 25.4, "\"": 25.4, "mil": 0.0254}

// sizesOf are the units of a channel.
func sizesOf(c Channel) map[string]float64 {
	switch c {
	case Lon:
		c = Lat
	case RearRide:
		c = FrontRide
	case RearTravel:
		c = FrontTravel
	case LatAcc:
		c = LongAcc
	}
	return sizes[c]
}

// isUnit reports whether a text is a unit of anything.
func isUnit(text string) bool {
	text = strings.ToLower(strings.Trim(strings.TrimSpace(text), "[]()"))
	if slices.Contains([]string{"", "-", "none", "rpm", "1/min", "c", "°c", "f", "kg", "hpa", "deg/s", "°/s", "rad/s", "l", "hz", "date", "utc"}, text) {
		return true
	}
	for _, of := range sizes {
		if _, ok := of[text]; ok {
			return true
		}
	}
	return false
}

// parted parts a head's cell into name and unit: "Speed [km/h]", "speed (km/h)". The name is in small letters, its words apart by one blank.
func parted(head string) (name, unit string) {
	head = strings.ToLower(strings.TrimSpace(head))
	for _, b := range []string{"[]", "()"} {
		from := strings.LastIndex(head, b[:1])
		if to := strings.LastIndex(head, b[1:]); from > 0 && to == len(head)-1 && from < to {
			head, unit = head[:from], strings.TrimSpace(head[from+1:to])
			break
		}
	}
	words := strings.FieldsFunc(head, func(r rune) bool { return strings.ContainsRune(" _-.:,\t", r) })
	return strings.Join(words, " "), unit
}

// told tells what a column is of by its name; last is the unit that stands at the end of the name itself, "speed_kmh".
func told(name string) (of Channel, last string, ok bool) {
	if of, ok = usual[name]; ok {
		return of, "", true
	}
	if of, ok = byWords(name); ok {
		at := strings.LastIndexByte(name, ' ')
		if _, is := sizesOf(of)[name[at+1:]]; is {
			return of, name[at+1:], true
		}
		return of, "", true
	}
	if at := strings.LastIndexByte(name, ' '); at > 0 {
		if of, ok = usual[name[:at]]; ok {
			_, ok = sizesOf(of)[name[at+1:]]
			return of, name[at+1:], ok
		}
	}
	return 0, "", false
}

// byWords tells the columns whose names are put together from words in any order: ride heights, damper travels, accelerations.
func byWords(name string) (Channel, bool) {
	words := strings.Fields(name)
	any := func(of ...string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return slices.Contains(of, w) })
	}
	if any("speed", "velocity", "vel", "rate", "angle", "brake", "temp", "temperature", "pressure") {
		return 0, false
	}
	front, rear := any("front", "fl", "fr", "lf", "rf"), any("rear", "rl", "rr", "lr")
	switch {
	case front == rear:
	case any("ride") && front:
		return FrontRide, true
	case any("ride"):
		return RearRide, true
	case any("damper", "dampers", "suspension", "susp", "shock", "travel") && front:
		return FrontTravel, true
	case any("damper", "dampers", "suspension", "susp", "shock", "travel"):
		return RearTravel, true
	}
	if any("acc", "accel", "acceleration", "g", "gforce", "force") {
		switch {
		case any("lateral", "lat"):
			return LatAcc, true
		case any("longitudinal", "long", "inline"):
			return LongAcc, true
		}
	}
	return 0, false
}

// choose tells which columns of a table are used: those that a person named, by key, and else those that their names tell. Left and right
// of one axle are two columns of one channel, whose mean counts. below are the cells of a line of units, nil for none.
func choose(head, below []string, named map[string]string) (use []Column, unused []string, err error) {
	taken := map[Channel]bool{}
	unitOf := func(i int, own string) string {
		if own == "" && i < len(below) {
			own = strings.ToLower(strings.Trim(strings.TrimSpace(below[i]), "[]()"))
		}
		return own
	}
	var missing []string
	for key, names := range named {
		of, ok := channelOf(key)
		if !ok {
			continue
		}
		taken[of] = true
		for name := range strings.SplitSeq(names, "+") {
			i, unit := find(head, name)
			if i < 0 {
				missing = append(missing, key)
				continue
			}
			if _, own := parted(head[i]); unit == "" {
				unit = own
			}
			use = append(use, Column{Of: of, Name: strings.Clone(head[i]), Unit: strings.Clone(unitOf(i, unit)), index: i})
		}
	}
	if len(missing) > 0 {
		slices.Sort(missing)
		return nil, nil, &NeedColumns{Missing: missing, Names: head}
	}
	byName := map[Channel]string{}
	for i, h := range head {
		if slices.ContainsFunc(use, func(c Column) bool { return c.index == i }) {
			continue
		}
		name, unit := parted(h)
		of, last, ok := told(name)
		if ok && taken[of] {
			ok = false
		}
		sided := of >= FrontRide && of <= RearTravel
		if _, met := byName[of]; ok && met && !sided {
			ok = false // the first one counts
		}
		if !ok {
			if h != "" {
				unused = append(unused, strings.Clone(h))
			}
			continue
		}
		byName[of] = name
		if unit == "" {
			unit = last
		}
		use = append(use, Column{Of: of, Name: strings.Clone(h), Unit: strings.Clone(unitOf(i, unit)), index: i})
	}
	return sized(use, unused, head)
}

// find finds a column by the name that a person gave, with or without a unit in brackets; −1 for none.
func find(head []string, name string) (i int, unit string) {
	name = strings.TrimSpace(name)
	i = slices.IndexFunc(head, func(h string) bool { return strings.EqualFold(strings.TrimSpace(h), name) })
	if i >= 0 {
		return i, ""
	}
	want, unit := parted(name)
	return slices.IndexFunc(head, func(h string) bool { n, _ := parted(h); return n == want && n != "" }), unit
}

// sized gives columns the sizes of their units. What has none that is known is left out, unless a speed has to come from it.
func sized(use []Column, unused, head []string) ([]Column, []string, error) {
	has := map[Channel]bool{}
	var out []Column
	var odd []string
	for _, c := range use {
		size, ok := sizesOf(c.Of)[c.Unit]
		if c.Of == timeColumn && !ok {
			size, ok = 1, true // seconds, or times of day
		}
		if !ok {
			odd = append(odd, c.Key())
			unused = append(unused, c.Name)
			continue
		}
		c.size = size
		has[c.Of] = true
		out = append(out, c)
	}
	placed := has[Lat] && has[Lon]
	var missing []string
	if !has[timeColumn] {
		missing = append(missing, TimeKey)
	}
	if !has[Speed] && !placed {
		if slices.Contains(odd, Speed.Key()) {
			return nil, nil, &NeedColumns{Missing: []string{Speed.Key()}, Names: head, Unit: true}
		}
		missing = append(missing, Speed.Key())
	}
	if len(missing) > 0 {
		return nil, nil, &NeedColumns{Missing: missing, Names: head}
	}
	return out, unused, nil
}
