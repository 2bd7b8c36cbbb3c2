// Package design puts the question to the search: which drives can be built from
// this cupboard for this brief, and which are best. It joins parts, mechanics,
// placement, rules and score, and works the answers out in full.
//
//	result.go     what a search comes to
//	task.go       what is made ready once
//	alike.go      parts that are taken for one
//	problem.go    the tree of arrangements: motor, cells, pulleys; tie rule
//	bounds.go     what the arrangements of a node cost at least
//	seats.go      where in the frame a shaft may be with a pulley on it
//	lies.go       how the pulls may lie, from where the shafts may be
//	hung.go       which rods a pulley can sit on; sleeves.go the sleeves of joints
//	made.go       pulleys to be made of discs
//	glance.go     what a band can do round a pair of pulleys, before it is worked out
//	options.go    which bands go round a pair of pulleys
//	centres.go    and how far apart
//	rungs.go      windows of centre distance of one band-fit penalty each
//	tackles.go    the outer choice of a lift: the tackle between drum and load
//	through.go    what the chosen stages do, whatever their bands
//	ruler.go      spacings on a ruler: a band on its pulleys at a mark
//	mark.go       which mark a spacing stands for
//	curves.go     what it does there under load
//	cluster.go    several of these together
//	listing.go    those of a pair of pulleys, the cheap ones first
//	row.go        an arrangement settled bit by bit
//	settle.go     its axles and joints; rods.go for how many sets rods are enough
//	refine.go     its bands, marks and lies: boxes, halved
//	reckon.go     what the designs of a box do at least and at most
//	shave.go      and what is not worth having shaved off them
//	choose.go     one design worked out, held to the rules and charged
//	first.go      the first of equally cheap designs
//	room.go       whether the frame has room, remembered
//	placement.go  a drive as a placement problem
//	assess.go     a placed drive held to the rules at its very holes
//	pins.go       what the drives must have; extra.go: one more rule, of whoever asks
//	exists.go     whether there is any drive at all
//	dive.go       some drives of a large cupboard, soon
//	proposal.go   a finished drive worked out in full, by the plain route: penalty.go
//	              what it is charged, whatif.go and greatest.go what it would bear,
//	              stocktaking.go what it uses, atwork.go the same of a drive that is
//	              built already
//	tally.go      why the others were refused; lacking.go: what the cupboard lacks
package design

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"sync/atomic"

	"findrive/internal/brief"
	"findrive/internal/parts"
	"findrive/internal/pause"
	"findrive/internal/score"
	"findrive/internal/search"
)

// Options steer Find. The answer does not depend on Threads.
type Options struct {
	Keep    int // how many drives to propose; 0 means Usual
	Threads int
	Watch   func(search.Progress)
	// First is told the first drive of the list as soon as it is settled, if others are still
	// looked for; may be nil. Among several tackles it is not told.
	First func(*Proposal)
	Pins  *Pins // what the drives must have; nil for nothing
	Extra Extra // one more rule to keep; may be nil
	// AtMost leaves out drives of more penalty points, and NonePossible then speaks of
	// the others only; 0 leaves out none.
	AtMost score.Points
	// MustForgive refuses drives that a hole out of place by the brief's HoleError
	// would stop, which otherwise only cost points.
	MustForgive bool
}

// Usual is how many drives are proposed where nobody says: the three choices that differ, and
// as many again. More take longer to prove, and nobody reads on.
const Usual = 6

// Find searches the cupboard for the drives that best meet the brief. It stops
// early when ctx ends and then returns the best so far. The error is not nil
// only if the program contradicts itself: a drive that came out of the search
// breaks a rule when looked at again by the plain route.
func Find(ctx context.Context, cup *parts.Cupboard, b *brief.Brief, opt Options) (*Result, error) {
	if opt.Keep == 0 {
		opt.Keep = Usual
	}
	if len(b.Load.Tackles) > 1 {
		return findTackle(ctx, cup, b, opt)
	}
	return find(ctx, cup, b, opt)
}

// find is Find with the one tackle that the brief reckons with.
func find(ctx context.Context, cup *parts.Cupboard, b *brief.Brief, opt Options) (*Result, error) {
	if pause.Err(ctx) != nil {
		return stoppedBefore(cup, b), nil
	}
	t := taskFor(ctx, cup, b, opt)
	return t.find(ctx, opt, t.under)
}

// stoppedBefore is what a search comes to that is stopped before it begins: of a large stock what
// is made ready once takes most of a second.
func stoppedBefore(cup *parts.Cupboard, b *brief.Brief) *Result {
	return &Result{Cupboard: cup.InStock(), Brief: b, Status: StoppedEarly, Proposals: []Proposal{}, Refused: []Refused{}}
}

// taskFor is a task held to what the options ask besides the brief.
func taskFor(ctx context.Context, cup *parts.Cupboard, b *brief.Brief, opt Options) *task {
	t := newTask(cup, b)
	t.stopped = func() bool { return pause.Err(ctx) != nil }
	t.pin(opt.Pins)
	t.keep(opt.Extra)
	t.mustForgive = opt.MustForgive
	return t
}

// tree is the tree of arrangements as the search asks about it.
type tree = search.Problem[node, *candidate]

// under is the search for arrangements of at most some penalty.
func (t *task) under(ceiling search.Cost) tree { return t.upTo(ceiling) }

// find searches what under gives and works the drives out in full.
func (t *task) find(ctx context.Context, opt Options, under func(ceiling search.Cost) tree) (*Result, error) {
	found := t.rising(ctx, opt, under)
	r := &Result{Cupboard: t.given, Brief: t.brief, Stats: found.Stats, Refused: t.tally.account(), Proposals: []Proposal{}}
	switch {
	case !found.Proved:
		r.Status, r.Open = StoppedEarly, score.Points(found.Open)
	case len(found.Best) == 0:
		r.Status = NonePossible
	default:
		r.Status = ProvedBest
	}
	firsts, all := make([]*candidate, len(found.Best)), make([]Proposal, len(found.Best))
	wrong := make([]error, len(found.Best))
	search.InParallel(len(found.Best), opt.Threads, func(i int) {
		f := &found.Best[i]
		if i == 0 {
			firsts[i] = t.early
		}
		if firsts[i] == nil {
			firsts[i] = t.firstOf(ctx, &f.Node, score.Points(f.Cost))
		}
		if firsts[i] != nil {
			f.Solution = firsts[i]
		}
		all[i], wrong[i] = t.propose(f.Solution)
	})
	for i, f := range found.Best {
		if firsts[i] == nil { // which of equals it is, is not settled
			if cost := score.Points(f.Cost); r.Status != StoppedEarly || cost < r.Open {
				r.Status, r.Open = StoppedEarly, cost
			}
		}
		if wrong[i] != nil {
			return nil, fmt.Errorf("proposal %d: %w", i+1, wrong[i])
		}
		p := all[i]
		p.Rank, p.order = i+1, t.orderOf(&f.Node)
		if p.Total != score.Points(f.Cost) {
			return nil, fmt.Errorf("proposal %d: the search charged %.3f points and the plain sum is %.3f", i+1, score.Points(f.Cost).Float(), p.Total.Float())
		}
		r.Proposals = append(r.Proposals, p)
	}
	return r, nil
}

// ceilings are the penalties, in points, up to which drives are looked for in
// turn. A low ceiling leaves few ways to band each arrangement, so if there are
// enough drives under it they are found, and proved, without ever trying the
// many worse ways; only if there are not is the next tried. The last is most, unless
// that is 0. In a large cupboard to go through the arrangements once more costs more than
// the ways that it spares.
func ceilings(most search.Cost, large bool) []search.Cost {
	all := []search.Cost{4_000, 5_000, 6_000, 8_000, 8_500, 10_000, 13_000, 16_000, 20_000, 25_000, 30_000, 40_000, 60_000, search.Unlimited}
	if large {
		all = slices.DeleteFunc(all, func(c search.Cost) bool { return c == 8_500 })
	}
	if most > 0 {
		all = append(slices.DeleteFunc(all, func(c search.Cost) bool { return c >= most }), most)
	}
	return all
}

// manyNodes is from how many nodes on the chart of the classrooms is looked at at once, and not
// only of arrangements that take long: to make it pays then. It is tried out
// (scripts/performance whole): nothing depends on it but time.
const manyNodes = 1200

// rising searches under one ceiling after another until there are enough drives
// or no ceiling is left. What is found under a ceiling is complete: every drive
// not listed costs more than the last, or than the ceiling.
func (t *task) rising(ctx context.Context, opt Options, under func(ceiling search.Cost) tree) search.Result[node, *candidate] {
	var stats search.Stats
	var last search.Result[node, *candidate]
	covered := search.Cost(-1) // up to which all drives are known; some cost nothing
	watch := func(p search.Progress) {
		p.Stats.Add(stats)
		t.many = t.many || p.Stats.Nodes >= manyNodes // while no node is looked at: nothing depends on threads
		if opt.Watch != nil {
			opt.Watch(p)
		}
	}
	rounds := ceilings(search.Cost(opt.AtMost), t.large)
	for first := true; len(rounds) > 0; first = false {
		ceiling := rounds[0]
		rounds = rounds[1:]
		if len(last.Best) > 0 {
			// Nothing dearer is worth building.
			worth := last.Best[0].Cost + search.Cost(score.Worth)
			if ceiling = min(ceiling, worth); ceiling == worth {
				rounds = nil
			}
		}
		// Under a ceiling most drives cost nearly the same, so they are looked at
		// in the order of the tie rule.
		look := func(ctx context.Context, keep int, watch func(search.Progress)) search.Result[node, *candidate] {
			found := search.BestBesides(ctx, under(ceiling), last.Best, search.Options{Keep: keep, Limit: ceiling, InOrder: true, Threads: opt.Threads, Watch: watch})
			stats.Add(found.Stats)
			return found
		}
		var found search.Result[node, *candidate]
		if first && t.large {
			var dived search.Stats
			found, dived = t.lookAndDive(ctx, opt, look, watch)
			stats.Add(dived)
		} else {
			found = t.lookAndTell(ctx, opt, len(last.Best), look, watch)
		}
		if found.Proved {
			covered = ceiling
		} else {
			// It may not have caught up with the last round that was proved, up to whose
			// ceiling nothing is left. Its drives it has: they counted as found.
			found.Open = max(found.Open, covered)
		}
		last = found
		if len(found.Best) == opt.Keep {
			break
		}
		if opt.First != nil && t.early == nil && found.Proved && len(found.Best) > 0 && len(rounds) > 0 {
			t.tellFirst(ctx, &found.Best[0], opt.First)
		}
		if ceiling == noneFrom && found.Proved && len(found.Best) == 0 {
			none, looked := t.none(ctx, opt)
			if stats.Add(looked); none {
				break
			}
		}
		if pause.Err(ctx) != nil {
			if found.Proved && len(rounds) > 0 {
				// All is known up to this ceiling and nothing of what lies above.
				last.Proved, last.Open = false, ceiling
			}
			break
		}
	}
	last.Stats = stats
	if !last.Proved {
		last.Best = t.knownBesides(last.Best, opt.Keep, opt.AtMost)
		if len(last.Best) == 0 && t.toShow != nil && pause.Err(ctx) != nil {
			last.Best = append(last.Best, *t.toShow)
		}
	}
	for len(last.Best) > 1 && last.Best[len(last.Best)-1].Cost > last.Best[0].Cost+search.Cost(score.Worth) {
		last.Best = last.Best[:len(last.Best)-1]
	}
	return last
}

// tellAfter is after how many visits to arrangements the first drive is looked for by itself, if
// none has been found under a lower ceiling. It is tried out (scripts/performance page).
const tellAfter = 100

// briefly is a context that may be over before the one that it is of.
type briefly struct {
	context.Context
	over atomic.Bool
}

// Err is that it is over, or why the other is.
func (b *briefly) Err() error {
	if b.over.Load() {
		return context.Canceled
	}
	return b.Context.Err()
}

// lookAndTell looks under a ceiling, and where that takes long and no drive is known yet for the
// first of them alone, to tell it before the others are settled: they take several times as long.
// What has been learned of arrangements stays, so that to look again costs little.
func (t *task) lookAndTell(ctx context.Context, opt Options, known int, look looking, watch func(search.Progress)) search.Result[node, *candidate] {
	if known > 0 || opt.Keep == 1 {
		return look(ctx, opt.Keep, watch)
	}
	short := &briefly{Context: ctx}
	found := look(short, opt.Keep, func(so search.Progress) {
		watch(so)
		if so.Stats.Visits >= tellAfter {
			short.over.Store(true)
		}
	})
	if found.Proved || pause.Err(ctx) != nil {
		return found
	}
	if found = look(ctx, 1, watch); len(found.Best) == 0 {
		return found
	}
	if !found.Proved {
		found.Open = min(found.Open, found.Best[0].Cost) // what may come second was left out
		return found
	}
	if opt.First != nil {
		t.tellFirst(ctx, &found.Best[0], opt.First)
	}
	return look(ctx, opt.Keep, watch)
}

// tellFirst tells the first drive of the list, and keeps it. What is refused on the way counts no
// more than at the end, where it is not counted.
func (t *task) tellFirst(ctx context.Context, f *search.Found[node, *candidate], tell func(*Proposal)) {
	kept := t.tally
	t.tally = newTally()
	defer func() { t.tally = kept }()
	if t.early = t.firstOf(ctx, &f.Node, score.Points(f.Cost)); t.early == nil {
		return
	}
	if p, err := t.propose(t.early); err == nil { // else it is said at the end
		p.Rank, p.order = 1, t.orderOf(&f.Node)
		tell(&p)
	}
}

// knownBesides adds to the drives that a stopped search lists those that it came by on its
// way, though it has not settled that they cannot be had for less; of those none that costs more
// than at most, if that is not 0.
func (t *task) knownBesides(best []search.Found[node, *candidate], keep int, most score.Points) []search.Found[node, *candidate] {
	p := problem{task: t}
	known := append(slices.Clone(best), t.dived...)
	for _, r := range t.rows {
		if r.best != nil {
			known = append(known, search.Found[node, *candidate]{Node: *r.node, Solution: r.best, Cost: search.Cost(r.best.cost)})
		}
	}
	known = slices.DeleteFunc(known, func(f search.Found[node, *candidate]) bool { return most > 0 && f.Cost > search.Cost(most) })
	slices.SortStableFunc(known, func(a, b search.Found[node, *candidate]) int {
		return cmp.Or(cmp.Compare(a.Cost, b.Cost), p.Tie(a.Node, b.Node))
	})
	var out []search.Found[node, *candidate]
	for _, f := range known {
		same := func(o search.Found[node, *candidate]) bool { return p.Same(o.Node, f.Node) }
		if len(out) < keep && !slices.ContainsFunc(out, same) {
			out = append(out, f)
		}
	}
	return out
}
