package logged

import "math"

// keeper keeps samples within a bound: those of one step in time are averaged, and the step doubles whenever there would be too many.
type keeper struct {
	kept []Sample
	step float64
	open mean
	slot float64
	has  bool
}

// mostKept is how many samples are kept at most: about four hours at 20 Hz, 60 MB.
const mostKept = 300_000

// firstStep is what samples are averaged over at first, s: a car moves by 4 m in it at most, and nothing that is read from a recording
// is faster.
const firstStep = 0.04

// mean is a mean of samples, each channel's of those that have it.
type mean struct {
	sum   Sample
	n     [Channels]int
	count int
	place int
}

func (m *mean) add(s *Sample) {
	if m.count == 0 {
		m.sum = *s
		for c := range m.n {
			m.n[c] = 0
			if s.Has(Channel(c)) {
				m.n[c] = 1
			} else {
				m.sum.At[c] = 0
			}
		}
		m.count, m.place = 1, 0
		if m.sum.Placed = 0; !math.IsNaN(s.Placed) {
			m.sum.Placed, m.place = s.Placed, 1
		}
		return
	}
	m.sum.T += s.T
	m.count++
	if !math.IsNaN(s.Placed) {
		m.sum.Placed += s.Placed
		m.place++
	}
	for c := range m.n {
		if s.Has(Channel(c)) {
			if Channel(c) == Lap && m.n[c] > 0 {
				continue // a number, not a quantity
			}
			m.sum.At[c] += s.At[c]
			m.n[c]++
		}
	}
}

func (m *mean) value() Sample {
	s := m.sum
	s.T /= float64(m.count)
	s.Placed /= float64(m.place) // NaN for none
	for c := range m.n {
		s.At[c] /= float64(m.n[c])
	}
	return s
}

func (k *keeper) add(s Sample) {
	if k.step == 0 {
		k.step = firstStep
	}
	slot := math.Floor(s.T / k.step)
	if k.has && slot == k.slot && !s.Break {
		k.open.add(&s)
		return
	}
	k.flush()
	if len(k.kept) >= mostKept {
		k.halve()
		slot = math.Floor(s.T / k.step)
	}
	k.open.count = 0
	k.open.add(&s)
	k.slot, k.has = slot, true
}

func (k *keeper) flush() {
	if k.has {
		k.kept = append(k.kept, k.open.value())
	}
	k.has = false
}

// halve averages pairs that are close enough in a step of twice the length.
func (k *keeper) halve() {
	k.step *= 2
	out := k.kept[:0]
	var m mean
	slot := math.NaN()
	for i := range k.kept {
		s := k.kept[i]
		at := math.Floor(s.T / k.step)
		if m.count > 0 && (at != slot || s.Break) {
			out = append(out, m.value())
			m.count = 0
		}
		m.add(&s)
		slot = at
	}
	k.kept = append(out, m.value())
}

func (k *keeper) done() []Sample {
	k.flush()
	return k.kept
}
