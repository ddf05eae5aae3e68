package inspect

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"stanchion/model/logbook"
)

// Worst lists the items that are due or not known, those that matter most first.
func (r Report) Worst() (all []State) {
	for _, s := range r.Items {
		if s.Level != NotDue {
			all = append(all, s)
		}
	}
	slices.SortStableFunc(all, func(a, b State) int {
		return cmp.Or(cmp.Compare(b.Level, a.Level), cmp.Compare(a.Reason, b.Reason), cmp.Compare(b.Over, a.Over))
	})
	return all
}

// Count is how many items stand at a level.
func (r Report) Count(l Level) (n int) {
	for _, s := range r.Items {
		if s.Level == l {
			n++
		}
	}
	return n
}

// Level is the worst that an item stands at.
func (r Report) Level() (worst Level) {
	for _, s := range r.Items {
		worst = max(worst, s.Level)
	}
	return worst
}

// Find is how one item stands.
func (r Report) Find(key string) (State, bool) {
	for _, s := range r.Items {
		if s.Key == key {
			return s, true
		}
	}
	return State{}, false
}

// mostText is how long a text of a look may be, bytes.
const mostText = 2000

// NeedsWords says that a look is not noted without words of what was found.
type NeedsWords struct{ Why string }

func (e NeedsWords) Error() string { return e.Why }

// Note makes a note of a look; those that failed are looked at too. It says why there is none: nothing was done, an item fails, or
// passes after it failed, and no word says what was found.
func (r Report) Note(k logbook.Inspection) (logbook.Note, error) {
	n := logbook.Blank()
	k.Found, k.By = strings.TrimSpace(k.Found), strings.TrimSpace(k.By)
	for _, key := range k.Failed {
		if !slices.Contains(k.Looked, key) {
			k.Looked = append(k.Looked, key)
		}
	}
	switch {
	case !k.Says():
		return n, errors.New("nothing is noted: say which items were looked at, or what struck the car")
	case len(k.Found) > mostText || len(k.By) > mostText:
		return n, fmt.Errorf("what was found, and by whom, may have %d characters at most", mostText)
	case k.Struck != "" && !slices.Contains(logbook.Strikes(), k.Struck):
		return n, fmt.Errorf("struck by %q; give %s", k.Struck, strings.Join(logbook.Strikes(), ", "))
	case len(k.Failed) > 0 && k.Found == "":
		return n, NeedsWords{strings.Join(k.Failed, ", ") + " failed: say what was found"}
	}
	for _, key := range k.Looked {
		if s, ok := r.Find(key); ok && s.Failed != nil && k.Passed(key) && k.Found == "" {
			return n, NeedsWords{fmt.Sprintf("%s failed before (note %s): say what was put right", key, s.Failed.ID)}
		}
	}
	n.Inspected = k
	return n, nil
}
