package plan

import (
	"errors"
	"fmt"
	"math"
	"time"

	"stanchion/model"
	"stanchion/model/logbook"
	"stanchion/model/strength"
)

// Wish is what a day is to be planned for.
type Wish struct {
	Find     Find
	Sessions int
	Laps     int     // flying laps of a session
	Minutes  float64 // of a session
	Break    float64 // minutes between sessions

	MinutesPerBolt Value // on one side of the car or the other
	LapScatter     Value // s, standard deviation of a lap within a run
	RunScatter     Value // s, of a run's mean beyond what its laps explain

	Difference float64      // s a lap that is hoped to be seen, for the number of laps and runs that it takes
	Named      []*model.Row // settings that are wanted; none: they are chosen
	Settings   int          // how many are chosen; 0: as many as the sessions take
	Notes      []logbook.Note
	OnCar      string // id of the setting on the car; "" where that is not known
	Past       []Past // by session; shorter than Sessions: the others are planned
	Date       time.Time

	Known    *strength.Analysis // of the car, with what it has found already; nil for none
	Formulas bool               // strength by formulas where plates are not solved yet, without waiting
}

// Usual is what is wished for where nothing is said.
func Usual() Wish {
	return Wish{Find: Fastest, Sessions: 6, Laps: 8, Minutes: 20, Break: 40, MinutesPerBolt: Value{Of: UsualPerBolt}, LapScatter: Value{Of: UsualScatter},
		RunScatter: Value{Of: math.NaN()}, Difference: 0.3}
}

// Check finds what is wrong with a wish, all of it.
func (w *Wish) Check() error {
	var wrong []error
	bad := func(format string, args ...any) { wrong = append(wrong, fmt.Errorf(format, args...)) }
	if w.Sessions < 2 || w.Sessions > MostSessions {
		bad("%d sessions; it must be from 2 to %d", w.Sessions, MostSessions)
	}
	if w.Laps < leastLaps || w.Laps > 200 {
		bad("%d laps of a session; it must be from %d to 200: %d of the first session are for a look at the car and to build up speed", w.Laps, leastLaps, Installation)
	}
	in := func(x, least, most float64, what string) {
		if !(x >= least && x <= most) {
			bad("%s %g; it must be from %g to %g", what, x, least, most)
		}
	}
	in(w.Minutes, 1, 600, "minutes of a session")
	in(w.Break, 0, 1440, "minutes of a break")
	in(w.MinutesPerBolt.Of, 0.1, 240, "minutes for a bolt")
	in(w.LapScatter.Of, 0.01, 60, "scatter of a lap in s")
	if !math.IsNaN(w.RunScatter.Of) {
		in(w.RunScatter.Of, 0, 60, "scatter of runs in s")
	}
	in(w.Difference, 0.001, 600, "difference in s a lap")
	if w.Settings != 0 && (w.Settings < 2 || w.Settings > MostSettings) {
		bad("%d settings; it must be from 2 to %d", w.Settings, MostSettings)
	}
	if len(w.Named) > MostSettings {
		bad("%d settings are named; %d is the most", len(w.Named), MostSettings)
	}
	return errors.Join(wrong...)
}
