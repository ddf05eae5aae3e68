package drawing

import (
	"time"

	"stanchion/model"
	"stanchion/model/units"
)

// templateWidth is how wide the lines of a template are, mm: the first of them in one piece.
const templateWidth = 170.0

// Template draws a part of a car as a template at its own size: as Part draws it, with what is to be said of it in lines that stand before the table, the
// first of them large.
func Template(c *model.Car, index int, lines []string, date time.Time, u units.System) *Drawing {
	d := Wanted{Date: date, Units: u, plywood: true}.Part(c, index)
	d.Title = visible(c.Name + ": template of " + c.Parts[index].Name)
	var b Block
	size := 4.0
	for _, l := range lines {
		b.say(size, templateWidth, l)
		size = textSize
	}
	d.Blocks = append([]Block{b}, d.Blocks...)
	return d
}
