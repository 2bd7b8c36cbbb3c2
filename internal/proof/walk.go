package proof

import (
	"context"
	"fmt"

	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/making"
	"findrive/internal/pause"
	"findrive/internal/score"
)

// found is what a part of the space comes to.
type found struct {
	least points // what anything in it that is not listed costs at least; never if there is nothing
	open  bool   // not settled
}

// teller is told of every part of the space, in order: the writer of a proof, or its
// checker. It says whether a head and level is one part, or each pair of pulleys next to
// the output; and before a part is looked through, whether that is worth while.
type teller interface {
	whole(at string, easy bool) bool
	before(at string) (skip bool, err error)
	after(at string, f found) error
}

// walk goes through every design there is, but for those that a bound rules out, and ends
// with an error at one that should have been listed.
type walk struct {
	ctx context.Context
	*ranking
	teller
	limit   points         // of the row looked at, or of any
	counts  map[string]int // of what is left out, by reason
	looked  int
	left    int // work that is still allowed
	here    found
	settled int // rows looked through
	glances int // pairs of pulleys tried in some row
}

// mostWork is how many bounds, or as much other work, a walk may take: a minute or two.
const mostWork = 100_000_000

// mostPairs is for how many pairs of pulleys a proof has a line each.
const mostPairs = 10_000

// What other work takes, in bounds.
const (
	workOfDesign = 10
	workOfHoles  = 20
)

func newWalk(ctx context.Context, r *ranking, t teller) *walk {
	return &walk{ctx: ctx, ranking: r, teller: t, counts: map[string]int{}, left: mostWork}
}

// leave notes why something is left out.
func (w *walk) leave(no reason) {
	word := string(no.rule)
	if no.rule == "" {
		word = dear
	}
	w.counts[word]++
	w.here.least = min(w.here.least, no.bound)
}

// dear is the word for what costs too much.
const dear = "dear"

// spend takes from the work allowed; false if it is used up.
func (w *walk) spend(work int) bool {
	w.left -= work
	w.looked++
	if w.left < 0 {
		w.here.open = true
	}
	return w.left >= 0
}

// portion looks through one part of the space.
func (w *walk) portion(at string, look func() error) error {
	skip, err := w.before(at)
	if err != nil || skip {
		return err
	}
	w.here = found{least: never}
	if err := look(); err != nil {
		return err
	}
	return w.after(at, w.here)
}

// spaces walks through the space of each tackle.
func (w *walk) spaces(all []*space) error {
	for t, s := range all {
		for h := range s.heads {
			for e := range s.levels {
				if err := w.head(s, t, h, e); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// head walks through the rows of a head at a level.
func (w *walk) head(s *space, t, h, e int) error {
	hd := &s.heads[h]
	at := fmt.Sprintf("t%d h%d e%d", t, h, e)
	if err := pause.Err(w.ctx); err != nil {
		return err
	}
	charged := hd.fixed + score.Forgiveness(s.brief.Weights, s.levels[e], s.brief.Limits.HoleError)
	w.limit = w.loosest()
	r := row{space: s, walk: w, hd: hd, tackle: t, head: h, level: s.levels[e], lies: hd.liesFor()}
	before := span{Lo: 1, Hi: 1}
	for stage := range hd.stages {
		r.options[stage] = s.pairsAt(hd, stage)
		r.before[stage] = before
		reach := span{Lo: never.Float(), Hi: 0}
		for _, p := range r.options[stage] {
			reach = reach.Join(s.roughRatio(p))
		}
		before = span{Lo: before.Lo * reach.Lo, Hi: before.Hi * reach.Hi}
	}
	last := hd.stages - 1
	look := func(p pair) error {
		w.limit = w.loosest()
		return r.with(last, p, hd.outset(hd.freeAxle), span{Lo: 1, Hi: 1}, charged)
	}
	if w.whole(at, charged > w.limit || w.left < 0 || len(r.options[last]) > mostPairs) {
		return w.portion(at, func() error {
			switch {
			case charged > w.limit:
				w.leave(reason{bound: charged})
				return nil
			case w.left < 0:
				w.here.open = true
				return nil
			}
			for _, p := range r.options[last] {
				if err := look(p); err != nil {
					return err
				}
			}
			return nil
		})
	}
	for _, p := range r.options[last] {
		if err := w.portion(fmt.Sprintf("%s p%d,%d", at, p.driven, p.driver), func() error { return look(p) }); err != nil {
			return err
		}
	}
	return nil
}

// row is a head with its pairs of pulleys, or some of them, from the output back; and
// when they are all chosen, what else is.
type row struct {
	*space
	*walk
	hd           *head
	tackle, head int
	level        mm
	options      [drive.MaxStages][]pair
	before       [drive.MaxStages]span // ratio of all stages before one, whatever they are
	pairs        [drive.MaxStages]pair
	bunch        [drive.MaxStages]*bunch
	lies         lies

	plans  []layout.LanePlan
	shaft  *drive.Joint // of the first driver
	rods   [drive.MaxStages]*axleWay
	states [drive.MaxStages]*state
	made   *drive.Drive
	model  drive.Model
	rooms  map[roomKey]*memory
	tight  bool // some design of the row had no holes
}

// with chooses a pair for a stage, counted from the motor's. rough is the ratio of what is
// chosen, whatever the bands.
func (r *row) with(i int, p pair, f flow, rough span, charged points) error {
	if r.left < 0 {
		r.here.open = true
		return nil
	}
	if r.glances++; i == r.hd.stages-1 || r.glances&15 == 0 {
		// What is left out at a glance takes time too.
		if err := pause.Err(r.ctx); err != nil || !r.spend(1) {
			return err
		}
	}
	if charged += r.pairCost(r.hd, i, p); charged > r.limit {
		r.leave(reason{bound: charged})
		return nil
	}
	own := r.roughRatio(p)
	rough = span{Lo: rough.Lo * own.Lo, Hi: rough.Hi * own.Hi}
	if whole := (span{Lo: rough.Lo * r.before[i].Lo, Hi: rough.Hi * r.before[i].Hi}); whole.Meet(r.hd.ratios).Empty() {
		r.leave(refused(constraints.Speed))
		return nil
	}
	if r.pairs[i] = p; !r.enoughPulleys(i) {
		r.leave(refused(constraints.Stock))
		return nil
	}
	if charged += r.newlyMade(i); charged > r.limit {
		r.leave(reason{bound: charged})
		return nil
	}
	if !r.spend(1) {
		return nil
	}
	at := r.bunchOf(p, r.level)
	b := at.all
	switch {
	case at.dearer && b == nil:
		r.leave(reason{bound: r.loosest() + 1})
		return nil
	case at.dearer:
		r.here.least = min(r.here.least, r.loosest()+1) // what those cost that are not looked at
	case b == nil:
		r.leave(refused(constraints.Stretch))
		return nil
	}
	if charged += b.cost; charged > r.limit {
		r.leave(reason{bound: charged})
		return nil
	}
	r.bunch[i] = b
	best, worst := r.lies.of(i, r.hd.stages)
	f, no := r.through(r.hd, &f, b, &axleAt{drag: r.drag[p.driven], weight: span{Hi: r.mostOwn}, best: best, worst: worst})
	if no != "" {
		r.leave(refused(no))
		return nil
	}
	if no := r.atMotor(r.hd, &f, i, r.before[i], charged, r.limit); no.bound > r.limit {
		r.leave(no)
		return nil
	}
	if i == 0 {
		loose := r.limit
		r.limit = r.limitOf(r.tackle, r.head, r.pairs[:r.hd.stages])
		err := r.settle()
		r.limit = loose
		return err
	}
	for _, q := range r.options[i-1] {
		if err := r.with(i-1, q, f, rough, charged); err != nil {
			return err
		}
	}
	return nil
}

// enoughPulleys reports whether the stock reaches for the pulleys of stage i, those alike of
// the stages after it counted in.
func (r *row) enoughPulleys(i int) bool {
	for _, p := range [2]int{r.pairs[i].driven, r.pairs[i].driver} {
		use := 0
		for _, q := range r.pairs[i:r.hd.stages] {
			if q.driven == p {
				use++
			}
			if q.driver == p {
				use++
			}
		}
		if use*r.brief.Sets > r.pulleys[p].Count {
			return false
		}
	}
	return true
}

// settle looks through the designs of a whole row: joints and rods first, in every way.
func (r *row) settle() error {
	r.settled++
	ways := [drive.MaxStages][]*axleWay{}
	for i := range r.hd.stages {
		ways[i] = r.axleWays(i)
	}
	if !r.enoughDiscs() {
		r.leave(refused(constraints.Stock))
		return nil
	}
	if r.plans = r.lanePlans(); len(r.plans) == 0 {
		r.leave(refused(constraints.Depth))
		return nil
	}
	r.rooms, r.tight = map[roomKey]*memory{}, false
	charged := r.rowCost()
	w := r.brief.Weights
	var choose func(i int, charged points) error
	choose = func(i int, charged points) error {
		if charged > r.limit {
			r.leave(reason{bound: charged})
			return nil
		}
		if i == r.hd.stages {
			return r.bandsOf(charged)
		}
		for _, a := range ways[i] {
			r.rods[i] = a
			if err := choose(i+1, charged+a.cost); err != nil {
				return err
			}
		}
		return nil
	}
	shaft := r.hd.onShaft[r.pairs[0].driver]
	for k := range shaft {
		r.shaft = &shaft[k]
		if err := choose(0, charged+score.Joint(w, shaft[k].Kind)); err != nil {
			return err
		}
	}
	return nil
}

// lanePlans are the orders of lanes that the frame is deep enough for.
func (r *row) lanePlans() []layout.LanePlan {
	var widths []mm
	for _, p := range r.pairs[:r.hd.stages] {
		widths = append(widths, max(r.pulleys[p.driver].Part.Width, r.pulleys[p.driven].Part.Width))
	}
	return layout.LanePlans(r.hd.stages, widths, constraints.MotorAlong(&r.motors[r.hd.motor].Part, &r.pulleys[r.pairs[0].driver].Part), r.brief.Limits.LaneGap, r.brief.Frame.Depth)
}

// rowCost is what a row at its level is charged, but for joints, rods and bands.
func (r *row) rowCost() points {
	w := r.brief.Weights
	cost := r.hd.fixed + score.Forgiveness(w, r.level, r.brief.Limits.HoleError)
	for _, p := range r.pairs[:r.hd.stages] {
		driver, driven := &r.pulleys[p.driver].Part, &r.pulleys[p.driven].Part
		cost += score.Assumptions(w, len(driver.Assumed)+len(driven.Assumed))
		if driver.GrooveFloor == driven.GrooveFloor {
			cost += score.Idle(w, 1)
		}
	}
	return cost + score.Made(w, making.Different(r.pulleysFrom(0)))
}
