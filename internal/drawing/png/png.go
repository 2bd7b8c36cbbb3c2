// Package png writes a page as a picture of dots, in greys, with its true size
// noted in it.
package png

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/draw"
	"image/png"
	"io"
	"math"

	"git.sr.ht/~sbinet/gg"
	"golang.org/x/image/font/sfnt"

	"findrive/internal/drawing"
	"findrive/internal/units"
)

// DPI is dots to the inch.
type DPI float64

// Print is the usual resolution.
const Print DPI = 300

// mostDots is the largest picture made: A2 at 600 dots to the inch.
const mostDots = 160e6

// Write writes one page. Pictures of no dots or of far too many are an error.
func Write(w io.Writer, p *drawing.Page, dpi DPI) error {
	scale := float64(dpi) / units.MillimetresPerInch
	width, height := math.Round(float64(p.Size.Width)*scale), math.Round(float64(p.Size.Height)*scale)
	if !(width >= 1 && height >= 1 && width*height <= mostDots) {
		return fmt.Errorf("a picture of %.0f by %.0f dots cannot be made; give a resolution between 20 and 600 dots to the inch", width, height)
	}
	dc := gg.NewContext(int(width), int(height))
	dc.SetRGB(1, 1, 1)
	dc.Clear()
	dc.SetLineJoinRound()
	dc.SetFillRuleEvenOdd()
	p.Paint(&painter{dc: dc, scale: scale})
	grey := image.NewGray(dc.Image().Bounds())
	draw.Draw(grey, grey.Bounds(), dc.Image(), image.Point{}, draw.Src)
	var b bytes.Buffer
	if err := png.Encode(&b, grey); err != nil {
		return fmt.Errorf("making the picture: %w", err)
	}
	_, err := w.Write(withSize(b.Bytes(), dpi))
	return err
}

// withSize adds the pHYs chunk, dots to the metre, behind the header, which is
// always the first chunk (PNG specification, third edition, 11.3.4.3).
func withSize(file []byte, dpi DPI) []byte {
	const header = 8 + 4 + 4 + 13 + 4 // signature; length, name, data, check
	var chunk [4 + 4 + 9 + 4]byte
	dots := uint32(math.Round(float64(dpi) / units.MillimetresPerInch * 1000))
	binary.BigEndian.PutUint32(chunk[0:], 9)
	copy(chunk[4:], "pHYs")
	binary.BigEndian.PutUint32(chunk[8:], dots)
	binary.BigEndian.PutUint32(chunk[12:], dots)
	chunk[16] = 1 // to the metre
	binary.BigEndian.PutUint32(chunk[17:], crc32.ChecksumIEEE(chunk[4:17]))
	out := append([]byte{}, file[:header]...)
	out = append(out, chunk[:]...)
	return append(out, file[header:]...)
}

// painter is a drawing.Painter.
type painter struct {
	dc    *gg.Context
	scale float64        // dots to the millimetre
	clips []drawing.Rect // in force, outermost first
}

func (p *painter) Begin(string, string) {}
func (p *painter) End()                 {}

func (p *painter) at(q drawing.Point) (x, y float64) {
	return float64(q.X) * p.scale, float64(q.Y) * p.scale
}

func (p *painter) Clip(r drawing.Rect) {
	p.clips = append(p.clips, r)
	p.clip(r)
}

func (p *painter) Unclip() {
	p.clips = p.clips[:len(p.clips)-1]
	p.dc.ResetClip()
	for _, r := range p.clips {
		p.clip(r)
	}
}

func (p *painter) clip(r drawing.Rect) {
	x0, y0 := p.at(drawing.Point{X: r.X0, Y: r.Y0})
	x1, y1 := p.at(drawing.Point{X: r.X1, Y: r.Y1})
	p.dc.DrawRectangle(x0, y0, x1-x0, y1-y0)
	p.dc.Clip()
}

func (p *painter) ink(white bool) {
	if white {
		p.dc.SetRGB(1, 1, 1)
	} else {
		p.dc.SetRGB(0, 0, 0)
	}
}

func (p *painter) Fill(path *drawing.Path, white bool) {
	p.ink(white)
	p.trace(path)
	p.dc.Fill()
}

func (p *painter) Stroke(path *drawing.Path, pen drawing.Pen) {
	p.ink(pen.White)
	p.dc.SetLineWidth(float64(pen.Width) * p.scale)
	p.dc.SetLineCapButt()
	if pen.Round {
		p.dc.SetLineCapRound()
	}
	dash := make([]float64, len(pen.Dash))
	for i, d := range pen.Dash {
		dash[i] = float64(d) * p.scale
	}
	p.dc.SetDash(dash...)
	p.trace(path)
	p.dc.Stroke()
}

func (p *painter) trace(path *drawing.Path) {
	p.dc.ClearPath()
	for _, s := range path.Steps {
		x, y := p.at(s.To)
		switch s.Kind {
		case drawing.Move:
			p.dc.MoveTo(x, y)
		case drawing.Draw:
			p.dc.LineTo(x, y)
		case drawing.Turn:
			for _, c := range s.Cubics() {
				x1, y1 := p.at(c[0])
				x2, y2 := p.at(c[1])
				x3, y3 := p.at(c[2])
				p.dc.CubicTo(x1, y1, x2, y2, x3, y3)
			}
		case drawing.Close:
			p.dc.ClosePath()
		}
	}
}

func (p *painter) Text(t drawing.Text) {
	pen := t.Style.Origin(t.At, t.Words)
	face := drawing.FaceOf(t.Style.Bold)
	p.dc.ClearPath()
	for _, r := range t.Words {
		advance := face.Outline(r, t.Style.Size, func(op sfnt.SegmentOp, points [3]drawing.Point) {
			var x, y [3]float64
			for i, q := range points {
				at := pen.Towards(t.Style.Turn, q.X).Towards(t.Style.Turn-math.Pi/2, q.Y)
				x[i], y[i] = p.at(at)
			}
			switch op {
			case sfnt.SegmentOpMoveTo:
				p.dc.MoveTo(x[0], y[0])
			case sfnt.SegmentOpLineTo:
				p.dc.LineTo(x[0], y[0])
			case sfnt.SegmentOpQuadTo:
				p.dc.QuadraticTo(x[0], y[0], x[1], y[1])
			case sfnt.SegmentOpCubeTo:
				p.dc.CubicTo(x[0], y[0], x[1], y[1], x[2], y[2])
			}
		})
		pen = pen.Towards(t.Style.Turn, advance)
	}
	p.ink(false)
	p.dc.SetFillRuleWinding() // letters are drawn so; parts of one may overlap
	p.dc.Fill()
	p.dc.SetFillRuleEvenOdd()
}
