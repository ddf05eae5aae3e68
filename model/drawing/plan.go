package drawing

import (
	"fmt"

	"stanchion/holes/plane"
	"stanchion/model/card"
	"stanchion/model/plan"
	"stanchion/model/units"
	"stanchion/model/words"
)

// PlanPDF writes the sheet of a day on the paper of a home printer: sessions with room to write, what the day can tell, cautions.
func PlanPDF(p *plan.Plan, u units.System) ([]byte, error) {
	paper := usualPapers(u.Inches())[0]
	f := newPDF(visible(words.PlanTitle(p)), paper.Width, paper.Height, p.Date)
	f.AddPage()
	(&pdfPage{f, 0, paper.Height}).draw(planPage(p, u, paper).Drawing, everywhere)
	return written(f)
}

// planPage writes the sheet on one page: text gets smaller until it fits.
func planPage(p *plan.Plan, u units.System, paper Paper) (w *writing) {
	for _, size := range cardSizes {
		w = newWriting(&card.Set{Units: u}, paper, size)
		w.plan(p, u)
		if w.z >= cardMargin {
			break
		}
	}
	return w
}

func (w *writing) plan(p *plan.Plan, u units.System) {
	w.para(w.left, w.right, 1.7*w.size, Bold, words.PlanTitle(p))
	w.para(w.left, w.right, w.size, Note, fmt.Sprintf("%s %s, by stanchion. Order: %s", words.PlanHead(p), p.Date.Format("2006-01-02"), words.PlanOrder(p)))
	w.rule()
	for _, l := range words.PlanSettings(p, u) {
		w.para(w.left, w.right, w.size, Note, l)
	}
	w.rule()
	write := w.rows(0, 0.08, 0.16, 0.22, 0.3, 0.62, 0.8, 1)
	row := func(pen Pen, cells ...string) {
		write(pen, cells...)
		w.z -= 0.9 * w.size
		w.line(plane.Point{X: w.left, Z: w.z}, plane.Point{X: w.right, Z: w.z}, Faint)
		w.z -= 0.2 * w.size
	}
	row(Dimension, "session", "start", "set", "laps", "before it", "best laps, s", "felt, seen, done by")
	for i := range p.Runs {
		s := &p.Runs[i]
		laps := fmt.Sprint(s.Laps)
		if s.Settle > 0 {
			laps = fmt.Sprintf("%d + %d", s.Settle, s.Laps)
		}
		row(Note, fmt.Sprint(s.Number), words.PlanClock(s.Start), words.PlanLetter(s.Setting), laps, words.PlanChange(p, s))
	}
	w.z -= 0.5 * w.size
	for _, t := range []string{"torque of all bolts after the first laps (stanchion checks)", "torque and paint marks before each session", "tyre pressures and fuel as at the session before",
		"laps, ride heights, feel noted after each session (note add)"} {
		w.tick(w.left, w.right, t)
	}
	w.rule()
	w.para(w.left, w.right, 1.25*w.size, Bold, "What the day can tell")
	if !p.Find.ByReadings() {
		w.lines(words.PlanTells(p))
	}
	w.lines(words.PlanReadings(p, u))
	w.lines(words.PlanCannot(p))
	w.rule()
	w.lines(words.PlanCautions(p))
}

func (w *writing) lines(all []string) {
	for _, l := range all {
		w.para(w.left, w.right, w.size, Note, l)
	}
}
