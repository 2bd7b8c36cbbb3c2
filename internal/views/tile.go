package views

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"findrive/internal/drawing"
	"findrive/internal/units"
)

// tile is one page's part of a template.
type tile struct {
	*template
	paper
	*sheet
	grid        *grid
	column, row int
}

func (v *tile) shaftAt(i int) drawing.Point {
	sh := &v.shafts[i]
	return v.at(place{v.x(sh.at.x), sh.at.y})
}

// shows reports whether a point is on the sheet.
func (v *tile) shows(p drawing.Point) bool {
	return v.grid.window.Holds(drawing.Rect{X0: p.X, Y0: p.Y, X1: p.X, Y1: p.Y})
}

// outline draws the datum lines, along which the paper is cut and which are laid on
// the edges of the side, and what else of the frame there is on the sheet.
func (v *tile) outline() {
	f, over := &v.frame, &v.frame.over
	r := v.grid.region
	corner := v.at(place{v.x(-over.left), -over.below})
	far := place{r.X1, r.Y1}
	if v.back {
		far.x = r.X0
	}
	v.draw(drawing.Polyline(v.at(place{far.x, -over.below}), corner, v.at(place{v.x(-over.left), far.y})), drawing.Outline, drawing.NoFill)
	if far.y > f.height-0.1 {
		v.draw(drawing.Line(v.at(place{v.x(-over.left), f.height + over.above}), v.at(place{far.x, f.height + over.above})), drawing.Thin, drawing.NoFill)
	}
	if end := v.x(f.length + over.right); r.X0-0.1 < end && end < r.X1+0.1 {
		v.draw(drawing.Line(v.at(place{end, -over.below}), v.at(place{end, far.y})), drawing.Thin, drawing.NoFill)
	}
	if v.frame.inset() { // the inside, whose corner is the datum
		v.draw(drawing.Polyline(v.at(place{far.x, 0}), v.at(place{v.x(0), 0}), v.at(place{v.x(0), far.y})), drawing.Thin, drawing.NoFill)
	}
	v.joiners(r)
	for _, y := range f.rails {
		for _, edge := range []mm{y - f.strip/2, y + f.strip/2} {
			if edge > 0 && edge < min(f.height, far.y) {
				v.draw(drawing.Line(v.at(place{v.x(0), edge}), v.at(place{far.x, edge})), drawing.Thin, drawing.NoFill)
			}
		}
	}
	// Where each hole is, on the edges: to be checked with a ruler and a square.
	for _, sh := range v.shafts {
		x, y := v.at(place{v.x(sh.at.x), -over.below}), v.at(place{v.x(-over.left), sh.at.y})
		v.draw(drawing.Line(x, x.Plus(0, -edgeMark)), drawing.Thin, drawing.NoFill)
		v.draw(drawing.Line(y, y.Plus(v.inwards()*edgeMark, 0)), drawing.Thin, drawing.NoFill)
	}
}

// joiners shows where behind the side the strips stand that join it to the other, as far
// as they are in the part that is shown.
func (v *tile) joiners(shown drawing.Rect) {
	half := v.frame.joiner / 2
	for _, at := range v.frame.joiners {
		x := v.x(at.x)
		if x-half < shown.X0-0.1 || x+half > shown.X1+0.1 || at.y-half < shown.Y0-0.1 || at.y+half > shown.Y1+0.1 {
			continue
		}
		low, high := v.at(place{x - half, at.y - half}), v.at(place{x + half, at.y + half})
		strip := drawing.Rect{X0: low.X, Y0: high.Y, X1: high.X, Y1: low.Y}
		v.draw(drawing.Rectangle(strip), drawing.Hidden, drawing.NoFill)
		v.boxes = append(v.boxes, strip) // no words stand on it
	}
}

// edgeMark is the length of a mark on an edge.
const edgeMark mm = 4

// inwards is the direction on the page from the datum into the frame.
func (v *tile) inwards() mm {
	if v.back {
		return -1
	}
	return 1
}

// motor shows where the motor is held.
func (v *tile) motor() {
	at, w, h := v.shaftAt(0), v.body.width/2, v.body.height/2
	body := drawing.Rect{X0: at.X - w, Y0: at.Y - h, X1: at.X + w, Y1: at.Y + h}
	v.draw(drawing.Rectangle(body), drawing.Hidden, drawing.NoFill)
	v.boxes = append(v.boxes, body) // no words stand on it
	v.cross(at, 5)
}

func (v *tile) cross(at drawing.Point, reach mm) {
	v.draw(drawing.Line(at.Plus(-reach, 0), at.Plus(reach, 0)), drawing.Thin, drawing.NoFill)
	v.draw(drawing.Line(at.Plus(0, -reach), at.Plus(0, reach)), drawing.Thin, drawing.NoFill)
}

// holes shows each axle's hole, or the axle itself where nothing is drilled.
func (v *tile) holes() {
	for i, sh := range v.shafts[1:] {
		at, r := v.shaftAt(i+1), sh.hole/2
		if r == 0 {
			r = sh.radius
		}
		v.draw(drawing.Circle(at, r), drawing.Outline.Wider(drawing.Medium), drawing.NoFill)
		v.cross(at, r+5)
	}
	for i := range v.shafts { // words keep off the cross-hairs
		at, r := v.shaftAt(i), v.crossReach(i)
		v.take(at, 2*r, 2*r)
		v.discs = append(v.discs, roundel{at, v.shafts[i].hole / 2})
	}
}

// crossReach is how far a cross-hair goes.
func (v *tile) crossReach(i int) mm {
	sh := &v.shafts[i]
	switch {
	case i == 0:
		return 5
	case sh.hole > 0:
		return sh.hole/2 + 5
	}
	return sh.radius + 5
}

// seams draws the lines at which sheets are cut and laid together, each with two
// register marks that have the same number on both sheets.
func (v *tile) seams() {
	mark := 0
	for r := range v.grid.y.count {
		for c := range v.grid.x.count {
			if !v.grid.has(c, r) {
				continue
			}
			cell := v.grid.cell(c, r)
			if v.grid.has(c-1, r) {
				v.seam(&mark, place{cell.X0, cell.Y0}, place{cell.X0, cell.Y1}, c == v.column && r == v.row, c-1 == v.column && r == v.row, v.grid.name(c, r))
			}
			if v.grid.has(c, r-1) {
				v.seam(&mark, place{cell.X0, cell.Y1}, place{cell.X1, cell.Y1}, c == v.column && r == v.row, c == v.column && r-1 == v.row, v.grid.name(c, r))
			}
		}
	}
}

// seam draws one from a to b: on the sheet that is cut there, which lies on top, and
// on the one below. Marks are counted on all sheets.
func (v *tile) seam(mark *int, a, b place, cut, under bool, other string) {
	var spots []place
	for _, half := range [][]mm{{0.25, 0.2, 0.3, 0.15, 0.35, 0.1, 0.4}, {0.75, 0.8, 0.7, 0.85, 0.65, 0.9, 0.6}} {
		best, far := place{}, mm(-1)
		for _, t := range half {
			p := place{a.x + (b.x-a.x)*t, a.y + (b.y-a.y)*t}
			clear := mm(12)
			for _, sh := range v.shafts {
				clear = min(clear, mm(math.Hypot(float64(v.x(sh.at.x)-p.x), float64(sh.at.y-p.y))))
			}
			if clear > far+1e-9 {
				best, far = p, clear
			}
		}
		spots = append(spots, best)
	}
	if !cut && !under {
		*mark += len(spots)
		return
	}
	pen, words := drawing.Thin, "sheet "+other+" here"
	if cut {
		pen, words = drawing.Cut.Wider(drawing.Medium), "cut"
	}
	v.draw(drawing.Line(v.at(a), v.at(b)), pen, drawing.NoFill)
	for _, p := range spots {
		*mark++
		v.register(v.at(p), strconv.Itoa(*mark), a.x == b.x)
	}
	style, middle := figures, v.at(place{(a.x + b.x) / 2, (a.y + b.y) / 2})
	upright := a.x == b.x
	if upright {
		style = style.WithTurn(math.Pi / 2)
	}
	w, h := v.room(words, style)
	// Below and left of the line on the sheet that is laid on, else the other side.
	side := mm(1)
	if under {
		side = -1
	}
	var labels []spot
	for _, t := range []mm{0, 0.1, -0.1, 0.2, -0.2, 0.3, -0.3, 0.4, -0.4} {
		at := middle.Plus(t*mm(math.Abs(float64(b.x-a.x))), t*mm(math.Abs(float64(b.y-a.y))))
		if upright {
			at.X += side * (w/2 + 1)
		} else {
			at.Y += side * (h/2 + 1)
		}
		labels = append(labels, spot{at, 20 * math.Abs(float64(t))})
	}
	if at, ok := v.settleHere(w, h, labels); ok {
		v.write(at, words, style)
	}
}

// register is a mark across a seam, of which half is on each sheet.
func (v *tile) register(c drawing.Point, words string, upright bool) {
	v.draw(drawing.Circle(c, 2.2), drawing.Thin, drawing.NoFill)
	v.cross(c, 4)
	v.take(c, 8, 8)
	width, height := v.room(words, letters)
	var spots []spot
	for _, dx := range []mm{1, -1} {
		for _, dy := range []mm{-1, 1} {
			spots = append(spots, spot{c.Plus(dx*(4.8+width/2), dy*(1+height/2)), 0})
		}
	}
	if at, ok := v.settle(width, height, spots); ok {
		v.write(at, words, letters)
	}
}

// axes says at the datum which way x and y go, and which way is up.
func (v *tile) axes() {
	to := v.inwards()
	datum, corner := v.at(place{v.x(0), 0}), v.at(place{v.x(-v.frame.over.left), -v.frame.over.below})
	if !v.shows(datum) {
		return
	}
	// The arrows lie a little inside, clear of the line that is cut.
	start := datum.Plus(to*5, -5)
	for _, axis := range []struct {
		way   units.Radians
		words string
	}{{units.Radians(math.Pi * (1 - to) / 2), "x"}, {math.Pi / 2, "y"}} {
		w, h := v.room(axis.words, letters)
		for _, long := range []mm{14, 18, 10, 24, 30, 40} {
			tip := start.Towards(axis.way, long)
			at := tip.Towards(axis.way, 1+max(w, h)/2)
			if !v.free(centred(at, w, h)) {
				continue
			}
			v.draw(drawing.Line(start, tip), drawing.Thin, drawing.NoFill)
			v.arrowhead(tip, axis.way+math.Pi)
			v.take(at, w, h)
			v.write(at, axis.words, letters)
			break
		}
	}
	words := "datum"
	if v.frame.inset() {
		words = "datum: inside corner"
	}
	w, h := v.room(words, figures)
	var spots []spot
	for _, up := range []mm{4, 6.5, 9, 20, 24} {
		spots = append(spots, spot{start.Plus(to*(w/2+1.5), -up-h/2+2), float64(up)})
	}
	// Where the motor or a strip is in the way, outside the corner.
	spots = append(spots, spot{corner.Plus(-to*(w/2+1.5), h/2+1.5), 200}, spot{corner.Plus(-to*(w/2+1.5), -h/2-1.5), 210})
	if at, ok := v.settle(w, h, spots); ok {
		v.write(at, words, figures)
	}
	v.up()
}

// up is an arrow that says which way is up; on a side that lies flat, which way
// leads to the edge that is far from who stands at the near one.
func (v *tile) up() {
	words := "up"
	if v.upright {
		words = "far edge"
	}
	const long mm = 16
	wide, high := v.room(words, letters)
	w, h := max(wide, 4), long+high
	datum := v.at(place{v.x(0), 0})
	var spots []spot
	for _, y := range []mm{24, 30, 40, 50, 60} {
		for _, x := range []mm{6, 10, 16, 24, 34, 46, 60, 80} {
			spots = append(spots, spot{datum.Plus(v.inwards()*(x+w/2), -y-h/2), float64(x+y) / 4})
		}
	}
	at, ok := v.settle(w, h, spots)
	if !ok {
		return
	}
	foot, tip := at.Plus(0, h/2), at.Plus(0, -h/2+high+0.5)
	v.draw(drawing.Line(foot, tip.Plus(0, 3)), drawing.Outline.Wider(0.9), drawing.NoFill)
	v.head(tip, -math.Pi/2, 5)
	v.write(at.Plus(0, -h/2+high/2), words, letters)
}

// take keeps labels out of a rectangle about a point.
func (s *sheet) take(c drawing.Point, w, h mm) {
	s.taken = append(s.taken, centred(c, w, h))
}

// names writes what each mark is, near it, with its place.
func (v *tile) names() {
	whole := v.sheet.area
	kept := v.keptArea()
	for i := range v.shafts {
		sh, at := &v.shafts[i], v.shaftAt(i)
		if !kept.Inset(-1).Holds(centred(at, 0, 0)) {
			continue // it is named on the sheet on which it stays
		}
		lines := []string{sh.name}
		if len(sh.pulleys) > 0 {
			lines[0] += " (" + v.lettersOn(sh) + ")"
		}
		reach := sh.hole / 2
		switch {
		case i == 0:
			lines = []string{"motor shaft: no hole", fmt.Sprintf("body %s × %s", number(v.body.width), number(v.body.height))}
		case sh.hole > 0:
			lines = append(lines, "drill Ø"+number(sh.hole))
		default:
			lines, reach = append(lines, "no hole: clip for Ø"+number(2*sh.radius)), sh.radius
		}
		lines = append(lines, fmt.Sprintf("x %s, y %s", number(sh.at.x), number(sh.at.y)))
		v.sheet.area = kept
		ok := v.label(i, reach, lines)
		v.sheet.area = whole
		if !ok {
			v.label(i, reach, lines)
		}
	}
}

// keptArea is where words are still seen when the sheets lie on one another.
func (v *tile) keptArea() drawing.Rect {
	r, cell := v.sheet.area, v.grid.cell(v.column, v.row)
	low, high := v.at(place{cell.X0, cell.Y0}), v.at(place{cell.X1, cell.Y1})
	if v.grid.has(v.column-1, v.row) {
		r.X0 = max(r.X0, low.X)
	}
	if v.grid.has(v.column+1, v.row) {
		r.X1 = min(r.X1, high.X)
	}
	if v.grid.has(v.column, v.row-1) {
		r.Y0 = max(r.Y0, high.Y)
	}
	if v.grid.has(v.column, v.row+1) {
		r.Y1 = min(r.Y1, low.Y)
	}
	return r
}

// lettersOn lists the pulleys on a shaft, from the front.
func (s *scene) lettersOn(sh *shaft) string {
	var out []string
	for _, k := range sh.pulleys {
		out = append(out, s.pulleys[k].letter)
	}
	return strings.Join(out, ", ")
}

// label writes lines near a hole with a leader to its circle, if there is room.
func (v *tile) label(i int, reach mm, lines []string) bool {
	at, clear := v.shaftAt(i), v.crossReach(i)
	w, line := mm(0), figures.CapHeight()+1.6
	for _, words := range lines {
		width, _ := v.room(words, figures)
		w = max(w, width)
	}
	h := line*mm(len(lines)-1) + figures.CapHeight() + 2*figures.Descent()
	var spots []spot
	for _, s := range around(at, []mm{clear + 1, clear + 4, clear + 8, clear + 13, clear + 20}, math.Pi/4) {
		d := at.Direction(s.at)
		s.at.X += mm(math.Cos(float64(d))) * w / 2
		s.at.Y -= mm(math.Sin(float64(d))) * h / 2
		// A leader along a cross-hair would hide it.
		r := centred(s.at, w, h)
		way := float64(at.Direction(edge(r, at)))
		if math.Min(math.Abs(math.Sin(way)), math.Abs(math.Cos(way))) < 0.3 {
			s.dislike += 40
		}
		s.dislike += float64(v.blocked(at.Towards(at.Direction(s.at), clear*1.42), s.at))
		spots = append(spots, s)
	}
	c, ok := v.settle(w, h, spots)
	if !ok {
		return false
	}
	v.leader(c, w, h, at.Towards(at.Direction(edge(centred(c, w, h), at)), max(reach, 0.8)))
	for k, words := range lines {
		y := c.Y + (mm(k)-mm(len(lines)-1)/2)*line
		v.write(drawing.Point{X: c.X, Y: y}, words, figures)
	}
	return true
}
