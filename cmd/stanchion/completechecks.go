package main

import (
	"slices"

	"stanchion/model/inspect"
)

// itemWords are what checks can note as done or failed.
func itemWords(a asked) []word {
	car, err := loadCar(a.car())
	if err != nil {
		return nil
	}
	all := []word{{is: inspect.Everything}}
	for _, it := range inspect.Items(car) {
		all = append(all, word{is: it.Key})
	}
	return all
}

// checkerWords are who looked before, the last first.
func checkerWords(a asked) []word {
	var names []string
	for _, n := range slices.Backward(notesOf(a)) {
		if by := n.Inspected.By; by != "" && !slices.Contains(names, by) {
			names = append(names, by)
		}
	}
	return plainWords(names)
}
