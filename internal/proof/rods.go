package proof

import (
	"math"
	"slices"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/score"
)

// seatPulleys finds how each pulley sits on each rod.
func (s *space) seatPulleys() {
	s.onAxle = make([][][]drive.Joint, len(s.pulleys))
	s.leastJoint = make([]points, len(s.pulleys))
	s.drag = make([]span, len(s.pulleys))
	for p := range s.pulleys {
		s.onAxle[p] = make([][]drive.Joint, len(s.axles))
		s.leastJoint[p], s.drag[p].Lo = never, math.Inf(1)
		for a := range s.axles {
			stock := &s.axles[a].part
			if constraints.HoleInStrip(s.brief, stock) != nil {
				continue
			}
			s.onAxle[p][a], _ = constraints.Joints(constraints.PulleyHub(&s.pulleys[p].part), stock.Diameter, s.cup.Sleeves, s.brief.Making)
			if len(s.onAxle[p][a]) == 0 {
				continue
			}
			s.leastJoint[p] = min(s.leastJoint[p], s.leastOf(s.onAxle[p][a]))
			drag := drive.BearingFriction(stock.Material).Likely * float64(stock.Diameter) / 2
			s.drag[p] = span{Lo: min(s.drag[p].Lo, drag), Hi: max(s.drag[p].Hi, drag)}
		}
	}
}

// shaftOf finds how each pulley sits on the shaft of a motor.
func (s *space) shaftOf(m int) [][]drive.Joint {
	if known, ok := s.shafts[m]; ok {
		return known
	}
	motor, out := &s.motors[m].part, make([][]drive.Joint, len(s.pulleys))
	for p := range s.pulleys {
		if pulley := &s.pulleys[p].part; constraints.ShaftReaches(motor, pulley) == nil && constraints.MadeOnMotor(pulley) == nil {
			out[p], _ = constraints.Joints(constraints.PulleyHub(pulley), motor.ShaftDiameter, s.cup.Sleeves, s.brief.Making)
		}
	}
	s.shafts[m] = out
	return out
}

// leastOf is the cheapest of some joints.
func (s *space) leastOf(joints []drive.Joint) points {
	least := never
	for i := range joints {
		least = min(least, score.Joint(s.brief.Weights, joints[i].Kind))
	}
	return least
}

// cutLength is what an output axle is cut to; the longest of them is what rods are
// reckoned in. An axle stands out 5 mm at each end; wheels sit outside the frame
// at both its ends and a drum at one, clear of the other axles' ends; a ride is
// pushed onto 15 mm.
func (s *space) cutLength(output int) mm {
	b := s.brief
	length := mm(math.Ceil(float64(b.Frame.Depth + 2*max(b.Frame.Strip, b.Frame.Sheet) + 10)))
	wheel, drum := s.part(output)
	switch {
	case wheel != nil:
		length += 2 * (b.Limits.Clearance + wheel.Width)
	case drum != nil:
		length += b.Limits.Clearance + drum.Width
	case b.Model == brief.UprightRide || b.Model == brief.LevelRide:
		length += 15
	}
	return mm(math.Ceil(float64(length)))
}

// axleWay is one way to make an axle: the rod, and the joints of the driven pulley and
// of what else sits on it.
type axleWay struct {
	stock        int
	driven, next drive.Joint
	nexts        int // pieces that sit like next: two wheels, or one thing
	cost         points
}

// axleWays lists the ways to make the axle of stage i's driven pulley, the cheapest
// first.
func (r *row) axleWays(i int) []*axleWay {
	var out []*axleWay
	w := r.brief.Weights
	wheel, drum := r.part(r.hd.output)
	for a := range r.axles {
		stock := &r.axles[a].part
		next, nexts := []drive.Joint{{}}, 0
		switch {
		case i < r.hd.stages-1:
			next, nexts = r.onAxle[r.pairs[i+1].driver][a], 1
		case wheel != nil:
			next, _ = constraints.Joints(constraints.WheelHub(wheel), stock.Diameter, r.cup.Sleeves, r.brief.Making)
			nexts = 2
		case drum != nil:
			next, _ = constraints.Joints(constraints.DrumHub(drum), stock.Diameter, r.cup.Sleeves, r.brief.Making)
			nexts = 1
		}
		for _, driven := range r.onAxle[r.pairs[i].driven][a] {
			for _, other := range next {
				out = append(out, &axleWay{stock: a, driven: driven, next: other, nexts: nexts,
					cost: score.Joint(w, driven.Kind) + points(nexts)*score.Joint(w, other.Kind) + score.Assumptions(w, len(stock.Assumed))})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b *axleWay) int { return int(a.cost - b.cost) })
	return out
}

// enoughRod reports whether rods and sleeves reach for the axles and joints chosen.
func (r *row) enoughRod() bool {
	rods := map[int]int{}
	var packed []packed
	sleeved := func(j *drive.Joint, pieces int) {
		if j.Kind == drive.Sleeved {
			packed = append(packed, packedOf(r.space, j, pieces*r.brief.Sets))
		}
	}
	sleeved(r.shaft, 1)
	for _, a := range r.rods[:r.hd.stages] {
		rods[a.stock] += r.brief.Sets
		sleeved(&a.driven, 1)
		sleeved(&a.next, a.nexts)
	}
	for stock, need := range rods {
		k := &r.axles[stock]
		if need > k.count*constraints.Pieces(k.part.Length, r.axleLength) {
			return false
		}
	}
	counts := make([]int, len(r.sleeves))
	for k := range r.sleeves {
		counts[k] = r.sleeves[k].count
	}
	return sleevesFor(packed, counts)
}

// packed is a joint with a sleeve in all sets: so many pieces, all of one of some kinds.
type packed struct {
	pieces int
	kinds  []int
}

func packedOf(s *space, j *drive.Joint, pieces int) packed {
	p := packed{pieces: pieces}
	for k := range s.sleeves {
		if constraints.SleevePacks(&s.sleeves[k].part, j.Bore, j.Shaft) {
			p.kinds = append(p.kinds, k)
		}
	}
	return p
}

// sleevesFor reports whether each joint can have a kind of sleeve so that there are enough
// of all.
func sleevesFor(joints []packed, left []int) bool {
	if len(joints) == 0 {
		return true
	}
	// The joint with the fewest ways first, so that dead ends are short.
	first := 0
	for i := range joints {
		if len(joints[i].kinds) < len(joints[first].kinds) {
			first = i
		}
	}
	rest := slices.Delete(slices.Clone(joints), first, first+1)
	for _, k := range joints[first].kinds {
		if left[k] < joints[first].pieces {
			continue
		}
		left[k] -= joints[first].pieces
		found := sleevesFor(rest, left)
		left[k] += joints[first].pieces
		if found {
			return true
		}
	}
	return false
}

// enoughBands reports whether the stock of bands reaches for all stages.
func (r *row) enoughBands() bool {
	need := map[int]int{}
	for _, s := range r.states[:r.hd.stages] {
		need[s.band] += s.use.BandsTaken() * r.brief.Sets
	}
	for b, count := range need {
		if count > r.bands[b].count {
			return false
		}
	}
	return true
}
