package hoistdrawing

import (
	"fmt"
	"math"
	"strings"

	"findrive/internal/drawing"
	"findrive/internal/hoist"
	"findrive/internal/units"
)

// The heights of the picture on the page, from its top.
const (
	beamAt    mm = 0
	beamThick mm = 7
	topAt     mm = 33 // middle of the sheaves at the beam
	bottomAt  mm = 112
	loadAt    mm = 136 // top of the load
	loadTall  mm = 20
	floorAt   mm = 170
	pictureTo mm = 182
)

// scene is the reeving opened out: every piece of cord has a lane of its own, and a
// sheave joins each lane to the next. Sheaves of one block are drawn side by side
// that in truth sit on one axle.
type scene struct {
	*drawing.Page
	h      *hoist.Hoist
	origin drawing.Point
	lane   mm // from one lane to the next, and the diameter the cord lies on
	nudge  mm // of the rim outside the cord
}

// Reeving is the page that shows how the cord is rove: beam, blocks, rope parts
// numbered, the way the cord runs, the tied end and the hand.
func Reeving(h *hoist.Hoist, b *hoist.Brief, paper drawing.Size) *drawing.Page {
	p := drawing.NewPage(paper, b.Name+": "+h.Name())
	p.Description = h.Title() + ". " + strings.Join(h.Steps(), " ")
	under := fmt.Sprintf("%s: %s hold the load. Pull %s, about %s.", units.Capital(h.Name()), hoist.Count(h.Parts(), "rope part"), h.Way(), newtons(h.Raising.Likely))
	if h.Parts() == 1 {
		under = fmt.Sprintf("%s: no gain, it turns the pull round. Pull %s, about %s.", units.Capital(h.Name()), h.Way(), newtons(h.Raising.Likely))
	}
	y := head(p, b.Name, under)
	s := &scene{Page: p, h: h}
	lanes := mm(h.Sheaves()) // gaps between lanes
	s.lane = min(24, (paper.Width-2*margin-50)/lanes)
	s.nudge = s.lane * 0.09
	s.origin = drawing.Point{X: (paper.Width - lanes*s.lane) / 2, Y: y + 4}
	s.draw()
	s.notes(b, s.origin.Y+pictureTo)
	return p
}

func (s *scene) at(lane float64, y mm) drawing.Point {
	return drawing.Point{X: s.origin.X + mm(lane)*s.lane, Y: s.origin.Y + y}
}

func (s *scene) draw() {
	s.surroundings()
	s.blocks()
	s.load()
	s.cord()
}

// surroundings are the beam above and the floor below, with something soft on it.
func (s *scene) surroundings() {
	left, right := margin, s.Size.Width-margin
	y := s.origin.Y + beamAt
	s.Rectangle(drawing.Rect{X0: left, Y0: y, X1: right, Y1: y + beamThick}, drawing.Outline, drawing.Hatched)
	s.label(drawing.Point{X: right - 2, Y: y + beamThick/2}, "beam", smallStyle.WithAlign(drawing.End).WithLevel(drawing.Centred))
	floor := s.origin.Y + floorAt
	s.Line(drawing.Point{X: left, Y: floor}, drawing.Point{X: right, Y: floor}, drawing.Outline)
	x := s.middleOfLoad()
	s.Rectangle(drawing.Rect{X0: x - 20, Y0: floor - 5, X1: x + 20, Y1: floor}, drawing.Outline, drawing.CrossHatched)
	s.label(drawing.Point{X: x - 22, Y: floor - 2.5}, "sand or cushion", smallStyle.WithAlign(drawing.End))
}

// label writes words on white.
func (s *scene) label(at drawing.Point, words string, style drawing.Style) {
	s.Rectangle(style.Bounds(at, words).Inset(-0.8), drawing.NoPen, drawing.White)
	s.Text(at, words, style)
}

// middleOf is the lane of the middle of sheave i, from 0, along the cord.
func middleOf(i int) float64 { return float64(i) + 0.5 }

// sheavesAt lists the sheaves in use at a place, by their number along the cord.
func (s *scene) sheavesAt(p hoist.Place) []int {
	var out []int
	at := s.h.Tied
	for i := range s.h.Turns {
		if at == hoist.Beam {
			at = hoist.Load
		} else {
			at = hoist.Beam
		}
		if at == p {
			out = append(out, i)
		}
	}
	return out
}

// span is the lanes that a block reaches over; its becket too if the end is tied to
// it.
func (s *scene) span(p hoist.Place) (from, to float64) {
	in := s.sheavesAt(p)
	from, to = middleOf(in[0]), middleOf(in[len(in)-1])
	if p == hoist.Load && s.h.Tied == hoist.Load {
		from = 0
	}
	return from, to
}

func (s *scene) middleOfLoad() mm {
	if s.h.Moving == nil {
		return s.at(0, 0).X
	}
	from, to := s.span(hoist.Load)
	return s.at((from+to)/2, 0).X
}

// blocks draws sheaves and what carries them: a bar through the middles, and a hook
// from the bar to the beam or the load.
func (s *scene) blocks() {
	if s.h.Fixed != nil {
		from, to := s.span(hoist.Beam)
		s.block(hoist.Beam, from, to, s.sheavesAt(hoist.Beam), topAt, "fixed block "+s.h.Fixed.Name)
	}
	if s.h.Moving != nil {
		from, to := s.span(hoist.Load)
		s.block(hoist.Load, from, to, s.sheavesAt(hoist.Load), bottomAt, "moving block "+s.h.Moving.Name)
	}
	next := s.h.Turns
	if s.h.BeamLead != nil {
		m := middleOf(next)
		s.block(hoist.Beam, m, m, []int{next}, topAt, "lead block "+s.h.BeamLead.Name)
		next++
	}
	if s.h.FootLead != nil {
		// It stands on the floor; its bar goes down.
		at := s.at(middleOf(next), floorAt-s.lane/2-4)
		s.Line(at, drawing.Point{X: at.X, Y: s.origin.Y + floorAt}, drawing.Outline.Wider(1))
		s.sheave(at)
		room := 2 * min(at.X-margin, s.Size.Width-margin-at.X)
		style, words := smallStyle.Fit("lead block "+s.h.FootLead.Name+", held down", room, drawing.Points(8))
		s.Text(drawing.Point{X: at.X, Y: s.origin.Y + floorAt + 4.5}, words, style.WithAlign(drawing.Middle))
	}
}

func (s *scene) block(p hoist.Place, from, to float64, sheaves []int, y mm, name string) {
	g := s.Group(name, fmt.Sprintf("%s, %s in use", name, hoist.Count(len(sheaves), "sheave")))
	up := mm(-1) // from the bar to what holds it
	end := s.origin.Y + beamAt + beamThick
	if p == hoist.Load {
		up, end = 1, s.origin.Y+loadAt
	}
	yoke := s.at(0, y).Y + up*(s.lane/2+s.nudge+3)
	a, b := s.at(from, 0).X, s.at(to, 0).X
	middle := (a + b) / 2
	for _, i := range sheaves {
		x := s.at(middleOf(i), 0).X
		g.Line(drawing.Point{X: x, Y: s.at(0, y).Y}, drawing.Point{X: x, Y: yoke}, drawing.Outline.Wider(1))
	}
	g.Line(drawing.Point{X: a - 0.5, Y: yoke}, drawing.Point{X: b + 0.5, Y: yoke}, drawing.Outline.Wider(1))
	g.Line(drawing.Point{X: middle, Y: yoke}, drawing.Point{X: middle, Y: end}, drawing.Outline.Wider(1))
	if p == hoist.Load && s.h.Tied == hoist.Load {
		// The becket: the end is tied to the block itself, at the height of its axle.
		g.Line(drawing.Point{X: s.at(0, 0).X, Y: yoke}, s.at(0, y), drawing.Outline.Wider(1))
	}
	for _, i := range sheaves {
		s.sheave(s.at(middleOf(i), y))
	}
	// The name goes where no cord runs: left of the lanes below, beside the hook above.
	if p == hoist.Load {
		edge := s.at(0, 0).X - s.lane*0.12
		style, words := smallStyle.Fit(name, edge-margin, drawing.Points(8))
		s.label(drawing.Point{X: edge, Y: yoke}, words, style.WithAlign(drawing.End).WithLevel(drawing.Centred))
		return
	}
	style, words := smallStyle.Fit(name, min(2*s.lane-4, s.Size.Width-margin-middle-2), drawing.Points(8))
	s.Text(drawing.Point{X: middle + 2, Y: (end + yoke) / 2}, words, style.WithLevel(drawing.Centred))
}

func (s *scene) sheave(at drawing.Point) {
	r := s.lane / 2
	s.Circle(at, r+s.nudge, drawing.Thin, drawing.White)
	s.Circle(at, r-s.nudge, drawing.Outline, drawing.White)
	s.Circle(at, max(0.8, s.lane*0.06), drawing.Outline, drawing.Black)
}

// cordPen is thick, so that it stands out on a photocopy.
var cordPen = drawing.Pen{Width: 0.9, Round: true}

// cord draws the cord from its tied end to the hand in one stroke, then what is
// said of its pieces.
func (s *scene) cord() {
	h := s.h
	p := &drawing.Path{}
	at := h.Tied
	start := s.at(0, beamAt+beamThick)
	if at == hoist.Load {
		start = s.at(0, bottomAt)
		if h.Moving == nil {
			start = s.at(0, loadAt)
		}
	}
	p.MoveTo(start)
	for i := range h.Turns {
		if at == hoist.Beam {
			at = hoist.Load
			p.ArcAbout(s.at(middleOf(i), bottomAt), s.lane/2, math.Pi, math.Pi) // under the sheave
		} else {
			at = hoist.Beam
			p.ArcAbout(s.at(middleOf(i), topAt), s.lane/2, math.Pi, -math.Pi) // over it
		}
	}
	i := h.Turns
	if h.BeamLead != nil {
		p.ArcAbout(s.at(middleOf(i), topAt), s.lane/2, math.Pi, -math.Pi)
		i++
	}
	var hand drawing.Point
	var way units.Radians
	switch h.Way() {
	case hoist.Level:
		foot := s.at(middleOf(i), floorAt-s.lane/2-4)
		p.ArcAbout(foot, s.lane/2, math.Pi, math.Pi/2)
		hand, way = foot.Plus(s.lane/2+16, s.lane/2), 0
	case hoist.Up:
		hand, way = s.at(float64(i), topAt-8), math.Pi/2
	default:
		hand, way = s.at(float64(i), bottomAt+30), -math.Pi/2
	}
	p.LineTo(hand)
	s.Draw(p, cordPen, drawing.NoFill)
	s.arrow(hand, way, 4.5)
	s.hand(hand, way)
	s.knot(start)
	s.pieces(i)
}

// hand labels the end that is pulled.
func (s *scene) hand(at drawing.Point, way units.Radians) {
	words := "pull " + newtons(s.h.Raising.Likely)
	style := textStyle.InBold()
	switch {
	case way == 0:
		s.label(at.Plus(1, -4), words, style.WithAlign(drawing.Middle))
	case way > 0:
		s.label(at.Plus(4, 0), words, style.WithLevel(drawing.Centred))
	default:
		s.label(at.Plus(4, 0), words, style.WithLevel(drawing.Centred))
	}
}

// knot marks the tied end.
func (s *scene) knot(at drawing.Point) {
	s.Circle(at, 1.4, drawing.Outline, drawing.Black)
	style := smallStyle.WithAlign(drawing.End).WithLevel(drawing.Centred)
	y := mm(4)
	switch {
	case s.h.Moving == nil:
		y = -4
	case s.h.Tied == hoist.Load:
		y = 0
	}
	s.label(at.Plus(-4, y), "tied here", style)
}

// pieces numbers the rope parts and shows which way the cord runs.
func (s *scene) pieces(last int) {
	h := s.h
	number := textStyle.InBold().WithAlign(drawing.Middle).WithLevel(drawing.Centred)
	at := h.Tied
	y := (topAt + bottomAt) / 2
	for i := 0; i <= last; i++ {
		up := at == hoist.Load // the cord runs from load to beam in this lane
		if i >= h.Turns && !(i == h.Turns && h.EndsAt() == hoist.Load) {
			break // the fall
		}
		centre := s.at(float64(i), y-8)
		s.Circle(centre, 3.6, drawing.Outline, drawing.White)
		s.Text(centre, fmt.Sprint(i+1), number)
		if i > 0 {
			way := units.Radians(-math.Pi / 2)
			if up {
				way = math.Pi / 2
			}
			s.arrow(s.at(float64(i), y+8), way, 4)
		}
		at = hoist.Load - at
	}
}

// arrow is a black head with its point towards a way, its middle at a place.
func (s *scene) arrow(at drawing.Point, way units.Radians, long mm) {
	tip := at.Towards(way, long/2)
	back := at.Towards(way+math.Pi, long/2)
	s.Draw(drawing.Polygon(tip, back.Towards(way+math.Pi/2, long*0.38), back.Towards(way-math.Pi/2, long*0.38)), drawing.NoPen, drawing.Black)
}

func (s *scene) load() {
	x, y := s.middleOfLoad(), s.origin.Y+loadAt
	s.Rectangle(drawing.Rect{X0: x - 13, Y0: y, X1: x + 13, Y1: y + loadTall}, drawing.Outline, drawing.White)
	middle := textStyle.InBold().WithAlign(drawing.Middle).WithLevel(drawing.Centred)
	s.Text(drawing.Point{X: x, Y: y + loadTall/2 - 3}, fmt.Sprintf("%.4g g", float64(s.h.Mass)), middle)
	s.Text(drawing.Point{X: x, Y: y + loadTall/2 + 3}, newtons(s.h.Mass.Weight()), smallStyle.WithAlign(drawing.Middle).WithLevel(drawing.Centred))
	s.arrow(drawing.Point{X: x + 18, Y: y + loadTall/2}, math.Pi/2, 5)
}

// notes are the facts under the picture.
func (s *scene) notes(b *hoist.Brief, y mm) {
	h := s.h
	tensions := h.Tensions(h.Raising.Likely)
	var parts []string
	for i := range h.Parts() {
		parts = append(parts, fmt.Sprintf("%d: %s", i+1, newtons(tensions[i])))
	}
	first := "The arrows show the cord while the load rises."
	if h.Turns > 2 {
		first = "Opened out: the sheaves of a block sit side by side on one axle. " + first
	}
	lines := []string{
		first,
		fmt.Sprintf("Cord: cut %.1f m of %s. The hand pulls in %.0f mm for a lift of %.0f mm. The blocks meet after %.0f mm.", float64(h.CordNeeded)/1000, h.Cord.Name, float64(h.CordPulled), float64(b.Lift), math.Floor(float64(h.LiftAvailable))),
		fmt.Sprintf("Tension in the rope parts as it rises: %s; in the hand %s (%s to %s).", strings.Join(parts, ", "), newtons(h.Raising.Likely), newtons(h.Raising.Low), newtons(h.Raising.High)),
		fmt.Sprintf("The beam carries %s, besides its own weight.", newtons(h.BeamCarries)),
		"Keep feet and hands out from under, never lift over people, and belay the cord before letting go. Your school's own risk assessment, local codes and competent staff decide.",
	}
	at := drawing.Point{X: margin, Y: y}
	for _, line := range lines {
		at = s.Tagged(drawing.Sentence).Paragraph(at, line, s.Size.Width-2*margin, textStyle)
		at.Y++
	}
}
