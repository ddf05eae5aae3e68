package aero

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"text/tabwriter"
)

// check is one published value against ours.
type check struct {
	what            string
	published, ours float64
	within          float64 // absolute
	source          string
}

// compare fails where ours is not within what is allowed, and with -v prints all
// of it as a table: go test -run Published -v ./aero.
func compare(t *testing.T, all []check) {
	t.Helper()
	var b strings.Builder
	w := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "case\tpublished\tours\tdifference\tallowed\tsource")
	for _, c := range all {
		fmt.Fprintf(w, "%s\t%.4g\t%.4g\t%+.2g\t%.2g\t%s\n", c.what, c.published, c.ours, c.ours-c.published, c.within, c.source)
		if !(math.Abs(c.ours-c.published) <= c.within) {
			t.Errorf("%s: %.5g, published %.5g ± %.3g (%s)", c.what, c.ours, c.published, c.within, c.source)
		}
	}
	w.Flush()
	t.Log("\n" + b.String())
}
