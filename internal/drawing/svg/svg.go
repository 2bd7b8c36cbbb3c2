// Package svg writes a page as an SVG picture in true millimetres.
//
// The picture needs no other file. Words are left as words, in the Go font where
// that is installed and in a narrower common one otherwise; each carries its
// length, so that no other font can make it overrun.
package svg

import (
	"bytes"
	"fmt"
	"hash/fnv"
	"io"
	"math"
	"strconv"
	"strings"

	"findrive/internal/drawing"
	"findrive/internal/units"
)

// fonts are all narrower than Go or as wide, but for the last (measured).
const fonts = `Go, Arial, Helvetica, 'Liberation Sans', sans-serif`

// Write writes one page. It begins with the svg element, without an XML
// declaration, so that it can stand in an HTML page too. The only errors are
// those of w.
func Write(w io.Writer, p *drawing.Page) error {
	h := fnv.New32a()
	fmt.Fprintf(h, "%s\x00%s\x00%v", p.Title, p.Description, p.Size)
	out := &writer{id: strconv.FormatUint(uint64(h.Sum32()), 36)}
	fmt.Fprintf(out, `<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="0 0 %[1]s %[2]s" role="img" aria-labelledby="t%s`,
		number(p.Size.Width), number(p.Size.Height), out.id)
	if p.Description != "" {
		fmt.Fprintf(out, ` d%s`, out.id)
	}
	fmt.Fprintf(out, "\">\n<title id=\"t%s\">%s</title>\n", out.id, escape(p.Title))
	if p.Description != "" {
		fmt.Fprintf(out, "<desc id=\"d%s\">%s</desc>\n", out.id, escape(p.Description))
	}
	fmt.Fprintf(out, "<rect width=\"%s\" height=\"%s\" fill=\"#fff\"/>\n", number(p.Size.Width), number(p.Size.Height))
	fmt.Fprintf(out, "<g fill=\"none\" stroke=\"#000\" stroke-linejoin=\"round\" xml:space=\"preserve\" font-family=\"%s\">\n", fonts)
	p.Paint(out)
	fmt.Fprint(out, "</g>\n</svg>\n")
	_, err := w.Write(out.Bytes())
	return err
}

// writer is a drawing.Painter.
type writer struct {
	bytes.Buffer
	id    string
	clips int
}

func (w *writer) Begin(title, description string) {
	w.WriteString("<g>\n")
	if title != "" {
		fmt.Fprintf(w, "<title>%s</title>\n", escape(title))
	}
	if description != "" {
		fmt.Fprintf(w, "<desc>%s</desc>\n", escape(description))
	}
}

func (w *writer) End() { w.WriteString("</g>\n") }

func (w *writer) Clip(r drawing.Rect) {
	w.clips++
	fmt.Fprintf(w, "<clipPath id=\"c%s-%d\"><rect x=\"%s\" y=\"%s\" width=\"%s\" height=\"%s\"/></clipPath>\n<g clip-path=\"url(#c%[1]s-%[2]d)\">\n",
		w.id, w.clips, number(r.X0), number(r.Y0), number(r.Width()), number(r.Height()))
}

func (w *writer) Unclip() { w.WriteString("</g>\n") }

func (w *writer) Fill(p *drawing.Path, white bool) {
	colour := "#000"
	if white {
		colour = "#fff"
	}
	w.shape(p, fmt.Sprintf(` fill="%s" fill-rule="evenodd" stroke="none"`, colour))
}

func (w *writer) Stroke(p *drawing.Path, pen drawing.Pen) {
	var a strings.Builder
	fmt.Fprintf(&a, ` stroke-width="%s"`, number(pen.Width))
	if len(pen.Dash) > 0 {
		var dash []string
		for _, d := range pen.Dash {
			dash = append(dash, number(d))
		}
		fmt.Fprintf(&a, ` stroke-dasharray="%s"`, strings.Join(dash, " "))
	}
	if pen.White {
		a.WriteString(` stroke="#fff"`)
	}
	if pen.Round {
		a.WriteString(` stroke-linecap="round"`)
	}
	w.shape(p, a.String())
}

func (w *writer) shape(p *drawing.Path, attributes string) {
	if c, r, ok := p.WholeCircle(); ok {
		fmt.Fprintf(w, "<circle cx=\"%s\" cy=\"%s\" r=\"%s\"%s/>\n", number(c.X), number(c.Y), number(r), attributes)
		return
	}
	var d strings.Builder
	for _, s := range p.Steps {
		switch s.Kind {
		case drawing.Move:
			d.WriteString("M" + point(s.To))
		case drawing.Draw:
			d.WriteString("L" + point(s.To))
		case drawing.Turn:
			// An arc of SVG is told by its ends, so half a turn at most at a time.
			pieces := int(math.Ceil(math.Abs(float64(s.Sweep)) / (math.Pi * 0.9)))
			clockwise := "1"
			if s.Sweep > 0 {
				clockwise = "0"
			}
			for i := 1; i <= pieces; i++ {
				to := s.Centre.Towards(s.From+s.Sweep*units.Radians(i)/units.Radians(pieces), s.Radius)
				fmt.Fprintf(&d, "A%s %[1]s 0 0 %s %s", number(s.Radius), clockwise, point(to))
			}
		case drawing.Close:
			d.WriteString("Z")
		}
	}
	fmt.Fprintf(w, "<path d=\"%s\"%s/>\n", d.String(), attributes)
}

func (w *writer) Text(t drawing.Text) {
	if strings.TrimSpace(t.Words) == "" {
		return
	}
	// Where the font is another and the length is not heeded, at least the middle
	// or the end stays where it should.
	anchor, s := "", t.Style
	switch s.Align {
	case drawing.Middle:
		anchor = ` text-anchor="middle"`
	case drawing.End:
		anchor = ` text-anchor="end"`
	}
	s.Align = drawing.Start
	at := s.Origin(t.At, t.Words)
	fmt.Fprintf(w, `<text x="%s" y="%s" font-size="%s"%s textLength="%s" lengthAdjust="spacingAndGlyphs" fill="#000" stroke="none"`,
		number(at.X), number(at.Y), number(s.Size), anchor, number(s.Width(t.Words)))
	if s.Bold {
		w.WriteString(` font-weight="bold"`)
	}
	if s.Turn != 0 {
		fmt.Fprintf(w, ` transform="rotate(%s %s %s)"`, number(units.Millimetres(-s.Turn.Degrees())), number(at.X), number(at.Y))
	}
	fmt.Fprintf(w, ">%s</text>\n", escape(t.Words))
}

func point(p drawing.Point) string { return number(p.X) + " " + number(p.Y) }

// number has a thousandth of a millimetre at the end at most.
func number(x units.Millimetres) string {
	s := strings.TrimRight(strings.TrimRight(strconv.FormatFloat(float64(x), 'f', 3, 64), "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

// escape makes words safe in XML, and leaves out what XML cannot have at all.
func escape(s string) string {
	s = strings.Map(func(r rune) rune {
		if r == '\t' || r == '\n' {
			return ' '
		}
		if r < 0x20 || r == 0xfffe || r == 0xffff {
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, "\ufffd"))
	return strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;").Replace(s)
}
