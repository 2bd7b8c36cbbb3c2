package assembly

import (
	"errors"
	"math"

	"findrive/internal/certificate"
)

// clear reports whether something round that goes from side to side stays clear of
// pulleys, axles, bands and the motor's body.
func (o *Build) clear(at Point, radius, clearance mm) bool {
	need := radius + clearance
	for i := range o.Shafts {
		s := &o.Shafts[i]
		rim := s.Diameter / 2
		for _, k := range s.Along {
			rim = max(rim, o.Parts[k].Radius)
		}
		if at.distance(s.At) < need+rim {
			return false
		}
	}
	body := o.Shafts[0].At
	dx := max(0, mm(math.Abs(float64(at.X-body.X)))-o.BodyWidth/2)
	dy := max(0, mm(math.Abs(float64(at.Y-body.Y)))-o.BodyHeight/2)
	if (Point{}).distance(Point{dx, dy}) < need {
		return false
	}
	for i := range o.Bands {
		if o.bandDistance(i, at) < need {
			return false
		}
	}
	return true
}

// bandDistance is how near a place is to a band, or less: to the strip along the
// middle line as wide at each end as the pulley there. No part of a band, open or
// crossed, is outside that.
func (o *Build) bandDistance(i int, at Point) mm {
	b := &o.Bands[i]
	p, q := o.Shafts[b.From].At, o.Shafts[b.To].At
	far := p.distance(q)
	if far == 0 {
		return at.distance(p)
	}
	share := float64((at.X-p.X)*(q.X-p.X)+(at.Y-p.Y)*(q.Y-p.Y)) / float64(far*far)
	share = max(0, min(1, share))
	foot := Point{p.X + mm(share)*(q.X-p.X), p.Y + mm(share)*(q.Y-p.Y)}
	r1, r2 := o.Parts[b.Driver].Radius, o.Parts[b.Driven].Radius
	return at.distance(foot) - (r1 + mm(share)*(r2-r1))
}

// addFreeAxle gives a vehicle its second axle, with the same wheels as the driven one, where the
// certificate has it.
func (o *Build) addFreeAxle(b *certificate.Brief, p *certificate.Proposal) error {
	last := o.Shafts[o.Stages]
	var at Point
	if p.FreeAxle != nil {
		at = Point{mm(p.FreeAxle.X), mm(p.FreeAxle.Y)}
	} else {
		var room bool
		if at, room = o.freePlace(b, p); !room {
			return errors.New("the frame has no room for the second axle that its wheels are counted for: look for a drive anew")
		}
	}
	s := Shaft{Name: "free axle", At: at, Diameter: last.Diameter, Length: last.Length, Hole: last.Hole, From: last.From, To: last.To, Free: true}
	s.Rod = o.add(Part{Kind: Rod, Name: p.Axles[o.Stages-1].Stock, Length: s.Length, From: s.From, To: s.To, Radius: s.Diameter / 2, Free: true})
	o.Shafts = append(o.Shafts, s)
	o.wheels(len(o.Shafts)-1, p)
	return nil
}

// freePlace is where the second axle goes if a certificate from before that was part of the design
// does not say so: as far from the driven one as there is room.
func (o *Build) freePlace(b *certificate.Brief, p *certificate.Proposal) (best Point, room bool) {
	last := o.Shafts[o.Stages]
	l := &b.Limits
	inset := mm(0)
	if o.Drilled {
		inset = (last.Diameter+mm(l.RunningFit))/2 + mm(l.HoleWall)
	}
	far, step := mm(-1), max(1, mm(b.Frame.Pitch))
	for k := range 10000 {
		at := Point{mm(k) * step, last.At.Y}
		if at.X > mm(b.Frame.Length)-inset {
			break
		}
		away := at.distance(last.At)
		if at.X < inset || away <= far || away < mm(p.Wheel.Diameter)+mm(l.Clearance) || !o.clear(at, last.Diameter/2, mm(l.Clearance)) {
			continue
		}
		best, far = at, away
	}
	return best, far >= 0
}

// joiners are where the strips stand that join two sides of sheet: in the corners,
// or as near to them as there is room, moved along an edge. A corner without room
// is left out.
func (o *Build) joiners(length, height, clearance mm) []Point {
	const half = JoinerSize / 2
	radius := mm(math.Sqrt2) * half
	var out []Point
	for _, c := range [4][2]mm{{0, 0}, {1, 0}, {0, 1}, {1, 1}} {
		found := false
		for along := mm(0); along <= max(length, height)/2-JoinerSize && !found; along += 2 {
			for _, way := range [2][2]mm{{1, 0}, {0, 1}} {
				dx, dy := half+along*way[0], half+along*way[1]
				if dx > length/2-half || dy > height/2-half {
					continue
				}
				at := Point{dx + c[0]*(length-2*dx), dy + c[1]*(height-2*dy)}
				if o.clear(at, radius, clearance) {
					out, found = append(out, at), true
					break
				}
			}
		}
	}
	return out
}
