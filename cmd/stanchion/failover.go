package main

import (
	"fmt"
	"strconv"
	"strings"

	"stanchion/model/strength"
)

// failOver is the share of an allowable beyond which the answer is no, for scripts that want some in hand.
type failOver struct{ at float64 }

// String is what help shows of the flag when it is not given: nothing beyond the allowable itself.
func (f *failOver) String() string { return strconv.FormatFloat(100*f.at, 'f', -1, 64) + "%" }

// Type is the name of the flag's values.
func (f *failOver) Type() string { return "share" }

// Set takes 80% or 80 for 80 per cent.
func (f *failOver) Set(text string) error {
	x, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), "%")), 64)
	if err != nil || !(x > 0) || x > 100 {
		return fmt.Errorf("give a percentage of the allowable, more than 0%% and no more than 100%%, such as 80%%")
	}
	f.at = x / 100
	return nil
}

// verdict is exit code 1 for all but a pass with no more used than that.
func (f failOver) verdict(err error, worst strength.Result, v strength.Verdict) error {
	if err != nil {
		return err
	}
	if v != strength.Passes {
		return noAnswer("")
	}
	if used, ok := worst.Used(); ok && used.Utilisation() > f.at {
		return noAnswer("%.1f %% of the allowable is used (%s), --fail-over is %s", 100*used.Utilisation(), used.What, f.String())
	}
	return nil
}
