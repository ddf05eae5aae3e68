package logbook

import (
	"math"
	"strings"
)

// NoFeel stands for a feel that was not noted.
const NoFeel = -99

// Feel is how a setting felt. What was not noted is NoFeel.
type Feel struct {
	// Grip of one end, -3 (none) to +3 (more than wanted), 0 for just right: as notes have it
	// that say nothing of entry, middle and exit.
	FrontSlow, RearSlow, FrontFast, RearFast int

	Slow, Fast        Corner
	Braking, Straight int // stability: 0 stable to -3 very unstable
}

// Corner is how corners of one kind felt.
type Corner struct {
	Entry, Middle, Exit int // -3 strong understeer to +3 strong oversteer, 0 neutral
	Grip                int // of both ends together: 0 enough to -3 very short of it
}

// noCorner and noFeel say nothing.
var (
	noCorner = Corner{NoFeel, NoFeel, NoFeel, NoFeel}
	noFeel   = Feel{NoFeel, NoFeel, NoFeel, NoFeel, noCorner, noCorner, NoFeel, NoFeel}
)

// Whole returns a corner that felt alike from entry to exit.
func Whole(balance int) Corner { return Corner{balance, balance, balance, NoFeel} }

// Known reports whether anything was noted.
func (f Feel) Known() bool { return f != noFeel }

// phased reports whether any phase of a corner was noted.
func (c Corner) phased() bool { return c.Entry != NoFeel || c.Middle != NoFeel || c.Exit != NoFeel }

// balance returns the balance of a corner, in the middle where a car is in steady turning, or
// else the mean of entry and exit where these agree in direction; ok is false where there is none.
func (c Corner) balance() (b float64, ok bool) {
	switch {
	case c.Middle != NoFeel:
		return float64(c.Middle), true
	case c.Entry == NoFeel && c.Exit == NoFeel:
		return 0, false
	case c.Exit == NoFeel:
		return float64(c.Entry), true
	case c.Entry == NoFeel:
		return float64(c.Exit), true
	}
	return float64(c.Entry+c.Exit) / 2, c.Entry*c.Exit >= 0
}

// ofEnds is the balance that the grips of two ends make, front less rear, at most 3 either way.
func ofEnds(front, rear int) (b float64, ok bool) {
	if front == NoFeel || rear == NoFeel {
		return 0, false
	}
	return math.Max(-3, math.Min(float64(front-rear), 3)), true
}

// FastBalance returns the balance in fast corners, where a wing works: -3 strong understeer to
// +3 strong oversteer; ok is false where it was not noted.
func (f Feel) FastBalance() (b float64, ok bool) { return balanceOf(f.Fast, f.FrontFast, f.RearFast) }

// SlowBalance is FastBalance of slow corners.
func (f Feel) SlowBalance() (b float64, ok bool) { return balanceOf(f.Slow, f.FrontSlow, f.RearSlow) }

func balanceOf(c Corner, front, rear int) (b float64, ok bool) {
	if c.phased() {
		return c.balance()
	}
	return ofEnds(front, rear)
}

// Balance is FastBalance, or SlowBalance where nothing is noted of fast corners.
func (f Feel) Balance() (b float64, ok bool) {
	if b, ok = f.FastBalance(); ok {
		return b, ok
	}
	return f.SlowBalance()
}

// FastShort reports whether both ends are short of grip in fast corners.
func (f Feel) FastShort() bool { return short(f.Fast.Grip, f.FrontFast, f.RearFast) }

// SlowShort is FastShort of slow corners.
func (f Feel) SlowShort() bool { return short(f.Slow.Grip, f.FrontSlow, f.RearSlow) }

func short(grip, front, rear int) bool {
	if grip != NoFeel {
		return grip < 0
	}
	return front != NoFeel && rear != NoFeel && front < 0 && rear < 0
}

// OneEnd reports whether a grip was noted of one end only, of corners that nothing else says
// the balance of.
func (f Feel) OneEnd() bool {
	half := func(c Corner, front, rear int) bool {
		return !c.phased() && (front == NoFeel) != (rear == NoFeel)
	}
	return half(f.Fast, f.FrontFast, f.RearFast) || half(f.Slow, f.FrontSlow, f.RearSlow)
}

// Unstable reports whether the car was unstable under braking or on the straight.
func (f Feel) Unstable() bool {
	return f.Braking != NoFeel && f.Braking < 0 || f.Straight != NoFeel && f.Straight < 0
}

// The words of the scales.
var (
	balanceWords = map[int]string{-3: "strong understeer", -2: "clear understeer", -1: "slight understeer", 0: "neutral",
		1: "slight oversteer", 2: "clear oversteer", 3: "strong oversteer"}
	gripWords      = map[int]string{0: "enough grip", -1: "slightly short of grip", -2: "short of grip", -3: "very short of grip"}
	stabilityWords = map[int]string{0: "stable", -1: "slightly unstable", -2: "unstable", -3: "very unstable"}
)

// in says in a few words how corners of a kind felt; "" where nothing is noted.
func (c Corner) in(kind string) string {
	text := ""
	switch {
	case c.phased() && c.Entry == c.Middle && c.Middle == c.Exit:
		text = balanceWords[c.Middle] + " in " + kind + " corners"
	case c.phased():
		var parts []string
		for _, p := range []struct {
			balance int
			where   string
		}{{c.Entry, "at entry"}, {c.Middle, "in the middle"}, {c.Exit, "at exit"}} {
			if p.balance != NoFeel {
				parts = append(parts, balanceWords[p.balance]+" "+p.where)
			}
		}
		text = kind + " corners: " + strings.Join(parts, ", ")
	}
	if c.Grip == NoFeel {
		return text
	}
	if text == "" {
		return gripWords[c.Grip] + " in " + kind + " corners"
	}
	return text + ", " + gripWords[c.Grip]
}

// String spells a feel in a few words, grips of the ends as front/rear.
func (f Feel) String() string {
	var parts []string
	for _, c := range []struct {
		kind        string
		corner      Corner
		front, rear int
	}{{"fast", f.Fast, f.FrontFast, f.RearFast}, {"slow", f.Slow, f.FrontSlow, f.RearSlow}} {
		if text := c.corner.in(c.kind); text != "" {
			parts = append(parts, text)
		}
		if text := endsIn(c.kind, c.front, c.rear); text != "" {
			parts = append(parts, text)
		}
	}
	if f.Braking != NoFeel {
		parts = append(parts, stabilityWords[f.Braking]+" under braking")
	}
	if f.Straight != NoFeel {
		parts = append(parts, stabilityWords[f.Straight]+" on the straight")
	}
	if len(parts) == 0 {
		return "feel not noted"
	}
	return strings.Join(parts, "; ")
}

// endsIn spells the grips of the two ends; "" where none is noted.
func endsIn(kind string, front, rear int) string {
	switch {
	case front == NoFeel && rear == NoFeel:
		return ""
	case front == NoFeel || rear == NoFeel:
		return kind + " corners: grip " + SpellGrip(front) + "/" + SpellGrip(rear)
	}
	return steer(front-rear) + " in " + kind + " corners (grip " + SpellGrip(front) + "/" + SpellGrip(rear) + ")"
}

// steer names a balance of grip, front less rear.
func steer(balance int) string {
	switch {
	case balance > 0:
		return "oversteer"
	case balance < 0:
		return "understeer"
	}
	return "neutral"
}
