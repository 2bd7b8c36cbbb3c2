package layout

import (
	"fmt"
	"math"
)

// noise forgives the last bits of sums and square roots.
const noise = 1e-9

// Violation is a rule that a placement breaks.
type Violation struct {
	Rule   string
	Shafts [2]int
	Short  mm // by how much
}

func (v Violation) String() string {
	return fmt.Sprintf("%s, shafts %d and %d: short by %.2f mm", v.Rule, v.Shafts[0], v.Shafts[1], float64(v.Short))
}

// Check measures every rule at finished places, the plain way, and lists those
// that are broken; none means that the placement stands.
func Check(p Problem, at []Point) []Violation {
	var out []Violation
	need := func(rule string, i, j int, have, least mm) {
		if have < least-noise {
			out = append(out, Violation{rule, [2]int{i, j}, least - have})
		}
	}
	pairs := windows(&p)
	for i := range at {
		for j := range i {
			d := distance(at[i], at[j])
			need("distance", i, j, d, pairs[i][j].least)
			need("distance", i, j, pairs[i][j].most, d)
		}
		z := p.Shafts[i].Zone
		need("zone", i, i, min(at[i].X-z.X0, z.X1-at[i].X, at[i].Y-z.Y0, z.Y1-at[i].Y), 0)
		for _, d := range p.Shafts[i].Discs {
			reach := d.Radius + p.Slack
			need("outline", i, i, edge(p.Outline, at[i])+p.Overhang, reach)
			if p.Ground != nil {
				need("ground", i, i, at[i].Y-*p.Ground, reach+p.Clearance)
			}
		}
	}
	for _, r := range p.Rises {
		rise := at[r.To].Y - at[r.From].Y
		need("rise", r.From, r.To, rise, r.Min)
		need("rise", r.From, r.To, r.Max, rise)
	}
	for k, r := range p.Runs {
		strands := r.strands(at[r.From], at[r.To])
		for _, s := range strands {
			for i := range at {
				if size, there := p.Shafts[i].sizeIn([]int{r.Lane}, true); there && i != r.From && i != r.To {
					need("band", i, r.From, s.distanceTo(at[i]), size+r.HalfBand+p.Clearance+2*p.Slack)
				}
			}
			for _, b := range p.Bodies {
				if contains(b.Lanes, r.Lane) {
					need("band and motor", r.From, b.Shaft, s.distanceToBox(at[b.Shaft], b), r.HalfBand+p.Clearance+2*p.Slack)
				}
			}
			for _, other := range p.Runs[:k] {
				if other.Lane != r.Lane {
					continue
				}
				for _, o := range other.strands(at[other.From], at[other.To]) {
					need("two bands", r.From, other.From, s.distanceToStrand(o), r.HalfBand+other.HalfBand+p.Clearance+2*p.Slack)
				}
			}
		}
	}
	for _, b := range p.Bodies {
		c := at[b.Shaft]
		need("motor in frame", b.Shaft, b.Shaft, edgeOfBox(p.Outline, c, b), p.Slack)
		for i := range at {
			if size, there := p.Shafts[i].sizeIn(b.Lanes, true); there && i != b.Shaft {
				need("motor body", i, b.Shaft, boxDistance(at[i], c, b), size+p.Clearance+2*p.Slack)
			}
		}
	}
	return out
}

func distance(a, b Point) mm { return mm(math.Hypot(float64(a.X-b.X), float64(a.Y-b.Y))) }

// edge is how far a point lies inside a rectangle.
func edge(r Rect, p Point) mm { return min(p.X-r.X0, r.X1-p.X, p.Y-r.Y0, r.Y1-p.Y) }

func edgeOfBox(r Rect, c Point, b Box) mm {
	return min(c.X-b.HalfWidth-r.X0, r.X1-c.X-b.HalfWidth, c.Y-b.HalfHeight-r.Y0, r.Y1-c.Y-b.HalfHeight)
}

// boxDistance is how far a point lies outside the motor's body.
func boxDistance(p, centre Point, b Box) mm {
	dx := max(0, mm(math.Abs(float64(p.X-centre.X)))-b.HalfWidth)
	dy := max(0, mm(math.Abs(float64(p.Y-centre.Y)))-b.HalfHeight)
	return mm(math.Hypot(float64(dx), float64(dy)))
}

// sizeIn is the largest radius a shaft has in any of the lanes: of its discs
// there, or of the shaft itself where it passes. False if it is in none.
func (s *Shaft) sizeIn(lanes []int, self bool) (mm, bool) {
	size, there := mm(0), false
	for _, lane := range lanes {
		if self && contains(s.Lanes, lane) {
			size, there = max(size, s.Radius), true
		}
		for _, d := range s.Discs {
			if d.Lane == lane {
				size, there = max(size, d.Radius), true
			}
		}
	}
	return size, there
}

func contains(lanes []int, lane int) bool {
	for _, l := range lanes {
		if l == lane {
			return true
		}
	}
	return false
}

// strand is a straight piece of band.
type strand struct{ a, b Point }

// strands are the two common tangents of the pitch circles that the band runs
// along: the outer ones of an open band, the inner ones of a crossed.
func (r Run) strands(from, to Point) [2]strand {
	c := float64(distance(from, to))
	ux, uy := float64(to.X-from.X)/c, float64(to.Y-from.Y)/c
	r1, r2 := float64(r.FromPitch), float64(r.ToPitch)
	if r.Crossed {
		r2 = -r2
	}
	sin := (r1 - r2) / c
	cos := math.Sqrt(max(0, 1-sin*sin))
	var out [2]strand
	for k, side := range []float64{1, -1} {
		nx, ny := ux*sin-uy*cos*side, uy*sin+ux*cos*side // from the centres to the tangent points
		out[k] = strand{
			Point{from.X + mm(r1*nx), from.Y + mm(r1*ny)},
			Point{to.X + mm(r2*nx), to.Y + mm(r2*ny)},
		}
	}
	return out
}

// distanceTo is how far a point lies from the strand.
func (s strand) distanceTo(p Point) mm {
	dx, dy := s.b.X-s.a.X, s.b.Y-s.a.Y
	along := ((p.X-s.a.X)*dx + (p.Y-s.a.Y)*dy) / max(dx*dx+dy*dy, noise)
	along = min(max(along, 0), 1)
	return distance(p, Point{s.a.X + along*dx, s.a.Y + along*dy})
}

// distanceToStrand is how near two strands come; 0 if they cross.
func (s strand) distanceToStrand(o strand) mm {
	if s.crosses(o) {
		return 0
	}
	return min(s.distanceTo(o.a), s.distanceTo(o.b), o.distanceTo(s.a), o.distanceTo(s.b))
}

func (s strand) crosses(o strand) bool {
	side := func(l strand, p Point) mm {
		return (l.b.X-l.a.X)*(p.Y-l.a.Y) - (l.b.Y-l.a.Y)*(p.X-l.a.X)
	}
	return side(s, o.a)*side(s, o.b) < 0 && side(o, s.a)*side(o, s.b) < 0
}

// distanceToBox is how near a strand comes to the motor's body; 0 if it runs
// through.
func (s strand) distanceToBox(centre Point, b Box) mm {
	x0, x1 := centre.X-b.HalfWidth, centre.X+b.HalfWidth
	y0, y1 := centre.Y-b.HalfHeight, centre.Y+b.HalfHeight
	corners := [4]Point{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}
	least := min(boxDistance(s.a, centre, b), boxDistance(s.b, centre, b))
	for k := range corners {
		least = min(least, s.distanceToStrand(strand{corners[k], corners[(k+1)%4]}))
	}
	return least
}
