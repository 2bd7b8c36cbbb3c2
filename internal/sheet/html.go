package sheet

import (
	"bytes"
	_ "embed"
	"fmt"
	"io"
	"slices"

	g "maragu.dev/gomponents"
	"maragu.dev/gomponents/html"

	"findrive/internal/drawing"
	"findrive/internal/drawing/svg"
)

//go:embed page.css
var pageCSS string

// printed is a page on paper: the sides of its PDF, drawn, so that both break at the
// same places and measure the same whatever fonts there are. On screens and to those who
// have the page read out it is not there.
func printed(d *drawing.Drawing) (g.Node, error) {
	var sides g.Group
	for _, p := range d.Pages {
		var out bytes.Buffer
		if err := svg.Write(&out, p); err != nil {
			return nil, err
		}
		sides = append(sides, html.Div(html.Class("paper"), g.Raw("\n"), g.Raw(out.String())), g.Raw("\n"))
	}
	return html.Div(html.Class("print"), html.Aria("hidden", "true"), g.Raw("\n"), sides), nil
}

// paperCSS has a page fill its paper. A side is a hair lower than that, or rounding would
// have an empty one after it.
func paperCSS(size drawing.Size) string {
	return fmt.Sprintf("@page { size: %gmm %gmm; margin: 0; }\n.paper { height: %gmm; }\n", float64(size.Width), float64(size.Height), float64(size.Height-0.3))
}

// stops makes figures and tables that are wider than their place, and no others, stops
// of the tab key: those can be moved with the arrow keys.
const stops = `(() => { const set = () => document.querySelectorAll("figure, .scroll").forEach(e => e.scrollWidth > e.clientWidth ? e.tabIndex = 0 : e.removeAttribute("tabindex")); addEventListener("load", set); addEventListener("resize", set); })();`

// HTML writes a page as one file that needs nothing else, for screens and for
// screen readers: the same blocks, with each picture's facts in a table.
//
// It is put together by functions and not by html/template: whatever executes a
// template makes the linker keep every exported method of the whole program
// (golang/go#72895), which a browser that loads the engine would have to wait for.
func (p *Page) HTML(w io.Writer) error {
	size := p.Print
	if size.Width == 0 {
		size = drawing.A4
	}
	parts, err := p.nodes()
	if err != nil {
		return err
	}
	sides, err := printed(p.Paper(size))
	if err != nil {
		return err
	}
	foot := p.Identity.Line()
	if p.Identity.Print != "" {
		foot += ": " + p.Identity.Print
	}
	page := html.Doctype(html.HTML(html.Lang("en-GB"), onLines(
		html.Head(onLines(
			html.Meta(html.Charset("utf-8")),
			html.Meta(html.Name("viewport"), html.Content("width=device-width, initial-scale=1")),
			html.TitleEl(g.Text(p.Title)),
			html.StyleEl(g.Raw("\n"+pageCSS+paperCSS(size))),
		)),
		html.Body(g.If(p.Young, html.Class("young")), onLines(
			html.Header(html.H1(g.Text(p.Title))),
			html.Main(onLines(parts...)),
			html.Footer(html.P(g.Text(foot))),
			sides,
			html.Script(g.Raw(stops)),
		)),
	)))
	var out bytes.Buffer
	if err := page.Render(&out); err != nil {
		return err
	}
	out.WriteByte('\n')
	_, err = out.WriteTo(w)
	return err
}

// nodes are the blocks of a page as HTML.
func (p *Page) nodes() ([]g.Node, error) {
	var out []g.Node
	heading := "" // above the block
	for _, b := range flat(p.Blocks) {
		switch b := b.(type) {
		case Heading:
			heading = string(b)
			out = append(out, html.H2(g.Text(heading)))
		case Text:
			out = append(out, html.P(b.node()))
		case Steps:
			out = append(out, b.node())
		case Boxes:
			out = append(out, b.node())
		case Table:
			out = append(out, b.node(b.Caption == heading))
		case Picture:
			figure, err := b.node()
			if err != nil {
				return nil, err
			}
			out = append(out, figure)
			if b.Facts != nil && !hasTable(p.Blocks, b.Facts.Caption) {
				out = append(out, b.Facts.node(false))
			}
		}
	}
	return out, nil
}

// onLines puts nodes on lines of their own, so that people can read the file too.
func onLines(nodes ...g.Node) g.Node {
	out := g.Group{g.Raw("\n")}
	for _, n := range nodes {
		out = append(out, n, g.Raw("\n"))
	}
	return out
}

func (t Text) node() g.Node {
	if t.Bold {
		return html.Strong(g.Text(t.Words))
	}
	return g.Text(t.Words)
}

func (s Steps) node() g.Node {
	items := onLines(g.Map(s.Items, Step.node)...)
	class := g.If(s.Ticks, html.Class("ticks"))
	if s.Numbered {
		return html.Ol(class, items)
	}
	return html.Ul(class, items)
}

func (s Step) node() g.Node {
	var out g.Group
	if s.Adult {
		out = append(out, html.Span(html.Class("adult"), g.Text("ADULT")), g.Text(" "))
	}
	out = append(out, g.Text(s.Do))
	if s.Check != "" {
		out = append(out, g.Text(" "), html.Span(html.Class("check"), g.Text("Check: "+s.Check)))
	}
	return html.Li(out)
}

func (b Boxes) node() g.Node {
	return html.Div(html.Class("boxes"), g.Map(b.Labels, func(label string) g.Node {
		if label == "" {
			label = "Write here"
		}
		return html.Div(html.Class("box"), g.Text(label))
	}))
}

// node is the picture as a figure that can be reached by keyboard: it may be wider
// than a screen.
func (p Picture) node() (g.Node, error) {
	page := drawing.NewPage(p.Size, p.Title)
	page.Description = p.Description
	p.Draw(&page.Canvas, p.Size.Bounds())
	var out bytes.Buffer
	if err := svg.Write(&out, page); err != nil {
		return nil, err
	}
	// The SVG writer escapes all words itself.
	return html.Figure(html.TabIndex("0"), html.Aria("label", p.Description), onLines(g.Raw(out.String()))), nil
}

// node is the table, which may be wider than a screen. said is whether the heading
// above it has the same words: the caption is then for screen readers only.
func (t *Table) node(said bool) g.Node {
	right := func(i int) g.Node { return g.If(slices.Contains(t.Right, i), html.Class("right")) }
	var heads g.Group
	for i, words := range t.Head {
		heads = append(heads, html.Th(html.Scope("col"), right(i), g.Text(words)))
	}
	var rows []g.Node
	for _, cells := range t.Rows {
		var row g.Group
		for i, words := range cells {
			switch {
			case t.Names && i == 0:
				row = append(row, html.Th(html.Scope("row"), g.Text(words)))
			case words == "":
				row = append(row, html.Td(html.Span(html.Aria("label", "empty, to be filled in"), g.Text("□"))))
			default:
				row = append(row, html.Td(right(i), g.Text(words)))
			}
		}
		rows = append(rows, html.Tr(row))
	}
	parts := []g.Node{html.Table(onLines(
		html.Caption(g.If(said, html.Class("said")), g.Text(t.Caption)),
		html.THead(html.Tr(heads)),
		html.TBody(onLines(rows...)),
	))}
	if t.Note != "" {
		parts = append(parts, html.P(g.Text(t.Note)))
	}
	return html.Div(html.Class("scroll"), html.TabIndex("0"), html.Role("region"), html.Aria("label", t.Caption), onLines(parts...))
}
