package cad

// pick returns which of the closed outlines, the largest first, is the part's: the innermost
// one that holds the most holes, since one around it that holds no more is a border. It is -1
// where there is none, or where that is not clear; the candidates then have their role. It is
// not clear where
//
//   - the outlines within it hold more than half of its holes: it may be a border, and they parts
//     or views;
//   - one beside it holds holes too;
//   - one around it is no rectangle, as borders are: it may be the part, and what is within it a
//     pocket or a mark;
//   - nothing holds a hole, and the largest is a rectangle with others within.
func pick(shapes []shape) int {
	if len(shapes) == 0 {
		return -1
	}
	mine := 0
	for i := range shapes {
		if shapes[i].Holds >= shapes[mine].Holds && (shapes[i].Holds > 0) {
			mine = i
		}
	}
	own := &shapes[mine]
	rivals := map[int]bool{}
	inner, held := outermost(shapes, func(s *shape) bool { return s.liesIn(own) && (s.Holds > 0 || own.Holds == 0) }, mine)
	switch {
	case own.Holds == 0 && own.rectangle(), 2*held > own.Holds:
		for _, i := range inner {
			rivals[i] = true
		}
	}
	beside, _ := outermost(shapes, func(s *shape) bool { return s.Holds > 0 && !s.liesIn(own) && !own.liesIn(s) }, mine)
	for _, i := range beside {
		rivals[i] = true
	}
	for i := range shapes {
		if s := &shapes[i]; i != mine && own.Holds > 0 && own.liesIn(s) && !s.rectangle() {
			rivals[i] = true
		}
	}
	if len(rivals) == 0 {
		return mine
	}
	own.Role = Candidate
	for i := range rivals {
		shapes[i].Role = Candidate
	}
	return -1
}

// outermost lists those of the shapes, but for one, that are wanted and lie in no other of
// them, and how many holes they hold together.
func outermost(shapes []shape, wanted func(*shape) bool, but int) (all []int, held int) {
next:
	for i := range shapes {
		s := &shapes[i]
		if i == but || !wanted(s) {
			continue
		}
		for _, k := range all {
			if s.liesIn(&shapes[k]) {
				continue next
			}
		}
		all, held = append(all, i), held+s.Holds
	}
	return all, held
}
