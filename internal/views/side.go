package views

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"findrive/internal/drawing"
	"findrive/internal/units"
)

// Room round the drawing proper for dimensions and letters.
const (
	roomLeft, roomRight mm = 19, 14
	roomDown            mm = 19 // for a figure like 1234.5, read from the right
)

// roomAbove is for level dimensions, or for the ends of slanting ones.
func (s *scene) roomAbove() mm {
	for i := range s.bands {
		p, q := s.shafts[i].at, s.shafts[i+1].at
		if math.Abs(float64(p.y-q.y)) > 0.05 && math.Abs(float64(p.x-q.x)) > 0.05 {
			return 17
		}
	}
	return 11
}

// side draws the side view as it is put on the page, and counts labels without a
// place. If a table beside it has the bands and their centre distances, those are drawn
// last, where there is room, and do not count.
func (s *scene) side(room drawing.Rect, p paper, tabled bool) (*drawing.Group, int) {
	g := &drawing.Group{Title: "Side view", Description: s.describeSide()}
	v := sideView{scene: s, paper: p, sheet: newSheet(&g.Canvas, room), untold: map[int]string{}}
	v.captions()
	v.sights()
	v.frameLines()
	v.joiners()
	v.broken()
	v.drive()
	v.centreLines()
	v.bodyAndOutput()
	v.positions()
	if tabled {
		v.references()
		v.names()
		v.arrows()
		needed := v.misses
		v.distances()
		clear(v.untold) // the table has them
		v.bandNames()
		return g, needed
	}
	v.distances()
	v.arrows()
	v.references()
	v.bandNames()
	v.names()
	return g, v.misses
}

type sideView struct {
	*scene
	paper
	*sheet
	sight sight
	// untold has the centre distances, by number of the band, for which there was
	// no good place for a dimension line.
	untold map[int]string
}

func (v *sideView) shaftAt(i int) drawing.Point { return v.at(v.shafts[i].at) }

// sights makes every pulley hide what lies behind it.
func (v *sideView) sights() {
	for i, p := range v.pulleys {
		v.sight.solids = append(v.sight.solids, solid{owner: i, near: p.lane - p.width/2, holds: disc(v.shaftAt(p.shaft), v.mm(p.outside))})
		v.discs = append(v.discs, roundel{v.shaftAt(p.shaft), v.mm(p.outside)})
	}
	for _, sh := range v.everyShaft() {
		v.discs = append(v.discs, roundel{v.at(sh.at), shaftOnPage(v.mm(sh.radius))})
	}
}

// drive draws pulleys and bands, the deepest lane first.
func (v *sideView) drive() {
	order := make([]int, len(v.bands))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(v.bands[b].lane, v.bands[a].lane) })
	for _, i := range order {
		b := &v.bands[i]
		for _, k := range []int{b.from, b.to} {
			v.disc(k)
		}
		v.band(b)
	}
}

// groove is for the floor of a groove, behind the flange.
var groove = drawing.Pen{Width: drawing.Narrow, Dash: []mm{1.6, 0.8}}

func (v *sideView) disc(k int) {
	p := &v.pulleys[k]
	at := v.shaftAt(p.shaft)
	seen, hidden := v.sight.split(drawing.Circle(at, v.mm(p.outside)), p.lane-p.width/2, k)
	v.draw(seen, drawing.Outline, drawing.NoFill)
	v.draw(hidden, drawing.Hidden, drawing.NoFill)
	v.draw(drawing.Circle(at, v.mm(p.floor)), groove, drawing.NoFill)
}

// The width at which a band is drawn: true, but wide enough for both its edges.
func (v *sideView) bandWidth(b *band) mm { return max(1.3, v.mm(b.thickness)) }

// cores tell bands apart without colour: what is between a band's edges.
var cores = []struct {
	words string
	dash  []mm
	solid bool
}{
	{"open", nil, false},
	{"barred", []mm{2.2, 0.6}, false},
	{"black", nil, true},
	{"dotted", []mm{0.6, 0.6}, false},
}

func core(b *band) (pen drawing.Pen, solid bool) {
	c := cores[(b.number-1)%len(cores)]
	return drawing.Pen{White: true, Dash: c.dash}, c.solid
}

func (v *sideView) band(b *band) {
	path, over := v.bandPath(b)
	v.bandLine(b, path)
	if b.crossed {
		// Where the runs cross, the one on top leaves a gap in the other.
		v.Draw(over, drawing.Rubber(v.bandWidth(b)+1.4), drawing.NoFill)
		v.bandLine(b, over)
	}
}

func (v *sideView) bandLine(b *band, path *drawing.Path) {
	seen, hidden := v.sight.split(path, b.lane, b.from, b.to)
	v.bandLines(seen, hidden, b, v.bandWidth(b))
}

// bandPath is the band's middle line, and for a crossed band the piece of one
// run that passes over the other.
func (v *sideView) bandPath(b *band) (whole, over *drawing.Path) {
	s := v.strands(b)
	left, right := s[0], s[1]
	from, to := v.shaftAt(v.pulleys[b.from].shaft), v.shaftAt(v.pulleys[b.to].shaft)
	a, c := v.at(left[0]), v.at(left[1])
	d, e := v.at(right[1]), v.at(right[0])
	// The way round: along the left run, clockwise about the driven pulley (or
	// anticlockwise if the runs have crossed), back along the right run, and
	// clockwise about the driver.
	whole = drawing.Line(a, c)
	arc := func(centre, start, end drawing.Point, r mm, way units.Radians) {
		first := centre.Direction(start)
		sweep := math.Mod(float64(centre.Direction(end)-first)*float64(way)+4*math.Pi, 2*math.Pi)
		whole.ArcAbout(centre, r, first, units.Radians(sweep)*way)
	}
	way := units.Radians(-1)
	if b.crossed {
		way = 1
	}
	arc(to, c, d, v.mm(b.toPitch), way)
	whole.LineTo(e)
	arc(from, e, a, v.mm(b.fromPitch), -1)
	whole.Close()
	if b.crossed {
		// The runs cross on the line of centres, at a share given by the radii.
		t := b.fromPitch / (b.fromPitch + b.toPitch)
		x := drawing.Point{X: from.X + (to.X-from.X)*t, Y: from.Y + (to.Y-from.Y)*t}
		dir := a.Direction(c)
		half := min(3, 0.8*x.Distance(a), 0.8*x.Distance(c))
		over = drawing.Line(x.Towards(dir, -half), x.Towards(dir, half))
	}
	return whole, over
}

func (v *sideView) centreLines() {
	for _, sh := range v.everyShaft() {
		at := v.at(sh.at)
		reach := v.mm(sh.rim) + 2.5
		for _, d := range []units.Radians{0, math.Pi / 2} {
			// The short dash in the middle of the line is at the centre.
			for _, way := range []units.Radians{d, d + math.Pi} {
				v.draw(drawing.Line(at, at.Towards(way, reach)), drawing.Pen{Width: drawing.Narrow, Dash: centreDash}, drawing.NoFill)
			}
		}
		v.draw(drawing.Circle(at, shaftOnPage(v.mm(sh.radius))), drawing.Outline.Wider(drawing.Medium), drawing.White)
		for _, way := range []units.Radians{0, math.Pi / 2} {
			v.Line(at.Towards(way, -1.2), at.Towards(way, 1.2), drawing.Thin)
		}
	}
}

// shaftOnPage is the radius a shaft is drawn with: large enough to be seen.
func shaftOnPage(r mm) mm { return max(0.5, r) }

// centreDash begins with half of a long dash.
var centreDash = []mm{3, 1, 1, 1, 3, 0}

// bodyAndOutput draws what stands in front of the section: the motor's body and
// the wheel or drum outside.
func (v *sideView) bodyAndOutput() {
	v.draw(drawing.Rectangle(v.bodyRect()), drawing.Phantom.Wider(drawing.Medium), drawing.NoFill)
	if o := v.output; o != nil {
		v.draw(drawing.Circle(v.shaftAt(len(v.shafts)-1), v.mm(o.radius)), drawing.Phantom.Wider(drawing.Medium), drawing.NoFill)
		if v.freeAxle != nil {
			v.draw(drawing.Circle(v.at(v.freeAxle.at), v.mm(o.radius)), drawing.Phantom.Wider(drawing.Medium), drawing.NoFill)
		}
	}
}

func (v *sideView) bodyRect() drawing.Rect {
	at, w, h := v.shaftAt(0), v.mm(v.body.width)/2, v.mm(v.body.height)/2
	return drawing.Rect{X0: at.X - w, Y0: at.Y - h, X1: at.X + w, Y1: at.Y + h}
}

// arrows shows the way each shaft turns, outside its largest pulley where there
// is least in the way.
func (v *sideView) arrows() {
	for i, sh := range v.shafts {
		if sh.turns == still {
			continue
		}
		at, best := v.shaftAt(i), math.Inf(1)
		var radius mm
		var from, sweep units.Radians
		var taken drawing.Rect
		for ring, more := range []mm{2.6, 5, 8} {
			r := max(v.mm(sh.rim)+more, 6)
			turn := units.Radians(sh.turns) * units.Radians(min(1.5, 14/r))
			for k := range 24 {
				start := units.Radians(k) * 2 * math.Pi / 24
				rect := drawing.Arc(at, r, start, turn).Bounds().Inset(-1)
				if !v.area.Holds(rect) || !v.clear(rect) {
					continue
				}
				if cost := float64(v.clutter(rect)) + 14*float64(ring); cost < best {
					best, radius, from, sweep, taken = cost, r, start, turn, rect
				}
			}
		}
		if radius == 0 {
			continue
		}
		v.draw(drawing.Arc(at, radius, from, sweep), drawing.Outline.Wider(drawing.Medium), drawing.NoFill)
		// The head lies along the chord of its own length.
		back := from + sweep + units.Radians(sh.turns)*(-math.Pi/2-units.Radians(1.6/radius))
		v.head(at.Towards(from+sweep, radius), back, 3.4)
		v.taken = append(v.taken, taken)
	}
}

// positions dimensions the holes from the datum corner.
func (v *sideView) positions() {
	r, out := v.frameRect(), v.outsideRect()
	x0, y0, _, _ := v.extent()
	low := v.at(place{x0, y0})
	foot, side := out.Y1+1, out.X0-1
	across := []mark{{0, r.X0, foot}, {v.frame.length, r.X1, foot}}
	up := []mark{{0, r.Y1, side}, {v.frame.height, r.Y0, side}}
	for _, sh := range v.everyShaft() {
		at := v.at(sh.at)
		across = append(across, mark{sh.at.x, at.X, foot})
		up = append(up, mark{sh.at.y, at.Y, side})
		// The centre line goes on to the frame's edge, as an extension line.
		reach := v.mm(sh.rim) + 2.5
		if start := at.Plus(0, reach); start.Y < out.Y1 {
			v.draw(drawing.Line(start, drawing.Point{X: at.X, Y: out.Y1}), drawing.Centre, drawing.NoFill)
		}
		if start := at.Plus(-reach, 0); start.X > out.X0 {
			v.draw(drawing.Line(start, drawing.Point{X: out.X0, Y: at.Y}), drawing.Centre, drawing.NoFill)
		}
	}
	v.below(low.Y+5, across)
	v.beside(low.X-5, r.Y1, up)
	// In the corner between the two.
	w, h := v.room("datum", figures)
	var spots []spot
	for _, dy := range []mm{1, 1.6, 2.4, 3.2} {
		for _, dx := range []mm{3, 5, 7, 9, 12} {
			spots = append(spots, spot{drawing.Point{X: out.X0 - dx - w/2, Y: low.Y + 5 + dy*h}, float64(dy*4 + dx)})
		}
	}
	if c, ok := v.settle(w, h, spots); ok {
		v.write(c, "datum", figures)
	}
	// Other labels stay clear of these dimensions.
	v.area.X0, v.area.Y1 = low.X-4, low.Y+4
}

// distances dimensions the centre distances: level ones above the drawing,
// upright ones right of it, others along the line of centres.
func (v *sideView) distances() {
	_, _, x1, y1 := v.extent()
	above, right := v.at(place{0, y1}).Y-6, v.at(place{x1, 0}).X+5
	var level, upright rows
	for i := range v.bands {
		b := &v.bands[i]
		p, q := v.shaftAt(v.pulleys[b.from].shaft), v.shaftAt(v.pulleys[b.to].shaft)
		words := number(b.centres)
		told := false
		switch {
		case math.Abs(float64(p.Y-q.Y)) < 0.05:
			y := above - mm(level.take(p.X, q.X))*5
			told = v.between(drawing.Point{X: p.X, Y: y}, drawing.Point{X: q.X, Y: y}, v.beyondRim(p, b.from, 0, -1), v.beyondRim(q, b.to, 0, -1), words)
		case math.Abs(float64(p.X-q.X)) < 0.05:
			x := right + mm(upright.take(p.Y, q.Y))*5
			told = v.between(drawing.Point{X: x, Y: p.Y}, drawing.Point{X: x, Y: q.Y}, v.beyondRim(p, b.from, 1, 0), v.beyondRim(q, b.to, 1, 0), words)
		default:
			told = v.aligned(b, p, q, words)
		}
		if !told {
			v.untold[b.number] = words
		}
	}
}

// rows are dimension lines side by side, each with the stretches it holds.
type rows [][][2]mm

// take is the first row on which a stretch is free.
func (r *rows) take(a, b mm) int {
	a, b = min(a, b), max(a, b)
next:
	for i := range *r {
		for _, o := range (*r)[i] {
			if a < o[1]-0.1 && o[0] < b-0.1 {
				continue next
			}
		}
		(*r)[i] = append((*r)[i], [2]mm{a, b})
		return i
	}
	*r = append(*r, [][2]mm{{a, b}})
	return len(*r) - 1
}

// beyondRim is where an extension line may begin: at the end of the centre line.
func (v *sideView) beyondRim(at drawing.Point, k int, dx, dy mm) drawing.Point {
	reach := v.mm(v.shafts[v.pulleys[k].shaft].rim) + 1.5
	return at.Plus(dx*reach, dy*reach)
}

// crowded is how much ink to the millimetre a dimension line may meet.
const crowded = 0.2

// aligned dimensions a slanting centre distance beside the band, on the side
// where less is in the way.
func (v *sideView) aligned(b *band, p, q drawing.Point, words string) bool {
	along := p.Direction(q)
	rims := max(v.shafts[v.pulleys[b.from].shaft].rim, v.shafts[v.pulleys[b.to].shaft].rim)
	// A line through much else would not be read: then the band's name says it.
	best, way, off := crowded*float64(p.Distance(q)), units.Radians(0), mm(0)
	for _, side := range []units.Radians{math.Pi / 2, -math.Pi / 2} {
		for _, further := range []mm{4, 8, 12} {
			o := v.mm(rims) + further
			line := drawing.Line(p.Towards(along+side, o), q.Towards(along+side, o))
			if !v.area.Inset(4).Holds(line.Bounds()) || v.meets(line) {
				continue
			}
			if cost := float64(v.crossing(line)) + float64(further)/2; cost < best {
				best, way, off = cost, along+side, o
			}
		}
	}
	return off != 0 && v.between(p.Towards(way, off), q.Towards(way, off), p, q, words)
}

// meets reports whether a line ends on ink: its arrowhead would be lost there.
func (v *sideView) meets(p *drawing.Path) bool {
	for _, s := range p.Steps[:2] {
		if v.clutter(drawing.Rect{X0: s.To.X, Y0: s.To.Y, X1: s.To.X, Y1: s.To.Y}.Inset(-arrowRoom)) > 0 {
			return true
		}
	}
	return false
}

// arrowRoom is how far an arrowhead keeps from other lines.
const arrowRoom mm = 1.5

// crossing is how much ink and how many labels are near a line.
func (v *sideView) crossing(p *drawing.Path) int {
	a, b := p.Steps[0].To, p.Steps[1].To
	n, count := max(1, int(a.Distance(b)/2)), 0
	for i := range n + 1 {
		t := mm(i) / mm(n)
		at := drawing.Point{X: a.X + (b.X-a.X)*t, Y: a.Y + (b.Y-a.Y)*t}
		r := drawing.Rect{X0: at.X - 1, Y0: at.Y - 1, X1: at.X + 1, Y1: at.Y + 1}
		count += min(3, v.clutter(r))
		for _, o := range v.taken {
			if r.Overlaps(o) {
				count += 20
			}
		}
	}
	return count
}

const captionHeight mm = 5

// captionRoom is for the side view's captions.
func (s *scene) captionRoom() mm {
	if s.frame.inset() {
		return 2 * captionHeight
	}
	return captionHeight
}

func (v *sideView) captions() {
	words := "Seen from the front, front side taken off"
	if v.upright {
		words = "Seen from above, upper side taken off"
	}
	if v.fromBehind {
		behind := "the back"
		if v.upright {
			behind = "below"
		}
		words += "; from " + behind + " it turns the other way"
	}
	v.caption(fmt.Sprintf("%s. Scale %v", words, v.scale))
	if v.frame.inset() {
		length, height := v.frame.outside()
		v.captionAt(captionHeight, fmt.Sprintf("Each side is %s × %s mm outside; the datum is the inside corner.", number(length), number(height)))
	}
}

// caption writes words at the top of the sheet.
func (s *sheet) caption(words string) { s.captionAt(0, words) }

func (s *sheet) captionAt(down mm, words string) {
	style, words := figures.Fit(words, s.area.Width(), leastType)
	at := drawing.Point{X: s.area.X0, Y: s.area.Y0 + 0.5 + down}
	style = style.WithLevel(drawing.Below)
	s.taken = append(s.taken, style.Bounds(at, words))
	s.Text(at, words, style)
	s.captioned = down + captionHeight
}
