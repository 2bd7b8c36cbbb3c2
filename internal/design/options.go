package design

import (
	"cmp"
	"math"
	"slices"
	"sync"
	"sync/atomic"

	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/score"
	"findrive/internal/units"
)

// pair is a driver and a driven pulley and a way of putting the band on.
type pair struct {
	driver, driven int
	use            drive.Use
	crossed        bool
}

// pairOptions are the ways to band a pair that have been worked out, by band; a nil
// option is a way that some rule refuses.
type pairOptions struct {
	mu     sync.Mutex
	bands  []int
	worked []*bandOption
	told   bool // the tally knows which bands do not reach
}

// bandOption is one way to band a pair of pulleys, worked out.
type bandOption struct {
	way
	// rungs are the windows of centre distance of one band-fit penalty each, by
	// rising stretch; cost is that of the cheapest and use and assumptions besides.
	rungs []rung
	cost  score.Points
	base  score.Points // of its use and of what is assumed of it
	// whole is every centre distance the stretch, arc, spacing and touching rules
	// allow.
	whole units.Interval[units.Millimetres]
	ideal units.Millimetres // where the stretch is the ideal one
	stage mechanics.Stage
	ends  endStore
}

// endStore keeps the ends of windows that have been worked out for an option, by
// centre distance. Windows are halved at the same places again and again, but most
// options are looked at only once, and there are very many.
type endStore struct {
	mu   sync.Mutex
	made []*drive.End
	kept *atomic.Int64 // how many ends the task keeps
}

// end is the option fitted at a centre distance; nil if it cannot be.
func (o *bandOption) end(centre units.Millimetres) *drive.End {
	o.ends.mu.Lock()
	defer o.ends.mu.Unlock()
	at, known := slices.BinarySearchFunc(o.ends.made, centre, func(e *drive.End, c units.Millimetres) int { return cmp.Compare(e.Centre, c) })
	if known {
		return o.ends.made[at]
	}
	e, err := drive.NewEnd(&o.stage, centre)
	if err != nil {
		return nil
	}
	o.ends.made = slices.Insert(o.ends.made, at, e)
	o.ends.kept.Add(1)
	return e
}

// onStage is the pulleys of a stage, counted from the motor's.
type onStage struct {
	index, driver, driven int
	far                   units.Millimetres                 // how far apart their shafts can be
	lie                   drive.Lie                         // the best there is of the pulls on the axle of the driven one
	drag                  units.Interval[units.Millimetres] // friction torque on that axle for each newton
	weighs, driverWeighs  units.Newtons                     // the driven pulley with its axle, at least, and the driver; 0 where axles stand
}

// eachOption goes through the ways to band the pulleys of a stage at a penalty of at
// most limit, with rigid more for those that do not forgive holes out of place, of the sections
// that have been glanced at, leaving out those that worth, if given, rejects at a glance. What
// share of the speed worth says that creep leaves goes with each.
func (t *task) eachOption(on *onStage, seen []sectionGlance, limit, rigid score.Points, worth func(promise) (share float64, ok bool), f func(share float64, o *bandOption)) {
	for i := range seen {
		s := &seen[i]
		var share float64
		if worth != nil {
			of, ok := s.promise(), false
			if share, ok = worth(of); !ok {
				continue
			}
		}
		if t.stopped() {
			return
		}
		po := t.pairOptions(pair{on.driver, on.driven, s.use, s.room.crossed})
		for _, band := range s.bands {
			w := way{band, s.use, s.room.crossed}
			g := s.glance
			g.loop = &t.used[s.use][band].loop
			if g.stretch, _ = s.room.stretch(g.loop, s.stretch); g.stretch.Empty() || !t.wantsBand(on.index, w) ||
				!t.suits[s.use][on.driver][band] || !t.suits[s.use][on.driven][band] {
				continue
			}
			if !g.keepForgiving(t.mustForgive || g.cost+rigid > limit, s.room.forgiving(g.loop, t.used[s.use][band].whole(), t.brief.Limits.HoleError)) {
				continue
			}
			own := share
			if worth != nil && (g.stretch != s.stretch || g.rigid != s.rigid) {
				of, ok := g.promise(), false
				if own, ok = worth(of); !ok {
					continue
				}
			}
			if o := t.option(po, on.driver, on.driven, w); o != nil && o.cost <= limit {
				f(own, o)
			}
		}
	}
}

// sectionGlance is a glance at all bands of a section, as used.
type sectionGlance struct {
	glance
	use   drive.Use
	bands []int
}

// promiseOf is what all that was glanced at promises, of which there is something.
func promiseOf(seen []sectionGlance) promise {
	all := seen[0].promise()
	for i := range seen[1:] {
		one := seen[1+i].promise()
		all.join(&one)
	}
	return all
}

// mostSections is room for the sections of most cupboards.
const mostSections = 12

// glances looks at the sections that can be afforded on the pulleys of a stage at a penalty of at
// most limit, with rigid more for those that do not forgive holes out of place, and adds them to
// those seen.
func (t *task) glances(on *onStage, limit, rigid score.Points, seen []sectionGlance) []sectionGlance {
	for _, crossed := range []bool{false, true} {
		crossing := score.BandUse(t.brief.Weights, drive.Single, crossed)
		if crossing > limit {
			continue
		}
		room := t.roomFor(on.driver, on.driven, crossed, on.far)
		for _, use := range uses {
			if score.BandUse(t.brief.Weights, use, crossed) > limit {
				continue
			}
			t.pairOptions(pair{on.driver, on.driven, use, crossed})
			for i := range t.sections[use] {
				s := &t.sections[use][i]
				g, ok := s.glance(&room, limit, crossing)
				if ok && g.keepForgiving(t.mustForgive || g.cost+rigid > limit, room.someForgiving(s, t.brief.Limits.HoleError)) {
					seen = append(seen, sectionGlance{g, use, s.bands})
				}
			}
		}
	}
	return seen
}

// options lists the ways to band the pulleys of a stage at a penalty of at most limit:
// cheapest first, then open before crossed and single before double, then nearest to
// the ideal stretch, then by band.
func (t *task) options(on *onStage, limit score.Points) []*bandOption {
	var out []*bandOption
	t.eachOption(on, t.glances(on, limit, 0, nil), limit, 0, nil, func(_ float64, o *bandOption) { out = append(out, o) })
	slices.SortFunc(out, func(x, y *bandOption) int {
		return cmp.Or(cmp.Compare(x.cost, y.cost), parts.CompareBool(x.crossed, y.crossed), cmp.Compare(x.use, y.use),
			cmp.Compare(x.offIdeal(), y.offIdeal()), cmp.Compare(x.band, y.band))
	})
	return out
}

// What a task keeps of options and ends at most, which bounds its memory: an option
// takes some 300 bytes, an end 150 and three times that once loaded. Ends are soon
// worked out again.
const (
	mostOptions = 250_000
	mostEnds    = 200_000
)

// pairOptions are those of a pair that have been worked out so far. The first time
// the tally is told which bands come nearest to reaching round it, but do not.
func (t *task) pairOptions(pr pair) *pairOptions {
	t.mu.Lock()
	if t.keptOptions.Load() > t.mostOptions {
		t.letGo((*pairOptions).letGo)
		t.keptOptions.Store(0)
		t.keptEnds.Store(0)
	} else if t.keptEnds.Load() > t.mostEnds {
		t.letGo((*pairOptions).letGoEnds)
		t.keptEnds.Store(0)
	}
	po := t.pairs[pr]
	if po == nil {
		po = &pairOptions{}
		t.pairs[pr] = po
	}
	t.mu.Unlock()
	po.mu.Lock()
	defer po.mu.Unlock()
	if !po.told {
		po.told = true
		t.tellNearest(pr)
	}
	return po
}

// tellNearest tells the tally of the band that is least too short and of the one that
// is least too long for a pair.
func (t *task) tellNearest(pr pair) {
	room := t.roomFor(pr.driver, pr.driven, pr.crossed, t.longestCentre())
	short, long := -1, -1
	var least, most units.Millimetres
	for b := range t.bands {
		u := &t.used[pr.use][b]
		if len(u.tiers) == 0 || !t.suits[pr.use][pr.driver][b] || !t.suits[pr.use][pr.driven][b] {
			continue
		}
		whole := u.whole()
		s, over := room.stretch(&u.loop, whole)
		switch {
		case !s.Empty():
		case s.Lo > whole.Lo && (short < 0 || over < least):
			short, least = b, over
		case s.Lo == whole.Lo && (long < 0 || over < most):
			long, most = b, over
		}
	}
	for _, b := range []int{short, long} {
		if b < 0 {
			continue
		}
		if _, no := t.bandOption(pr.driver, pr.driven, way{b, pr.use, pr.crossed}); no != nil {
			t.tally.add(no)
		}
	}
}

// option is a way to band a pair, worked out once, and again if it has been let go;
// nil if there is none.
func (t *task) option(po *pairOptions, driver, driven int, w way) *bandOption {
	po.mu.Lock()
	defer po.mu.Unlock()
	at, known := slices.BinarySearch(po.bands, w.band)
	if known {
		return po.worked[at]
	}
	o, no := t.bandOption(driver, driven, w)
	if no != nil {
		t.tally.add(no)
		o = nil
	}
	po.bands = slices.Insert(po.bands, at, w.band)
	po.worked = slices.Insert(po.worked, at, o)
	if o != nil {
		t.keptOptions.Add(1)
	}
	return o
}

// letGo forgets some of what has been worked out for every pair. Who is using it keeps
// it.
func (t *task) letGo(forget func(*pairOptions)) {
	for _, po := range t.pairs {
		po.mu.Lock()
		forget(po)
		po.mu.Unlock()
	}
}

// letGo keeps the ways that are refused, of which the tally knows.
func (po *pairOptions) letGo() {
	var refused []int
	for i, o := range po.worked {
		if o == nil {
			refused = append(refused, po.bands[i])
		}
	}
	po.bands, po.worked = refused, make([]*bandOption, len(refused))
}

func (po *pairOptions) letGoEnds() {
	for _, o := range po.worked {
		if o != nil {
			o.ends.mu.Lock()
			o.ends.made = nil
			o.ends.mu.Unlock()
		}
	}
}

// offIdeal is how far the cheapest centre distances are from the ideal one.
func (o *bandOption) offIdeal() units.Millimetres {
	window, _ := o.reach(span{0, len(o.rungs)}, o.cost)
	return units.Millimetres(math.Abs(float64(window.Clamp(o.ideal) - o.ideal)))
}

// bandSuits are the rules that do not depend on the centre distance.
func (t *task) bandSuits(pr pair, band int) *constraints.Refusal {
	b := &t.bands[band].Part
	if no := constraints.EnoughStock(b.Name, t.bands[band].Count, pr.use.BandsTaken(), t.brief.Sets); no != nil {
		return no
	}
	return cmp.Or(t.bandSuitsPulley(pr.driver, band, pr.use), t.bandSuitsPulley(pr.driven, band, pr.use))
}

// bandSuitsPulley are the rules about a band in a groove.
func (t *task) bandSuitsPulley(pulley, band int, use drive.Use) *constraints.Refusal {
	p, b := &t.pulleys[pulley].Part, &t.bands[band].Part
	return cmp.Or(constraints.BandInGroove(p, b, use), constraints.BigEnoughGroove(t.brief.Limits, p, b))
}

// bandOption works out the centre distances a band allows, rung by rung, or gives
// the rule that leaves none; nil without a rule if rounding leaves none.
func (t *task) bandOption(driver, driven int, as way) (*bandOption, *constraints.Refusal) {
	b := &t.bands[as.band].Part
	stage := drive.Stage{Driver: &t.pulleys[driver].Part, Driven: &t.pulleys[driven].Part, Band: b, Use: as.use, Crossed: as.crossed}
	mech := stage.Mechanics(mechanics.BandGrip().Likely)
	whole, no := t.allowedCentres(&stage, &mech)
	if no != nil {
		return nil, no
	}
	l, w := t.brief.Limits, t.brief.Weights
	base := score.BandUse(w, as.use, as.crossed) + score.Assumptions(w, len(b.Assumed))
	ideal, _ := mech.CentreAtStretch(l.IdealStretch)
	o := bandOption{way: as, base: base, cost: unsettled, whole: whole, ideal: ideal, stage: mech, ends: endStore{kept: &t.keptEnds}}
	var rungs []rung
	centre := struct { // where the stretch was asked for last: tiers share their ends
		stretch float64
		at      units.Millimetres
		ok      bool
	}{}
	for _, tier := range t.used[as.use][as.band].tiers {
		lo, okLo := centre.at, centre.ok
		if centre.stretch != tier.stretch.Lo {
			lo, okLo = mech.CentreAtStretch(tier.stretch.Lo)
		}
		hi, okHi := mech.CentreAtStretch(tier.stretch.Hi)
		centre.stretch, centre.at, centre.ok = tier.stretch.Hi, hi, okHi
		if !okHi {
			continue // even the tightest of this tier has the pulleys overlapping
		}
		if !okLo {
			lo = whole.Lo
		}
		r := rung{cost: base + tier.fit, window: whole.Meet(units.Interval[units.Millimetres]{Lo: lo, Hi: hi})}
		if r.window.Empty() {
			continue
		}
		o.cost = min(o.cost, r.cost)
		if last := len(rungs) - 1; last >= 0 && rungs[last].cost == r.cost {
			rungs[last].window.Hi = r.window.Hi
		} else {
			rungs = append(rungs, r)
		}
	}
	if len(rungs) == 0 {
		return nil, nil
	}
	o.rungs = slices.Clone(rungs)
	return &o, nil
}
