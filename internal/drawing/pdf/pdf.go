// Package pdf writes a drawing as a PDF in true millimetres, with its fonts in
// it, that asks viewers to print it at 100 % and says what its parts are: headings,
// lists, tables, and pictures with words in their place.
package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"findrive/internal/drawing"
)

// date is put where a PDF wants the time of its making, so that the same drawing
// gives the same bytes. It says nothing.
var date = time.Date(2000, time.January, 1, 0, 0, 0, 0, time.UTC)

// Write writes all pages. A drawing without pages is an error, as PDF has none.
func Write(w io.Writer, d *drawing.Drawing) error {
	if len(d.Pages) == 0 {
		return errors.New("there is no page to write")
	}
	f := fpdf.New("P", "mm", "", "")
	f.SetCatalogSort(true)
	f.SetCreationDate(date)
	f.SetModificationDate(date)
	f.SetProducer("findrive", true)
	f.SetTitle(d.Title, true)
	if d.Description != "" {
		f.SetSubject(d.Description, true)
	}
	f.SetLang("en-GB")
	f.SetMargins(0, 0, 0)
	f.SetCellMargin(0)
	f.SetAutoPageBreak(false, 0)
	f.AddUTF8FontFromBytes(family, "", drawing.FaceOf(false).File)
	f.AddUTF8FontFromBytes(family, "B", drawing.FaceOf(true).File)
	tags := newTags(f)
	for _, p := range d.Pages {
		f.AddPageFormat("P", fpdf.SizeType{Wd: float64(p.Size.Width), Ht: float64(p.Size.Height)})
		f.SetLineJoinStyle("round")
		tags.page()
		p.Paint(&painter{f, tags})
		tags.close()
	}
	var b bytes.Buffer
	if err := f.Output(&b); err != nil {
		return fmt.Errorf("making the PDF: %w", err)
	}
	out, err := finished(b.Bytes(), tags, d.TwoSided)
	if err != nil {
		return err
	}
	_, err = w.Write(out)
	return err
}

const family = "Go"

// painter is a drawing.Painter and a drawing.Tagger.
type painter struct {
	f    *fpdf.Fpdf
	tags *tags
}

func (p *painter) Begin(_, description string) { p.tags.begin(description) }
func (p *painter) End()                        { p.tags.end() }
func (p *painter) Tag(role drawing.Role)       { p.tags.push(role) }
func (p *painter) Untag()                      { p.tags.pop() }

func (p *painter) Clip(r drawing.Rect) {
	p.tags.pause()
	p.f.ClipRect(float64(r.X0), float64(r.Y0), float64(r.Width()), float64(r.Height()), false)
}

func (p *painter) Unclip() {
	p.tags.pause()
	p.f.ClipEnd()
}

func (p *painter) Fill(path *drawing.Path, white bool) {
	p.tags.line()
	grey := 0
	if white {
		grey = 255
	}
	p.f.SetFillColor(grey, grey, grey)
	p.trace(path)
	p.f.DrawPath("F*")
}

func (p *painter) Stroke(path *drawing.Path, pen drawing.Pen) {
	p.tags.line()
	grey := 0
	if pen.White {
		grey = 255
	}
	p.f.SetDrawColor(grey, grey, grey)
	p.f.SetLineWidth(float64(pen.Width))
	end := "butt"
	if pen.Round {
		end = "round"
	}
	p.f.SetLineCapStyle(end)
	dash := make([]float64, len(pen.Dash))
	for i, d := range pen.Dash {
		dash[i] = float64(d)
	}
	p.f.SetDashPattern(dash, 0)
	p.trace(path)
	p.f.DrawPath("D")
}

func (p *painter) trace(path *drawing.Path) {
	for _, s := range path.Steps {
		switch s.Kind {
		case drawing.Move:
			p.f.MoveTo(float64(s.To.X), float64(s.To.Y))
		case drawing.Draw:
			p.f.LineTo(float64(s.To.X), float64(s.To.Y))
		case drawing.Turn:
			for _, c := range s.Cubics() {
				p.f.CurveBezierCubicTo(float64(c[0].X), float64(c[0].Y), float64(c[1].X), float64(c[1].Y), float64(c[2].X), float64(c[2].Y))
			}
		case drawing.Close:
			p.f.ClosePath()
		}
	}
}

func (p *painter) Text(t drawing.Text) {
	p.tags.words()
	bold := ""
	if t.Style.Bold {
		bold = "B"
	}
	at := t.Style.Origin(t.At, t.Words)
	p.f.SetFont(family, bold, 1)
	p.f.SetFontUnitSize(float64(t.Style.Size))
	// The library leaves out the colour of text where it takes it for that of the
	// last filling, and it does not know that the end of a clip brings back the
	// filling from before. So both are told.
	p.f.SetFillColor(0, 0, 0)
	p.f.SetTextColor(0, 0, 0)
	// A blank at its end keeps a line from growing together with the next when it is
	// read out.
	words := t.Words + " "
	if t.Style.Turn == 0 {
		p.f.Text(float64(at.X), float64(at.Y), words)
		return
	}
	p.f.TransformBegin()
	p.f.TransformRotate(t.Style.Turn.Degrees(), float64(at.X), float64(at.Y))
	p.f.Text(float64(at.X), float64(at.Y), words)
	p.f.TransformEnd()
}
