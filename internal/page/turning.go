package page

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	g "maragu.dev/gomponents"

	"findrive/internal/design"
	"findrive/internal/units"
)

// A mark that passes more often than so many times a second is drawn as a blur: what
// flickers more than three times a second can bring on a seizure (WCAG 2.2, success
// criterion 2.3.1).
const fastest = 3.0 // turns a second

// spokes of a turning pulley pass a mark each.
const spokes = 3

// turning is a drive that turns at its true speed, as seen from the front: pulleys to
// scale in their places, bands between them. id keeps the names in it apart.
func turning(q *design.Proposal, id, label string) g.Node {
	d := q.Drive
	var x0, y0, x1, y1 = math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	grow := func(x, y, r float64) {
		x0, y0, x1, y1 = min(x0, x-r), min(y0, y-r), max(x1, x+r), max(y1, y+r)
	}
	at := func(i int) (x, y float64) { return float64(d.Positions[i].X), -float64(d.Positions[i].Y) }
	var bands []g.Node
	type wheel struct {
		r    float64
		node g.Node
	}
	var discs []wheel // the large ones are drawn first, so that they hide no small one
	turns := shaftTurns(q)
	for i := range d.Stages {
		s := &d.Stages[i]
		ax, ay := at(i)
		bx, by := at(i + 1)
		ra, rb := float64(s.Driver.Outside)/2, float64(s.Driven.Outside)/2
		grow(ax, ay, ra)
		grow(bx, by, rb)
		discs = append(discs, wheel{rb, disc(bx, by, rb, float64(s.Driven.GrooveFloor)/2, turns[i+1])}, wheel{ra, disc(ax, ay, ra, float64(s.Driver.GrooveFloor)/2, turns[i])})
		bands = append(bands, bandRuns(ax, ay, float64(s.Driver.GrooveFloor)/2, bx, by, float64(s.Driven.GrooveFloor)/2, s.Crossed))
	}
	mx, my := at(0)
	w, h := float64(d.Motor.BodyWidth), float64(d.Motor.BodyHeight)
	grow(mx, my, w/2)
	body := rect(mx-w/2, my-h/2, w, h, "body")
	slices.SortStableFunc(discs, func(a, b wheel) int { return cmp.Compare(b.r, a.r) })
	const edge = 3
	box := fmt.Sprintf("%s %s %s %s", short(x0-edge), short(y0-edge), short(x1-x0+2*edge), short(y1-y0+2*edge))
	return g.El("svg", g.Attr("class", "turning"), g.Attr("id", id), g.Attr("viewBox", box), g.Attr("role", "img"), g.Attr("aria-label", label),
		g.Map(discs, func(w wheel) g.Node { return w.node }), body, g.Group(bands))
}

// shaftTurns are the speeds of the shafts in turns a second, above 0 anticlockwise.
func shaftTurns(q *design.Proposal) []float64 {
	sense := float64(q.Drive.MotorTurns)
	out := []float64{sense * perSecond(q.Motor.Speed)}
	for i := range q.Drive.Stages {
		if q.Drive.Stages[i].Crossed {
			sense = -sense
		}
		out = append(out, sense*perSecond(q.Axles[i].Turns))
	}
	return out
}

func perSecond(n units.RPM) float64 { return float64(n) / 60 }

// disc is a pulley: rim, groove floor, and spokes that turn, or a blur.
func disc(x, y, rim, floor, turns float64) g.Node {
	nodes := []g.Node{circle(x, y, rim, "rim"), circle(x, y, floor, "floor")}
	switch {
	case turns == 0:
	case math.Abs(turns)*spokes > fastest:
		nodes = append(nodes, circle(x, y, floor*0.7, "blur"))
	default:
		var arms []g.Node
		for k := range spokes {
			a := 2 * math.Pi * float64(k) / spokes
			arms = append(arms, line(x, y, x+floor*0.9*math.Cos(a), y+floor*0.9*math.Sin(a), "spoke"))
		}
		way := "normal"
		if turns > 0 {
			way = "reverse" // the page's y goes down
		}
		nodes = append(nodes, g.El("g", g.Attr("class", "turns"), g.Attr("style", fmt.Sprintf("transform-origin:%spx %spx;animation-duration:%ss;animation-direction:%s", short(x), short(y), short(1/math.Abs(turns)), way)), g.Group(arms)))
	}
	return g.El("g", g.Group(append(nodes, circle(x, y, 1.2, "shaft"))))
}

// bandRuns are the two straight runs of a band between groove floors.
func bandRuns(ax, ay, ra, bx, by, rb float64, crossed bool) g.Node {
	dist := math.Hypot(bx-ax, by-ay)
	if dist == 0 {
		return nil
	}
	dir := math.Atan2(by-ay, bx-ax)
	lean := ra - rb
	if crossed {
		lean = ra + rb
	}
	phi := math.Acos(max(-1, min(1, lean/dist)))
	var runs []g.Node
	for _, side := range []float64{1, -1} {
		a := dir + side*phi
		b := a
		if crossed {
			b = a + math.Pi
		}
		runs = append(runs, line(ax+ra*math.Cos(a), ay+ra*math.Sin(a), bx+rb*math.Cos(b), by+rb*math.Sin(b), "band"))
	}
	return g.El("g", g.Group(runs))
}

func circle(x, y, r float64, class string) g.Node {
	return g.El("circle", g.Attr("class", class), g.Attr("cx", short(x)), g.Attr("cy", short(y)), g.Attr("r", short(r)))
}

func line(x1, y1, x2, y2 float64, class string) g.Node {
	return g.El("line", g.Attr("class", class), g.Attr("x1", short(x1)), g.Attr("y1", short(y1)), g.Attr("x2", short(x2)), g.Attr("y2", short(y2)))
}

func rect(x, y, w, h float64, class string) g.Node {
	return g.El("rect", g.Attr("class", class), g.Attr("x", short(x)), g.Attr("y", short(y)), g.Attr("width", short(w)), g.Attr("height", short(h)))
}

// short is a number with at most three decimals.
func short(v float64) string { return units.Decimals(v, 3) }
