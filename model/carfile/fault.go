package carfile

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"stanchion/model/units"
)

// Fault is one thing that is wrong with a file.
type Fault struct {
	File      string
	Line, Col int // counted from 1; 0 when the file as a whole is meant
	What      string
	Do        string // what to do about it; may be empty
	Code      Code
}

// Code is what kind of fault it is, for programs.
type Code string

// The kinds of faults.
const (
	NotTOML    Code = "not_toml"     // the text is not TOML
	UnknownKey Code = "unknown_key"  // nothing is known by that name there
	MissingKey Code = "missing_key"  // a key or a table that must be there is not
	WrongKind  Code = "wrong_kind"   // a text where a number belongs, and the like
	OutOfRange Code = "out_of_range" // a number that may not be so large or so small
	NotSound   Code = "not_sound"    // anything else: what stands there does not go together, or is no such thing
)

// Error spells the fault as FILE:LINE:COLUMN: what is wrong; what to do.
// Nothing in it can act on a terminal.
func (f Fault) Error() string {
	var b strings.Builder
	b.WriteString(units.Printable(f.File))
	if f.Line > 0 {
		fmt.Fprintf(&b, ":%d:%d", f.Line, f.Col)
	}
	b.WriteString(": " + units.Printable(f.What))
	if f.Do != "" {
		b.WriteString("; " + units.Printable(f.Do))
	}
	return b.String()
}

// Faults is everything that is wrong, in the order of the lines.
type Faults []Fault

// Error spells every fault on a line of its own.
func (fs Faults) Error() string {
	lines := make([]string, len(fs))
	for i, f := range fs {
		lines[i] = f.Error()
	}
	return strings.Join(lines, "\n")
}

// Unwrap gives the faults to errors.As and errors.Is.
func (fs Faults) Unwrap() []error {
	errs := make([]error, len(fs))
	for i, f := range fs {
		errs[i] = f
	}
	return errs
}

// maxFaults is how many faults are spelt out; of the rest the number is enough.
const maxFaults = 50

// sorted returns the faults in the order of the lines, without those that were
// taken back, the first maxFaults of them.
func (fs Faults) sorted() Faults {
	fs = slices.DeleteFunc(fs, func(f Fault) bool { return f.What == "" })
	sort.SliceStable(fs, func(a, b int) bool {
		if fs[a].File != fs[b].File {
			return false
		}
		if fs[a].Line != fs[b].Line {
			return fs[a].Line < fs[b].Line
		}
		return fs[a].Col < fs[b].Col
	})
	if more := len(fs) - maxFaults; more > 0 {
		fs = append(fs[:maxFaults:maxFaults], Fault{File: fs[0].File, What: fmt.Sprintf("and %d more faults", more), Do: "fix these first", Code: NotSound})
	}
	return fs
}

// nearest returns the known word closest to the one typed, or "" when none is
// close. Distance by insertions, deletions and substitutions.
func nearest(typed string, known []string) string {
	best, at := "", 3
	for _, k := range known {
		if d := distance(strings.ToLower(typed), k); d < at && d < len(k) {
			best, at = k, d
		}
	}
	return best
}

func distance(a, b string) int {
	if len(a) > 64 {
		return len(a)
	}
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			cost := 1
			if a[i] == b[j] {
				cost = 0
			}
			diagonal, row[j+1] = row[j+1], min(row[j+1]+1, row[j]+1, diagonal+cost)
		}
	}
	return row[len(b)]
}
