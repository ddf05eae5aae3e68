package drawing

import (
	"strings"
	"time"
	"unicode/utf8"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/units"
)

// Template draws a part of a car as a template at its own size: as Part draws it, with what is to be said of it in lines below, the first of
// them large.
func Template(c *model.Car, index int, lines []string, date time.Time, u units.System) *Drawing {
	d := Part(c, index, nil, date, u)
	d.Title = visible(c.Name + ": template of " + c.Parts[index].Name)
	lo, _ := d.Bounds()
	at := plane.Point{X: lo.X, Z: lo.Z - 10}
	size := 4.0
	for _, l := range lines {
		for _, part := range folded(l, 90) {
			d.text(at, size, 0, Note, part)
			at.Z -= 1.6 * size
		}
		size = textSize
	}
	return d
}

// folded breaks a line between words so that no part is longer than so many letters where that goes.
func folded(line string, most int) (all []string) {
	part := ""
	for _, word := range strings.Fields(line) {
		if part != "" && utf8.RuneCountInString(part)+1+utf8.RuneCountInString(word) > most {
			all, part = append(all, part), ""
		}
		if part != "" {
			part += " "
		}
		part += word
	}
	return append(all, part)
}
