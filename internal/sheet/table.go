package sheet

import (
	"slices"
	"strings"

	"findrive/internal/drawing"
	"findrive/internal/units"
)

const (
	cellPad  units.Millimetres = 1.3
	boxLeast units.Millimetres = 8 // a box that a pencil fits in (common practice)
	leastCol                   = boxLeast + 2*boxSide
	// A row with boxes to tick, however close the page is set.
	tickRow units.Millimetres = 5
	// From the box to its row's edges.
	boxSide, boxHead units.Millimetres = 1, 0.8
)

// table draws a table; its head is repeated on every sheet, and no row is cut.
func (f *flow) table(t *Table) {
	style, bold := f.look.table, f.look.table.InBold()
	widths := columns(t, style, bold, f.wide)
	rows := t.Rows[:min(1, len(t.Rows))]
	if f.source.Young { // a child's task is not torn apart
		rows = t.Rows
	}
	high := f.rowHeight(t, t.Head, widths, bold)
	for _, r := range rows {
		high += f.rowHeight(t, r, widths, style)
	}
	f.room(bold.LineHeight() + min(high, f.paper.Height/2) + 2)
	if t.Caption != f.heading { // else it has just been said
		f.words(drawing.Sentence, t.Caption, bold, f.left, f.wide)
		f.y += 0.6
	}
	f.grid = &tagged{}
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
			f.words(drawing.Sentence, t.Caption+", continued", bold, f.left, f.wide)
			f.y += 0.6
			f.grid = &tagged{}
			head()
		} else if i > 0 {
			f.rule(drawing.Narrow)
		}
		f.row(t, r, widths, style)
	}
	f.rule(0.5)
	if t.Note != "" {
		f.y += 1
		f.words(drawing.Sentence, t.Note, f.look.small, f.left, f.wide)
	}
	f.y += f.look.gap
}

// cell is the type of a column's cells: names of rows are bold.
func (t *Table) cell(i int, style drawing.Style) drawing.Style {
	style.Bold = style.Bold || t.Names && i == 0
	return style
}

// rule is a line across, and the uprights are left out: rows are read along.
func (f *flow) rule(width units.Millimetres) {
	f.at.Line(drawing.Point{X: f.left, Y: f.y}, drawing.Point{X: f.left + f.wide, Y: f.y}, drawing.Pen{Width: width})
}

func (f *flow) rowHeight(t *Table, cells []string, widths []units.Millimetres, style drawing.Style) units.Millimetres {
	n := 1
	for i, c := range cells {
		n = max(n, len(t.cell(i, style).Wrap(c, widths[i]-2*cellPad)))
	}
	high := units.Millimetres(n)*f.look.rows*style.Size + f.look.rowAir
	if !style.Bold { // not the head
		high = max(high, t.Least)
		if slices.Contains(cells, "") {
			high = max(high, tickRow)
		}
	}
	return high
}

func (f *flow) row(t *Table, cells []string, widths []units.Millimetres, style drawing.Style) {
	high := f.rowHeight(t, cells, widths, style)
	x := f.left
	row := f.on(drawing.Table, f.grid).Tagged(drawing.TableRow)
	for i, c := range cells {
		role := drawing.TableCell
		switch {
		case style.Bold:
			role = drawing.ColumnHead
		case t.Names && i == 0:
			role = drawing.RowHead
		}
		field := row.Tagged(role)
		cell := t.cell(i, style)
		right := slices.Contains(t.Right, i)
		lines := cell.Wrap(c, widths[i]-2*cellPad)
		top := max(f.look.rowAir-0.2, (f.look.rows*style.Size+f.look.rowAir-style.CapHeight()-style.Descent()*0.6)/2)
		if (t.Least > 0 || slices.Contains(cells, "")) && !style.Bold { // beside a box, in the middle of its height
			top = max(top, (high-units.Millimetres(len(lines)-1)*f.look.rows*style.Size-style.CapHeight())/2)
		}
		for k, l := range lines {
			at := drawing.Point{X: x + cellPad, Y: f.y + top + units.Millimetres(k)*f.look.rows*style.Size}
			s := cell.WithLevel(drawing.Below)
			if right {
				at.X, s = x+widths[i]-cellPad, s.WithAlign(drawing.End)
			}
			field.Text(at, l, s)
		}
		if c == "" && !style.Bold { // to be written in: a box
			field.Rectangle(drawing.Rect{X0: x + boxSide, Y0: f.y + boxHead, X1: x + widths[i] - boxSide, Y1: f.y + high - boxHead}, drawing.Pen{Width: drawing.Medium}, drawing.NoFill)
		}
		x += widths[i]
	}
	f.y += high
}

// columns shares the width out. In turn, as far as there is room, each column
// gets its longest word, its head in two lines if that is not much, its longest
// cell in one line, and its head in one; what is left over goes to all alike.
func columns(t *Table, style, bold drawing.Style, width units.Millimetres) []units.Millimetres {
	var wants [4][]units.Millimetres
	for k := range wants {
		wants[k] = make([]units.Millimetres, len(t.Head))
	}
	wide := func(words string, s drawing.Style) units.Millimetres { return s.Width(words) + 2*cellPad + 0.2 }
	longest := func(i int, cell string, s drawing.Style) {
		for _, word := range strings.Fields(cell) {
			wants[0][i] = max(wants[0][i], min(wide(word, s), width*0.4)) // a very long word is broken
		}
	}
	least := make([]units.Millimetres, len(t.Head))
	for i, h := range t.Head {
		wants[0][i], least[i] = leastCol, leastCol
		longest(i, h, bold)
		for _, r := range t.Rows {
			if i < len(r) {
				longest(i, r[i], t.cell(i, style))
				wants[2][i] = max(wants[2][i], wide(r[i], t.cell(i, style)))
			}
		}
		wants[1][i] = max(wants[0][i], min(0.6*wide(h, bold), 22))
		wants[2][i] = max(wants[1][i], wants[2][i])
		wants[3][i] = max(wants[2][i], wide(h, bold))
	}
	had := make([]units.Millimetres, len(t.Head))
	for k, want := range wants {
		if sum(want) > width {
			if k == 0 {
				if sum(least) > width {
					return scaled(want, width/sum(want))
				}
				return filled(least, want, width) // long words are broken, but a pencil has its room
			}
			return filled(had, want, width)
		}
		had = want
	}
	return scaled(had, width/sum(had))
}

func scaled(list []units.Millimetres, by units.Millimetres) []units.Millimetres {
	var out []units.Millimetres
	for _, w := range list {
		out = append(out, w*by)
	}
	return out
}

// filled gives columns more than they had: those that want little get it all,
// and the others up to the same width.
func filled(had, want []units.Millimetres, width units.Millimetres) []units.Millimetres {
	out := make([]units.Millimetres, len(had))
	low, high := units.Millimetres(0), width
	for range 50 {
		limit := (low + high) / 2
		for i := range out {
			out[i] = max(had[i], min(want[i], limit))
		}
		if sum(out) > width {
			high = limit
		} else {
			low = limit
		}
	}
	return out
}
