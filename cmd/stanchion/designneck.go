package main

import (
	"errors"

	"github.com/spf13/pflag"

	"stanchion/model"
	"stanchion/model/design"
	"stanchion/model/units"
)

// neckFlags are those of a swan neck.
type neckFlags struct {
	gap    string
	mounts []string
}

func (n *neckFlags) add(fs *pflag.FlagSet) {
	fs.StringVar(&n.gap, "neck-gap", "", "what a swan neck keeps from the wing's section, `LENGTH` (default: the gap of the limits, or 10 mm)")
	fs.StringArrayVar(&n.mounts, "mounts-above", nil, "a `HEIGHT` of the wing's bolts above its chord line, for top mounts still to be ordered; may be repeated")
}

// wish reads the flags into a wish.
func (n *neckFlags) wish(w *design.Wish, car *model.Car, length func(flag, text string) float64) error {
	if !w.SwanNeck && (n.gap != "" || len(n.mounts) > 0) {
		return errors.New("--neck-gap and --mounts-above are for --shape swan-neck")
	}
	if n.gap != "" {
		w.NeckGap = length("neck-gap", n.gap)
		if w.NeckGap == 0 {
			return errors.New("--neck-gap must be more than 0")
		}
	}
	for _, m := range n.mounts {
		w.Above = append(w.Above, length("mounts-above", m))
	}
	return nil
}

// neckJSON is what a swan neck is like.
type neckJSON struct {
	Gap       *float64 `json:"gap_mm"`
	Nearest   *float64 `json:"nearest_mm"`
	Below     *float64 `json:"free_below_wing_mm"`
	Width     *float64 `json:"least_width_mm"`
	Round     string   `json:"round"`
	Drawn     bool     `json:"section_known"`
	Front     *float64 `json:"front_bolt_above_chord_mm"`
	Rear      *float64 `json:"rear_bolt_above_chord_mm"`
	Order     bool     `json:"mounts_to_order"`
	Fouls     []string `json:"settings_too_near"`
	Lost      *float64 `json:"lift_lost_if_wake_above_pct"`
	LostUnder *float64 `json:"lift_lost_if_wake_below_pct"`
}

func neckOf(p *design.Proposal) *neckJSON {
	n := p.Neck
	if n == nil {
		return nil
	}
	j := &neckJSON{Gap: figure(n.Gap, 1), Nearest: figure(n.Nearest, 1), Below: figure(n.Below, 0), Width: figure(n.Width, 1), Round: "leading_edge", Drawn: n.Drawn,
		Front: figure(n.Front, 2), Rear: figure(n.Rear, 2), Order: n.Ordered, Fouls: []string{}}
	if n.Behind {
		j.Round = "trailing_edge"
	}
	for _, i := range n.Fouls {
		j.Fouls = append(j.Fouls, units.Cell(p.Table.Name(p.Table.Rows[i].Setting)))
	}
	if n.LostKnown {
		j.Lost, j.LostUnder = figure(100*n.Lost, 1), figure(100*n.LostUnder, 1)
	}
	return j
}
