package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"stanchion/model"
	"stanchion/model/units"
)

// onCarByNotebook returns the id of the setting that is on the car by the last note of the car file's notebook.
func onCarByNotebook(cmd *cobra.Command, t *model.Table, carFile string) (string, error) {
	const need = "--keep-height, --keep-foot and --moves-max need the setting on the car: give it with --from"
	if _, demo := demoName(carFile); demo { // it has no notebook
		return "", errors.New(need)
	}
	b, err := book(cmd, carFile)
	if err != nil {
		return "", fmt.Errorf("%s; %w", need, err)
	}
	id := b.OnCar()
	if id == "" {
		return "", errors.New(need + ", or note it with \"stanchion note add\"")
	}
	r, ok := t.Find(id)
	if !ok {
		return "", fmt.Errorf("%s; the notebook has %s, which the car file no longer has", need, units.Printable(id))
	}
	return r.ID, nil
}
