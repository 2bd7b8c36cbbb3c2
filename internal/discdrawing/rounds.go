package discdrawing

import (
	"cmp"
	"fmt"
	"slices"

	"findrive/internal/drawing"
)

// round is one disc to be drawn in true size.
type round struct {
	disc  *Disc
	of    *Pulley
	large bool
	label []string
}

const lineHigh mm = 4

// above is how many lines of the words stand over the middle.
const above = 2

// cross is how far the lines through a disc's middle reach.
func (r *round) cross() mm { return r.of.Bore/2 + 4 }

// line is where a line of the words stands, from the middle, and how long it may be there.
func (r *round) line(i int) (y, room mm) {
	if y = -r.cross() - 2 - mm(above-i)*lineHigh; i >= above {
		y = r.cross() + 2 + mm(i-above)*lineHigh
	}
	radius := r.disc.Diameter / 2
	if r.large {
		radius = r.of.Core.Diameter / 2
	}
	return y, 2 * chord(radius-2, max(abs(y), abs(y+lineHigh)))
}

// inside tells whether the words about a disc have room on it.
func (r *round) inside() bool {
	for i, w := range r.label {
		if _, room := r.line(i); smallStyle.Width(w)*leastType/smallStyle.Size > room {
			return false
		}
	}
	return true
}

// size is how much room a disc takes on the page, with its words.
func (r *round) size() (width, height mm) {
	width, height = r.disc.Diameter, r.disc.Diameter
	if !r.inside() {
		for _, w := range r.label {
			width = max(width, smallStyle.Width(w))
		}
		height += 2 + mm(len(r.label))*lineHigh
	}
	return width, height
}

func (j *Job) list() []round {
	var out []round
	for i := range j.Pulleys {
		p := &j.Pulleys[i]
		n := len(p.Letters)
		for _, large := range []bool{true, false} {
			d, each, name := &p.Core, n*p.Layers, "small disc"
			if large {
				d, each, name = &p.Flange, 2*n, "LARGE disc"
			}
			r := round{disc: d, of: p, large: large, label: []string{
				fmt.Sprintf("%s of %s: %s mm", name, p.letters(), number(d.Diameter)),
				p.cutWords(each),
				fmt.Sprintf("%s %s mm; %s", d.Kind, number(d.Thickness), who(d)),
				fmt.Sprintf("hole %s mm: ADULT", number(p.Bore)),
			}}
			if large {
				r.label = append(r.label, "glue inside the dashed ring")
			} else {
				r.label = append(r.label, "glue on both faces")
			}
			out = append(out, r)
		}
	}
	return out
}

const roundsTitle = "Discs to cut, in true size"

// block is a thing on a page: a disc, or how discs lie on one another.
type block struct {
	width, height mm
	draw          func(p *drawing.Page, at drawing.Point)
}

// row is a row of blocks on a page, as high as the first of them.
type row struct {
	page       *drawing.Page
	x, y, high mm
}

// rounds are the pages with each kind of disc once; more says what comes after them.
func (j *Job) rounds(paper drawing.Size, more string) []*drawing.Page {
	return j.lay(paper, j.blocks(), func() (*drawing.Page, mm) {
		return j.page(paper, roundsTitle, "Each kind of disc once, in true size, with its middle and its hole.", ring+6,
			"Print at 100 %, not “fit to page”. Measure the ring both ways: 40 mm. Measure the bar: 100 mm.",
			"Cut this paper out roughly. Stick it on the sheet, or lay it on and prick the middle through. Draw the round with a pair of compasses. Cut on the line.",
			more)
	})
}

// lay puts blocks on pages, of which fresh begins one and says where its head ends. A block
// goes in the first row with room for it; the rows beside the check ring keep clear of it.
func (j *Job) lay(paper drawing.Size, blocks []block, fresh func() (*drawing.Page, mm)) []*drawing.Page {
	var out []*drawing.Page
	var rows []row
	bottom, right := paper.Height-margin-6, paper.Width-margin
	below := margin + ring + between // the check ring
	clear := func(r *row, b *block) bool {
		end := right
		if r.y < below {
			end -= ring + between
		}
		return r.x+b.width <= end
	}
	for _, b := range blocks {
		at := slices.IndexFunc(rows, func(r row) bool { return b.height <= r.high && clear(&r, &b) })
		if at < 0 {
			r := row{x: margin, high: b.height}
			if n := len(rows); n > 0 {
				r.page, r.y = rows[n-1].page, rows[n-1].y+rows[n-1].high+between
			}
			if r.page == nil || r.y+b.height > bottom {
				p, head := fresh()
				j.check(p)
				out = append(out, p)
				r.page, r.y = p, head+4
			}
			if !clear(&r, &b) {
				r.y = below
			}
			rows, at = append(rows, r), len(rows)
		}
		r := &rows[at]
		b.draw(r.page, drawing.Point{X: r.x, Y: r.y})
		r.x += b.width + between
	}
	return out
}

// blocks are the discs, the larger ones first, and of each kind of pulley how its discs lie
// on one another.
func (j *Job) blocks() []block {
	var out []block
	for _, r := range j.list() {
		w, h := r.size()
		out = append(out, block{w, h, func(p *drawing.Page, at drawing.Point) { j.draw(p, &r, at) }})
	}
	slices.SortStableFunc(out, func(a, b block) int { return cmp.Compare(b.height, a.height) })
	for i := range j.Pulleys {
		q := &j.Pulleys[i]
		out = append(out, block{layersWide, layersHigh(q), func(p *drawing.Page, at drawing.Point) { j.layers(p, q, at) }})
	}
	return out
}

// check draws the ring at the head and the bar at the foot.
func (j *Job) check(p *drawing.Page) {
	c := drawing.Point{X: p.Size.Width - margin - ring/2, Y: margin + ring/2}
	g := p.Group("check ring", "a ring of exactly 40 mm")
	g.Circle(c, ring/2, drawing.Outline, drawing.NoFill)
	for _, s := range []mm{-1, 1} {
		g.Line(c.Plus(s*ring/2, 0), c.Plus(s*(ring/2-4), 0), drawing.Thin)
		g.Line(c.Plus(0, s*ring/2), c.Plus(0, s*(ring/2-4)), drawing.Thin)
	}
	g.Text(c.Plus(0, -3), "check ring", smallStyle.WithAlign(drawing.Middle).WithLevel(drawing.Centred))
	g.Text(c.Plus(0, 3), "40 mm both ways", smallStyle.WithAlign(drawing.Middle).WithLevel(drawing.Centred))
	a := drawing.Point{X: margin, Y: p.Size.Height - margin - 2} // over the foot
	b := a.Plus(barLength, 0)
	bar := p.Group("check bar", "a bar of exactly 100 mm")
	bar.Line(a, b, drawing.Outline)
	for _, end := range []drawing.Point{a, b} {
		bar.Line(end.Plus(0, -2.5), end.Plus(0, 2.5), drawing.Outline)
	}
	bar.Text(b.Plus(3, 0), "100 mm", smallStyle.WithLevel(drawing.Centred))
}

// draw draws a disc with its upper left corner at a point.
func (j *Job) draw(p *drawing.Page, r *round, at drawing.Point) {
	d := r.disc.Diameter
	width, _ := r.size()
	c := at.Plus(width/2, d/2)
	g := p.Group(r.label[0], fmt.Sprintf("%s; %s.", r.label[0], r.label[1]))
	g.Circle(c, d/2, drawing.Outline, drawing.NoFill)
	if r.large {
		g.Circle(c, r.of.Core.Diameter/2, drawing.Hidden, drawing.NoFill)
	}
	bore := r.of.Bore / 2
	g.Circle(c, bore, drawing.Thin, drawing.NoFill)
	arm := r.cross()
	g.Line(c.Plus(-arm, 0), c.Plus(arm, 0), drawing.Thin)
	g.Line(c.Plus(0, -arm), c.Plus(0, arm), drawing.Thin)
	style := smallStyle.WithAlign(drawing.Middle).WithLevel(drawing.Below)
	inside := r.inside()
	for i, w := range r.label {
		if !inside {
			g.Text(c.Plus(0, d/2+1.5+mm(i)*lineHigh), w, style)
			continue
		}
		y, room := r.line(i)
		fitted, words := style.Fit(w, room, leastType)
		g.Text(c.Plus(0, y), words, fitted)
	}
}

// The picture of the layers: its width, the gaps in it, and how large a disc is in it.
const (
	layersWide mm = 58
	layersGap  mm = 2
	layersDisc mm = 38
	layersHead mm = 6
)

// shown is how thick a disc is in the picture of the layers.
func shown(q *Pulley, d *Disc) mm {
	return max(1.2, d.Thickness*min(1, layersDisc/q.Flange.Diameter))
}

func layersHigh(q *Pulley) mm {
	return layersHead + mm(q.Layers)*(shown(q, &q.Core)+layersGap) + 2*(shown(q, &q.Flange)+layersGap) + 6
}

// layers draws how the discs of a pulley lie on one another, from the edge.
func (j *Job) layers(p *drawing.Page, q *Pulley, at drawing.Point) {
	k := min(1, layersDisc/q.Flange.Diameter) // smaller, but in proportion
	g := p.Group("order of layers", fmt.Sprintf("%s from the edge: a large disc, %d small, a large disc.", q.letters(), q.Layers))
	style, words := boldStyle.Fit(q.letters()+", from the edge", layersWide, leastType)
	g.Text(at, words, style.WithLevel(drawing.Below))
	y, middle := at.Y+layersHead, at.X+k*q.Flange.Diameter/2
	first := y
	for layer := range q.Layers + 2 {
		d, name := &q.Core, "small"
		if layer == 0 || layer == q.Layers+1 {
			d, name = &q.Flange, "LARGE"
		}
		half, t := k*d.Diameter/2, shown(q, d)
		g.Rectangle(drawing.Rect{X0: middle - half, Y0: y, X1: middle + half, Y1: y + t}, drawing.Thin, drawing.Hatched)
		g.Text(drawing.Point{X: middle + k*q.Flange.Diameter/2 + 2, Y: y + t/2}, name, smallStyle.WithLevel(drawing.Centred))
		y += t + layersGap
	}
	g.Line(drawing.Point{X: middle, Y: first - 2}, drawing.Point{X: middle, Y: y}, drawing.Centre)
	g.Text(drawing.Point{X: at.X, Y: y + 0.5}, "glue in each gap", smallStyle.WithLevel(drawing.Below))
}
