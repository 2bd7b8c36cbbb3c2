// Package groups shares one cupboard out among the groups of a class, who may build
// different drives for one brief where that serves more of them. How many can be
// served is found and proved by package supply; this package tells what came of it:
// what is used up, what would serve another group, and why no more can be served.
package groups

import (
	"context"
	"slices"

	"findrive/internal/allot"
	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/parts"
	"findrive/internal/pause"
	"findrive/internal/search"
	"findrive/internal/supply"
)

// Result is how a class is served.
type Result struct {
	Cupboard *parts.Cupboard
	Brief    *brief.Brief // its Sets are the groups
	Shares   []Share      // more groups first; empty if no drive is possible
	Served   int          // groups
	// Most is how many groups can be served at most, with as many different drives as
	// were allowed: proved. Served is the answer if they are equal.
	Most int
	// None is true if it is proved that not even one set can be built.
	None bool
	// Different is how many different drives were allowed; 0 for any number, and then
	// the plan has as few as were found to serve as many.
	Different int
	// Fewest is how many different drives it takes at least to serve as many: proved.
	Fewest int
	// Drives is how many drives were weighed against each other; of plans made of
	// those the one shown has the fewest points.
	Drives int
	// FewestPoints is true if of all drives that there are none that serves all by
	// itself has fewer points.
	FewestPoints bool
	// PointsProved is true if of the plans made of the drives weighed none has fewer points.
	PointsProved bool
	Single       *Single // one drive for all, as far as it goes; nil if no drive was found
	// Gone are the parts that are used up, or too few for any of the drives of the plan
	// that takes them.
	Gone []Part
	// Unlock are parts of each of which a few more serve another group, by a drive
	// of those weighed.
	Unlock []More
	// Bound is why no more than Most: every set takes BoundEach of these parts. Empty if
	// it is not so simple.
	Bound     []Part
	BoundEach int
	// Stopped is true if ctx ended first.
	Stopped bool
	// Account is a search that found nothing, for what stood in the way if None.
	Account *design.Result
}

// Proved is whether it is proved that no more groups can be served.
func (r *Result) Proved() bool { return r.Served >= r.Most }

// Share is a drive and how many groups build it.
type Share struct {
	Groups int
	Drive  *design.Proposal
	Takes  []Part // Used by one set
	Gone   []Part // of it does not come back, Used by one set
}

// Single is the drive that by itself serves the most groups of all that were found.
type Single struct {
	Drive *design.Proposal
	Sets  int // that the stock makes of it
	// Most is how many sets the stock makes of any one drive at most: proved.
	Most int
	// Short is what is wanting for all groups.
	Short []More
}

// Part is a part of the stock. Parts alike in all that matters go by one name.
type Part struct {
	Kind, Name string
	Have, Used int // by all groups; axles: as many as the rods make, of the shortest
}

// More is so many more of a part, by themselves; axles: rods.
type More struct {
	Part
	Pieces int
}

// Options steer Plan.
type Options struct {
	// Different is how many different drives the groups may build at most; 0 for any
	// number, as few as serve as many.
	Different int
	Threads   int
	// Limit bounds one search; it is called as each begins. Nil bounds none.
	Limit func(context.Context) (context.Context, context.CancelFunc)
	// Relax bounds a search that only makes a proof stronger. Nil bounds none.
	Relax func(context.Context) (context.Context, context.CancelFunc)
	// Rank bounds a search for the best drive where any drive settles the number. Nil is
	// Limit.
	Rank func(context.Context) (context.Context, context.CancelFunc)
	// Late is for what is still told of a plan when ctx has ended: what would serve another
	// group. Nil if no more is to be told.
	Late  func() (context.Context, context.CancelFunc)
	Watch func(search.Progress)
}

type key struct{ kind, name string }

// Plan finds the best sharing out for b.Sets groups. When ctx ends it returns the best so
// far. The error is design.Find's: the program contradicts itself.
func Plan(ctx context.Context, cup *parts.Cupboard, b *brief.Brief, opt Options) (*Result, error) {
	s, err := supply.Serve(ctx, cup, b, opt.Different, supply.Options{Threads: opt.Threads, Limit: opt.Limit, Relax: opt.Relax, Rank: opt.Rank, Watch: opt.Watch})
	if err != nil {
		return nil, err
	}
	r := &Result{
		Cupboard: cup, Brief: b, Served: s.Served, Most: s.Most, None: s.None, Different: opt.Different, Fewest: s.Fewest,
		Drives: len(s.Weighed), FewestPoints: s.FewestPoints, PointsProved: s.PointsProved, Stopped: s.Stopped, Account: s.Account,
	}
	if r.Served == 0 {
		return r, nil
	}
	t := newTelling(s, newRack(cup, b))
	for _, share := range s.Shares {
		out := Share{Groups: share.Groups, Drive: share.Drive}
		for _, p := range share.Takes {
			out.Takes = append(out.Takes, Part{p.Kind, p.Name, t.have[key{p.Kind, p.Name}], p.Pieces})
		}
		for _, p := range share.Gone {
			out.Gone = append(out.Gone, Part{p.Kind, p.Name, t.have[key{p.Kind, p.Name}], p.Pieces})
		}
		r.Shares = append(r.Shares, out)
	}
	if s.Single != nil {
		r.Single = &Single{Drive: s.Single, Sets: s.SingleSets, Most: s.SingleMost, Short: t.short(s.Single, b.Sets)}
	}
	r.Gone = t.gone()
	if r.Served < b.Sets {
		if r.Proved() { // else more groups may do with what there is
			if pause.Err(ctx) != nil && opt.Late != nil {
				var stop context.CancelFunc
				ctx, stop = opt.Late()
				defer stop()
			}
			r.Unlock = t.unlock(ctx, b.Sets, opt.Different)
			for _, p := range s.Why {
				r.Bound = append(r.Bound, Part{p.Kind, p.Name, p.Pieces, t.used[key{p.Kind, p.Name}]})
			}
			r.BoundEach = s.Each
		}
	}
	return r, nil
}

// telling is what is told of a plan beside it.
type telling struct {
	*supply.Serving
	rack rack
	keys []key
	have map[key]int
	used map[key]int
}

func newTelling(s *supply.Serving, r rack) *telling {
	t := &telling{Serving: s, rack: r, have: map[key]int{}, used: map[key]int{}}
	for _, p := range s.Stock {
		k := key{p.Kind, p.Name}
		t.keys = append(t.keys, k)
		t.have[k] = p.Pieces
	}
	for _, share := range s.Shares {
		for _, p := range share.Takes {
			t.used[key{p.Kind, p.Name}] += share.Groups * p.Pieces
		}
	}
	return t
}

// gone are the parts of which less is left than some drive of the plan takes.
func (t *telling) gone() []Part {
	need := map[key]int{}
	for _, share := range t.Shares {
		for _, p := range share.Takes {
			k := key{p.Kind, p.Name}
			need[k] = max(need[k], p.Pieces)
		}
	}
	var out []Part
	for _, k := range t.keys {
		switch {
		case need[k] == 0, toMake(k, t.Weighed):
		case k.kind == "axle":
			if t.rack.gone(k.name, t.Shares) {
				out = append(out, Part{k.kind, k.name, t.used[k], t.used[k]})
			}
		case t.have[k]-t.used[k] < need[k]:
			out = append(out, Part{k.kind, k.name, t.have[k], t.used[k]})
		}
	}
	return append(out, t.rack.sheetsGone(t.Shares)...)
}

// short is what the stock lacks for so many sets of a drive.
func (t *telling) short(d *design.Proposal, sets int) []More {
	var out []More
	for i := range t.Weighed {
		if t.Weighed[i].Drive != d {
			continue
		}
		for _, p := range t.Weighed[i].Takes {
			have := t.have[key{p.Kind, p.Name}]
			if p.Kind == "axle" {
				if more, ok := t.rack.moreFor(p.Name, t.Weighed[i], sets); ok && more > 0 {
					out = append(out, More{Part{Kind: p.Kind, Name: p.Name, Have: have}, more})
				}
				continue
			}
			if more := p.Pieces*sets - have; more > 0 && !toMake(key{p.Kind, p.Name}, t.Weighed) {
				out = append(out, More{Part{Kind: p.Kind, Name: p.Name, Have: have}, more})
			}
		}
		out = append(out, t.rack.sheetsShort(t.Weighed[i], sets)...)
		break
	}
	return out
}

// unlock tries a few more of each part by itself. When ctx ends the rest is left out: it
// would not be known whether fewer will do.
func (t *telling) unlock(ctx context.Context, groups, different int) []More {
	sawn := slices.ContainsFunc(t.keys, func(k key) bool { return t.scarceRod(k, groups) })
	// serves is whether so many more of a part do.
	serves := func(k key, more int) (bool, error) {
		p := t.problem()
		p.Groups, p.Different = min(groups, t.Served+1), different
		with, rods := "", 0
		if i := slices.Index(t.keys, k); i >= 0 {
			p.Stock[i] += more
		}
		if k.kind == "axle" {
			with, rods = k.name, more
		}
		if sawn {
			t.rack.sawing(p, t.keys, t.Weighed, with, rods)
		}
		sheet := ""
		if k.kind == sheetKind {
			sheet = k.name
		}
		t.rack.laying(p, t.keys, t.Weighed, sheet, more)
		return allot.All(ctx, p), pause.Err(ctx)
	}
	var out []More
	try := func(k key, have, most int) {
		for more := 1; more <= most; more++ {
			switch yes, err := serves(k, more); {
			case yes:
				out = append(out, More{Part{Kind: k.kind, Name: k.name, Have: have}, more})
				return
			case err != nil:
				return
			}
		}
	}
	for i, k := range t.keys {
		if k.kind == "axle" && !t.scarceRod(k, groups) || toMake(k, t.Weighed) {
			continue
		}
		most := 0
		for _, c := range t.problem().Choices {
			most = max(most, c.Takes[i])
		}
		try(k, t.have[k], most)
	}
	for _, s := range t.rack.cutFrom(t.Weighed) {
		try(key{sheetKind, s.Name}, s.Count, mostUnlocking)
	}
	return out
}

// mostUnlocking is how many sheets more are tried for another group (judgement: it seldom
// cuts more than one).
const mostUnlocking = 3

// scarceRod is whether a part is a kind of rod of which there may be too few.
func (t *telling) scarceRod(k key, groups int) bool {
	return k.kind == "axle" && !t.rack.plenty(k.name, t.Weighed, groups)
}

// problem is the sharing out of the drives weighed, by pieces.
func (t *telling) problem() *allot.Problem {
	p := &allot.Problem{}
	for _, k := range t.keys {
		p.Stock = append(p.Stock, t.have[k])
	}
	for _, w := range t.Weighed {
		takes := make([]int, len(t.keys))
		for _, piece := range w.Takes {
			takes[slices.Index(t.keys, key{piece.Kind, piece.Name})] += piece.Pieces
		}
		p.Choices = append(p.Choices, allot.Choice{Takes: takes})
	}
	return p
}
