package drawing

import (
	"bytes"
	"fmt"
	"time"

	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"codeberg.org/go-pdf/fpdf"
)

// Page writes the drawing as a PDF of one page that is as large as the drawing needs: for what is looked at, not measured from.
func (d *Drawing) Page(date time.Time) ([]byte, error) {
	lo, hi := d.Bounds()
	f := newPDF(d.Title, hi.X-lo.X+2*margin, hi.Z-lo.Z+2*margin, date)
	f.AddPage()
	(&pdfPage{f, lo.X - margin, hi.Z + margin}).draw(d, everywhere)
	return written(f)
}

// newPDF begins a file whose pages are so many mm wide and high.
func newPDF(title string, width, height float64, date time.Time) *fpdf.Fpdf {
	f := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: width, Ht: height}})
	f.SetMargins(0, 0, 0)
	f.SetAutoPageBreak(false, 0)
	f.SetCatalogSort(true)
	f.SetCreationDate(date)
	f.SetModificationDate(date)
	f.SetProducer("stanchion", true)
	f.SetTitle(inFont(title), true)
	f.AddUTF8FontFromBytes("sans", "", liberationsansregular.TTF)
	return f
}

func written(f *fpdf.Fpdf) ([]byte, error) {
	var b bytes.Buffer
	if err := f.Output(&b); err != nil {
		return nil, fmt.Errorf("the PDF cannot be written: %w", err)
	}
	return b.Bytes(), nil
}
