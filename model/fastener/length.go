package fastener

// protruding is how many threads stand out of a nut, so that its last thread bears too.
// Common practice, no source.
const protruding = 2

// metricLengths are the preferred lengths of bolts, mm. Source: ISO 4014:2011 and ISO
// 4017:2011, table 1; recalled and not read again. Not every size is stocked in all.
var metricLengths = []float64{6, 8, 10, 12, 16, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70,
	80, 90, 100, 110, 120, 130, 140, 150, 160, 180, 200}

// inchLengths are lengths of inch bolts in usual stock, in inches: by eighths to 1 in, by
// quarters to 4 in, by halves to 6 in. Common practice, no source.
var inchLengths = []float64{0.375, 0.5, 0.625, 0.75, 0.875, 1, 1.25, 1.5, 1.75, 2, 2.25, 2.5, 2.75, 3, 3.25, 3.5, 3.75, 4,
	4.5, 5, 5.5, 6}

// Stack is what a bolt holds together.
type Stack struct {
	Parts   []float64 // thicknesses, mm
	Washers int       // under head and nut together
}

// Thickness returns the thickness of the parts alone, mm.
func (s Stack) Thickness() float64 {
	sum := 0.0
	for _, t := range s.Parts {
		sum += t
	}
	return sum
}

// Length returns the length of bolt to take for the stack, as the function Length does.
func (s Stack) Length(size Size) (float64, bool) { return Length(size, s.Thickness(), s.Washers) }

// Length returns the length of bolt to take, mm under its head: parts of thickness grip,
// washers and nut, with two threads standing out, rounded up to the next length in stock.
// ok is false when size is not known here, grip or washers are less than 0, or the list
// of lengths, which goes to 200 mm or 6 in, has none that is long enough.
func Length(size Size, grip float64, washers int) (length float64, ok bool) {
	if size.NutHeight() == 0 || grip < 0 || washers < 0 {
		return 0, false
	}
	const exact = 1e-6 // mm, so that rounding does not ask for the next length
	need := grip + float64(washers)*size.WasherThickness() + size.NutHeight() + protruding*size.Pitch - exact
	lengths, unit := metricLengths, 1.0
	if size.inch {
		lengths, unit = inchLengths, inch
	}
	for _, l := range lengths {
		if l*unit >= need {
			return l * unit, true
		}
	}
	return 0, false
}

// LongestWithin returns the longest bolt in stock that is no longer than so many mm; ok is false when size is
// not known here or the shortest is longer.
func LongestWithin(size Size, mm float64) (length float64, ok bool) {
	if size.NutHeight() == 0 {
		return 0, false
	}
	lengths, unit := metricLengths, 1.0
	if size.inch {
		lengths, unit = inchLengths, inch
	}
	for _, l := range lengths {
		if l*unit <= mm+1e-6 {
			length, ok = l*unit, true
		}
	}
	return length, ok
}

// runOut is how many threads long the end of the thread at the shank may be. Source: ISO
// 4014:2011, difference of lg and ls; ASME B18.2.1, transition length Y. Recalled and not
// read again for the former.
const runOut = 5

// ThreadLength returns how much of a bolt of a length in mm is threaded, mm from its end.
// Metric: 2 d + 6 mm to 125 mm long, 2 d + 12 mm to 200 mm, 2 d + 25 mm beyond. Inch: 2 d
// + 1/4 in to 6 in long, 2 d + 1/2 in beyond; #10 has 1 1/2 in. A bolt that is too short for a
// shank is threaded all along, and so is one of ISO 4017 of any length.
// Sources: ISO 888:2012 and ISO 4014:2011, ASME B18.2.1; #10 ASME B18.6.3, recalled and
// not read again.
func ThreadLength(size Size, length float64) float64 {
	if length < hardwareOf(size).shank {
		return length
	}
	thread := 2*size.D + 25
	switch {
	case size.inch:
		thread = size.inchThread(length)
	case length <= 125:
		thread = 2*size.D + 6
	case length <= 200:
		thread = 2*size.D + 12
	}
	return min(thread, length)
}

// Machine screws of #10 are threaded all along to 2 in, and longer ones for 1 1/2 in.
// Source: ASME B18.6.3, recalled and not read again.
const (
	screwSize    = 0.190 * inch
	screwThread  = 1.5 * inch
	longestScrew = 2 * inch
)

// inchThread returns the thread length of an inch bolt with a shank, mm.
func (s Size) inchThread(length float64) float64 {
	switch {
	case s.D <= screwSize:
		return screwThread
	case length <= 6*inch:
		return 2*s.D + 0.25*inch
	}
	return 2*s.D + 0.5*inch
}

// shortestShank returns the length from which an inch bolt has a shank, mm: the thread
// with its run-out must leave some. Source: as ThreadLength.
func (s Size) shortestShank() float64 {
	if s.D <= screwSize {
		return longestScrew + 0.01
	}
	return s.inchThread(0) + runOut*s.Pitch
}

// ThreadInShear reports whether the plane between two parts, headSide mm from under the
// head with any washer counted, falls in the thread of a bolt of a length in mm, its
// run-out included. It is so for any fully threaded screw.
func ThreadInShear(size Size, length, headSide float64) bool {
	return headSide > length-ThreadLength(size, length)-runOut*size.Pitch
}
