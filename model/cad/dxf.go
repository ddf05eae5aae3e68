package cad

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"stanchion/holes"
	"stanchion/holes/plane"
	"stanchion/model/units"
)

// dxfUnits are what $INSUNITS stands for, mm. Source: Autodesk, "DXF Reference",
// header variables.
var dxfUnits = map[string]float64{"1": units.Inch, "2": 304.8, "4": 1, "5": 10, "6": 1000, "8": units.Inch / 1e6, "9": units.Inch / 1000,
	"10": 914.4, "13": 1e-3, "14": 100}

// gathering is a drawing while its entities are taken out of their blocks.
type gathering struct {
	*file
	o       Options
	size    float64 // mm in one unit
	count   int
	circles []holes.Hole
	edges   []edge
	layers  []string // of the edges
	loops   []loop
	texts   []label
	passed  map[string]int // kinds and layers that were not taken
	notes   []string
	within  []string // the blocks that are being put in place, the outermost first
}

// label is a text and its place, mm in the part's frame.
type label struct {
	at   plane.Point
	text string
}

// readDXF reads a DXF file.
func readDXF(data []byte, o Options) (Found, error) {
	f, err := takeApart(data)
	if err != nil {
		return Found{}, err
	}
	g := &gathering{file: f, o: o, size: o.Unit, passed: map[string]int{}}
	if g.size == 0 {
		said := strings.TrimSpace(f.header["$INSUNITS"])
		if g.size = dxfUnits[said]; g.size == 0 {
			return Found{}, ErrNoUnit
		}
	}
	if err := g.all(f.entities, same, 0, ""); err != nil {
		return Found{}, err
	}
	g.join()
	return g.found()
}

// all gathers entities that lie at a place. What a block has on layer 0 is on the
// layer that the block is put on.
func (g *gathering) all(list []entity, at affine, depth int, layer string) error {
	for i := range list {
		e := &list[i]
		if g.count++; g.count > maxEntities {
			return fmt.Errorf("more than %d entities with the blocks put in place; draw the part alone", maxEntities)
		}
		if layer != "" && e.layer() == "0" {
			moved := *e
			moved.pairs = append([]pair{{8, layer}}, e.pairs...)
			e = &moved
		}
		if err := g.one(e, at, depth); err != nil {
			return err
		}
	}
	return nil
}

// pass counts an entity that is not taken.
func (g *gathering) pass(e *entity, why string) {
	text := e.kind + " on layer " + e.layer()
	if why != "" {
		text += ", " + why
	}
	g.passed[text]++
}

// centreLine finds the types of line that are drawn chain-dotted: they show middles, bolt circles and neighbouring parts, and no edge.
// The names are those that drawing programs ship, from memory; sure of the first four.
var centreLine = regexp.MustCompile(`(?i)^(CENT(ER|RE)|DASHDOT|PHANTOM|DIVIDE|ACAD_ISO(04|05|08|09|10|12)W100)`)

// lineType is an entity's own type of line, or its layer's.
func (g *gathering) lineType(e *entity) string {
	if own := e.text(6); own != "" && !strings.EqualFold(own, "BYLAYER") && !strings.EqualFold(own, "BYBLOCK") {
		return own
	}
	return g.lineTypes[strings.ToUpper(e.layer())]
}

// one gathers one entity.
func (g *gathering) one(e *entity, at affine, depth int) error {
	if e.kind != "INSERT" && len(g.o.Layers) > 0 &&
		!slices.ContainsFunc(g.o.Layers, func(l string) bool { return strings.EqualFold(l, e.layer()) }) {
		g.pass(e, "which was not asked for")
		return nil
	}
	if e.number(67, 0) == 1 {
		g.pass(e, "which is on the sheet and not in the model")
		return nil
	}
	if e.number(60, 0) == 1 || g.hidden[strings.ToUpper(e.layer())] {
		g.pass(e, "which is hidden")
		return nil
	}
	if kind := g.lineType(e); e.kind != "INSERT" && centreLine.MatchString(kind) {
		g.pass(e, "drawn as a centre line ("+units.Printable(strings.ToUpper(kind))+")")
		return nil
	}
	world := e.kind == "LINE" || e.kind == "ELLIPSE" || e.kind == "MTEXT" // these know no other side
	if z := e.number(230, 1); z < 0 && !world {                           // drawn from behind: x is the other way round
		at = at.then(affine{a: -1, d: 1})
	} else if math.Abs(z) <= 0.999 {
		g.pass(e, "which does not lie in the plane")
		return nil
	}
	for _, p := range e.pairs {
		if (p.code >= 10 && p.code < 60 || p.code >= 210 && p.code < 240) && math.IsNaN(parse(p.value)) {
			g.pass(e, fmt.Sprintf("with a field that is not a number (line %d)", e.line))
			return nil
		}
	}
	point := func(x, z int) plane.Point { return plane.Point{X: e.number(x, 0), Z: e.number(z, 0)} }
	switch e.kind {
	case "CIRCLE":
		g.circle(e, at, point(10, 20), e.number(40, 0))
	case "ARC":
		from, to := e.number(50, 0)*plane.Deg, e.number(51, 0)*plane.Deg
		turn := math.Mod(to-from, 2*math.Pi)
		if turn <= 1e-9 {
			turn += 2 * math.Pi
		}
		g.arc(e, at, point(10, 20), e.number(40, 0), from, turn)
	case "ELLIPSE":
		return g.ellipse(e, at)
	case "LINE":
		g.edge(e, at, edge{a: point(10, 20), b: point(11, 21)})
	case "LWPOLYLINE", "POLYLINE":
		g.polyline(e, at)
	case "SPLINE":
		g.spline(e, at)
	case "INSERT":
		return g.insert(e, at, depth)
	case "TEXT", "MTEXT", "ATTRIB":
		text := e.text(1)
		if e.kind == "MTEXT" {
			text = plainMText(text)
		}
		anchor := point(10, 20)
		g.texts = append(g.texts, label{g.o.place(at.apply(anchor), g.size), g.decode(text)})
	default:
		g.pass(e, "")
	}
	return nil
}

// decode reads a drawing's way of writing signs.
func (g *gathering) decode(s string) string {
	if g.latin && !utf8.ValidString(s) {
		s = strings.ToValidUTF8(s, "?")
	}
	for _, r := range [][2]string{{"%%d", "°"}, {"%%D", "°"}, {"%%c", "Ø"}, {"%%C", "Ø"}, {"%%p", "±"}, {"%%P", "±"}, {"%%u", ""},
		{"%%U", ""}} {
		s = strings.ReplaceAll(s, r[0], r[1])
	}
	for {
		i := strings.Index(s, `\U+`)
		if i < 0 || len(s) < i+7 {
			return s
		}
		var r rune
		if _, err := fmt.Sscanf(s[i+3:i+7], "%04x", &r); err != nil {
			return s
		}
		s = s[:i] + string(r) + s[i+7:]
	}
}

// plainMText leaves out the commonest codes of text of several lines.
func plainMText(s string) string {
	if i := strings.LastIndex(s, ";"); strings.HasPrefix(s, `{\`) && i >= 0 {
		s = strings.TrimSuffix(s[i+1:], "}")
	}
	return strings.ReplaceAll(s, `\P`, " ")
}

func (g *gathering) circle(e *entity, at affine, c plane.Point, r float64) {
	factor, _, even := at.even()
	d := 2 * math.Abs(r) * factor * g.size * g.o.Scale
	switch {
	case !even:
		g.pass(e, "which its block squeezes")
	case !(d > 0) || d > 1e6:
		g.pass(e, "without a size")
	default:
		p := g.o.place(at.apply(c), g.size)
		if !far(p) {
			g.circles = append(g.circles, holes.Hole{X: p.X, Z: p.Z, D: d})
		} else {
			g.pass(e, "further than 100 m away")
		}
	}
}

func far(p plane.Point) bool { return !(math.Abs(p.X) < 1e5 && math.Abs(p.Z) < 1e5) }

func (g *gathering) arc(e *entity, at affine, c plane.Point, r, from, turn float64) {
	if turn > 2*math.Pi-1e-6 {
		g.circle(e, at, c, r)
		return
	}
	place := func(a float64) plane.Point {
		return plane.Point{X: c.X + r*math.Cos(a), Z: c.Z + r*math.Sin(a)}
	}
	// Two halves, so that no bulge is larger than that of half a circle.
	g.edge(e, at, edge{place(from), place(from + turn/2), math.Tan(turn / 8)})
	g.edge(e, at, edge{place(from + turn/2), place(from + turn), math.Tan(turn / 8)})
}

// ellipse takes one that is round.
func (g *gathering) ellipse(e *entity, at affine) error {
	if ratio := math.Abs(e.number(40, 1)); math.Abs(ratio-1) > 1e-6 {
		g.pass(e, "which is not round")
		return nil
	}
	main := plane.Point{X: e.number(11, 0), Z: e.number(21, 0)}
	from, to := e.number(41, 0), e.number(42, 2*math.Pi)
	turn := to - from
	if turn <= 0 {
		turn += 2 * math.Pi
	}
	g.arc(e, at, plane.Point{X: e.number(10, 0), Z: e.number(20, 0)}, math.Hypot(main.X, main.Z), from+math.Atan2(main.Z, main.X),
		min(turn, 2*math.Pi))
	return nil
}

// edge takes a line or an arc.
func (g *gathering) edge(e *entity, at affine, k edge) {
	placed, ok := g.placed(at, k)
	if !ok {
		g.pass(e, "which its block squeezes, or which is far away")
		return
	}
	if placed.a.Distance(placed.b) > 1e-9 {
		g.edges, g.layers = append(g.edges, placed), append(g.layers, e.layer())
	}
}

func (g *gathering) placed(at affine, k edge) (edge, bool) {
	_, mirrored, even := at.even()
	if k.bulge != 0 && !even {
		return k, false
	}
	if mirrored {
		k.bulge = -k.bulge
	}
	k.a, k.b = g.o.place(at.apply(k.a), g.size), g.o.place(at.apply(k.b), g.size)
	return k, !far(k.a) && !far(k.b)
}
