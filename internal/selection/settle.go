package selection

import (
	"cmp"
	"slices"
)

// settling is the choice of pairs and then of bands within chosen classes.
type settling struct {
	left   [mostStages + 1]span // what the stages from i on can do
	cheap  [mostStages + 1]cost // what their bands cost at least
	picked [mostStages]int      // which member of its class
	pairs  [mostStages]*useful
	ways   [mostStages][]option
	way    [mostStages]int
}

// settle finds the drives of the chosen classes.
func (v *level) settle() {
	v.left[v.k], v.cheap[v.k] = span{}, 0
	for i := v.k - 1; i >= 0; i-- {
		v.left[i], v.cheap[i] = v.left[i+1].plus(v.chosen[i].span), v.cheap[i+1]+v.chosen[i].band
	}
	v.pick(0, 0, 0, pulleys{})
}

// pick chooses the pair of stage i, given the stages before.
func (v *level) pick(i int, log, band cost, used pulleys) {
	if i == v.k {
		v.bandIt(log, band)
		return
	}
	c := v.chosen[i]
	from := 0
	if i > 1 && c == v.chosen[i-1] {
		from = v.picked[i-1] // the order of the stages is all one
	}
	for j := from; j < len(c.members); j++ {
		p := &c.members[j]
		bound := v.fixed + (band+p.band+v.cheap[i+1])/cost(v.k)
		if bound >= v.limit {
			return
		}
		l := log + p.log
		if bound+(span{l, l}).plus(v.left[i+1]).miss(v.wanted) >= v.limit {
			continue
		}
		u := used
		if !u.add(v.ready, &p.pair, i == 0) {
			continue
		}
		v.picked[i], v.pairs[i] = j, p
		v.pick(i+1, l, band+p.band, u)
	}
}

// bandIt chooses bands and centre distances for whole pairs, of which the best
// would cost so much if the stock of bands had no end.
func (v *level) bandIt(log, band cost) {
	base := v.fixed + max(log-v.wanted, v.wanted-log)
	room := cost(v.k)*(v.limit-base) - band // that one stage may cost above its least
	v.cheap[v.k] = 0
	for i := v.k - 1; i >= 0; i-- {
		p := &v.pairs[i].pair
		v.ways[i] = v.waysFor(p, i == 0, p.band+room)
		v.cheap[i] = v.cheap[i+1] + p.band
	}
	v.choose(0, base, 0)
	for i := v.k - 1; i >= 0; i-- { // as settle left it
		v.cheap[i] = v.cheap[i+1] + v.chosen[i].band
	}
}

// choose tries the ways of stage i.
func (v *level) choose(i int, base, sum cost) {
	if i == v.k {
		v.add(v.found(base + sum/cost(v.k)))
		return
	}
	from := 0
	if i > 1 && v.pairs[i] == v.pairs[i-1] {
		from = v.way[i-1]
	}
	for j := from; j < len(v.ways[i]); j++ {
		o := v.ways[i][j]
		if base+(sum+o.cost+v.cheap[i+1])/cost(v.k) >= v.limit {
			return
		}
		taken := 1
		for h := range i {
			if v.ways[h][v.way[h]].band == o.band {
				taken++
			}
		}
		if taken > v.bands[o.band].have {
			continue
		}
		v.way[i] = j
		v.choose(i+1, base, sum+o.cost)
	}
}

func (v *level) found(total cost) found {
	d := found{cost: total, stages: make([]foundStage, v.k)}
	for i := range d.stages {
		o := v.ways[i][v.way[i]]
		d.stages[i] = foundStage{v.pairs[i].driver, v.pairs[i].driven, o.band, o.centre}
	}
	return d
}

// option is a band and a centre distance for a pair.
type option struct {
	cost   cost
	band   int16
	centre int32
}

type optionKey struct {
	driver, driven int16
	onMotor        bool
}

// optionList holds a pair's options up to a limit, cheapest first.
type optionList struct {
	limit cost
	list  []option
}

// waysFor is the options of a pair that cost less than a limit, and perhaps more.
func (f *finder) waysFor(p *pair, onMotor bool, limit cost) []option {
	key := optionKey{p.driver, p.driven, onMotor}
	known := f.options[key]
	if known != nil && known.limit >= limit {
		return known.list
	}
	s := f.within(2 * limit)
	known = &optionList{limit: 2 * limit}
	drivers := f.axle
	if onMotor {
		drivers = f.motor
	}
	driver, driven := drivers[p.driver].diameter, f.axle[p.driven].diameter
	for i := f.leastCentre(driver, driven); i < len(f.twiceCentre); i++ {
		path := f.path(driver, driven, i)
		if path > s.high*float64(f.bands[len(f.bands)-1].rest) {
			break
		}
		b, _ := slices.BinarySearchFunc(f.bands, path/s.high, func(b loop, rest float64) int { return cmp.Compare(float64(b.rest), rest) })
		for b = max(0, b-1); b < len(f.bands); b++ {
			stretch := path / float64(f.bands[b].rest)
			if stretch < s.low {
				break
			}
			if stretch <= s.high {
				known.list = append(known.list, option{f.offIdeal(stretch), int16(b), int32(i)})
			}
		}
	}
	slices.SortFunc(known.list, func(a, b option) int {
		return cmp.Or(cmp.Compare(a.cost, b.cost), cmp.Compare(a.band, b.band), cmp.Compare(a.centre, b.centre))
	})
	f.options[key] = known
	return known.list
}
