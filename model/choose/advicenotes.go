package choose

import (
	"math"
	"strings"

	"stanchion/model"
	"stanchion/model/logbook"
)

// Unlike is why a note bounds nothing.
type Unlike int

// The reasons.
const (
	Alike Unlike = iota
	OtherTyres
	OtherPressures
	OtherTrack // wet and dry
	OtherPlace
	OtherFuel
	OtherAdjustments // splitter, bars, dampers, Gurney flap
	OtherDriver
	NoSuchSetting // the car file no longer has its setting
	Elsewhere     // its setting was elsewhere when it was written
	Contradictory // others on its setting say the opposite
	AgainstWing   // it and the last note go against what any wing does
)

// How far pressures and fuel may be apart in notes that are held against each other: a tenth of a bar
// and a few laps of fuel are within what is put up with between sessions. Common practice, no source.
const (
	pressureApart = 0.15 // bar
	fuelApart     = 15.0 // kg
)

// LeftOut is a note that bounds nothing, and why.
type LeftOut struct {
	Note string
	Why  Unlike
}

// Evidence is what comparable notes say of balance. Balances are in steps of the scale, -3 strong
// understeer to +3 strong oversteer; NaN where nothing was noted.
type Evidence struct {
	Felt, Slow  float64    // in fast and slow corners of the setting noted: the mean of its notes
	WingsPart   float64    // by how much fast corners are worse than slow ones: what a wing is to change
	On          []string   // ids of the notes that Felt is the mean of
	Contradicts [2]string  // ids of two notes on the setting that say the opposite; "" for none
	LeftOut     []LeftOut  // notes that bound nothing, in their order
	Unstable    []Unstable // comparable notes that say that the car was unstable, in their order
	Moved       []Moved    // notes whose setting was elsewhere when they were written, all of them left out
	others      []other
	torn        bool // the notes on the setting contradict, and nothing can be told
	// oversteer at entry or exit of fast corners whose middle understeers, in notes on the setting
	overAtEntry, overAtExit bool
}

// other is what the comparable notes on another setting say.
type other struct {
	row  *model.Row
	felt float64
	note string   // the last of them
	ids  []string // all of them
}

// unlike says why two notes cannot be held against each other. What one of them does not say is taken
// as alike; a track that nothing is said of as dry.
func unlike(a, b *logbook.Note) Unlike {
	differ := func(x, y string) bool {
		x, y = strings.TrimSpace(x), strings.TrimSpace(y)
		return x != "" && y != "" && !strings.EqualFold(x, y)
	}
	dry := func(n *logbook.Note) bool { return n.Track == "" || n.Track == logbook.TrackDry }
	pressures := false
	for i := range a.Tyres {
		pressures = pressures || math.Abs(a.Tyres[i]-b.Tyres[i]) > pressureApart+rounding
	}
	switch {
	case differ(a.TyreSet, b.TyreSet):
		return OtherTyres
	case dry(a) != dry(b) || !dry(a) && a.Track != b.Track:
		return OtherTrack
	case differ(a.Venue, b.Venue):
		return OtherPlace
	case differ(a.Driver, b.Driver):
		return OtherDriver
	case pressures:
		return OtherPressures
	case math.Abs(a.Fuel-b.Fuel) > fuelApart+rounding:
		return OtherFuel
	case adjusted(a, b):
		return OtherAdjustments
	}
	return Alike
}

// adjusted reports whether something else on the car that both notes name was set differently.
func adjusted(a, b *logbook.Note) bool {
	for _, x := range a.Adjustments {
		// "20mm" is "20 mm": people type it either way.
		packed := func(v string) string { return strings.Join(strings.Fields(v), "") }
		if v := b.Adjusted(x.Name); v != "" && !strings.EqualFold(packed(v), packed(x.Value)) {
			return true
		}
	}
	return false
}

// said is what the notes on one place say.
type said struct {
	felt, slow []float64
	ids        []string // of those that say felt
	over       int      // how many say oversteer
	under      int
	opposite   [2]string // two that say the opposite, the later second
}

func (s *said) hear(n *logbook.Note, felt float64, ok bool) {
	if slow, known := n.Feel.SlowBalance(); known {
		s.slow = append(s.slow, slow)
	}
	if !ok {
		return
	}
	for i, f := range s.felt {
		if f*felt < 0 {
			s.opposite = [2]string{s.ids[i], n.ID}
		}
	}
	switch {
	case felt > 0:
		s.over++
	case felt < 0:
		s.under++
	}
	s.felt, s.ids = append(s.felt, felt), append(s.ids, n.ID)
}

// balance is the mean of what was felt; ok is false where notes contradict and not twice as many say
// the one as the other.
func (s *said) balance() (mean float64, ok bool) {
	few, many := min(s.over, s.under), max(s.over, s.under)
	if mean = meanOf(s.felt); few == 0 {
		return mean, true
	}
	return mean, many >= 2*few && (s.over > s.under) == (mean > 0) && mean != 0
}

func meanOf(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x)) // NaN for none
}

// evidence gathers what notes say that are comparable with the last one, which is about row at.
func evidence(t *model.Table, notes []logbook.Note, at int) Evidence {
	var e Evidence
	last := &notes[len(notes)-1]
	places := map[int]*said{at: {}}
	var order []int
	for i := range notes {
		n := &notes[i]
		felt, ok := n.Feel.FastBalance()
		if _, slow := n.Feel.SlowBalance(); !ok && !slow && !n.Feel.Unstable() {
			continue
		}
		k, there := t.Index(n.Setting)
		why := unlike(n, last)
		switch {
		case !there:
			why = NoSuchSetting
		case e.moved(n, t):
			why = Elsewhere
		}
		if why != Alike {
			if ok || n.Feel.Unstable() {
				e.LeftOut = append(e.LeftOut, LeftOut{n.ID, why})
			}
			continue
		}
		if places[k] == nil {
			places[k] = new(said)
			order = append(order, k)
		}
		places[k].hear(n, felt, ok)
		row, _ := t.Find(n.Setting)
		e.unsteady(n, row, k == at)
		if k == at && felt < 0 {
			over := func(b int) bool { return b != logbook.NoFeel && b > 0 }
			e.overAtEntry, e.overAtExit = e.overAtEntry || over(n.Feel.Fast.Entry), e.overAtExit || over(n.Feel.Fast.Exit)
		}
	}
	for _, k := range order {
		s := places[k]
		if k == at || len(s.felt) == 0 {
			continue
		}
		felt, ok := s.balance()
		if !ok {
			for _, id := range s.ids {
				e.LeftOut = append(e.LeftOut, LeftOut{id, Contradictory})
			}
			continue
		}
		row, _ := t.Find(settingOf(notes, s.ids[len(s.ids)-1]))
		e.others = append(e.others, other{row, felt, s.ids[len(s.ids)-1], s.ids})
	}
	e.own(places[at], last)
	return e
}

// own takes what is said of the setting noted last. It takes the last note to say fast corners were
// felt: earlier notes alone do not ask for a step.
func (e *Evidence) own(s *said, last *logbook.Note) {
	e.Felt, e.Slow, e.On, e.Contradicts = math.NaN(), meanOf(s.slow), s.ids, s.opposite
	if f, ok := last.Feel.FastBalance(); ok {
		mean, agreed := s.balance()
		switch {
		case f == 0: // right now it is right
			e.Felt = 0
		case !agreed || mean*f < 0:
			e.Felt, e.torn = 0, true
		default:
			e.Felt = mean
		}
	}
	e.WingsPart = math.Abs(e.Felt)
	if e.Slow*e.Felt > 0 {
		e.WingsPart = math.Abs(e.Felt) - math.Abs(e.Slow)
	}
}

// settingOf returns the setting of the note with an id.
func settingOf(notes []logbook.Note, id string) string {
	for i := len(notes) - 1; i >= 0; i-- {
		if notes[i].ID == id {
			return notes[i].Setting
		}
	}
	return ""
}
