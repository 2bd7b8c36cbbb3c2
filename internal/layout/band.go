package layout

import "math"

// band is the shape of a run between two places: its strands and pitch circles.
//
// Why the circles belong to it: if the two pulleys move by s each, the strands
// move sideways by at most s, because a line that touches two circles is carried
// along by its two tangent points, and between them by something in between. But
// the ends of the strands slide along the circles, faster than s when pulleys of
// a crossed band stand close. With the circles counted in, an end that slides
// stays on the band, so that the distance from the band to anything else changes
// by no more than s for the pulleys and s for the other thing. Summed along the
// way from the drawn to the drilled holes that makes 2 s exactly, provided that
// the tangents exist all along, which is the "band runs" rule.
type band struct {
	a, b    Point
	ra, rb  mm
	strands [2]strand
}

// strand is a straight piece of band.
type strand struct{ a, b Point }

// leastCentre is the distance below which the run's pitch circles have no common
// tangents of its kind.
func (r *Run) leastCentre() mm {
	if r.Crossed {
		return r.FromPitch + r.ToPitch
	}
	return mm(math.Abs(float64(r.FromPitch - r.ToPitch)))
}

// between is the band laid between two places at least leastCentre apart.
func (r *Run) between(from, to Point) band {
	c := distance(from, to)
	ux, uy := mm(1), mm(0)
	if c > 0 {
		ux, uy = (to.X-from.X)/c, (to.Y-from.Y)/c
	}
	r1, r2 := r.FromPitch, r.ToPitch
	if r.Crossed {
		r2 = -r2 // the tangent point is on the other side of the driven pulley
	}
	// A line at distance r1 from one centre and r2 from the other, both on its
	// same side, has a normal at sine (r1-r2)/c to the line square to the centres.
	sin := mm(0)
	if c > 0 {
		sin = min(1, max(-1, (r1-r2)/c))
	}
	cos := mm(math.Sqrt(float64(1 - sin*sin)))
	left := Point{ux*sin - uy*cos, uy*sin + ux*cos}
	right := Point{ux*sin + uy*cos, uy*sin - ux*cos}
	return band{a: from, b: to, ra: r.FromPitch, rb: r.ToPitch, strands: [2]strand{
		{Point{from.X + r1*left.X, from.Y + r1*left.Y}, Point{to.X + r2*left.X, to.Y + r2*left.Y}},
		{Point{from.X + r1*right.X, from.Y + r1*right.Y}, Point{to.X + r2*right.X, to.Y + r2*right.Y}},
	}}
}

// toPoint is how far a point lies from the band's middle line; below 0 inside a
// pitch circle. Inside the loop, clear of the strands, it is above 0.
func (b *band) toPoint(p Point) mm {
	return min(distance(p, b.a)-b.ra, distance(p, b.b)-b.rb, b.strands[0].toPoint(p), b.strands[1].toPoint(p))
}

// outside is the same for a thing that the loop does not go round: below 0 anywhere inside.
func (b *band) outside(p Point) mm {
	d, u := b.toPoint(p), b.b.from(b.a)
	s, t := &b.strands[0], &b.strands[1]
	if along := p.dot(u); s.side(p)*t.side(p) < 0 && along > s.a.dot(u) && along < s.b.dot(u) {
		return min(d, -d) // between the strands
	}
	return d
}

// toBox is how far the body of a motor at c lies from the band's middle line.
func (b *band) toBox(c Point, body *Box) mm {
	return min(boxToPoint(c, body, b.a)-b.ra, boxToPoint(c, body, b.b)-b.rb,
		b.strands[0].toBox(c, body), b.strands[1].toBox(c, body))
}

// toBand is how near the middle lines of two bands come.
func (b *band) toBand(o *band) mm {
	least := min(distance(b.a, o.a)-b.ra-o.ra, distance(b.a, o.b)-b.ra-o.rb,
		distance(b.b, o.a)-b.rb-o.ra, distance(b.b, o.b)-b.rb-o.rb)
	for i := range b.strands {
		s, t := b.strands[i], o.strands[i]
		least = min(least, s.toPoint(o.a)-o.ra, s.toPoint(o.b)-o.rb, t.toPoint(b.a)-b.ra, t.toPoint(b.b)-b.rb,
			s.toStrand(o.strands[0]), s.toStrand(o.strands[1]))
	}
	return least
}

// toPoint is how far a point lies from the strand.
func (s strand) toPoint(p Point) mm {
	dx, dy := s.b.X-s.a.X, s.b.Y-s.a.Y
	px, py := p.X-s.a.X, p.Y-s.a.Y
	if length := dx*dx + dy*dy; length > 0 {
		along := min(max((px*dx+py*dy)/length, 0), 1)
		px, py = px-along*dx, py-along*dy
	}
	return mm(math.Sqrt(float64(px*px + py*py)))
}

// toStrand is how near two strands come; 0 if they cross.
func (s strand) toStrand(o strand) mm {
	if s.crosses(o) {
		return 0
	}
	return min(s.toPoint(o.a), s.toPoint(o.b), o.toPoint(s.a), o.toPoint(s.b))
}

// crosses reports a proper crossing; strands that only touch are 0 apart by
// their ends.
func (s strand) crosses(o strand) bool {
	return s.side(o.a)*s.side(o.b) < 0 && o.side(s.a)*o.side(s.b) < 0
}

// side is above 0 for points to the left of the strand and below 0 to the right.
func (s strand) side(p Point) mm {
	return (s.b.X-s.a.X)*(p.Y-s.a.Y) - (s.b.Y-s.a.Y)*(p.X-s.a.X)
}

// toBox is how near a strand comes to the motor's body; 0 if it runs through.
func (s strand) toBox(c Point, body *Box) mm {
	least := min(boxToPoint(c, body, s.a), boxToPoint(c, body, s.b))
	w, h := body.HalfWidth, body.HalfHeight
	corners := [4]Point{{c.X - w, c.Y - h}, {c.X + w, c.Y - h}, {c.X + w, c.Y + h}, {c.X - w, c.Y + h}}
	for k := range corners {
		least = min(least, s.toStrand(strand{corners[k], corners[(k+1)%4]}))
	}
	return least
}

func distance(a, b Point) mm {
	dx, dy := a.X-b.X, a.Y-b.Y
	return mm(math.Sqrt(float64(dx*dx + dy*dy)))
}

// boxToPoint is how far a point lies outside the body of a motor at c; 0 inside.
func boxToPoint(c Point, body *Box, p Point) mm {
	return beyond(p.X-c.X, p.Y-c.Y, body.HalfWidth, body.HalfHeight)
}

// beyond is how far (dx, dy) lies outside the rectangle of half sizes w and h
// about the origin.
func beyond(dx, dy, w, h mm) mm {
	dx = max(0, mm(math.Abs(float64(dx)))-w)
	dy = max(0, mm(math.Abs(float64(dy)))-h)
	return mm(math.Sqrt(float64(dx*dx + dy*dy)))
}
