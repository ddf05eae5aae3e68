package main

import (
	"bytes"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"codeberg.org/go-pdf/fpdf"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/plotutil"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"

	"stanchion/model"
	"stanchion/model/speeds"
	"stanchion/model/units"
)

// drawSweep draws downforce and drag over speed, as the file's name says.
func drawSweep(file string, s speeds.Sweep, ids []string, u units.System) ([]byte, error) {
	kind := strings.ToLower(strings.TrimPrefix(filepath.Ext(file), "."))
	if !slices.Contains([]string{"svg", "png", "pdf"}, kind) {
		return nil, fmt.Errorf("-o %s; the name must end in .svg, .png or .pdf", file)
	}
	p := plot.New()
	p.Title.Text = s.Tables[0].Car.Name
	p.X.Label.Text = "speed, " + u.SpeedUnit()
	p.Y.Label.Text = "force, " + u.ForceUnit()
	p.Add(plotter.NewGrid())
	p.Legend.Top, p.Legend.Left = true, true
	var lines []any
	for _, id := range ids {
		down, drag := plotter.XYs{}, plotter.XYs{}
		follow(s, id, func(k int, t *model.Table, r *model.Row) {
			if !math.IsNaN(r.Downforce) {
				down = append(down, plotter.XY{X: u.SpeedFigure(s.Speeds[k]), Y: r.Downforce / u.ForceSize()})
				drag = append(drag, plotter.XY{X: u.SpeedFigure(s.Speeds[k]), Y: r.Drag / u.ForceSize()})
			}
		})
		if len(down) == 0 {
			return nil, noAnswer("%s has no figures to draw", id)
		}
		lines = append(lines, "downforce "+id, down, "drag "+id, drag)
	}
	if err := plotutil.AddLines(p, lines...); err != nil {
		return nil, err
	}
	if kind == "pdf" {
		return plotPDF(p)
	}
	var b bytes.Buffer
	w, err := p.WriterTo(plotWidth*vg.Millimeter, plotHeight*vg.Millimeter, kind)
	if err == nil {
		_, err = w.WriteTo(&b)
	}
	return b.Bytes(), err
}

const plotWidth, plotHeight = 200, 140 // mm

// plotPDF puts the plot on a page as a picture: the library's own PDF takes text for
// a code page of western Europe, and names may be in any script.
func plotPDF(p *plot.Plot) ([]byte, error) {
	const dpi = 300
	canvas := vgimg.PngCanvas{Canvas: vgimg.NewWith(vgimg.UseWH(plotWidth*vg.Millimeter, plotHeight*vg.Millimeter), vgimg.UseDPI(dpi))}
	p.Draw(draw.New(canvas))
	var picture, page bytes.Buffer
	if _, err := canvas.WriteTo(&picture); err != nil {
		return nil, err
	}
	f := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: plotWidth, Ht: plotHeight}})
	f.SetMargins(0, 0, 0)
	f.SetAutoPageBreak(false, 0)
	f.AddPage()
	f.RegisterImageOptionsReader("plot", fpdf.ImageOptions{ImageType: "png"}, &picture)
	f.ImageOptions("plot", 0, 0, plotWidth, plotHeight, false, fpdf.ImageOptions{}, 0, "")
	err := f.Output(&page)
	return page.Bytes(), err
}
