package assembly

import "math"

// Inside is a shaft that passes through the loop of a band which is not its own: the
// band must be hung over its free end too, or it comes to lie on the wrong side of it.
type Inside struct {
	Shaft int // 0 for the motor's body
	Far   bool
}

// enclose finds what passes between the runs of each band. Axles pass through every
// lane; the motor's body through those beside it.
func (o *Build) enclose() {
	for i := range o.Bands {
		b := &o.Bands[i]
		for k := range o.Shafts {
			if k == b.From || k == b.To || k == 0 && !(b.Lane > o.BodyFrom && b.Lane < o.BodyFrom+o.BodyLength) {
				continue
			}
			if in, far := o.within(b, o.Shafts[k].At); in {
				b.Inside = append(b.Inside, Inside{k, far})
			}
		}
	}
}

// within reports whether a place is between the runs of a band, and for a crossed one
// whether it is on the driven pulley's side of the crossing.
func (o *Build) within(b *Band, at Point) (in, far bool) {
	p, q := o.Shafts[b.From].At, o.Shafts[b.To].At
	r1, r2 := o.Parts[b.Driver].Radius, o.Parts[b.Driven].Radius
	if !b.Crossed {
		return o.nearest(p, q, r1, r2, at) < 0, false
	}
	share := r1 / (r1 + r2)
	x := Point{p.X + share*(q.X-p.X), p.Y + share*(q.Y-p.Y)}
	switch {
	case o.nearest(p, x, r1, 0, at) < 0:
		return true, false
	case o.nearest(x, q, 0, r2, at) < 0:
		return true, true
	}
	return false, false
}

// nearest is how near a place is to the circles that grow evenly from one to another;
// together they fill what is between their outer tangents. The distance is convex
// along the line of centres, so that halving finds its least.
func (o *Build) nearest(p, q Point, r1, r2 mm, at Point) mm {
	away := func(t float64) mm {
		c := Point{p.X + mm(t)*(q.X-p.X), p.Y + mm(t)*(q.Y-p.Y)}
		return at.distance(c) - (r1 + mm(t)*(r2-r1))
	}
	lo, hi := 0.0, 1.0
	for range 60 {
		third := (hi - lo) / 3
		if away(lo+third) < away(hi-third) {
			hi -= third
		} else {
			lo += third
		}
	}
	return mm(math.Min(float64(away((lo+hi)/2)), math.Min(float64(away(0)), float64(away(1)))))
}

// farOf reports whether a shaft is on the driven pulley's side of a band's crossing,
// and whether the band goes round it at all.
func (b *Band) farOf(shaft int) (far, round bool) {
	switch shaft {
	case b.From:
		return false, true
	case b.To:
		return b.Crossed, true
	}
	for _, in := range b.Inside {
		if in.Shaft == shaft {
			return in.Far, true
		}
	}
	return false, false
}
