package discdrawing

import (
	"fmt"
	"math"
	"slices"

	"findrive/internal/drawing"
	"findrive/internal/making"
)

const sheetsTitle = "Where the discs lie on the sheets"

// alike is pieces with the same rounds in the same places.
type alike struct {
	*making.Piece
	count int
}

func (j *Job) alike() []alike {
	var out []alike
	same := func(a, b *making.Piece) bool {
		return a.Sheet.Name == b.Sheet.Name && slices.EqualFunc(a.Rounds, b.Rounds, func(r, q making.Round) bool { return r.Disc == q.Disc && r.X == q.X && r.Y == q.Y })
	}
	for i := range j.Pieces {
		at := slices.IndexFunc(out, func(a alike) bool { return same(a.Piece, &j.Pieces[i]) })
		if at < 0 {
			out = append(out, alike{Piece: &j.Pieces[i]})
			at = len(out) - 1
		}
		out[at].count++
	}
	return out
}

// sheets are the pages that say where on which sheet each disc is cut.
func (j *Job) sheets(paper drawing.Size) []*drawing.Page {
	intro := "Not in true size. Each middle is so many mm from the left edge and so many up from the lower edge. Mark it with a ruler, prick it, draw the round with a pair of compasses."
	if j.Short != "" {
		p, _ := j.page(paper, sheetsTitle, j.Short, 0, "SHORT: "+j.Short+".")
		return []*drawing.Page{p}
	}
	var out []*drawing.Page
	var p *drawing.Page
	y := paper.Height
	for _, a := range j.alike() {
		high := j.mapHeight(&a, paper)
		if y+high > paper.Height-margin-6 {
			p, y = j.page(paper, sheetsTitle, "How the discs of all sets lie on the sheets there are.", 0, intro)
			out = append(out, p)
			y += 3
		}
		j.sheet(p, &a, y)
		y += high
	}
	return out
}

const (
	mapWide mm = 104
	mapHigh mm = 92
	rowHigh mm = 3.7
	columns    = 2
)

// scale is how much smaller a sheet is drawn.
func scale(a *alike) mm {
	return min(1, min(mapWide/a.Sheet.Length, mapHigh/a.Sheet.Width))
}

func (j *Job) mapHeight(a *alike, paper drawing.Size) mm {
	return 14 + min(max(scale(a)*a.Sheet.Width, mm(rowsOf(a)+1)*rowHigh), paper.Height-60) + 6
}

// rowsOf is how long the table of middles is: one column where that is enough.
func rowsOf(a *alike) int {
	if n := len(a.Rounds); n <= 20 {
		return n
	}
	return (len(a.Rounds) + columns - 1) / columns
}

// sheet draws one kind of piece, with a table of middles beside it.
func (j *Job) sheet(p *drawing.Page, a *alike, y mm) {
	times := "one sheet like this"
	if a.count > 1 {
		times = fmt.Sprintf("%d sheets like this", a.count)
	}
	title := fmt.Sprintf("%s, %s %s mm, %s × %s mm: %s", a.Sheet.Name, a.Sheet.Kind, number(a.Sheet.Thickness), number(a.Sheet.Length), number(a.Sheet.Width), times)
	width := p.Size.Width - 2*margin
	style, words := boldStyle.Fit(title, width, leastType)
	p.Text(drawing.Point{X: margin, Y: y}, words, style.WithLevel(drawing.Below))
	p.Text(drawing.Point{X: margin, Y: y + 5}, fmt.Sprintf("Rows, the largest first: %.0f %% of it is left over.", 100*a.Waste()), smallStyle.WithLevel(drawing.Below))
	k, top := scale(a), y+12
	g := p.Group("sheet "+a.Sheet.Name, fmt.Sprintf("%d discs on a sheet of %s by %s mm.", len(a.Rounds), number(a.Sheet.Length), number(a.Sheet.Width)))
	at := func(x, up mm) drawing.Point { return drawing.Point{X: margin + k*x, Y: top + k*(a.Sheet.Width-up)} }
	upper, lower := at(0, a.Sheet.Width), at(a.Sheet.Length, 0)
	g.Rectangle(drawing.Rect{X0: upper.X, Y0: upper.Y, X1: lower.X, Y1: lower.Y}, drawing.Outline, drawing.NoFill)
	fits := mm(len(a.Rounds))*rowHigh/columns < p.Size.Height-60
	left := margin + mapWide + 6
	heading := func(c int) {
		g.Text(drawing.Point{X: left + mm(c)*38, Y: top}, "No: Ø, across, up", smallStyle.InBold().WithLevel(drawing.Below))
	}
	rows := rowsOf(a)
	for i := range a.Rounds {
		r := &a.Rounds[i]
		c := at(r.X, r.Y)
		g.Circle(c, k*r.Diameter/2, drawing.Thin, drawing.NoFill)
		size := min(drawing.Words(8.5).Size, k*r.Diameter*0.6)
		label := smallStyle
		label.Size = size
		g.Text(c, fmt.Sprint(i+1), label.WithAlign(drawing.Middle).WithLevel(drawing.Centred))
		if !fits {
			continue
		}
		if i%rows == 0 {
			heading(i / rows)
		}
		line := fmt.Sprintf("%d: %s, %s, %s", i+1, number(r.Diameter), tenth(r.X), tenth(r.Y))
		g.Text(drawing.Point{X: left + mm(i/rows)*38, Y: top + rowHigh*mm(i%rows+1)}, line, smallStyle.WithLevel(drawing.Below))
	}
}

func tenth(v mm) string { return fmt.Sprintf("%.4g", math.Round(float64(v)*10)/10) }

func chord(radius, off mm) mm {
	if off >= radius {
		return 0
	}
	return mm(math.Sqrt(float64(radius*radius - off*off)))
}

func abs(v mm) mm { return max(v, -v) }
