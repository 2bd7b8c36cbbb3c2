// Package supply finds what must be bought, at the least, so that all groups can build,
// for one brief or several over one cupboard. Drives come from package design, purchases
// from package purchase; what is said to be the least is proved over all drives there
// are, not over those that happened to be found.
//
// It goes by two problems that close in on each other. The drives found so far give a
// purchase that will do. The proofs that there is no drive without certain parts give,
// for each brief, what a drive takes at the least; a purchase for those costs no more
// than any that will do. Where the second is cheaper, what it hopes for is put to the
// search: either there is such a drive, and the first gets cheaper, or there is not, and
// the proof of that makes the second dearer.
package supply

import (
	"context"
	"math"
	"slices"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/money"
	"findrive/internal/parts"
	"findrive/internal/pause"
	"findrive/internal/prices"
	"findrive/internal/purchase"
	"findrive/internal/score"
	"findrive/internal/search"
	"findrive/internal/units"
)

// Question is what is asked.
type Question struct {
	Cupboard *parts.Cupboard
	List     *prices.List
	Briefs   []*brief.Brief // at least one; their Sets are the groups
	// InTurn is whether the briefs are built one after another, in their order: what
	// was not used up comes back. Else all are built at the same time.
	InTurn bool
	// Mix is whether groups may build different drives for one brief.
	Mix bool
}

// Options steer Find.
type Options struct {
	Threads int
	// Limit bounds one search for a drive; nil bounds none.
	Limit func(context.Context) (context.Context, context.CancelFunc)
	// Relax bounds each of the searches that make a proof as strong as it can be; nil
	// bounds none.
	Relax func(context.Context) (context.Context, context.CancelFunc)
	// Rank bounds each of the searches for the best drive where any drive settles how many
	// are served or what must be bought; nil is Limit.
	Rank  func(context.Context) (context.Context, context.CancelFunc)
	Watch func(search.Progress)
	// AllOrNone ends Serve as soon as it is proved that not all groups can be served, and
	// makes a plan that serves all no better.
	AllOrNone bool
	// Line and Packs ask for those of the result; Line only for a single brief.
	Line, Packs bool
	// LineLimit bounds the search for the line, and that for what is short; nil bounds
	// it no further.
	LineLimit func(context.Context) (context.Context, context.CancelFunc)
}

// Share is a drive and how many groups build it.
type Share struct {
	Brief  int // in Question.Briefs
	Groups int
	Drive  *design.Proposal
	// Takes is what one set takes, and Gone what of it does not come back.
	Takes, Gone []Piece
}

// Piece is so many of a part.
type Piece struct {
	Kind, Name string
	Pieces     int // axles: of dowel or rod, cut to length
}

// Bought is packs of an offer.
type Bought struct {
	Offer prices.Offer
	Packs int
	Sum   money.Amount // without carriage
	// Left is how many of the part are left over when all groups have theirs, those of
	// the cupboard included.
	Left int
}

// Carriage is what a supplier takes for bringing an order.
type Carriage struct {
	Supplier string
	Goods    money.Amount // worth
	Paid     money.Amount
}

// Plan is a purchase and what it lets the groups build.
type Plan struct {
	Money    money.Amount // all packs and carriage
	Bought   []Bought
	Carriage []Carriage
	Shares   []Share // in the order of the briefs, more groups first
	// WorstSpeed is the greatest relative error of the likely speed of any group's
	// drive.
	WorstSpeed float64
	Points     score.Points // of all groups together
	// AtLeast is what no purchase that serves all can cost less than: proved. Proved
	// is true if that is Money.
	AtLeast money.Amount
	Proved  bool
	// PointsProved is true if of all plans for that money made of the drives weighed
	// none has fewer points.
	PointsProved bool
}

// Result is the answer.
type Result struct {
	Question *Question
	// Plan is nil if no purchase was found; then None says whether it is proved that
	// none will do.
	Plan *Plan
	None bool
	// Short is what counting alone says, of a kind or of a part that every set takes; only
	// with None. If Searches is 0 nothing was searched for.
	Short []Short
	// Never are the briefs of which not even one set can be built, whatever of the list is
	// bought: proved. Account is then the search for the first of them.
	Never []int
	// Account is a search that found no drive, for what stood in the way; may be nil.
	Account *design.Result
	// Wanting is what is short if None is true; nil if it was not found.
	Wanting *Wanting
	// Line is the trade-off between money and speed, the cheapest first; only if asked
	// for. It is whole if LineWhole: no other point is on it.
	Line      []Point
	LineWhole bool
	// Packs is what the least of each offer does by itself, those first that serve most
	// groups for the money; only if asked for.
	Packs []OnePack
	Worth Worth // of all that the plan takes
	// Each is the worth of each brief's share.
	Each []Worth
	// Drives is how many drives were weighed, Searches how many searches were made.
	Drives, Searches int
	Stopped          bool // the time ran out
}

// asker is the state of the work.
type asker struct {
	*shelf
	q        *Question
	opt      Options
	jobs     []*job
	limited  []bool         // parts of which there may be too few
	goes     []bool         // parts that never come back
	piece    []money.Amount // least price of a piece of each part, in thousandths; a great one if it is not for sale
	baskets  *purchase.Problem
	account  *design.Result
	searches int
	free     bool // one drive for all groups of the one brief can be built of the cupboard
}

func newAsker(q *Question, opt Options) *asker {
	a := &asker{shelf: newShelf(q), q: q, opt: opt}
	a.limited, a.goes, a.piece = make([]bool, len(a.parts)), make([]bool, len(a.parts)), make([]money.Amount, len(a.parts)+len(a.rods))
	for i, b := range q.Briefs {
		a.jobs = append(a.jobs, newJob(a.shelf, b))
		if q.InTurn {
			a.jobs[i].turn = i
		}
	}
	for i, p := range a.parts {
		use, stock, longest := 0, p.stock, units.Millimetres(0)
		for _, j := range a.jobs {
			use += j.most[i] * j.groups
			longest = max(longest, j.inner, j.output.Hi)
		}
		if p.kind == "axle" {
			stock = a.yields(i, longest)
		}
		a.limited[i] = use > stock || p.made != nil && a.sheetsShort
		a.goes[i] = slices.Contains(consumed, p.kind) || p.made != nil
	}
	for i := range a.piece {
		a.piece[i] = math.MaxInt64
	}
	for _, o := range q.List.Offers {
		for _, at := range []int{a.at[key{o.Kind, o.Part}], a.bought(o.Kind, o.Part)} {
			a.piece[at] = min(a.piece[at], 1000*o.Price/money.Amount(o.Pack))
		}
	}
	a.baskets = a.problem(nil)
	for _, j := range a.jobs {
		j.certain()
	}
	return a
}

// begin finds the first drives: one for all from the cupboard, those it makes for one
// group, and those that all can make with what can be bought, of each brief by itself and of
// all beside each other.
func (a *asker) begin(ctx context.Context, keep int) error {
	all := 0
	for _, j := range a.jobs {
		all += j.groups
	}
	for _, j := range a.jobs {
		each, shared := make([]int, len(a.parts)), make([]int, len(a.parts))
		for i, p := range a.parts {
			each[i], shared[i] = j.pieces(i)/j.groups, j.pieces(i)/all
			if p.onSale {
				each[i], shared[i] = plenty, plenty
			}
		}
		for _, s := range []struct {
			cup  *parts.Cupboard
			sets int
			keep int
		}{{j.from(a.had(nil), j.groups), j.groups, 1}, {j.from(a.had(nil), 1), 1, keep}, {j.cupboard(each, 1), 1, keep}} {
			is, err := a.ranked(ctx, j, s.cup, s.sets, s.keep)
			if err != nil {
				return err
			}
			if is == yes && s.sets == j.groups && len(a.jobs) == 1 {
				// Nothing need be bought, and of one drive for all this is the best.
				a.free = true
				return nil
			}
		}
		if len(a.jobs) > 1 && !a.q.InTurn {
			if _, err := a.ranked(ctx, j, j.cupboard(shared, 1), 1, keep); err != nil {
				return err
			}
		}
	}
	return nil
}

// keepFirst is how many drives the first searches rank.
const keepFirst = 6

// Find answers the question. When ctx ends the answer is the best so far. The error is
// design.Find's: the program contradicts itself.
func Find(ctx context.Context, q *Question, opt Options) (*Result, error) {
	if short := newAsker(q, opt).counted(); len(short) > 0 {
		return &Result{Question: q, None: true, Short: short}, nil
	}
	r, err := find(ctx, q, opt)
	if err == nil && r.None && len(r.Never) == 0 && len(r.Short) == 0 {
		r.Wanting, err = wanting(ctx, q, opt)
	}
	return r, err
}

func find(ctx context.Context, q *Question, opt Options) (*Result, error) {
	a := newAsker(q, opt)
	if err := a.begin(ctx, keepFirst); err != nil {
		return nil, err
	}
	r := &Result{Question: q}
	if err := a.never(ctx, r); err != nil || len(r.Never) > 0 {
		return r, err
	}
	s, err := a.least(ctx, a.tolerances())
	if err != nil {
		return nil, err
	}
	if s.plan.Found {
		if s, err = a.polish(ctx, s); err != nil {
			return nil, err
		}
		r.Plan = a.plan(s)
		r.Worth = a.worth(r.Plan.Shares, a.had(s.plan.Packs))
		for i := range q.Briefs {
			var own []Share
			for _, share := range r.Plan.Shares {
				if share.Brief == i {
					own = append(own, share)
				}
			}
			r.Each = append(r.Each, a.worth(own, a.had(s.plan.Packs)))
		}
	}
	if opt.Packs {
		if r.Packs, err = a.onePack(ctx); err != nil {
			return nil, err
		}
	}
	if opt.Line && s.plan.Found && len(q.Briefs) == 1 {
		if opt.LineLimit != nil {
			var stop context.CancelFunc
			ctx, stop = opt.LineLimit(ctx)
			defer stop()
		}
		if r.Line, r.LineWhole, err = a.tradeOff(ctx, s); err != nil {
			return nil, err
		}
	}
	if r.None = !s.plan.Found && s.proved; r.None {
		r.Short = a.proved()
	}
	r.Account, r.Searches, r.Stopped = a.account, a.searches, pause.Err(ctx) != nil
	for _, j := range a.jobs {
		r.Drives += len(j.drives)
	}
	return r, nil
}

func (a *asker) tolerances() []float64 {
	var out []float64
	for _, j := range a.jobs {
		out = append(out, j.brief.Tolerance)
	}
	return out
}
