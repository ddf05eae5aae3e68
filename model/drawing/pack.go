package drawing

import (
	"fmt"
	"slices"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/cutting"
	"stanchion/model/strength"
	"stanchion/model/units"
	"stanchion/model/words"
)

// File is a file by its name.
type File struct {
	Name string
	Data []byte
}

// PackWanted is what a shop pack is made with.
type PackWanted struct {
	Wanted
	Engrave bool
	Release Release
	Paper   *Paper // of the template; nil for the smallest on which it is one sheet
}

// Pack returns what a workshop takes to make a part: the edges to cut as DXF and SVG, the part at 1:1 as PDF, and a sheet with material,
// thickness, quantity and holes. It fails with ErrNoOutline.
func Pack(c *model.Car, index int, w PackWanted) ([]File, error) {
	p := c.Parts[index].AsDrawn()
	cut, err := CutOnly(p, w.Fresh, w.Engrave)
	if err != nil {
		return nil, err
	}
	d := w.Part(c, index)
	sheets := d.LayoutUsual()
	if w.Paper != nil {
		sheets = d.Layout(*w.Paper)
	}
	pdf, err := sheets.PDF(d.Title, w.Date)
	if err != nil {
		return nil, err
	}
	name := FileName(p.Name)
	files := []File{{name + ".dxf", cut.DXF(w.Release)}, {name + ".svg", cut.SVG()}, {name + "-template.pdf", pdf}}
	s := shopPart(c, index, &p, w)
	s.Engraved = cut.Engrave != nil
	s.Files = [][2]string{{files[0].Name, "edges to cut, DXF " + w.Release.String()}, {files[1].Name, "the same edges, SVG"},
		{files[2].Name, "the part at 1:1 with its dimensions, " + sheets.Said() + "; print at 100 % and measure both bars"}}
	text := strings.Join(words.ShopSheet(s, w.Units), "\r\n") + "\r\n"
	return append(files, File{name + ".txt", []byte(text)}), nil
}

// shopPart gathers what a workshop has to know of a part.
func shopPart(c *model.Car, index int, p *model.Part, w PackWanted) *words.ShopPart {
	name := p.Name
	p.Name = visible(name)
	s := &words.ShopPart{Car: visible(c.Name), Part: p, Date: w.Date, Warnings: Warnings(*p, w.Fresh, w.Units),
		Count: int(c.Mounting.Uprights.Or(2)), Blank: cutting.One(p.Outline, 0)}
	_, s.CountGiven = c.Mounting.Uprights.Get()
	s.Mass, s.MassOK = strength.PlateMass(p)
	p.Material = visible(p.Material)
	own := &Drawing{units: units.Metric}
	drawn := *c // the part is made as drawn, the one that it is bolted to stands as it is
	drawn.Parts = slices.Clone(c.Parts)
	drawn.Parts[index] = *p
	off := mayBeOff(&drawn, index)
	for _, r := range holeRows(*p, w.Fresh) {
		h := words.ShopHole{ID: visible(r.id), X: r.at.X, Z: r.at.Z, D: r.d}
		if r.slot != nil || r.fresh {
			h.Note = visible(own.note(r, plane.Point{}))
		}
		h.Bolt, h.Off = boltOf(c, index, r), off[r.id]
		s.Holes = append(s.Holes, h)
	}
	return s
}

// FileName makes a part's name one that every system takes for a file.
func FileName(part string) string {
	name := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '-', r == '_':
			return r
		}
		return '-'
	}, part)
	if name = strings.Trim(name, "-"); name == "" {
		return "part"
	}
	if len(name) > 40 {
		name = name[:40]
	}
	return name
}

// Folders gives each of some parts a name of its own for its folder.
func Folders(parts []string) []string {
	seen := map[string]bool{}
	var all []string
	for _, p := range parts {
		name := FileName(p)
		for n := 2; seen[strings.ToLower(name)]; n++ {
			name = fmt.Sprintf("%s-%d", FileName(p), n)
		}
		seen[strings.ToLower(name)] = true
		all = append(all, name)
	}
	return all
}
