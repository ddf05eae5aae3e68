package main

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"stanchion/model/logbook"
	"stanchion/model/units"
	"stanchion/model/words"
	"stanchion/tui/widgets"
)

func newNoteMerge() *cobra.Command {
	var o options
	var write bool
	c := &cobra.Command{
		Use:   "merge CARFILE OTHER.notes.toml",
		Short: "take the notes of another notebook of the same car",
		Long: `merge takes the notes of another notebook that are not in the car file's own and puts them at
its end, in the order of their time: where two people noted about one car, or two copies of
one notebook both went on. Notes that say the same are one note. Where an id stands for
another note here, the other's gets a new one, and so do corrections of it. Where both correct
the same note both are kept, and said.

Nothing is written before --write; merging again changes nothing. Notes of the other that were
cut short are named and not taken: "note recover" puts them back there.`,
		Example:           "  stanchion note merge car.toml hers.notes.toml\n  stanchion note merge car.toml hers.notes.toml --write",
		Args:              arguments(2, 2),
		ValidArgsFunction: carFiles,
		RunE: onNotebook(&o, func(cmd *cobra.Command, args []string, path string) error {
			m, err := logbook.Merge(path, args[1], write)
			switch {
			case errors.Is(err, logbook.ErrNotNotebook) && strings.HasSuffix(args[1], ".toml"):
				return fmt.Errorf("%s: %w; the notebook of a car file is beside it: %s", args[1], err, logbook.PathFor(args[1]))
			case err != nil && m.Path == "":
				return fmt.Errorf("%s: %w", args[1], plain(err))
			case err != nil:
				return fmt.Errorf("%s: %w", path, plain(err))
			}
			if o.format == "json" {
				return mergedJSON(cmd, args[0], args[1], &m, write)
			}
			return mergedText(cmd, args[0], args[1], &m, write)
		}),
	}
	c.Flags().BoolVar(&write, "write", false, "write it into the notebook")
	o.add(c, "", "text", "json")
	return c
}

// unknownSettings are the settings of taken notes that the car file does not know, with their notes; why it
// cannot be told.
func unknownSettings(carFile string, m *logbook.Merged) (ids []string, notes map[string][]string, why error) {
	car, err := loadCar(carFile)
	if err != nil {
		return nil, nil, err
	}
	names, err := car.SettingNames()
	if err != nil {
		return nil, nil, err
	}
	notes = map[string][]string{}
	for i := range m.Taken {
		n := &m.Taken[i].Note
		if _, known := names[n.Setting]; n.Setting != "" && !known {
			notes[n.Setting] = append(notes[n.Setting], n.ID)
		}
	}
	for id := range notes {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	return ids, notes, nil
}

func mergedText(cmd *cobra.Command, carFile, other string, m *logbook.Merged, written bool) error {
	p := out(cmd)
	for i := range m.NotTaken {
		what, do := words.InNotebook(&m.NotTaken[i])
		p.f("not taken: %s: %s; %s\n", words.WhereInNotebook(other, &m.NotTaken[i]), what, do)
	}
	takenText(p, carFile, m)
	p.f("%s\n", tookText(m, written))
	return p.err
}

// takenText lists notes that are taken, and what to know of them.
func takenText(p *printer, carFile string, m *logbook.Merged) {
	called, u := settingNames(carFile), unitsBeside(carFile)
	for i := range m.Taken {
		t := &m.Taken[i]
		p.f("%s\n", strings.Join(widgets.Flow(t.Note.Parts(called(t.Note.Setting), u), listWidth), "\n    "))
		if t.Note.Withdrawn {
			p.f("    takes back note %s\n", t.Note.Replaces)
		}
		if text := words.TakenIn(t, "here"); text != "" {
			p.f("    %s\n", text)
		}
	}
	for i := range m.Conflicts {
		p.f("%s\n", words.BothCorrect(&m.Conflicts[i]))
	}
	for _, id := range m.Dangling {
		p.f("note %s corrects a note that is in neither: it counts by itself\n", id)
	}
	ids, notes, why := unknownSettings(carFile, m)
	if why != nil && len(m.Taken) > 0 {
		p.f("the settings are not looked at: %s\n", units.Printable(strings.SplitN(why.Error(), "\n", 2)[0]))
	}
	for _, id := range ids {
		p.f("the car file has no setting %s, of note %s\n", units.Printable(id), strings.Join(notes[id], ", "))
	}
	if m.Aside != "" {
		p.f("a note that was cut short is set aside in %s\n", units.Printable(m.Aside))
	}
}

// tookText says how much is taken.
func tookText(m *logbook.Merged, written bool) string {
	text := fmt.Sprintf("%s taken, %s", count(len(m.Taken), "note"), cmp.Or(map[int]string{0: "none in the notebook already"}[m.Same], fmt.Sprintf("%d in the notebook already", m.Same)))
	switch {
	case len(m.Taken) == 0:
		return text + "."
	case written:
		return text + ". Written; the last one is taken back by: stanchion note undo CARFILE"
	}
	return text + ". Nothing is written yet: --write does it."
}

func mergedJSON(cmd *cobra.Command, carFile, other string, m *logbook.Merged, written bool) error {
	notTaken := []object{}
	for i := range m.NotTaken {
		notTaken = append(notTaken, findingJSON(other, &m.NotTaken[i]))
	}
	return writeJSON(cmd.OutOrStdout(), append(takenJSON(carFile, m, written), field{"not_taken", notTaken}))
}

func takenJSON(carFile string, m *logbook.Merged, written bool) object {
	taken, conflicts := []object{}, []object{}
	for i := range m.Taken {
		t := &m.Taken[i]
		taken = append(taken, object{{"note", noteJSON(t.Note)}, {"was_id", textOrNull(t.Was)}, {"changed_by_hand", t.Changed}})
	}
	for _, c := range m.Conflicts {
		conflicts = append(conflicts, object{{"corrected", c.Of}, {"here", c.Here}, {"taken", c.Taken}})
	}
	ids, _, _ := unknownSettings(carFile, m)
	return object{{"file", m.Path}, {"written", written}, {"taken", taken}, {"same", m.Same}, {"conflicts", conflicts},
		{"corrects_none", append([]string{}, m.Dangling...)}, {"unknown_settings", append([]string{}, ids...)}, {"set_aside", textOrNull(m.Aside)}}
}
