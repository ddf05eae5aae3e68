package main

import (
	"errors"
	"io"
	"strings"

	"stanchion/model"
	"stanchion/model/carfile"
	"stanchion/model/units"
)

// checkedJSON is what "check --format json" prints: for a file that can be used what it holds, for one that cannot its faults.
type checkedJSON struct {
	Format       int           `json:"format"`
	File         string        `json:"file"`
	Sound        bool          `json:"sound"`
	Faults       []faultJSON   `json:"faults"`
	Warnings     []string      `json:"warnings"`
	Assumed      []assumedJSON `json:"assumed"`
	Settings     *int          `json:"settings"`
	WithinLimits *int          `json:"within_limits"`
}

// faultJSON is a fault; line and column count from 1, and are null where the file as a whole is meant.
type faultJSON struct {
	File   string       `json:"file"`
	Line   *int         `json:"line"`
	Column *int         `json:"column"`
	Code   carfile.Code `json:"code"`
	What   string       `json:"what"`
	Do     string       `json:"do"`
}

func printChecked(w io.Writer, name string, t *model.Table) error {
	doc := checkedJSON{Format: 1, File: name, Sound: true, Faults: []faultJSON{}, Warnings: []string{}, Assumed: assumed(t.Car)}
	within := 0
	for i := range t.Rows {
		if t.Rows[i].Within() {
			within++
		}
	}
	n := len(t.Rows)
	doc.Settings, doc.WithinLimits = &n, &within
	for _, warning := range t.Car.Warnings {
		doc.Warnings = append(doc.Warnings, warning.In(units.Metric))
	}
	return writeJSON(w, doc)
}

// notRead is the code of a file that cannot be read at all.
const notRead carfile.Code = "not_read"

// faultsJSON prints the faults of a file, or why it cannot be read.
func faultsJSON(w io.Writer, name string, err error) error {
	var faults carfile.Faults
	if !errors.As(err, &faults) {
		faults = carfile.Faults{{File: name, Code: notRead, What: strings.TrimPrefix(err.Error(), name+": "), Do: "give a car file that can be read"}}
	}
	doc := checkedJSON{Format: 1, File: name, Warnings: []string{}, Assumed: []assumedJSON{}}
	for _, f := range faults {
		one := faultJSON{File: f.File, Code: f.Code, What: f.What, Do: f.Do}
		if f.Line > 0 {
			one.Line, one.Column = &f.Line, &f.Col
		}
		doc.Faults = append(doc.Faults, one)
	}
	return writeJSON(w, doc)
}
