package model

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Limit names one of the limits that a setting can break.
type Limit string

// The limits.
const (
	LimitTop      Limit = "top"
	LimitRear     Limit = "rear"
	LimitOverhang Limit = "overhang"
	LimitWidth    Limit = "width"
	LimitGap      Limit = "gap to body and lid"
	LimitLid      Limit = "opening of the lid"
	LimitStall    Limit = "stall margin"
	LimitAxle     Limit = "load on both axles"
)

// LimitCount is how many settings break a limit.
type LimitCount struct {
	Limit Limit
	Count int
}

// LimitCounts lists the limits that any setting breaks, with how many settings break
// each, the most first. A setting counts for every limit that it breaks.
func (t *Table) LimitCounts() []LimitCount {
	count := map[Limit]int{}
	for i := range t.Rows {
		for _, l := range t.Rows[i].broken {
			count[l]++
		}
	}
	var all []LimitCount
	for l, n := range count {
		all = append(all, LimitCount{l, n})
	}
	slices.SortFunc(all, func(a, b LimitCount) int {
		return cmp.Or(cmp.Compare(b.Count, a.Count), cmp.Compare(a.Limit, b.Limit))
	})
	return all
}

// LimitsText says which limit excludes how many settings; "" when none does.
func (t *Table) LimitsText() string {
	var parts []string
	for _, c := range t.LimitCounts() {
		parts = append(parts, fmt.Sprintf("%s excludes %d", c.Limit, c.Count))
	}
	return strings.Join(parts, ", ")
}
