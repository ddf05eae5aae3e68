package main

import (
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"stanchion/holes"
	"stanchion/model"
	"stanchion/model/drawing"
	"stanchion/model/drill"
	"stanchion/model/units"
	"stanchion/model/words"
)

// drawFlags are what draw takes.
type drawFlags struct {
	out, pack, paper, inches, date, setting, from, speed, diameter string
	places                                                         []string
	settings, replace                                              bool
	photo                                                          photoFlags
	cut                                                            cutFlags
	template                                                       string
	told                                                           []string // what is to be known of the drawing besides
}

func newDraw() *cobra.Command {
	var f drawFlags
	c := &cobra.Command{
		Use:   "draw CARFILE [PART] {-o FILE | --pack DIR}",
		Short: "a part at 1:1 to drill from, a setting from the side, or the map, as a file",
		Long: `draw writes a drawing; the name of the file says of which kind.

With PART it is the part at its own size: outline, holes with centre marks and
ids, dimensions from the datum edges, and a table of holes. .pdf comes on one sheet,
turned to fit, of the smallest paper that takes it; --paper a4 lays it over pages that a
home printer prints, which repeat 10 mm of one another and carry marks to register them
by. .svg and .dxf are in mm, .dxf in the part's own coordinates; .csv is the table of
holes alone. --at adds holes that are not in the car file yet, drawn apart. Where the car
file is in inches, dimensions are fractions to the nearest 64th, with the decimals beside
them where that is not met, and alone where it would be off by more than 0.1 mm; --inches
decimals leaves fractions out. Holes that overlap or break through an edge are warned of,
on the drawing too.

With --template THICK it is the part as it is made of plywood first: holes as they are
drilled in wood, and below the drawing what that play does to the angle, which bolts it
takes, and by how much the wing's mounts move sideways. Wood carries no air load.

With PART and --cut the file is for a laser or a router: layer OUTLINE has the outer edge,
HOLES every edge within it, round holes as circles, the rest as closed polylines; each
once, and nothing else. --engrave adds the names of part and holes on layer ENGRAVE.

With --pack DIR, or a name that ends in .zip, it is what a workshop takes: for PART, or
for all plates but the fixed one, the edges to cut as .dxf and .svg, the part at 1:1 as
.pdf, and a sheet with material, thickness, quantity and the list of holes.

With --setting ID it is that setting from the side, to scale, and each joint larger with
the names of its holes; with --settings the map of all. Both as .pdf, .svg or .png.
--from ID draws the wing of the setting that it comes from too, and says what changes.

With --photo FILE, a photograph of the car from its side, the setting is drawn to scale
onto it, as .png: give the centres of the two near wheels as --front-wheel X,Y and
--rear-wheel X,Y in dots from the upper left corner. With the half axes of the ellipses
that the tyres' edges are seen as, X,Y,ACROSS,UP, the perspective of a level camera is
corrected; else the picture is taken as square to the car. It is a drawing in the plane
of the wheels: what stands further in or out is seen a little smaller or larger.

Print at 100 %, not fitted to the page, and measure both bars of 100 mm before
anything is drilled from it. Drill a template first.`,
		Example: `  stanchion draw car.toml upright -o upright.pdf
  stanchion draw car.toml upright --paper a4 -o upright.pdf
  stanchion draw car.toml upright --at 40,470 -o upright.dxf
  stanchion draw car.toml upright --cut -o upright.dxf
  stanchion draw car.toml --pack shop.zip
  stanchion draw car.toml upright --template 9mm -o template.pdf
  stanchion draw car.toml --setting A3+1 --from A2+1 -o setting.png
  stanchion draw car.toml --setting A3+1 --photo side.jpg --front-wheel 610,1480 --rear-wheel 2440,1490 -o look.png`,
		Args:              arguments(1, 2),
		ValidArgsFunction: carFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			if f.pack != "" {
				if err := f.packAllowed(len(args) == 2); err != nil {
					return err
				}
				lines, err := f.makePack(args)
				if err != nil {
					return err
				}
				p := out(cmd)
				p.f("%s\n", strings.Join(lines, "\n"))
				return p.err
			}
			data, what, err := f.draw(args)
			if err != nil {
				return err
			}
			if err := writeOutput(f.out, data, f.replace); err != nil {
				return err
			}
			p := out(cmd)
			p.f("%s: %s\n", units.Printable(f.out), what)
			for _, l := range f.told {
				p.hang(p.cells(), l)
			}
			return p.err
		},
	}
	c.Flags().StringVarP(&f.out, "output", "o", "", "the `FILE` to write: .pdf, .svg, .dxf, .csv or .png")
	c.Flags().StringVar(&f.paper, "paper", "", "paper of a .pdf: "+strings.Join(drawing.PaperNames(), ", ")+" (default: the smallest on which it is one sheet)")
	c.Flags().StringVar(&f.date, "date", "", "the date in the title, as 2026-05-31 (default: today)")
	c.Flags().StringVar(&f.setting, "setting", "", "draw this setting from the side, `ID` or enough of its holes")
	c.Flags().StringVar(&f.from, "from", "", "with --setting: draw the wing of this setting too, `ID` of what it comes from")
	f.photo.add(c)
	f.cut.add(c)
	c.Flags().StringVar(&f.pack, "pack", "", "write what a workshop takes into the folder `DIR`, or into one file NAME.zip")
	c.Flags().StringVar(&f.inches, "inches", "fractions", "dimensions in inches as fractions, or decimals")
	c.Flags().BoolVar(&f.settings, "settings", false, "draw the map of all settings")
	c.Flags().StringVar(&f.speed, "speed", "", speedOfFile)
	c.Flags().StringArrayVar(&f.places, "at", nil, "a new hole at `X,Z` of the part; may be repeated")
	c.Flags().StringVar(&f.template, "template", "", "draw the PART to be made of plywood first, so `THICK`, such as 9mm")
	c.Flags().StringVar(&f.diameter, "d", "", "`DIAMETER` of new holes (default: as the part's other holes)")
	c.Flags().BoolVar(&f.replace, "replace", false, "write over a file that is there")
	_ = c.RegisterFlagCompletionFunc("paper", cobra.FixedCompletions(drawing.PaperNames(), cobra.ShellCompDirectiveNoFileComp))
	return c
}

// draw makes the drawing, and says what it is.
func (f *drawFlags) draw(args []string) (data []byte, what string, err error) {
	part := len(args) == 2
	kind := strings.ToLower(strings.TrimPrefix(filepath.Ext(f.out), "."))
	if err := f.allowed(part, kind); err != nil {
		return nil, "", err
	}
	date, err := f.day()
	if err != nil {
		return nil, "", err
	}
	if err := f.mayWrite(args[0], f.out); err != nil {
		return nil, "", err
	}
	if f.photo.file != "" {
		return f.onPhoto(args[0])
	}
	var d *drawing.Drawing
	switch {
	case part:
		car, err := loadCar(args[0])
		if err != nil {
			return nil, "", err
		}
		index, err := findPart(car, args[1])
		if err != nil {
			return nil, "", fmt.Errorf("PART %w", err)
		}
		fresh, err := f.fresh(car, index)
		if err != nil {
			return nil, "", err
		}
		if f.template != "" {
			if d, car, f.told, err = f.ofTemplate(car, index, date); err != nil {
				return nil, "", err
			}
		}
		if kind == "csv" {
			data, err := drawing.HoleTable(car.Parts[index], fresh)
			return data, fmt.Sprintf("the holes of %s, in mm in its own frame", car.Parts[index].Name), err
		}
		if f.cut.only {
			return f.cut.file(kind, car.Parts[index], fresh, shown(car))
		}
		if what = car.Parts[index].Name + " at 1:1"; d == nil {
			d = f.wanted(fresh, date, shown(car)).Part(car, index)
		}
		defer func() { what += warned(car.Parts[index], fresh, shown(car)) }()
	default:
		if d, what, err = f.ofSettings(args[0], date); err != nil {
			return nil, "", err
		}
	}
	return f.as(kind, d, what, date)
}

// ofSettings draws the map of all settings, or one from the side.
func (f *drawFlags) ofSettings(path string, date time.Time) (*drawing.Drawing, string, error) {
	t, err := tableOf(path, f.speed)
	if err != nil {
		return nil, "", err
	}
	if f.settings {
		return drawing.Map(t, "", date, shown(t.Car)), "the map of all settings", nil
	}
	r, from, err := f.rows(t)
	if err != nil {
		return nil, "", err
	}
	return drawing.Side(t, r, from, date, shown(t.Car)), "setting " + t.Name(r.Setting), nil
}

// rows are the settings of --setting and --from; from is nil where it is not given.
func (f *drawFlags) rows(t *model.Table) (r, from *model.Row, err error) {
	if r, err = pickRow(t, strings.Fields(f.setting)); err != nil || f.from == "" {
		return r, nil, err
	}
	if from, err = pickRow(t, strings.Fields(f.from)); err != nil {
		return nil, nil, fmt.Errorf("--from: %w", err)
	}
	return r, from, nil
}

// as returns a drawing as a file of a kind, and says what it is.
func (f *drawFlags) as(kind string, d *drawing.Drawing, what string, date time.Time) (data []byte, said string, err error) {
	switch kind {
	case "svg":
		return d.SVG(), what, nil
	case "dxf":
		release, err := f.cut.dxf()
		return d.DXFAs(release), what + ", in mm, in its own coordinates", err
	case "png":
		data, err = d.PNG()
		return data, what + boxed(d), err
	}
	sheets := d.LayoutUsual()
	if f.paper != "" {
		p, err := f.sheet()
		if err != nil {
			return nil, "", err
		}
		sheets = d.Layout(p)
	}
	data, err = sheets.PDF(d.Title, date)
	said = fmt.Sprintf("%s, %s: print at 100 %% and measure the bars", what, sheets.Said())
	if home := d.HomePaper(); f.paper == "" && sheets.Paper != home {
		said += "; --paper " + home.Name + " lays it over pages for a home printer"
	}
	return data, said + boxed(d), err
}

// boxed warns of letters that a drawing shows as boxes; "" for none.
func boxed(d *drawing.Drawing) string {
	missing := d.NotInFont()
	if missing == "" {
		return ""
	}
	return "\nletters that its font does not have are boxes on it: " + units.Printable(missing) + "; a .svg shows them"
}

// fresh are the holes that --at adds.
func (f *drawFlags) fresh(car *model.Car, part int) ([]holes.Hole, error) {
	d := commonDiameter(car.Parts[part])
	if f.diameter != "" {
		var err error
		if d, err = units.Lengths.Parse(f.diameter, shown(car).LengthUnit()); err != nil {
			return nil, fmt.Errorf("--d %w", err)
		}
	}
	if len(f.places) > 0 && !(d > 0 && d < 100) {
		return nil, fmt.Errorf("--d: the diameter is %s; it must be more than 0 and less than %s", shown(car).Dimension(d),
			shown(car).Dimension(100))
	}
	var all []holes.Hole
	for i, text := range f.places {
		at, err := parsePoint(text, shown(car).LengthUnit())
		if err != nil {
			return nil, fmt.Errorf("--at %w", err)
		}
		h := holes.Hole{ID: drill.FreeHoleName(car.Parts[part], i), X: at.X, Z: at.Z, D: d}
		if rule, broken := drill.Broken(drill.HoleRules(&car.Parts[part], h)); broken {
			return nil, fmt.Errorf("--at %s: cannot be drilled there: %s", text, words.Broken(rule, shown(car)))
		}
		all = append(all, h)
	}
	return all, nil
}
