package sheet

import (
	"slices"
	"strings"

	"findrive/internal/drawing"
	"findrive/internal/units"
)

const (
	cellPad  units.Millimetres = 1.4
	leastCol units.Millimetres = 9 // for a column to write in
)

// table draws a table; its head is repeated on every sheet, and no row is cut.
func (f *flow) table(t *Table) {
	style, bold := f.look.body, f.look.body.InBold()
	if !f.source.Young {
		style, bold = drawing.Words(9.5), drawing.Words(9.5).InBold()
	}
	widths := columns(t, style, bold, f.width())
	f.room(bold.LineHeight() + f.rowHeight(t, t.Head, widths, bold) + f.rowHeight(t, first(t.Rows), widths, style) + 2)
	f.words(t.Caption, bold, margin, f.width())
	f.y += 0.6
	head := func() {
		f.rule(0.5)
		f.row(t, t.Head, widths, bold)
		f.rule(0.5)
	}
	head()
	for i, r := range t.Rows {
		if f.y+f.rowHeight(t, r, widths, style) > f.bottom() {
			f.rule(0.5)
			f.sheet()
			head()
		} else if i > 0 {
			f.rule(drawing.Narrow)
		}
		f.row(t, r, widths, style)
	}
	f.rule(0.5)
	if t.Note != "" {
		f.y += 1
		f.words(t.Note, f.look.small, margin, f.width())
	}
	f.y += f.look.gap
}

// cell is the type of a column's cells: names of rows are bold.
func (t *Table) cell(i int, style drawing.Style) drawing.Style {
	style.Bold = style.Bold || t.Names && i == 0
	return style
}

func first(rows [][]string) []string {
	if len(rows) == 0 {
		return nil
	}
	return rows[0]
}

// rule is a line across, and the uprights are left out: rows are read along.
func (f *flow) rule(width units.Millimetres) {
	f.at.Line(drawing.Point{X: margin, Y: f.y}, drawing.Point{X: margin + f.width(), Y: f.y}, drawing.Pen{Width: width})
}

func (f *flow) rowHeight(t *Table, cells []string, widths []units.Millimetres, style drawing.Style) units.Millimetres {
	n := 1
	for i, c := range cells {
		n = max(n, len(t.cell(i, style).Wrap(c, widths[i]-2*cellPad)))
	}
	return units.Millimetres(n)*style.LineHeight() + 1.6
}

func (f *flow) row(t *Table, cells []string, widths []units.Millimetres, style drawing.Style) {
	high := f.rowHeight(t, cells, widths, style)
	x := margin
	for i, c := range cells {
		cell := t.cell(i, style)
		right := slices.Contains(t.Right, i)
		for k, l := range cell.Wrap(c, widths[i]-2*cellPad) {
			at := drawing.Point{X: x + cellPad, Y: f.y + 1.3 + units.Millimetres(k)*style.LineHeight()}
			s := cell.WithLevel(drawing.Below)
			if right {
				at.X, s = x+widths[i]-cellPad, s.WithAlign(drawing.End)
			}
			f.at.Text(at, l, s)
		}
		if c == "" && !style.Bold { // to be written in: a box
			f.at.Rectangle(drawing.Rect{X0: x + 1, Y0: f.y + 0.8, X1: x + widths[i] - 1, Y1: f.y + high - 0.8}, drawing.Pen{Width: drawing.Medium}, drawing.NoFill)
		}
		x += widths[i]
	}
	f.y += high
}

// columns shares the width out: each column as wide as its longest word at
// least, the rest by how much would go into one line.
func columns(t *Table, style, bold drawing.Style, width units.Millimetres) []units.Millimetres {
	n := len(t.Head)
	least, natural := make([]units.Millimetres, n), make([]units.Millimetres, n)
	measure := func(i int, cell string, s drawing.Style) {
		natural[i] = max(natural[i], s.Width(cell)+2*cellPad+0.2)
		for _, word := range strings.Fields(cell) {
			least[i] = max(least[i], s.Width(word)+2*cellPad+0.2)
		}
	}
	for i, h := range t.Head {
		least[i] = leastCol
		measure(i, h, bold)
		// A head may take two lines where its column is narrow.
		natural[i] = max(least[i], natural[i]*0.6)
	}
	for _, r := range t.Rows {
		for i, c := range r {
			measure(i, c, t.cell(i, style))
		}
	}
	var sumLeast, sumNatural units.Millimetres
	for i := range least {
		least[i] = min(least[i], width*0.4) // a very long word is broken
		natural[i] = max(natural[i], least[i])
		sumLeast, sumNatural = sumLeast+least[i], sumNatural+natural[i]
	}
	out := make([]units.Millimetres, n)
	for i := range out {
		switch {
		case sumNatural <= width:
			out[i] = natural[i] + (width-sumNatural)*natural[i]/sumNatural
		case sumLeast <= width:
			out[i] = least[i] + (width-sumLeast)*(natural[i]-least[i])/(sumNatural-sumLeast)
		default:
			out[i] = least[i] * width / sumLeast
		}
	}
	return out
}
