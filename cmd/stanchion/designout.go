package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"stanchion/model/carfile"
	"stanchion/model/design"
	"stanchion/model/files"
	"stanchion/model/units"
	"stanchion/model/words"
)

// designText prints the proposals.
func designText(ctx context.Context, cmd *cobra.Command, d *design.Designed, off float64) error {
	p := out(cmd)
	w := p.cells()
	for i := range d.Proposals {
		one := &d.Proposals[i]
		u := shown(one.Car)
		if i == 0 {
			p.hang(w, units.Printable(one.Car.Name)+": plates for "+words.DesignWish(&d.Wish, u))
			p.f("\n")
		}
		p.f("%d. %s\n", i+1, words.Merits(one))
		for _, l := range words.Proposal(one, u) {
			p.hang(w, "   "+l)
		}
		for k := range one.Levels {
			p.hang(w, "     "+words.DesignLevel(&one.Levels[k], one, u))
		}
		for _, l := range words.Accuracy(one.Accuracy(off), one, u) {
			p.hang(w, "   "+l)
		}
		holds, err := designHolds(ctx, one)
		if err != nil {
			return err
		}
		p.hang(w, "   "+holds)
		p.f("\n")
	}
	if len(d.Proposals) > 0 {
		p.hang(w, words.DesignBound(d))
		if text := words.LowerPlaces(d); text != "" {
			p.hang(w, text)
		}
		p.f("%s\n%s\n", words.DesignGaps(d.Proposals[0].Car), words.Caution)
	}
	return p.err
}

// lightenAll cuts openings into all proposals.
func lightenAll(ctx context.Context, d *design.Designed) error {
	show, done := progress("solving plates with cut-outs")
	defer done()
	for i := range d.Proposals {
		if show != nil {
			show(float64(i) / float64(len(d.Proposals)))
		}
		l, err := d.Proposals[i].Lighten(ctx)
		if err != nil {
			return err
		}
		d.Proposals[i].Lightened = &l
	}
	return nil
}

// designHolds says how the settings of a proposal that break no limit hold.
func designHolds(ctx context.Context, one *design.Proposal) (string, error) {
	f, s, err := one.Strength(ctx)
	switch {
	case f == nil:
		return "Strength NOT CHECKED: " + err.Error(), nil
	case err != nil:
		return "", err
	}
	u := shown(one.Car)
	if s.Worst.Row == nil {
		return "Strength NOT CHECKED: " + whyNoLoads(f, s, u), nil
	}
	return words.ScopeHeadline(f, s, u), nil
}

// writeDesign writes the car file of a proposal: the old one's text with the plate's holes and outline, the wing's
// bolts and the foot's fewest bolts replaced.
func writeDesign(name, to string, one *design.Proposal) error {
	text, err := carText(name)
	if err != nil {
		return err
	}
	with := carfile.WithPlate
	if one.Neck != nil && one.Neck.Ordered {
		with = carfile.WithPlateAndMounts
	}
	if text, err = with(to, text, one.Car); err != nil {
		return fmt.Errorf("%s is not written: %w", to, err)
	}
	return writeCarFile(to, text)
}

// designNext says what to do with the file of a proposal.
func designNext(cmd *cobra.Command, to, plate string) error {
	p := out(cmd)
	p.f("\nwrote %s; next:\n  stanchion map %[1]s\n  stanchion draw %[1]s %s -o plate.pdf\n  stanchion strength %[1]s\n", units.Printable(to), units.Printable(plate))
	return p.err
}

// carText is the text of the car file that an argument names.
func carText(name string) ([]byte, error) {
	if demo, ok := demoName(name); ok {
		names, all, err := carfile.DemoFiles(demo)
		if err != nil {
			return nil, err
		}
		return all[names[0]], nil
	}
	text, err := files.Read(name, carfile.MaxSize)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, plain(err))
	}
	return text, nil
}
