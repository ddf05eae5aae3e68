package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"

	"github.com/spf13/cobra"

	"stanchion/model"
	"stanchion/model/logbook"
	"stanchion/model/logged"
	"stanchion/model/units"
	"stanchion/model/words"
)

// lineFlags are the lines of laps and sectors.
type lineFlags struct {
	line    string
	sectors []string
	width   float64
}

func (f *lineFlags) add(c *cobra.Command, sectors bool) {
	c.Flags().StringVar(&f.line, "line", "", "start and finish: two ends, `LAT,LON,LAT,LON`, or a place and the direction of travel in degrees from north, LAT,LON,DEGREES (default: found)")
	c.Flags().Float64Var(&f.width, "width", 40, "how wide a line by place and direction is, `METRES`")
	if sectors {
		c.Flags().StringArrayVar(&f.sectors, "sector", nil, "a line at which a sector ends, as --line; may be repeated, in the order driven")
	}
}

// lines are the lines on a log's plane, the first for laps; found says that it was found.
func (f *lineFlags) lines(r recording) (all []logged.Line, found bool, err error) {
	plane, ok := r.log.Plane()
	if !ok {
		return nil, false, noAnswer("%s: it has no positions, so that no line is crossed", units.Printable(r.name))
	}
	if f.line == "" {
		line, times, ok := r.log.FindLine()
		if !ok {
			return nil, false, noAnswer("%s: no place was passed twice in the same direction: there is no lap in it, or give --line", units.Printable(r.name))
		}
		_ = times
		all, found = append(all, line), true
	} else {
		line, err := f.one(plane, "line", f.line)
		if err != nil {
			return nil, false, err
		}
		all = append(all, line)
	}
	for _, text := range f.sectors {
		line, err := f.one(plane, "sector", text)
		if err != nil {
			return nil, false, err
		}
		all = append(all, line)
	}
	return all, found, nil
}

func (f *lineFlags) one(plane logged.Plane, flag, text string) (logged.Line, error) {
	const example = "50.1234,10.1234,50.1236,10.1236 or 50.1235,10.1235,270"
	x, err := numbersOf(flag, text, 3, 4, example)
	if err != nil {
		return logged.Line{}, err
	}
	if math.Abs(x[0]) > 90 || math.Abs(x[1]) > 360 || len(x) == 4 && (math.Abs(x[2]) > 90 || math.Abs(x[3]) > 360) || math.Abs(x[2]) > 360 {
		return logged.Line{}, fmt.Errorf("--%s %q; latitudes are up to 90°, the rest up to 360°", flag, text)
	}
	if !(f.width >= 2 && f.width <= 500) {
		return logged.Line{}, fmt.Errorf("--width %g; it must be 2 to 500 m", f.width)
	}
	ax, ay := plane.At(x[0], x[1])
	if len(x) == 3 {
		return logged.LineAcross(ax, ay, x[2]*math.Pi/180, f.width), nil
	}
	bx, by := plane.At(x[2], x[3])
	return logged.LineOf(ax, ay, bx, by), nil
}

// placeOf spells the middle of a line and its direction, to be given again.
func placeOf(l *logged.Log, line logged.Line) string {
	plane, _ := l.Plane()
	lat, lon := plane.Back((line.AX+line.BX)/2, (line.AY+line.BY)/2)
	if line.HX == 0 && line.HY == 0 {
		return fmt.Sprintf("%.6f,%.6f", lat, lon)
	}
	return fmt.Sprintf("%.6f,%.6f,%.0f", lat, lon, math.Mod(math.Atan2(line.HX, line.HY)*180/math.Pi+360, 360))
}

func newLoggedLaps() *cobra.Command {
	var f loggedFlags
	var lines lineFlags
	c := &cobra.Command{
		Use:   "laps CARFILE FILE...",
		Short: "lap and sector times from positions, for the notebook or for \"stanchion laps\"",
		Long: `laps times laps between crossings of a line that is given, or found where the same place was
passed most often in the same direction at speed. Crossings are interpolated between samples;
each time has its standard uncertainty, from the rate of samples, the scatter of positions and
the step of the time stamps. Out-laps, in-laps and laps with missing samples are marked.

--format csv prints a table for "stanchion laps", which says whether one setting was faster.`,
		Example: `  stanchion logged laps car.toml drive.gpx
  stanchion logged laps car.toml drive.csv --line 50.10120,10.20340,275 --sector 50.10450,10.20110,90
  stanchion logged laps car.toml a.gpx b.gpx --setting "1 b2" --setting "2 b2" --format csv`,
		Args:              arguments(2, 100),
		ValidArgsFunction: carFiles,
		RunE: f.onRecordings(func(cmd *cobra.Command, args []string, t *model.Table, all []recording) error {
			var timed []lapsOf
			n := 0
			var err error
			for _, r := range all {
				across, found, err := lines.lines(r)
				if err != nil {
					return err
				}
				one := lapsOf{r, across, found, r.log.Laps(across)}
				if found {
					lines.line = placeOf(r.log, across[0]) // one line for all files
				}
				timed, n = append(timed, one), n+len(one.laps)
			}
			switch f.format {
			case "json":
				err = writeJSON(cmd.OutOrStdout(), lapsDocument(timed))
			case "csv":
				err = lapsTable(cmd, timed)
			default:
				err = lapsPrinted(cmd, t, timed)
			}
			if err != nil {
				return err
			}
			if n == 0 {
				return noAnswer("the line is never crossed")
			}
			if !f.note {
				return nil
			}
			for _, one := range timed {
				if err := noteLogged(cmd, args[0], t, one.recording, one.into); err != nil {
					return err
				}
			}
			return nil
		}),
	}
	f.add(c, "text", "csv", "json")
	f.ofSettings(c, "write the laps of each file into the notebook as a note")
	lines.add(c, true)
	return c
}

// lapsOf are the laps of one recording.
type lapsOf struct {
	recording
	lines []logged.Line
	found bool
	laps  []logged.TimedLap
}

// into puts laps into a note.
func (l lapsOf) into(n *logbook.Note) {
	best := math.Inf(1)
	for _, p := range l.laps {
		n.Laps = append(n.Laps, logbook.LapTime{Seconds: math.Round(p.Seconds*1000) / 1000, Mark: string(p.Mark)})
		if p.Mark == "" {
			best = min(best, p.Seconds)
		}
	}
	n.LapsRun = float64(len(l.laps))
	if !math.IsInf(best, 1) {
		n.Lap = math.Round(best*1000) / 1000
	}
}

func lapsPrinted(cmd *cobra.Command, t *model.Table, timed []lapsOf) error {
	p, u := out(cmd), shown(t.Car)
	for i, one := range timed {
		if i > 0 {
			p.f("\n")
		}
		head := units.Printable(one.name)
		if one.row != nil {
			head += ", " + t.Name(one.row.Setting)
		}
		p.f("%s: %s\n", head, words.LoggedSpan(one.log))
		if one.found {
			p.f("The line was found where the track was passed most often and fastest; to have the same again: --line %s\n", placeOf(one.log, one.lines[0]))
		}
		p.row("%4s  %3s  %9s  %7s  %6s  %9s  %9s  %s", "lap", "run", "time", "± s", "m", "top "+u.SpeedUnit(), "least", "")
		for k, l := range one.laps {
			p.row("%4d  %3d  %9s  %7s  %6.0f  %9.0f  %9.0f  %s", k+1, l.Run, words.LapTime(l.Seconds), units.Fixed(l.StdUnc, 3), l.Metres, u.SpeedFigure(l.Top), u.SpeedFigure(l.Low), words.LapRemark(l))
		}
	}
	loggedLeft(p, recordingsOf(timed))
	p.f("Which setting was faster: stanchion logged laps … --format csv, then stanchion laps CARFILE FILE.csv\n%s\n", closedCourse)
	return p.err
}

func recordingsOf(timed []lapsOf) (all []recording) {
	for _, t := range timed {
		all = append(all, t.recording)
	}
	return all
}

// lapsTable prints laps as the table that "stanchion laps" reads.
func lapsTable(cmd *cobra.Command, timed []lapsOf) error {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	_ = w.Write([]string{"run", "setting", "time", "mark", "time_std_unc_s"})
	for k, one := range timed {
		id := ""
		if one.row != nil {
			id = one.row.ID
		}
		for _, l := range one.laps {
			_ = w.Write([]string{fmt.Sprintf("%d.%d", k+1, l.Run), units.Cell(id), fmt.Sprintf("%.3f", l.Seconds), string(l.Mark), fmt.Sprintf("%.4f", l.StdUnc)})
		}
	}
	w.Flush()
	_, err := cmd.OutOrStdout().Write(b.Bytes())
	return err
}

func lapsDocument(timed []lapsOf) object {
	list := []object{}
	for _, one := range timed {
		laps := []object{}
		for _, l := range one.laps {
			sectors := []*float64{}
			for _, s := range l.Sectors {
				sectors = append(sectors, figure(s, 3))
			}
			laps = append(laps, object{{"run", l.Run}, {"from_s", figure(l.From, 3)}, {"time_s", figure(l.Seconds, 3)}, {"time_std_unc_s", figure(l.StdUnc, 4)}, {"mark", string(l.Mark)},
				{"sectors_s", sectors}, {"distance_m", figure(l.Metres, 0)}, {"top_m_s", figure(l.Top, 2)}, {"least_m_s", figure(l.Low, 2)}, {"samples_missing", l.Gap}})
		}
		list = append(list, object{{"file", one.name}, {"setting", settingOf(one.recording)}, {"line", placeOf(one.log, one.lines[0])}, {"line_found", one.found}, {"laps", laps}})
	}
	return object{{"recordings", list}}
}

// settingOf is the id of a recording's setting; nil for none.
func settingOf(r recording) *string {
	if r.row == nil {
		return nil
	}
	return &r.row.ID
}
