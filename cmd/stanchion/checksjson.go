package main

import (
	"time"

	"stanchion/model/inspect"
	"stanchion/model/logbook"
	"stanchion/model/units"
	"stanchion/model/words"
)

// checksJSON is the list of checks with how each stands.
type checksJSON struct {
	Car         string          `json:"car"`
	Setting     string          `json:"setting"`
	OnCar       *string         `json:"on_car"`
	Outside     []string        `json:"outside"`
	Strength    string          `json:"strength"`
	StrengthWhy []string        `json:"strength_not_checked"`
	Used        *float64        `json:"strength_used_pct"`
	Speed       *float64        `json:"strength_speed_m_s"`
	Level       string          `json:"level"`
	Said        []string        `json:"said"`
	Stop        int             `json:"stop"`
	Overdue     int             `json:"overdue"`
	Due         int             `json:"due"`
	NotKnown    int             `json:"not_known"`
	Runs        *int            `json:"runs_noted"`
	Silent      *int            `json:"runs_without_laps"`
	Laps        *int            `json:"laps_noted"`
	Future      []string        `json:"not_counted"`
	Intervals   intervalsJSON   `json:"intervals"`
	Items       []checkItemJSON `json:"items"`
}

type intervalsJSON struct {
	Laps      int `json:"laps"`
	Sessions  int `json:"sessions"`
	Days      int `json:"days"`
	FirstLaps int `json:"first_laps"`
	RunLaps   int `json:"run_laps"`
}

type checkItemJSON struct {
	Key     string      `json:"key"`
	Kind    string      `json:"kind"`
	Joint   string      `json:"joint"`
	Part    string      `json:"part"`
	Task    string      `json:"task"`
	Level   string      `json:"level"`
	Reason  *string     `json:"reason"`
	Since   *string     `json:"due_since"`
	Left    *int        `json:"due_in"`
	Last    *lookedJSON `json:"last"`
	Failed  *lookedJSON `json:"failed"`
	Struck  *lookedJSON `json:"struck"`
	Laps    *int        `json:"laps_since"`
	Known   *int        `json:"laps_since_noted"`
	Runs    *int        `json:"runs_since"`
	Days    *int        `json:"days_since"`
	Places  []hotJSON   `json:"places"`
	Remarks []string    `json:"remarks"`
}

type lookedJSON struct {
	Note    string  `json:"note"`
	At      string  `json:"at"`
	By      *string `json:"by"`
	Found   *string `json:"found"`
	Setting *string `json:"setting"`
	Struck  *string `json:"struck"`
}

type hotJSON struct {
	X    *float64 `json:"x_mm"`
	Z    *float64 `json:"z_mm"`
	Hole string   `json:"hole"`
	Used *float64 `json:"used_pct"`
}

// textOrNull is a text, null where it is empty.
func textOrNull(s string) *string {
	if s == "" {
		return nil
	}
	return &s
}

func checkedOut(n *logbook.Note) *lookedJSON {
	if n == nil {
		return nil
	}
	k := n.Inspected
	return &lookedJSON{n.ID, n.At.Format(time.RFC3339), textOrNull(k.By), textOrNull(k.Found), textOrNull(k.Setting), textOrNull(k.Struck)}
}

// checksDocument is the list as data.
func checksDocument(l words.Look) checksJSON {
	l.Units = units.Metric
	d := checksJSON{Car: l.Table.Car.Name, Setting: l.Row.ID, Outside: words.Outside(l.Row, units.Metric), Strength: "not checked", StrengthWhy: []string{},
		Level: "no_notebook", Said: []string{}, Future: []string{}, Items: []checkItemJSON{}}
	k := inspect.IntervalsOf(l.Table.Car)
	d.Intervals = intervalsJSON{k.Laps, k.Sessions, k.Days, k.FirstLaps, k.RunLaps}
	if l.Result != nil {
		d.Strength, d.Speed = l.Result.Verdict().String(), figure(l.Frame.Table.Speed, 3)
		for _, o := range l.Result.Open {
			d.StrengthWhy = append(d.StrengthWhy, o.String())
		}
		if used, ok := l.Result.Used(); ok {
			d.Used = figure(100*used.Utilisation(), 1)
		}
	} else if l.Why != nil {
		d.StrengthWhy = append(d.StrengthWhy, l.Why.Error())
	}
	if r := l.Report; r != nil {
		d.Level, d.OnCar, d.Said = r.Level().Word(), textOrNull(r.OnCar), words.ChecksHead(*r)
		d.Stop, d.Overdue, d.Due, d.NotKnown = r.Count(inspect.Stop), r.Count(inspect.Overdue), r.Count(inspect.Due), r.Count(inspect.NotKnown)
		d.Runs, d.Silent, d.Laps = &r.All.Runs, &r.All.Silent, &r.All.Known
		d.Future = append(d.Future, r.Future...)
	}
	for _, s := range words.CheckSections(l) {
		for _, line := range s.Lines {
			d.Items = append(d.Items, checkItem(l, line))
		}
	}
	return d
}

func checkItem(l words.Look, line words.CheckLine) checkItemJSON {
	it := checkItemJSON{Key: line.Key, Kind: line.Kind.Word(), Joint: line.Joint, Part: line.Part, Task: line.Task, Level: "no_notebook",
		Places: []hotJSON{}, Remarks: append([]string{}, line.Remarks...)}
	if line.Kind == inspect.Cracks && l.Result != nil {
		for _, h := range l.Frame.HotPlaces(*l.Result) {
			if h.Part == line.Part {
				it.Places = append(it.Places, hotJSON{figure(h.At.X, 1), figure(h.At.Z, 1), h.Hole, figure(100*h.Share, 1)})
			}
		}
	}
	if l.Report == nil {
		return it
	}
	s, _ := l.Report.Find(line.Key)
	it.Level, it.Reason = s.Level.Word(), textOrNull(s.Reason.Word())
	it.Last, it.Failed, it.Struck = checkedOut(s.Last), checkedOut(s.Failed), checkedOut(s.Struck)
	it.Laps, it.Known, it.Runs = &s.Driven.Laps, &s.Driven.Known, &s.Driven.Runs
	if s.Last != nil {
		it.Days = &s.Days
	}
	if !s.Since.IsZero() {
		it.Since = textOrNull(s.Since.Format(time.RFC3339))
	}
	if s.Level == inspect.NotDue {
		it.Left = &s.Left
	}
	return it
}

// checkColumns are the fields of a note that are about checks.
func checkColumns() []noteColumn {
	list := func(of func(logbook.Inspection) []string) func(logbook.Note) any {
		return func(n logbook.Note) any {
			if all := of(n.Inspected); len(all) > 0 {
				return all
			}
			return nil
		}
	}
	text := func(of func(logbook.Inspection) string) func(logbook.Note) any {
		return func(n logbook.Note) any {
			if s := of(n.Inspected); s != "" {
				return s
			}
			return nil
		}
	}
	return []noteColumn{
		{"checked", list(func(k logbook.Inspection) []string { return k.Looked })},
		{"failed", list(func(k logbook.Inspection) []string { return k.Failed })},
		{"found", text(func(k logbook.Inspection) string { return k.Found })},
		{"checked_by", text(func(k logbook.Inspection) string { return k.By })},
		{"checked_setting", text(func(k logbook.Inspection) string { return k.Setting })},
		{"struck", text(func(k logbook.Inspection) string { return k.Struck })},
	}
}
