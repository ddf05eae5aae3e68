package main

import (
	"errors"
	"fmt"
	"time"

	"stanchion/holes/plane"
	"stanchion/model"
	"stanchion/model/cutting"
	"stanchion/model/drawing"
	"stanchion/model/template"
	"stanchion/model/units"
	"stanchion/model/words"
)

// plywood reads how thick a template is.
func plywood(text string, u units.System) (float64, error) {
	mm, err := units.Lengths.Parse(text, u.LengthUnit())
	if err != nil || !(mm >= template.Thinnest && mm <= template.Thickest) {
		return 0, fmt.Errorf("--template %s; it must be the thickness of plywood, %s to %s", units.Printable(text), u.Dimension(template.Thinnest), u.Dimension(template.Thickest))
	}
	return mm, nil
}

// templateOf works out a part's template in plywood; the error names the part.
func templateOf(c *model.Car, part int, mm float64) (*template.Template, error) {
	t, err := template.Of(c, part, mm)
	if errors.Is(err, template.ErrNotPlate) {
		return nil, fmt.Errorf("--template is for a plate between the fixed part and the wing; %s is not one", units.Printable(c.Parts[part].Name))
	}
	return t, err
}

// ofTemplate draws a part's template, and lists what is to be known of it.
func (f *drawFlags) ofTemplate(c *model.Car, part int, date time.Time) (*drawing.Drawing, *model.Car, []string, error) {
	u := shown(c)
	mm, err := plywood(f.template, u)
	if err != nil {
		return nil, nil, nil, err
	}
	if len(f.places) > 0 {
		return nil, nil, nil, errors.New("--at is for the plate, not its --template; put the hole into the car file first")
	}
	t, err := templateOf(c, part, mm)
	if err != nil {
		return nil, nil, nil, err
	}
	lines := words.Template(t, u)
	return drawing.Template(t.Car, part, lines, date, u), t.Car, lines, nil
}

// templatesOf are the templates of plates, by the part's name, where a thickness is given; none for the fixed part.
func templatesOf(c *model.Car, plates []cutting.Plate, thick string) (map[string]*template.Template, error) {
	if thick == "" {
		return nil, nil
	}
	mm, err := plywood(thick, shown(c))
	if err != nil {
		return nil, err
	}
	all := map[string]*template.Template{}
	for i := 1; i < len(c.Parts)-1; i++ {
		for _, p := range plates {
			if p.Part.Name != c.Parts[i].Name {
				continue
			}
			if all[p.Part.Name], err = templateOf(c, i, mm); err != nil {
				return nil, err
			}
		}
	}
	return all, nil
}

type templateJSON struct {
	Thickness *float64       `json:"thickness_mm"`
	Drills    []woodJSON     `json:"drills"`
	Wooden    *float64       `json:"play_deg"`
	Metal     *float64       `json:"play_of_plate_deg"`
	Bolts     []woodBoltJSON `json:"bolts"`
	Sideways  *float64       `json:"outer_face_further_out_mm"`
	Caution   string         `json:"caution"`
}

type woodJSON struct {
	Joint string   `json:"joint"`
	Plate *float64 `json:"plate_mm"`
	Wood  *float64 `json:"wood_mm"`
	Holes int      `json:"holes"`
}

type woodBoltJSON struct {
	Joint string   `json:"joint"`
	Plate *float64 `json:"plate_length_mm"`
	Wood  *float64 `json:"length_mm"`
}

func templateJSONOf(t *template.Template) *templateJSON {
	if t == nil {
		return nil
	}
	j := &templateJSON{Thickness: figure(t.Thickness, 2), Drills: []woodJSON{}, Bolts: []woodBoltJSON{}, Sideways: figure(t.Sideway, 2),
		Caution: words.TemplateCaution}
	for _, d := range t.Drills {
		j.Drills = append(j.Drills, woodJSON{d.Joint, figure(d.Plate, 2), figure(d.Wood, 2), d.Holes})
	}
	for _, b := range t.Bolts {
		j.Bolts = append(j.Bolts, woodBoltJSON{b.Joint, figure(b.Plate, 1), figure(b.Wood, 1)})
	}
	if t.Known {
		j.Wooden, j.Metal = figure(t.Wooden/plane.Deg, 2), figure(t.Metal/plane.Deg, 2)
	}
	return j
}
