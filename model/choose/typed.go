package choose

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"stanchion/model"
	"stanchion/model/given"
	"stanchion/model/units"
)

// Asked is one thing that may be asked of a setting, as people type it.
type Asked struct {
	Flag string // of the command, without dashes
	Help string
	Name string // in a form
	Hint func(units.System) string
	Bare func(units.System) string // the unit of a bare number; "" where there is none
	Yes  bool                      // it is asked for or not, without a value
	Many bool                      // it may be asked for several times
	Read func(c *Criteria, text string, u units.System) error
}

// The tolerances of a wanted front share and share shift where none is given, as fractions.
const (
	ShareTolerance = 0.005
	ShiftTolerance = 0.003
)

// AskedList lists all that may be asked of a setting.
func AskedList() []Asked {
	fixed := func(text string) func(units.System) string { return func(units.System) string { return text } }
	percent, degrees, none := fixed("%"), fixed("deg"), fixed("")
	force := func(n float64) func(units.System) string {
		return func(u units.System) string { return u.ForceFigure(n) + " " + u.ForceUnit() }
	}
	length := func(mm float64) func(units.System) string {
		return func(u units.System) string { return u.Length(mm) }
	}
	inForce, inLength := units.System.ForceUnit, units.System.LengthUnit
	quantity := func(of units.Unit, bare func(units.System) string, to func(*Criteria) *given.Number) func(*Criteria, string, units.System) error {
		return func(c *Criteria, text string, u units.System) error {
			x, err := of.Parse(text, bare(u))
			*to(c) = given.Is(x)
			return err
		}
	}
	target := func(to func(*Criteria) *Target, otherwise float64) func(*Criteria, string, units.System) error {
		return func(c *Criteria, text string, _ units.System) (err error) {
			*to(c), err = ReadTarget(text, otherwise)
			return err
		}
	}
	yes := func(to func(*Criteria) *bool) func(*Criteria, string, units.System) error {
		return func(c *Criteria, text string, _ units.System) error {
			switch strings.ToLower(text) {
			case "yes", "y", "true":
				*to(c) = true
			case "no", "n", "false":
				*to(c) = false
			default:
				return fmt.Errorf("%q; type yes, or leave it open", text)
			}
			return nil
		}
	}
	return []Asked{
		{Flag: "front-share", Help: "front `SHARE` of the load at speed, in %, such as 49±0.5", Name: "front share", Hint: fixed("49.5±0.5%"), Bare: percent,
			Read: func(c *Criteria, text string, _ units.System) (err error) {
				c.FrontShare, err = readShare(text)
				return err
			}},
		{Flag: "downforce-min", Help: "minimum downforce of the wing, `FORCE`", Name: "downforce, at least", Hint: force(400), Bare: inForce,
			Read: quantity(units.Forces, inForce, func(c *Criteria) *given.Number { return &c.MinDownforce })},
		{Flag: "downforce-max", Help: "maximum downforce of the wing, `FORCE`", Name: "downforce, at most", Hint: force(600), Bare: inForce,
			Read: quantity(units.Forces, inForce, func(c *Criteria) *given.Number { return &c.MaxDownforce })},
		{Flag: "on-car-min", Help: "minimum downforce on the car, less the lift on the body, `FORCE`", Name: "on the car, at least", Hint: force(300), Bare: inForce,
			Read: quantity(units.Forces, inForce, func(c *Criteria) *given.Number { return &c.MinOnCar })},
		{Flag: "on-car-max", Help: "maximum downforce on the car, less the lift on the body, `FORCE`", Name: "on the car, at most", Hint: force(450), Bare: inForce,
			Read: quantity(units.Forces, inForce, func(c *Criteria) *given.Number { return &c.MaxOnCar })},
		{Flag: "drag-max", Help: "maximum drag, `FORCE`", Name: "drag, at most", Hint: force(60), Bare: inForce,
			Read: quantity(units.Forces, inForce, func(c *Criteria) *given.Number { return &c.MaxDrag })},
		{Flag: "stall-margin", Help: "minimum margin to the stall, `ANGLE`", Name: "stall margin, at least", Hint: fixed("3deg"), Bare: degrees,
			Read: quantity(units.Angles, degrees, func(c *Criteria) *given.Number { return &c.MinStallMargin })},
		{Flag: "angle-min", Help: "minimum `ANGLE` to the ground", Name: "angle, at least", Hint: fixed("4deg"), Bare: degrees,
			Read: quantity(units.Angles, degrees, func(c *Criteria) *given.Number { return &c.MinAngle })},
		{Flag: "angle-max", Help: "maximum `ANGLE` to the ground", Name: "angle, at most", Hint: fixed("10deg"), Bare: degrees,
			Read: quantity(units.Angles, degrees, func(c *Criteria) *given.Number { return &c.MaxAngle })},
		{Flag: "height-min", Help: "minimum `HEIGHT`", Name: "height, at least", Hint: length(1250), Bare: inLength,
			Read: quantity(units.Lengths, inLength, func(c *Criteria) *given.Number { return &c.MinHeight })},
		{Flag: "height-max", Help: "maximum `HEIGHT`", Name: "height, at most", Hint: length(1350), Bare: inLength,
			Read: quantity(units.Lengths, inLength, func(c *Criteria) *given.Number { return &c.MaxHeight })},
		{Flag: "keep-height", Help: "the height of the setting on the car, as far as a tape tells", Name: "keep the height", Hint: fixed("yes"), Bare: none, Yes: true,
			Read: yes(func(c *Criteria) *bool { return &c.KeepHeight })},
		{Flag: "keep-foot", Help: "change nothing below the wing's joint", Name: "keep the foot", Hint: fixed("yes"), Bare: none, Yes: true,
			Read: yes(func(c *Criteria) *bool { return &c.FootStays })},
		{Flag: "moves-max", Help: "the most bolts a side to move, `N`", Name: "bolts to move, at most", Hint: fixed("2"), Bare: none,
			Read: func(c *Criteria, text string, _ units.System) error {
				n, err := strconv.Atoi(text)
				if err != nil || n < 0 || n > 1000 {
					return fmt.Errorf("%q is not a number of bolts; type for example 2", text)
				}
				c.MaxMoves = given.Is(float64(n))
				return nil
			}},
		{Flag: "shift", Help: "balance `SHIFT` in percentage points, such as -2.5±0.3", Name: "share shift", Hint: fixed("-2.5±0.3pp"), Bare: fixed("pp"),
			Read: target(func(c *Criteria) *Target { return &c.BalanceShift }, ShiftTolerance)},
		{Flag: "front-share-at", Help: "front `SHARE` at a speed of its own, such as 48±1@180km/h; may be given for several speeds", Name: "front share at a speed",
			Hint: func(u units.System) string { return "48±1@" + strings.ReplaceAll(u.Speed(50), " ", "") }, Bare: none, Many: true,
			Read: func(c *Criteria, text string, u units.System) error {
				a, err := readShareAt(text, u)
				if err == nil {
					c.ShareAt = append(c.ShareAt[:len(c.ShareAt):len(c.ShareAt)], a)
				}
				return err
			}},
		{Flag: "lid-min", Help: "the least that the lid must open by, `ANGLE`", Name: "lid opens to at least", Hint: fixed("60deg"), Bare: degrees,
			Read: quantity(units.Angles, degrees, func(c *Criteria) *given.Number { return &c.MinLid })},
		{Flag: "strength", Help: "`pass`, or the most that may be used of the strength, such as 80%", Name: "strength", Hint: fixed("pass, or 80%"), Bare: percent,
			Read: func(c *Criteria, text string, _ units.System) error {
				x := 1.0
				if !strings.EqualFold(text, "pass") {
					var err error
					if x, err = readPercent(text); err != nil || x <= 0 || x > 1 {
						return fmt.Errorf("%q; type pass, or the most that may be used, such as 80%%", text)
					}
				}
				c.MaxUsed = given.Is(x)
				return nil
			}},
		{Flag: "chance", Help: "the `CHANCE` that a setting must have to meet the targets (default: by its best estimate, or 50%)", Name: "chance, at least", Hint: fixed("50%"), Bare: percent,
			Read: func(c *Criteria, text string, _ units.System) error {
				x, err := readPercent(text)
				if err == nil && (x < 0.01 || x > 0.99) {
					err = fmt.Errorf("%q; a chance is 1%% to 99%%", text)
				}
				c.MinChance = given.Is(x)
				return err
			}},
		{Flag: "stalled", Help: "also settings that are stalled, marked and last", Name: "stalled ones too", Hint: fixed("yes"), Bare: none, Yes: true,
			Read: yes(func(c *Criteria) *bool { return &c.Stalled })},
		{Flag: "lifting", Help: "also settings that lift the car, marked and last", Name: "lifting ones too", Hint: fixed("yes"), Bare: none, Yes: true,
			Read: yes(func(c *Criteria) *bool { return &c.Lifting })},
	}
}

// Clash returns the flags of what is asked at least and at most where the least is more than the most, so that nothing
// lies between.
func (c Criteria) Clash() (least, most string, ok bool) {
	for _, r := range []struct {
		least, most string
		from, to    given.Number
	}{
		{"downforce-min", "downforce-max", c.MinDownforce, c.MaxDownforce}, {"on-car-min", "on-car-max", c.MinOnCar, c.MaxOnCar},
		{"angle-min", "angle-max", c.MinAngle, c.MaxAngle}, {"height-min", "height-max", c.MinHeight, c.MaxHeight},
	} {
		if r.from.Known() && r.to.Known() && r.from.Value() > r.to.Value() {
			return r.least, r.most, true
		}
	}
	return "", "", false
}

// ReadTarget reads a percentage with a tolerance, 44±0.5 or 44+-0.5, as fractions.
func ReadTarget(text string, otherwise float64) (Target, error) {
	value, tolerance, two := strings.Cut(strings.ReplaceAll(text, "+-", "±"), "±")
	x, err := readPercent(value)
	if err != nil {
		return Target{}, err
	}
	t := Target{Value: given.Is(x), Tolerance: otherwise}
	if two {
		if t.Tolerance, err = readPercent(tolerance); err == nil && t.Tolerance < 0 {
			err = fmt.Errorf("%q; the tolerance must be 0 or more", text)
		}
	}
	return t, err
}

// ReadTolerance reads the tolerance of a percentage, as a fraction.
func ReadTolerance(text string) (float64, error) {
	x, err := readPercent(strings.TrimPrefix(strings.TrimPrefix(text, "±"), "+-"))
	if err == nil && x < 0 {
		err = fmt.Errorf("%q; the tolerance must be 0 or more", text)
	}
	return x, err
}

// readPercent reads a percentage, bare or with % or pp, as a fraction.
func readPercent(text string) (float64, error) {
	number := strings.TrimSpace(text)
	for _, unit := range []string{"%", "pp"} {
		if rest, ok := strings.CutSuffix(number, unit); ok {
			number = rest
			break
		}
	}
	x, err := units.Unit{"": 0.01}.Parse(number, "")
	if err != nil && !strings.Contains(number, ",") {
		err = fmt.Errorf("%q is not a number in %%; type for example 49.5 or 49.5%%", text)
	}
	if err != nil {
		return math.NaN(), err
	}
	return x, nil
}

// readShare reads a front share that there can be.
func readShare(text string) (Target, error) {
	t, err := ReadTarget(text, ShareTolerance)
	if x := t.Value.Or(0); err == nil && (x < 0 || x > 1) {
		err = fmt.Errorf("%q; a front share is 0 to 100 %%", text)
	}
	return t, err
}

// readShareAt reads a front share at a speed: 48±1@180km/h, or with "at" between.
func readShareAt(text string, u units.System) (AtSpeed, error) {
	share, speed, ok := strings.Cut(text, "@")
	if !ok {
		share, speed, ok = strings.Cut(text, " at ")
	}
	if !ok {
		return AtSpeed{}, fmt.Errorf("%q; give the share and the speed, such as 48±1@%s", text, strings.ReplaceAll(u.Speed(50), " ", ""))
	}
	t, err := readShare(share)
	if err != nil {
		return AtSpeed{}, err
	}
	v, err := units.Speeds.Parse(speed, u.SpeedUnit())
	if err == nil && (v < model.MinSpeed || v > model.MaxSpeed) {
		err = fmt.Errorf("%q; the speed must be %s to %s", text, u.Speed(model.MinSpeed), u.Speed(model.MaxSpeed))
	}
	return AtSpeed{v, t}, err
}
