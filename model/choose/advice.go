package choose

import (
	"errors"
	"math"

	"stanchion/model"
	"stanchion/model/logbook"
)

// Finding is what notes say of the next setting to try.
type Finding int

// The findings.
const (
	TryNext             Finding = iota // To is the step to try
	SettingGone                        // the setting that was noted is no longer in the car file
	NotedWithoutFigures                // the setting that was noted has no figures
	OneEndOnly                         // the note says how one end felt and not the other
	FeltNeutral                        // there is nothing for the wing to change
	SlowOnly                           // nothing says how fast corners were, where a wing works
	PhaseOnly                          // only the entry or only the exit of fast corners is off
	AlikeInSlow                        // slow corners are off as much: it is not the wing
	ShortAtBothEnds                    // both ends want grip, so that no downforce is taken off
	UnstableFirst                      // the car is unstable, so that no wing is taken off
	NotesContradict                    // notes on the setting say the opposite of each other
	NotAboutCorners                    // only braking, the straight or the grip were noted
	NoneBetween                        // no setting lies between two that were too much either way
	NoneFarEnough                      // no setting that keeps all limits changes enough
	PhaseAgainst                       // the middle of fast corners understeers and entry or exit oversteers
	NotedStalled                       // the setting that was noted is stalled
	StepTooLarge                       // every clear step is more than MostOfWing of the downforce
	SettingMoved                       // the setting that was noted was elsewhere then
	TriedThatWay                       // settings that far were tried and felt no better, and there is none beyond
)

// Symptom is what was felt that is not the wing's, and points to something else first.
type Symptom int

// The symptoms.
const (
	AlikeInAllCorners Symptom = iota // off alike in slow and fast corners
	InSlowCorners
	AtEntry
	AtExit
	UnderBraking
	OnTheStraight
	ShortInFast // both ends short of grip in fast corners
	ShortInAll  // in slow ones too
)

// Pointer is a symptom, and of a balance its direction.
type Pointer struct {
	Symptom   Symptom
	Oversteer bool
	Slow      bool // of AtEntry and AtExit: in slow corners; else in fast ones
}

// Wish is what a person asks of the step.
type Wish struct {
	Height bool // rather by height than by angle
}

// Advice is which setting to try next, after what was noted, and all that it rests on.
type Advice struct {
	Finding Finding
	Note    string     // id of the note that it rests on
	Setting string     // id of the setting that was noted
	Middle  bool       // of PhaseOnly: the middle of fast corners was noted, as neutral
	OnCar   string     // id of the setting that is on the car by a later note; "" where it is the same
	From    *model.Row // the setting noted, with its own bolts; nil when it is gone
	To      *model.Row // in the way that takes the least work; nil when no step is proposed

	Evidence
	Pointers []Pointer
	NextStep
}

// Proposes reports whether there is another setting to try.
func (a Advice) Proposes() bool { return a.Finding == TryNext }

// IsOnCar reports whether the setting to try is on the car already, by a later note.
func (a Advice) IsOnCar() bool { return a.Proposes() && a.onCarAt == a.at+1 }

// ErrNoFeel is that of notes of which none says how a setting felt.
var ErrNoFeel = errors.New("no note says how a setting felt")

// Next works out the next setting to try from the last note that says how a setting felt, and from
// those that are comparable with it. Oversteer in fast corners asks for a smaller front share, that is
// for more wing. The step is clear, keeps all limits, neither lifts nor stalls, and lies short of
// what a comparable note found too much; see NextStep for its size and for the choice among equals.
// Common practice, no source: a wing is judged in fast corners, in steady turning.
func Next(t *model.Table, notes []logbook.Note, w Wish) (Advice, error) {
	last := -1
	for i, n := range notes {
		if n.Feel.Known() {
			last = i
		}
	}
	if last < 0 {
		return Advice{}, ErrNoFeel
	}
	n := notes[last]
	a := Advice{Note: n.ID, Setting: n.Setting, Evidence: Evidence{Felt: math.NaN(), Slow: math.NaN(), WingsPart: math.NaN()}}
	if on := notes[len(notes)-1].Setting; on != "" && on != n.Setting {
		a.OnCar = on
	}
	at, ok := t.Index(n.Setting)
	if !ok {
		a.Finding = SettingGone
		return a, nil
	}
	a.From, _ = t.Find(n.Setting)
	if a.moved(&n, t) {
		a.Finding = SettingMoved
		return a, nil
	}
	a.Evidence = evidence(t, notes[:last+1], at)
	a.Pointers = pointers(n.Feel, a.Evidence)
	a.unstableNote = n.ID
	a.Middle = n.Feel.Fast.Middle != logbook.NoFeel
	if a.Finding = a.judge(n.Feel); a.Finding != TryNext {
		switch a.Finding {
		case FeltNeutral:
			a.To = a.From
		case NotedStalled:
			a.unstall(t)
		}
		return a, nil
	}
	a.last = n.Feel
	a.step(t, w)
	return a, nil
}

// worse is by how many steps of the scale fast corners must be worse than slow ones for the wing to
// be the cause.
const worse = 1.0

// judge says whether what was felt asks for another setting: TryNext, or why it does not.
func (a *Advice) judge(f logbook.Feel) Finding {
	none := math.IsNaN(a.Felt)
	switch {
	case f.FastShort() && (none || a.Felt <= 0):
		return ShortAtBothEnds
	case none && f.OneEnd():
		return OneEndOnly
	case none && !math.IsNaN(a.Slow):
		return SlowOnly
	case none && f.Fast != logbook.Blank().Feel.Fast:
		return PhaseOnly
	case none:
		return NotAboutCorners
	case a.torn:
		return NotesContradict
	case a.phaseOnly(f):
		return PhaseOnly
	case a.Felt == 0:
		return FeltNeutral
	case a.WingsPart < worse && a.Slow*a.Felt > 0:
		return AlikeInSlow
	case a.Felt < 0 && a.unstableHere():
		return UnstableFirst
	case a.Felt < 0 && (a.overAtEntry || a.overAtExit):
		return PhaseAgainst
	case a.From.Stalled:
		return NotedStalled
	case math.IsNaN(a.From.Share):
		return NotedWithoutFigures
	}
	return TryNext
}

// phaseOnly reports whether the middle of fast corners is right, or not noted, and entry or exit is off.
func (a *Advice) phaseOnly(f logbook.Feel) bool {
	c := f.Fast
	off := func(b int) bool { return b != logbook.NoFeel && b != 0 }
	if c.Middle == logbook.NoFeel {
		return off(c.Entry) != off(c.Exit)
	}
	return c.Middle == 0 && a.Felt == 0 && (off(c.Entry) || off(c.Exit))
}

// pointers lists what was felt that is not the wing's.
func pointers(f logbook.Feel, e Evidence) (all []Pointer) {
	add := func(is bool, s Symptom, balance float64) {
		if is {
			all = append(all, Pointer{Symptom: s, Oversteer: balance > 0})
		}
	}
	alike := e.Slow*e.Felt > 0 && e.WingsPart < worse
	add(alike, AlikeInAllCorners, e.Felt)
	add(!alike && !math.IsNaN(e.Slow) && e.Slow != 0, InSlowCorners, e.Slow)
	off := func(b int) bool { return b != logbook.NoFeel && b != 0 }
	c := f.Fast
	against := func(phase int) bool { return off(phase) && off(c.Middle) && phase*c.Middle < 0 }
	differ := (c.Middle == 0 || c.Middle == logbook.NoFeel) && c.Entry != c.Exit
	overEarlier := func(over bool, phase int) bool { return e.Felt < 0 && over && !against(phase) }
	add(off(c.Entry) && differ || against(c.Entry), AtEntry, float64(c.Entry))
	add(overEarlier(e.overAtEntry, c.Entry), AtEntry, 1)
	add(off(c.Exit) && differ || against(c.Exit), AtExit, float64(c.Exit))
	add(overEarlier(e.overAtExit, c.Exit), AtExit, 1)
	all = append(all, atEnds(f.Slow)...)
	add(f.Braking != logbook.NoFeel && f.Braking < 0, UnderBraking, 0)
	add(f.Straight != logbook.NoFeel && f.Straight < 0, OnTheStraight, 0)
	add(f.FastShort() && !f.SlowShort(), ShortInFast, 0)
	add(f.FastShort() && f.SlowShort(), ShortInAll, 0)
	return all
}

// atEnds lists what entry and exit of slow corners point to, where the middle is right or not noted.
func atEnds(c logbook.Corner) (all []Pointer) {
	off := func(b int) bool { return b != logbook.NoFeel && b != 0 }
	if off(c.Middle) || c.Entry == c.Exit {
		return nil
	}
	if off(c.Entry) {
		all = append(all, Pointer{AtEntry, c.Entry > 0, true})
	}
	if off(c.Exit) {
		all = append(all, Pointer{AtExit, c.Exit > 0, true})
	}
	return all
}
