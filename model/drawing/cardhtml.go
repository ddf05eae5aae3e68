package drawing

import (
	"bytes"
	"fmt"
	"html"
	"math"
	"strings"

	"stanchion/holes/plane"
	"stanchion/model/card"
	"stanchion/model/words"
)

// CardsHTML writes the cards as one page for a phone: it needs no network and no script, goes by the light or dark that the
// phone is set to, and prints a card to a page. It is well-formed XML too.
func CardsHTML(s *card.Set) []byte {
	var p htmlPage
	p.WriteString(`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8"/>
<meta name="viewport" content="width=device-width, initial-scale=1"/>
<meta name="color-scheme" content="light dark"/>
<style>
` + cardStyle + `</style>
`)
	p.f("<title>%s</title>\n</head>\n<body>\n", s.Car+": cards")
	if len(s.Over) > 1 {
		p.overview(s)
	}
	for i := range s.Cards {
		p.card(s, &s.Cards[i], i)
	}
	p.f("</body>\n</html>\n")
	return p.Bytes()
}

// htmlPage is a page that is written; what goes into it by f is escaped.
type htmlPage struct{ bytes.Buffer }

func (p *htmlPage) f(format string, args ...string) {
	safe := make([]any, len(args))
	for i, a := range args {
		safe[i] = html.EscapeString(visible(a))
	}
	fmt.Fprintf(p, format, safe...)
}

// overview is the table of all settings in question; those with a card lead to it.
func (p *htmlPage) overview(s *card.Set) {
	p.f("<section class=\"over\">\n<h1>%s</h1>\n<p>figures %s; %s, by stanchion</p>\n<table>\n<thead><tr><th>setting</th>", s.Car, s.Air, s.Date.Format("2006-01-02"))
	for _, h := range s.Heads {
		p.f("<th>%s</th>", h)
	}
	p.f("</tr></thead>\n")
	n := 0
	for i := range s.Over {
		l := &s.Over[i]
		p.f("<tbody><tr><th>")
		if l.Card {
			p.f("<a href=\"#card%s\">%s</a>", fmt.Sprint(n), s.Table.Name(l.Row.Setting))
			n++
		} else {
			p.f("%s", s.Table.Name(l.Row.Setting))
		}
		p.f("</th>")
		for _, c := range l.Cells {
			p.f("<td>%s</td>", c)
		}
		p.f("</tr><tr><td class=\"bolts\" colspan=\"%s\">%s", fmt.Sprint(1+len(l.Cells)), l.Bolts)
		if l.Marks != "" {
			p.f(" <b>%s</b>", l.Marks)
		}
		p.f("</td></tr></tbody>\n")
	}
	p.f("</table>\n")
	p.paras("", s.Left, "± is one standard uncertainty. "+s.Checked)
	if len(s.Assumed) > 0 {
		p.paras("small", assumedLine(s))
	}
	p.paras("caution", words.NotApproval)
	p.f("</section>\n")
}

func (p *htmlPage) card(s *card.Set, c *card.Card, n int) {
	marks := strings.Join(c.Marks, ", ")
	p.f("<article id=\"card%s\" data-marks=\"%s\">\n<h2>%s</h2>\n<p>%s; figures %s; %s, by stanchion</p>\n", fmt.Sprint(n), marks, c.Title, s.Car, s.Air,
		s.Date.Format("2006-01-02"))
	p.paras("marks", marks)
	p.paras("", c.Against...)
	p.f("<div class=\"pictures\">\n")
	for _, d := range pictures(s.Table, c.Row, s.Units, phonePictures) {
		p.picture(d)
	}
	p.f("</div>\n<h3>Bolts, both sides alike</h3>\n<dl>\n")
	for _, j := range c.Joints {
		p.f("<dt>%s</dt><dd>%s<br/>%s<br/>torque %s</dd>\n", j.Name, j.Bolts, j.Holes, j.Torque)
	}
	p.f("</dl>\n<div class=\"halves\"><section>\n")
	p.pairs("Set it to", c.Set)
	p.f("</section><section>\n")
	p.pairs("What it does to the car", c.Does)
	p.paras("small", c.Sure, c.Under)
	p.f("</section></div>\n<h3>Done</h3>\n")
	p.paras("marks again", marks) // a phone shows a part of a card at a time
	p.f("<div class=\"ticks\">\n")
	for _, t := range c.Ticks {
		p.f("<label><input type=\"checkbox\"/><span>%s</span></label>\n", t)
	}
	p.f("</div>\n")
	p.paras("", c.Strength)
	if len(s.Assumed) > 0 {
		p.paras("small", assumedLine(s))
	}
	p.paras("caution", words.NotApproval)
	p.paras("small", "id in files: "+c.ID)
	p.f("</article>\n")
}

func (p *htmlPage) pairs(title string, all []words.NamedText) {
	p.f("<h3>%s</h3>\n<dl>\n", title)
	for _, n := range all {
		p.f("<dt>%s</dt><dd>%s</dd>\n", n.Name, n.Text)
	}
	p.f("</dl>\n")
}

// paras writes paragraphs of a class, those that say something.
func (p *htmlPage) paras(class string, texts ...string) {
	for _, t := range texts {
		switch {
		case t == "":
		case class == "":
			p.f("<p>%s</p>\n", t)
		default:
			p.f("<p class=\"%s\">%s</p>\n", class, t)
		}
	}
}

// picture draws a picture into the page, in the page's own inks.
func (p *htmlPage) picture(d *Drawing) {
	lo, hi := d.Bounds()
	const free = 1.0
	at := func(q plane.Point) (x, y string) { return number(q.X - lo.X + free), number(hi.Z - q.Z + free) }
	wide, high := number(hi.X-lo.X+2*free), number(hi.Z-lo.Z+2*free)
	p.f("<svg style=\"--w:%s\" viewBox=\"0 0 %s %s\" role=\"img\" aria-label=\"%s\">\n", wide, wide, high, d.Title)
	class := func(pen Pen, filled bool) string {
		c := strings.ToLower(layers[pen])
		if filled {
			c += " full"
		}
		return c
	}
	for _, w := range d.Paths {
		p.f("<path class=\"%s\" stroke-width=\"%s\" d=\"%s\"/>\n", class(w.Pen, w.Filled), number(w.Pen.width()), svgWay(w, at))
	}
	for _, c := range d.Circles {
		x, y := at(c.Centre)
		p.f("<circle class=\"%s\" stroke-width=\"%s\" cx=\"%s\" cy=\"%s\" r=\"%s\"/>\n", class(c.Pen, c.Filled), number(c.Pen.width()), x, y, number(c.Radius))
	}
	for _, t := range d.Texts {
		x, y := at(t.At)
		p.f("<text class=\"%s\" x=\"%s\" y=\"%s\" font-size=\"%s\" text-anchor=\"%s\"", class(t.Pen, false), x, y, number(t.Size),
			[3]string{"start", "middle", "end"}[t.Anchor])
		p.f(" textLength=\"%s\" lengthAdjust=\"spacingAndGlyphs\"", number(math.Round(100*textWidth(t.Text, t.Size))/100)) // whatever font a phone has
		if a := t.angle(); a != 0 {
			p.f(" transform=\"rotate(%s %s %s)\"", number(-a/plane.Deg), x, y)
		}
		p.f(">%s</text>\n", t.Text)
	}
	p.f("</svg>\n")
}

// cardStyle is the look of the page. Inks are named by what they draw; dark ones are those of a phone that is set to dark, and paper
// has the light ones.
const cardStyle = `:root{--paper:#fff;--ink:#111;--soft:#555;--thin:#8a8a8a;--measure:#1e3c8c;--alarm:#a3003f;--edge:#c8c8c8}
@media screen and (prefers-color-scheme:dark){:root{--paper:#16181b;--ink:#f0f0f0;--soft:#b4b8bd;--thin:#80858c;--measure:#9db8ff;--alarm:#ff8fb0;--edge:#464b52}}
*{box-sizing:border-box}
body{margin:0 auto;padding:.75rem;max-width:60rem;background:var(--paper);color:var(--ink);font:1rem/1.4 system-ui,sans-serif;overflow-wrap:anywhere}
h1,h2,h3{line-height:1.2;margin:.2rem 0 .3rem}
h1{font-size:1.3rem}h2{font-size:1.5rem}h3{font-size:1.05rem;margin-top:1rem;border-bottom:1px solid var(--edge)}
p{margin:.4rem 0}
a{color:var(--measure)}
article,.over{position:relative;margin-bottom:2.5rem;border-bottom:3px solid var(--edge);padding-bottom:1rem}
article:not([data-marks=""])::before{content:attr(data-marks);position:absolute;left:0;right:0;top:40%;transform:rotate(-35deg);text-align:center;font-size:2.4rem;font-weight:bold;color:var(--alarm);opacity:.16;pointer-events:none}
.marks{border:2px solid var(--alarm);color:var(--alarm);font-weight:bold;text-align:center;padding:.4rem;font-size:1.15rem}
.small{font-size:.85rem;color:var(--soft)}
.caution{font-weight:bold}
.pictures{display:flex;flex-wrap:wrap;gap:.5rem;justify-content:center;align-items:flex-start}
svg{flex:none;width:calc(var(--w)*5px);max-width:100%;height:auto;font-family:Arial,Helvetica,sans-serif}
svg path,svg circle{fill:none;stroke:var(--ink);stroke-linejoin:round}
svg .full{fill:var(--ink)}
svg text{fill:var(--ink)}
svg .faint,svg .centre{stroke:var(--thin)}
svg text.faint,svg text.centre{fill:var(--soft);stroke:none}
svg .dimension{stroke:var(--measure)}
svg text.dimension{fill:var(--measure);stroke:none}
dl{display:grid;grid-template-columns:minmax(5.5rem,max-content) 1fr;gap:.15rem .75rem;margin:.3rem 0}
dt{color:var(--soft);max-width:7rem}
dd{margin:0}
.ticks label{display:flex;gap:.6rem;padding:.35rem 0;align-items:flex-start}
.ticks input{flex:none;width:1.35rem;height:1.35rem;margin:0}
table{border-collapse:collapse;width:100%;font-size:.85rem}
th{text-align:left;font-weight:normal}
tbody th{font-weight:bold}
td,thead th+th{text-align:right}
table{overflow-wrap:normal}
td{white-space:nowrap}
td.bolts{white-space:normal}
td,th{padding:.15rem .2rem;vertical-align:bottom}
td.bolts{text-align:left;color:var(--soft);font-size:.8rem;padding-bottom:.4rem;border-bottom:1px solid var(--edge)}
td.bolts b{color:var(--alarm)}
@media (min-width:42rem){.halves{display:grid;grid-template-columns:1fr 1fr;gap:1.5rem}}
@page{margin:9mm}
@media print{
html{font-size:8.5pt}
body{line-height:1.25;padding:0;max-width:none}
article,.over{break-after:page;border:0;margin:0;padding:0}
article:last-of-type{break-after:auto}
h2{font-size:14pt}h3{font-size:9.5pt;margin-top:4pt}
p{margin:2pt 0}
.pictures{flex-wrap:nowrap;align-items:flex-start}
svg{flex:var(--w) 1 0;width:auto;min-width:0;max-height:64mm}
.again{display:none}
.halves{display:grid;grid-template-columns:1fr 1fr;gap:5mm}
.ticks{display:grid;grid-template-columns:1fr 1fr;gap:0 5mm}
.ticks label{padding:1pt 0}
.ticks input{width:9pt;height:9pt}
dl{gap:0 2mm}
dt{max-width:26mm}
a{color:inherit;text-decoration:none}
}
`
