package selection

import (
	"cmp"
	"slices"

	"findrive/internal/pause"
)

// level is the search for drives of k stages.
type level struct {
	*finder
	k     int
	fixed cost // of the number of stages
	floor cost // nothing of so many stages costs less
	worst cost // what the dearest stretch costs

	// All pairs that can be part of a drive that costs less than known, cheapest
	// band first.
	known        cost
	first, later []useful
	rest         [mostStages + 1]span // what n more stages behind the motor's can do

	// Of one search.
	firstClasses, laterClasses []class
	tails                      []tail
	tailStages                 int
	tailWidth                  cost
	chosen                     [mostStages]*class
	at                         [mostStages]int // where each is in its list
	matched                    int
	settling
}

type span struct{ least, greatest cost }

// miss is how far what is wanted lies outside a span.
func (s span) miss(wanted cost) cost { return max(0, s.least-wanted, wanted-s.greatest) }

func (s span) empty() bool { return s.least > s.greatest }

func (s span) plus(o span) span { return span{s.least + o.least, s.greatest + o.greatest} }

// useful is a pair with how far the best drive it is part of stays off the ratio.
type useful struct {
	pair
	miss cost
}

// class is pairs of nearly the same ratio. Where sizes are few and tie, one class
// stands for many pairs and a combination of classes for very many drives.
type class struct {
	span
	band    cost // the least of any member
	members []useful
}

// tail is the last stages of a drive, in classes.
type tail struct {
	span
	band cost
	of   [2]int32 // the second not less than the first
}

// newLevel is false if there are not pulleys enough. No drive costs the ceiling.
func (f *finder) newLevel(k int) (v *level, ceiling cost, ok bool) {
	var none pulleys
	least, greatest, ok := none.reach(f.ready, k)
	if !ok {
		return nil, 0, false
	}
	all := span{least, greatest}
	v = &level{finder: f, k: k, fixed: f.stages(k)}
	v.floor = v.fixed + all.miss(f.wanted) + f.leastBand()
	v.worst = max(f.offIdeal(f.Limits.LeastStretch), f.offIdeal(f.Limits.MostStretch)) + shares
	for n := 1; n < k; n++ {
		placed := pulleys{motorPlaced: true}
		v.rest[n].least, v.rest[n].greatest, _ = placed.reach(f.ready, n)
	}
	return v, v.fixed + v.worst + max(greatest-f.wanted, f.wanted-least) + 1, true
}

// search finds all drives that cost less than the limit, as far as they are among the
// cheapest. They are put together from a head, which is made stage by stage, and a
// tail of the last one or two stages, which is looked up by the ratio still wanted.
func (v *level) search(limit cost) {
	if limit > v.known {
		v.scan(limit)
	}
	if len(v.first) == 0 || (v.k > 1 && len(v.later) == 0) {
		return
	}
	// A class as wide as a small part of what an error may be hardly weakens a
	// bound, and keeps the number of classes down however many pairs there are.
	width := (limit - v.floor) / 8
	others := cost(0)
	if v.k > 1 {
		others = cost(v.k-1) * v.later[0].band
		v.laterClasses = classes(v.under(limit, v.later, v.first[0].band+cost(v.k-2)*v.later[0].band), width)
		if len(v.laterClasses) == 0 {
			return
		}
	}
	v.firstClasses = classes(v.under(limit, v.first, others), width)
	if len(v.firstClasses) == 0 {
		return
	}
	v.makeTails()
	v.extend(0, span{}, 0)
}

// scan finds the pairs anew, for a limit with some room above it.
func (v *level) scan(limit cost) {
	room := 8 * (v.known - v.floor)
	if v.known == 0 {
		// Where about every fourth pair has a stage so good.
		length := 0.0
		for _, b := range v.bands {
			length += float64(b.rest)
		}
		good := float64(v.Limits.Grid) / 4 / max(1, length)
		room = cost(pointsPerStretch*float64(v.perPoint)*good) / cost(v.k)
	}
	v.known = max(limit, v.floor+room)
	ideal := v.leastBand()
	s := v.newScanner(min(v.worst, cost(v.k)*(v.known-v.floor)+ideal))
	v.first, v.later = v.first[:0], v.later[:0]
	others := v.rest[v.k-1]
	near := func(p pair, others span) bool {
		return v.fixed+(span{p.log, p.log}).plus(others).miss(v.wanted)+ideal < v.known
	}
	keep := func(list *[]useful, p pair, onMotor bool) {
		var u pulleys
		if !u.add(v.ready, &p, onMotor) {
			return
		}
		more := v.k - 1
		least, greatest, ok := u.reach(v.ready, more)
		miss := span{p.log + least, p.log + greatest}.miss(v.wanted)
		if ok && v.fixed+miss+(p.band+cost(more)*ideal)/cost(v.k) < v.known {
			*list = append(*list, useful{p, miss})
		}
	}
	for i := range v.motor {
		for j := range v.axle {
			p := pair{driver: int16(i), driven: int16(j), log: v.axle[j].log - v.motor[i].log}
			if near(p, others) {
				if p.band = s.look(v.motor[i].diameter, v.axle[j].diameter); p.band < unlimited {
					keep(&v.first, p, true)
				}
			}
		}
	}
	if v.k > 1 {
		others = v.rest[v.k-2].plus(v.firstCan)
		for i := range v.axle {
			for j := range v.axle[:i+1] {
				up := pair{driver: int16(i), driven: int16(j), log: v.axle[j].log - v.axle[i].log}
				down := pair{driver: int16(j), driven: int16(i), log: -up.log}
				goesUp, goesDown := near(up, others), near(down, others)
				if !goesUp && !goesDown {
					continue
				}
				band := s.look(v.axle[i].diameter, v.axle[j].diameter)
				if band == unlimited {
					continue
				}
				up.band, down.band = band, band
				if goesUp && i != j {
					keep(&v.later, up, false)
				}
				if goesDown {
					keep(&v.later, down, false)
				}
			}
		}
	}
	for _, list := range [][]useful{v.first, v.later} {
		slices.SortFunc(list, func(a, b useful) int {
			if a.band != b.band {
				return cmp.Compare(a.band, b.band)
			}
			return cmp.Or(cmp.Compare(a.driver, b.driver), cmp.Compare(a.driven, b.driven))
		})
	}
}

// under is the pairs of a list that a drive under the limit can have, where the bands
// of the other stages cost at least so much.
func (v *level) under(limit cost, list []useful, others cost) []useful {
	var out []useful
	for i := range list {
		bound := v.fixed + (list[i].band+others)/cost(v.k)
		if bound >= limit {
			break
		}
		if bound+list[i].miss < limit {
			out = append(out, list[i])
		}
	}
	return out
}

// classes puts pairs together whose ratios differ by no more than the width, and
// sorts the classes, and the pairs within each, by what bands cost.
func classes(list []useful, width cost) []class {
	slices.SortFunc(list, func(a, b useful) int {
		if a.log != b.log {
			return cmp.Compare(a.log, b.log)
		}
		return cmp.Or(cmp.Compare(a.band, b.band), cmp.Compare(a.driver, b.driver))
	})
	var out []class
	for from := 0; from < len(list); {
		to := from + 1
		band := list[from].band
		for ; to < len(list) && list[to].log-list[from].log <= width; to++ {
			band = min(band, list[to].band)
		}
		out = append(out, class{span{list[from].log, list[to-1].log}, band, list[from:to]})
		from = to
	}
	for _, c := range out {
		slices.SortFunc(c.members, func(a, b useful) int {
			return cmp.Or(cmp.Compare(a.band, b.band), cmp.Compare(a.log, b.log), cmp.Compare(a.driver, b.driver))
		})
	}
	slices.SortFunc(out, func(a, b class) int { return cmp.Or(cmp.Compare(a.band, b.band), cmp.Compare(a.least, b.least)) })
	return out
}

// mostTails is how many tails of two stages are still worth making.
const mostTails = 400_000

// makeTails lists the last stages by ratio: none of one stage, one of two or three,
// and two of more.
func (v *level) makeTails() {
	v.tails = v.tails[:0]
	v.tailStages, v.tailWidth = min(1, v.k-1), 0
	if v.k > 3 && v.pairTails() {
		v.tailStages = 2
	} else if v.k > 1 {
		v.tails = v.tails[:0]
		for i := range v.laterClasses {
			c := &v.laterClasses[i]
			v.tails = append(v.tails, tail{c.span, c.band, [2]int32{int32(i), int32(i)}})
		}
	} else {
		v.tails = append(v.tails, tail{})
	}
	for i := range v.tails {
		v.tailWidth = max(v.tailWidth, v.tails[i].greatest-v.tails[i].least)
	}
	slices.SortFunc(v.tails, func(a, b tail) int {
		if a.least != b.least {
			return cmp.Compare(a.least, b.least)
		}
		return cmp.Or(cmp.Compare(a.of[0], b.of[0]), cmp.Compare(a.of[1], b.of[1]))
	})
}

// pairTails makes tails of two stages; it gives up, and is false, if they are many.
func (v *level) pairTails() bool {
	head := v.firstClasses[0].band + cost(v.k-3)*v.laterClasses[0].band
	others := v.rest[v.k-3].plus(v.firstCan)
	for i := range v.laterClasses {
		for j := i; j < len(v.laterClasses); j++ {
			a, b := &v.laterClasses[i], &v.laterClasses[j]
			bound := v.fixed + (head+a.band+b.band)/cost(v.k)
			if bound >= v.limit {
				break
			}
			t := tail{a.plus(b.span), a.band + b.band, [2]int32{int32(i), int32(j)}}
			if bound+t.plus(others).miss(v.wanted) < v.limit {
				if v.tails = append(v.tails, t); len(v.tails) > mostTails {
					return false
				}
			}
		}
	}
	return true
}

// extend adds a stage to a head of n stages. The classes of the stages behind the
// first are in rising order, so every later band costs at least as much as the last.
func (v *level) extend(n int, head span, band cost) {
	if n == v.k-v.tailStages {
		v.match(n, head, band)
		return
	}
	list, from := v.laterClasses, 0
	if n == 0 {
		list = v.firstClasses
	} else if n > 1 {
		from = v.at[n-1]
	}
	left := v.k - n - 1
	for i := from; i < len(list); i++ {
		c := &list[i]
		next := c.band
		if n == 0 && v.k > 1 {
			next = v.laterClasses[0].band
		}
		bound := v.fixed + (band+c.band+cost(left)*next)/cost(v.k)
		if bound >= v.limit {
			break
		}
		h := head.plus(c.span)
		if bound+h.plus(v.rest[left]).miss(v.wanted) >= v.limit {
			continue
		}
		v.chosen[n], v.at[n] = c, i
		v.extend(n+1, h, band+c.band)
	}
}

// match looks up the tails that bring a head of n stages to the ratio.
func (v *level) match(n int, head span, band cost) {
	if v.matched++; v.matched%1024 == 0 && pause.Err(v.ctx) != nil {
		v.limit = 0
	}
	last := 0
	if n > 1 {
		last = v.at[n-1]
	}
	least := band
	if v.tailStages > 0 {
		least += cost(v.tailStages) * v.laterClasses[last].band
	}
	room := v.limit - v.fixed - least/cost(v.k)
	from := v.wanted - head.greatest - room - v.tailWidth
	at, end := 0, len(v.tails)
	for at < end { // the first not less than from; this is the innermost loop of all
		if middle := (at + end) / 2; v.tails[middle].least < from {
			at = middle + 1
		} else {
			end = middle
		}
	}
	for ; at < len(v.tails) && v.tails[at].least < v.wanted-head.least+room; at++ {
		t := &v.tails[at]
		if n > 1 && v.tailStages > 0 && int(t.of[0]) < last {
			continue
		}
		if v.fixed+(band+t.band)/cost(v.k)+head.plus(t.span).miss(v.wanted) >= v.limit {
			continue
		}
		for i := range v.tailStages {
			v.chosen[n+i] = &v.laterClasses[t.of[i]]
		}
		v.settle()
		room = v.limit - v.fixed - least/cost(v.k)
	}
}
