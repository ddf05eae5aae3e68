package logbook

import "math"

// feelKeys are the keys of what was felt, with the largest that each can be.
var feelKeys = []struct {
	key  string
	most int
	of   func(*Feel) *int
}{
	{"balance_fast_entry", 3, func(f *Feel) *int { return &f.Fast.Entry }},
	{"balance_fast_middle", 3, func(f *Feel) *int { return &f.Fast.Middle }},
	{"balance_fast_exit", 3, func(f *Feel) *int { return &f.Fast.Exit }},
	{"grip_fast", 0, func(f *Feel) *int { return &f.Fast.Grip }},
	{"balance_slow_entry", 3, func(f *Feel) *int { return &f.Slow.Entry }},
	{"balance_slow_middle", 3, func(f *Feel) *int { return &f.Slow.Middle }},
	{"balance_slow_exit", 3, func(f *Feel) *int { return &f.Slow.Exit }},
	{"grip_slow", 0, func(f *Feel) *int { return &f.Slow.Grip }},
	{"stability_braking", 0, func(f *Feel) *int { return &f.Braking }},
	{"stability_straight", 0, func(f *Feel) *int { return &f.Straight }},
}

// Felt is one number that a note has of what was felt, by its key in the file.
type Felt struct {
	Key   string
	Value int // NoFeel where it was not noted
}

// List gives what was felt number by number, without the grips of single ends.
func (f Feel) List() (all []Felt) {
	for _, k := range feelKeys {
		all = append(all, Felt{k.key, *k.of(&f)})
	}
	return all
}

// keys are a note's keys with their values, and those whose values cannot be used.
type keys struct {
	of  map[string]any
	odd []string
}

// unusable marks a key that is there.
func (m *keys) unusable(key string) {
	if _, there := m.of[key]; there {
		m.odd = append(m.odd, key)
	}
}

func (m *keys) text(key string) string {
	s, ok := m.of[key].(string)
	if !ok {
		m.unusable(key)
	}
	return s
}

// number returns NaN for what is not given or cannot be used.
func (m *keys) number(key string) float64 {
	switch v := m.of[key].(type) {
	case float64:
		if math.Abs(v) < 1e12 {
			return v
		}
	case int64:
		return float64(v)
	}
	m.unusable(key)
	return math.NaN()
}

func (m *keys) feel(key string, most int) int {
	if v, ok := m.of[key].(int64); ok && v >= -3 && v <= int64(most) {
		return int(v)
	}
	m.unusable(key)
	return NoFeel
}
