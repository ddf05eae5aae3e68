package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"stanchion/model"
	"stanchion/model/card"
	"stanchion/model/drawing"
	"stanchion/model/units"
	"stanchion/model/words"
)

// mostCards is how many settings get a card where none is named, and mostOver how many the overview lists at most: what one
// page takes.
const (
	mostCards = 8
	mostOver  = 40
	mostAsked = 200 // of --most and --all: a second each
)

// cardFlags are what card takes.
type cardFlags struct {
	options
	out, date    string
	most         int
	all, replace bool
}

func newCard() *cobra.Command {
	var f cardFlags
	c := &cobra.Command{
		Use:   "card CARFILE [ID ...] -o FILE",
		Short: "cards of settings to tape to the toolbox or to carry on the phone",
		Long: `card writes a card for each setting: a picture with its holes named, the bolts with size,
length and torque, what level and tape must read, the gap to body and lid, what it
does to the car and how sure that is, whether it holds, and boxes to tick.

The name of the file says of which kind: .pdf has a page for each card, on A4, or on
Letter where the car file is in inches; .html is one page for the phone that needs no
network, and prints too.

Each ID is one setting as "stanchion map" calls it; put names of several words in
quotes. Without one the cards are of settings that keep all limits: of all where they
are no more than --most, else the one with the least downforce, the one with the most,
and those between that are furthest apart. An overview lists all that keep the limits
with their bolts; where they are more than a page takes, those with a card. --all makes
a card of every setting, those that break a limit too.

What does not hold, breaks a limit or was not checked stands across its card. No card
is an approval. --format json prints what stands on the cards as data; it needs no FILE.`,
		Example: `  stanchion card car.toml -o cards.pdf
  stanchion card car.toml 'row 4, B2' 'row 4, A2' -o card.html
  stanchion card car.toml --format json`,
		Args:              arguments(1, many),
		ValidArgsFunction: cardSettings,
		RunE: func(cmd *cobra.Command, args []string) error {
			return f.write(cmd, args)
		},
	}
	c.Flags().StringVarP(&f.out, "output", "o", "", "the `FILE` to write: .pdf or .html")
	c.Flags().StringVar(&f.date, "date", "", "the date on the cards, as 2026-05-31 (default: today)")
	f.add(c, speedOfFile, "text", "json")
	c.Flags().IntVar(&f.most, "most", mostCards, "how many settings get a card where none is named")
	c.Flags().BoolVar(&f.all, "all", false, "a card of every setting, those that break a limit too")
	c.Flags().BoolVar(&f.replace, "replace", false, "write over a file that is there")
	return c
}

// write makes the cards and the file, and says what is in it.
func (f *cardFlags) write(cmd *cobra.Command, args []string) error {
	if err := f.check(); err != nil {
		return err
	}
	kind := strings.ToLower(filepath.Ext(f.out))
	named, data := len(args) > 1, f.out == "" && f.format == "json"
	switch {
	case f.out == "" && !data:
		return errors.New("no file to write; give -o FILE.pdf or -o FILE.html")
	case kind != ".pdf" && kind != ".html" && !data:
		return fmt.Errorf("-o %s; the name must end in .pdf, .html", f.out)
	case f.most < 1 || f.most > mostAsked:
		return fmt.Errorf("--most %d; it must be from 1 to %d", f.most, mostAsked)
	case named && (f.all || cmd.Flags().Changed("most")), f.all && cmd.Flags().Changed("most"):
		return errors.New("which settings are wanted is not clear; give one of IDs, --most and --all")
	}
	d := drawFlags{out: f.out, date: f.date, replace: f.replace}
	date, err := d.day()
	if err != nil {
		return err
	}
	if !data {
		if err := d.mayWrite(args[0], f.out); err != nil {
			return err
		}
	}
	t, err := f.table(args[0])
	if err != nil {
		return err
	}
	w, err := f.wish(t, args, date)
	if err != nil {
		return err
	}
	done := working(solvingPlates)
	s, err := card.Of(cmd.Context(), t, w)
	done()
	if err != nil {
		return err
	}
	if !data {
		if err := f.save(s, kind); err != nil {
			return err
		}
	}
	if f.format == "json" {
		return writeJSON(cmd.OutOrStdout(), cardsDocument(s, f.out))
	}
	p := out(cmd)
	p.f("%s: %s\n", units.Printable(f.out), words.CardsMade(s.Titles(), len(s.Over)))
	for _, c := range s.Cards {
		if len(c.Marks) > 0 {
			p.hang(p.cells(), fmt.Sprintf("%s: %s", c.Title, strings.Join(c.Marks, ", ")))
		}
	}
	if s.Left != "" {
		p.hang(p.cells(), s.Left)
	}
	p.f("%s\n", words.Caution)
	return p.err
}

// save writes the cards into their file.
func (f *cardFlags) save(s *card.Set, kind string) (err error) {
	text := []byte(nil)
	if kind == ".html" {
		text = drawing.CardsHTML(s)
	} else if text, err = drawing.CardsPDF(s); err != nil {
		return err
	}
	return writeOutput(f.out, text, f.replace)
}

// wish is which settings cards are wanted of.
func (f *cardFlags) wish(t *model.Table, args []string, date time.Time) (card.Wish, error) {
	w := card.Wish{Over: mostOver, Date: date, Units: shown(t.Car), File: args[0]}
	switch {
	case len(t.Rows) == 0:
		return w, nothing(args[0], t, false)
	case len(args) > 1:
		rows, err := eachRow(t, args[1:])
		w.Rows, w.Cards, w.Over = rows, rows, len(rows)
		return w, err
	case f.all:
		if len(t.Rows) > mostAsked {
			return w, fmt.Errorf("--all: the car has %d settings, cards are made of %d at most; name those that are wanted", len(t.Rows), mostAsked)
		}
		for i := range t.Rows {
			w.Rows = append(w.Rows, &t.Rows[i])
		}
		w.Cards = w.Rows
	default:
		if w.Rows = t.RowsWithin(); len(w.Rows) == 0 {
			return w, nothing(args[0], t, true)
		}
		w.Cards = card.Matter(t, w.Rows, f.most)
	}
	w.Rows, w.Cards = card.Grouped(t, w.Rows), card.Grouped(t, w.Cards)
	return w, nil
}

// eachRow finds the settings that words name: one each, or one by all words together.
func eachRow(t *model.Table, named []string) ([]*model.Row, error) {
	var rows []*model.Row
	for _, name := range named {
		r, err := pickRow(t, strings.Fields(name))
		if err != nil {
			if one := t.Named(named); len(named) > 1 && len(one) == 1 {
				return one, nil
			}
			return nil, err
		}
		if !slices.ContainsFunc(rows, func(o *model.Row) bool { return o.ID == r.ID }) {
			rows = append(rows, r)
		}
	}
	return rows, nil
}

// cardSettings completes a car file, and then the names of its settings.
func cardSettings(c *cobra.Command, args []string, text string) ([]string, cobra.ShellCompDirective) {
	if len(args) == 0 {
		return carFiles(c, args, text)
	}
	t, err := tableOf(args[0], "")
	if err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	var names []string
	for i := range t.Rows {
		names = append(names, t.Name(t.Rows[i].Setting))
	}
	return names, cobra.ShellCompDirectiveNoFileComp
}
