package proof

import (
	"cmp"
	"math"
	"slices"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/cutting"
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
			stock := &s.axles[a].Part
			if constraints.HoleInStrip(s.brief, stock) != nil {
				continue
			}
			s.onAxle[p][a], _ = constraints.Joints(constraints.PulleyHub(&s.pulleys[p].Part), stock.Diameter, s.cup.Sleeves, s.brief.Making)
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
	motor, out := &s.motors[m].Part, make([][]drive.Joint, len(s.pulleys))
	for p := range s.pulleys {
		if pulley := &s.pulleys[p].Part; constraints.ShaftReaches(motor, pulley) == nil && constraints.MadeOnMotor(pulley) == nil {
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

// axleWay is one way to make an axle: the rod, and the joints of the driven pulley and
// of what else sits on it.
type axleWay struct {
	stock        int
	driven, next drive.Joint
	nexts        int // pieces that sit like next: the wheels of both axles, or one thing
	cost         points
}

// axleWays lists the ways to make the axle of stage i's driven pulley, the cheapest
// first.
func (r *row) axleWays(i int) []*axleWay {
	var out []*axleWay
	w := r.brief.Weights
	wheel, drum := r.part(r.hd.output)
	for a := range r.axles {
		stock := &r.axles[a].Part
		next, nexts := []drive.Joint{{}}, 0
		switch {
		case i < r.hd.stages-1:
			next, nexts = r.onAxle[r.pairs[i+1].driver][a], 1
		case wheel != nil:
			next, _ = constraints.Joints(constraints.WheelHub(wheel), stock.Diameter, r.cup.Sleeves, r.brief.Making)
			nexts = drive.VehicleWheels
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
	slices.SortStableFunc(out, func(a, b *axleWay) int { return cmp.Compare(a.cost, b.cost) })
	return out
}

// enoughRod reports whether rods and sleeves reach for the axles and joints chosen.
func (r *row) enoughRod() bool {
	if !r.enoughLength() {
		return false
	}
	var packed []packed
	sleeved := func(j *drive.Joint, pieces int) {
		if j.Kind == drive.Sleeved {
			packed = append(packed, packedOf(r.space, j, pieces*r.brief.Sets))
		}
	}
	sleeved(r.shaft, 1)
	for _, a := range r.rods[:r.hd.stages] {
		sleeved(&a.driven, 1)
		sleeved(&a.next, a.nexts)
	}
	counts := make([]int, len(r.sleeves))
	for k := range r.sleeves {
		counts[k] = r.sleeves[k].Count
	}
	return sleevesFor(packed, counts)
}

// sawing is what is cut for all sets from one kind of rod: so many inner axles, and as many
// as long as the output axle.
type sawing struct {
	kind, inner, output int
	length              mm
}

// enoughLength reports whether the axles of all sets can be cut from the rods.
func (r *row) enoughLength() bool {
	last := r.hd.stages - 1
	wheel, drum := r.part(r.hd.output)
	for kind := range r.axles {
		s := sawing{kind: kind, length: drive.OutputAxleLength(r.brief, wheel, drum)}
		for i, a := range r.rods[:r.hd.stages] {
			switch {
			case a.stock != kind:
			case i < last:
				s.inner += r.brief.Sets
			case r.brief.Model == brief.Vehicle: // the free axle is like the output axle
				s.output += 2 * r.brief.Sets
			default:
				s.output += r.brief.Sets
			}
		}
		if s.inner+s.output == 0 {
			continue
		}
		enough, known := r.sawn[s]
		if !known {
			enough = r.yields(&s)
			r.sawn[s] = enough
		}
		if !enough {
			return false
		}
	}
	return true
}

// yields tells whether the rods of a kind yield what is sawn. What a saw takes is put to
// every piece, and once to every rod, which ends without a cut. From rod to rod it keeps
// how many inner axles can be had at most for each number of output axles.
func (s *space) yields(w *sawing) bool {
	const scale = 100 // of a millimetre; pieces are rounded up and rods down
	up := func(v mm) int { return int(math.Ceil(float64(v+cutting.Kerf)*scale - 1e-6)) }
	inner, output := up(drive.AxleLength(s.brief)), up(w.length)
	most := make([]int, w.output+1) // -1 where there cannot be so many output axles
	for n := range most[1:] {
		most[n+1] = -1
	}
	for i := range s.cup.Axles {
		a := &s.cup.Axles[i]
		if !slices.Contains(s.axles[w.kind].Names, a.Name) {
			continue
		}
		rod := int(math.Floor(float64(a.Length+cutting.Kerf)*scale + 1e-6))
		for range min(a.Count, w.inner+w.output) {
			next := slices.Clone(most)
			for had, with := range most {
				for n := 0; with >= 0 && had+n <= w.output && n*output <= rod; n++ {
					next[had+n] = max(next[had+n], with+(rod-n*output)/inner)
				}
			}
			if most = next; most[w.output] >= w.inner {
				return true
			}
		}
	}
	return most[w.output] >= w.inner
}

// packed is a joint with a sleeve in all sets: so many pieces, all of one of some kinds.
type packed struct {
	pieces int
	kinds  []int
}

func packedOf(s *space, j *drive.Joint, pieces int) packed {
	p := packed{pieces: pieces}
	for k := range s.sleeves {
		if constraints.SleevePacks(&s.sleeves[k].Part, j.Bore, j.Shaft) {
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
		if count > r.bands[b].Count {
			return false
		}
	}
	return true
}
