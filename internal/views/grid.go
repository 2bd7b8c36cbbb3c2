package views

import (
	"fmt"
	"math"
	"slices"

	"findrive/internal/drawing"
)

// line is how many windows follow one another along a side, and how far apart.
type line struct {
	count        int
	from, to     mm // what has to be shown, with the paper left over
	window, step mm
}

// seam is the middle of the overlap before window k, which is 1 or more.
func (l *line) seam(k int) mm { return l.from + mm(k)*l.step + (l.window-l.step)/2 }

// cell is what belongs to window k: from its seam with the one before to its seam
// with the next.
func (l *line) cell(k int) (from, to mm) {
	from, to = l.from, l.to
	if k > 0 {
		from = l.seam(k)
	}
	if k < l.count-1 {
		to = l.seam(k + 1)
	}
	return from, to
}

// lineOf lays windows along a side. Of the steps that give neighbours their overlap
// it takes the longest whose seams keep clear of the places, and twice as far of the
// datum, or else the one that comes nearest to it.
func lineOf(from, to, window, datum mm, keepClear []mm) line {
	l := line{count: 1, from: from - aside, to: to + aside, window: window, step: window}
	if l.count = windows(to-from, window); l.count == 1 {
		return l
	}
	most := window - overlap
	least := (l.to - l.from - window) / mm(l.count-1)
	best := mm(math.Inf(-1))
	const tries = 24
	for i := range tries + 1 {
		try := l
		try.step = most - (most-least)*mm(i)/tries
		clear := clearOfSeam
		for k := 1; k < l.count; k++ {
			clear = min(clear, mm(math.Abs(float64(try.seam(k)-datum)))-clearOfSeam)
			for _, p := range keepClear {
				clear = min(clear, mm(math.Abs(float64(try.seam(k)-p))))
			}
		}
		if clear > best+1e-9 {
			best, l.step = clear, try.step
		}
	}
	return l
}

// windows is how many it takes for so much of a side.
func windows(long, window mm) int {
	return 1 + max(0, int(math.Ceil(float64((long+2*aside-window)/(window-overlap))-1e-9)))
}

// mirrored is the line on the side's mirror image, where what was at 0 is at so much.
func (l line) mirrored(at mm) line {
	m := l
	m.from, m.to = at-l.to, at-l.from
	if l.count > 1 { // what paper is left over is at the other end
		m.from = at - l.from - mm(l.count-1)*l.step - l.window
	}
	return m
}

// clearOfSeam is how far a seam should keep from the middle of a hole.
const clearOfSeam mm = 14

// grid is the sheets of one side's template.
type grid struct {
	size   drawing.Size
	window drawing.Rect
	x, y   line         // y from the top of the region down
	region drawing.Rect // what of the side is shown
	kept   [][]bool
	count  int // of those kept
}

func (t *template) grid(page drawing.Size) *grid {
	w := t.window(page)
	r := t.region(w)
	var across, down []mm
	for _, sh := range t.shafts {
		across, down = append(across, sh.at.x), append(down, r.Y1-sh.at.y)
	}
	g := &grid{size: page, window: w, region: r}
	g.x = lineOf(r.X0, r.X1, w.Width(), 0, across)
	g.y = lineOf(0, r.Height(), w.Height(), r.Y1, down)
	needed := make([][]bool, g.y.count)
	for i := range needed {
		g.kept = append(g.kept, make([]bool, g.x.count))
		needed[i] = make([]bool, g.x.count)
		for k := range g.x.count {
			g.kept[i][k] = true
		}
	}
	need := func(x, y mm) {
		for i := range needed {
			for k := range needed[i] {
				if c := g.cell(k, i); c.X0 <= x && x <= c.X1 && c.Y0 <= y && y <= c.Y1 {
					needed[i][k] = true
				}
			}
		}
	}
	need(0, 0)
	for _, sh := range t.shafts {
		need(sh.at.x, sh.at.y)
	}
	g.prune(needed)
	if t.back { // on the same sheets, laid out from the datum too
		g.x = g.x.mirrored(t.frame.length)
		g.region.X0, g.region.X1 = t.frame.length-r.X1, t.frame.length-r.X0
		for _, row := range g.kept {
			slices.Reverse(row)
		}
	}
	return g
}

// cell is the part of the side that belongs to a sheet; Y0 below Y1, as on the side.
func (g *grid) cell(column, row int) drawing.Rect {
	x0, x1 := g.x.cell(column)
	y0, y1 := g.y.cell(row)
	return drawing.Rect{X0: x0, Y0: g.region.Y1 - y1, X1: x1, Y1: g.region.Y1 - y0}
}

// prune leaves out sheets with nothing on them as long as the others hang together
// by their edges.
func (g *grid) prune(needed [][]bool) {
	g.count = g.x.count * g.y.count
	for again := true; again; {
		again = false
		for r := range g.kept {
			for c := range g.kept[r] {
				if !g.kept[r][c] || needed[r][c] {
					continue
				}
				g.kept[r][c] = false
				if g.connected(g.count - 1) {
					g.count--
					again = true
				} else {
					g.kept[r][c] = true
				}
			}
		}
	}
}

// connected reports whether all sheets kept, of which there are so many, can be
// reached from one of them.
func (g *grid) connected(count int) bool {
	seen := map[[2]int]bool{}
	var visit func(c, r int)
	visit = func(c, r int) {
		if !g.has(c, r) || seen[[2]int{c, r}] {
			return
		}
		seen[[2]int{c, r}] = true
		visit(c-1, r)
		visit(c+1, r)
		visit(c, r-1)
		visit(c, r+1)
	}
	for r := range g.kept {
		for c := range g.kept[r] {
			if g.kept[r][c] {
				visit(c, r)
				return len(seen) == count
			}
		}
	}
	return count == 0
}

func (g *grid) has(column, row int) bool {
	return row >= 0 && row < g.y.count && column >= 0 && column < g.x.count && g.kept[row][column]
}

// name numbers the sheets kept along the rows.
func (g *grid) name(column, row int) string {
	n := 0
	for r := range g.kept {
		for c := range g.kept[r] {
			if g.kept[r][c] {
				n++
			}
			if c == column && r == row {
				return fmt.Sprint(n)
			}
		}
	}
	return "1"
}

// view puts a sheet's part of the side in its window, in the middle of it along
// directions in which there is one only.
func (g *grid) view(column, row int) paper {
	w := g.window
	x, y := w.X0-mm(column)*g.x.step-g.x.from, w.Y0-mm(row)*g.y.step-g.y.from
	if g.x.count == 1 {
		x = middle(w.X0, w.X1, g.x.to-g.x.from) - g.x.from
	}
	if g.y.count == 1 {
		y = middle(w.Y0, w.Y1, g.y.to-g.y.from) - g.y.from
	}
	return paper{scale: scale{1, 1}, origin: drawing.Point{X: x, Y: y + g.region.Y1}}
}
