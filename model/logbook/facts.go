package logbook

import (
	"fmt"
	"math"
	"strings"

	"stanchion/model/units"
)

// Fact is one thing that a note says, in words and units.
type Fact struct{ What, Text string }

// Facts lists what a note says, in the order in which a person reads it, without what
// was not noted; nothing in it can act on a terminal. Lines of the text are parted by " / ".
func (n Note) Facts(u units.System) []Fact {
	var all []Fact
	add := func(what, format string, args ...any) {
		all = append(all, Fact{what, units.PrintableLines(fmt.Sprintf(format, args...), " / ")})
	}
	text := func(what, value string) {
		if value != "" {
			add(what, "%s", value)
		}
	}
	number := func(what string, x float64, spell func(float64) string) {
		if !math.IsNaN(x) {
			add(what, "%s", spell(x))
		}
	}
	fixed := func(digits int, unit string) func(float64) string {
		return func(x float64) string { return units.Fixed(x, digits) + unit }
	}
	text("setting", n.Setting)
	if n.Fitted {
		add("bolted on", "not run yet")
	}
	text("corrects note", n.Replaces)
	text("at", n.At.Format("2006-01-02 15:04"))
	text("place", n.Venue)
	number("air temperature", n.Air.Temperature, u.Temperature)
	number("air pressure", n.Air.Pressure, fixed(0, " hPa"))
	number("humidity", n.Air.Humidity, fixed(0, " %"))
	if p := n.Tyres; !math.IsNaN(p[0] + p[1] + p[2] + p[3]) {
		add("tyres", "front %s %s, rear %s %s %s (left, right)", u.Pressure(p[0]), u.Pressure(p[1]), u.Pressure(p[2]), u.Pressure(p[3]),
			u.PressureUnit())
	}
	text("tyre set", n.TyreSet)
	number("fuel", n.Fuel, u.Mass)
	text("driver", n.Driver)
	text("track", n.Track)
	number("lap", n.Lap, SpellLap)
	number("top speed", n.TopSpeed, u.Speed)
	if !math.IsNaN(n.Sink.Speed) {
		number("front axle sank by", n.Sink.Front, func(x float64) string { return SpellSink(x, u) + " at " + u.Speed(n.Sink.Speed) })
		number("rear axle sank by", n.Sink.Rear, func(x float64) string { return SpellSink(x, u) + " at " + u.Speed(n.Sink.Speed) })
	}
	number("standard uncertainty of that", n.SinkStdUnc, func(x float64) string { return SpellSink(x, u) })
	number("standard uncertainty of top speed", n.TopSpeedStdUnc, func(x float64) string { return units.Fixed(u.SpeedFigure(x), 1) + " " + u.SpeedUnit() })
	if c := n.Coast; !math.IsNaN(c.DragArea) {
		pm := ""
		if !math.IsNaN(c.StdUnc) {
			pm = " ± " + units.Fixed(c.StdUnc, 3)
		}
		add("drag area by coasting down", "%s%s m²", units.Fixed(c.DragArea, 3), pm)
	}
	for _, l := range Lines() {
		text(l.Name, l.Spell(n, u))
	}
	for _, g := range []struct {
		what string
		grip int
	}{
		{"front grip, slow", n.Feel.FrontSlow}, {"rear grip, slow", n.Feel.RearSlow},
		{"front grip, fast", n.Feel.FrontFast}, {"rear grip, fast", n.Feel.RearFast},
	} {
		if g.grip != NoFeel {
			add(g.what, "%s", SpellGrip(g.grip))
		}
	}
	for _, g := range []struct {
		what  string
		value int
		words map[int]string
	}{
		{"fast corners, entry", n.Feel.Fast.Entry, balanceWords}, {"fast corners, middle", n.Feel.Fast.Middle, balanceWords},
		{"fast corners, exit", n.Feel.Fast.Exit, balanceWords}, {"fast corners, grip", n.Feel.Fast.Grip, gripWords},
		{"slow corners, entry", n.Feel.Slow.Entry, balanceWords}, {"slow corners, middle", n.Feel.Slow.Middle, balanceWords},
		{"slow corners, exit", n.Feel.Slow.Exit, balanceWords}, {"slow corners, grip", n.Feel.Slow.Grip, gripWords},
		{"under braking", n.Feel.Braking, stabilityWords}, {"on the straight", n.Feel.Straight, stabilityWords},
	} {
		if g.value != NoFeel {
			add(g.what, "%s", g.words[g.value])
		}
	}
	n.Inspected.facts(add)
	text("text", strings.TrimSpace(n.Text))
	number("predicted for", n.Speed, u.Speed)
	x := n.Expected
	band := func(b float64) string {
		if math.IsNaN(b) {
			return ""
		}
		return " ± " + u.ForceFigure(b)
	}
	number("predicted height", x.Height, u.Length)
	number("predicted angle", x.Angle, fixed(1, "°"))
	number("predicted CL", x.CL, fixed(2, ""))
	number("predicted downforce", x.Downforce,
		func(f float64) string { return u.ForceFigure(f) + band(x.DownforceStdUnc) + " " + u.ForceUnit() })
	number("predicted drag", x.Drag, func(f float64) string { return u.ForceFigure(f) + band(x.DragStdUnc) + " " + u.ForceUnit() })
	number("predicted front share", x.Share, fixed(1, " %"))
	number("predicted share shift", x.Shift, func(p float64) string { return units.Signed(p, 1) + " pp" })
	return all
}

// Change is what two notes say of one thing; NotGiven where one says nothing.
type Change struct{ What, From, To string }

// Changes lists what one note says otherwise than another, in units.
func Changes(from, to Note, u units.System) []Change {
	var all []Change
	at := map[string]int{}
	for _, f := range from.Facts(u) {
		at[f.What] = len(all)
		all = append(all, Change{f.What, f.Text, units.NotGiven})
	}
	for _, f := range to.Facts(u) {
		if i, ok := at[f.What]; ok {
			all[i].To = f.Text
		} else {
			all = append(all, Change{f.What, units.NotGiven, f.Text})
		}
	}
	var changed []Change
	for _, c := range all {
		if c.From != c.To && c.What != "corrects note" {
			changed = append(changed, c)
		}
	}
	return changed
}
