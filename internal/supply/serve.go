package supply

import (
	"context"
	"math"
	"slices"

	"findrive/internal/allot"
	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/parts"
	"findrive/internal/pause"
	"findrive/internal/prices"
	"findrive/internal/score"
)

// Serving is how many groups of one brief a cupboard serves, nothing bought.
type Serving struct {
	Shares []Share // more groups first; empty if no drive was found
	Served int     // groups, the sum of Shares
	// Most is how many can be served at most, with as many different drives as were
	// allowed: proved.
	Most int
	// None is true if it is proved that not even one set can be built.
	None bool
	// Fewest is how many different drives a plan that serves as many has at least:
	// proved. FewestPoints is true if no plan of as few has fewer points: proved over
	// all drives there are, and else only over those that were found.
	Fewest       int
	FewestPoints bool
	// PointsProved is true if of all plans of as many groups and as few different drives,
	// made of the drives weighed, none has fewer points.
	PointsProved bool
	// Single is the drive that by itself serves the most groups, and SingleSets how
	// many; SingleMost how many any one drive serves at most: proved.
	Single     *design.Proposal
	SingleSets int
	SingleMost int
	// Why is why no more than Most: every set takes at least Each of these parts, of
	// which Pieces are there. Empty if it is not so simple.
	Why  []Piece
	Each int
	// Weighed are all drives that were found.
	Weighed  []Share // of one group each
	Stock    []Piece // of every part the weighed drives take
	Searches int
	Account  *design.Result // a search that found no drive; may be nil
	Stopped  bool           // the time ran out
}

// Serve finds how many groups can build at the same time from a cupboard, with at most so
// many different drives; 0 allows any number. Of the plans that serve as many it takes one
// with the fewest different drives if different is 0, and then the fewest points; else
// the fewest points, each further drive counting what the brief says.
//
// As in Find, two problems close in on each other: the drives found so far, shared out, and
// what drives take at the least for all that is proved. When ctx ends the answer is the
// best so far. The error is design.Find's: the program contradicts itself.
func Serve(ctx context.Context, cup *parts.Cupboard, b *brief.Brief, different int, opt Options) (*Serving, error) {
	q := &Question{Cupboard: cup, List: &prices.List{Parts: &parts.Cupboard{}}, Briefs: []*brief.Brief{b}, Mix: true}
	s := &server{asker: newAsker(q, opt), different: different}
	s.job = s.jobs[0]
	out, err := s.serve(ctx)
	if err != nil {
		return nil, err
	}
	out.Searches, out.Account, out.Stopped = s.searches, s.account, pause.Err(ctx) != nil
	return out, nil
}

// server is the state of the work for one brief.
type server struct {
	*asker
	job       *job
	different int
	// settled is of how many drives the plan last made for its points is proved the best; 0 if
	// it is not.
	settled int
}

func (s *server) serve(ctx context.Context) (*Serving, error) {
	out := &Serving{Most: s.job.groups, Fewest: 1}
	out.Most, out.Why, out.Each = s.counted(s.job.sure, out.Most)
	all := s.had(nil)
	if s.opt.AllOrNone && out.Most < s.job.groups {
		return out, nil
	}
	whole, ranked, err := s.rank(ctx, all, out.Most)
	if err != nil {
		return nil, err
	}
	if whole == yes && (s.different < 2 || s.job.groups == 1) {
		// One drive for all there can be: no plan has fewer, and of those drives the
		// search has found the best.
		s.finish(out, s.shareOut(ctx, s.known([]float64{s.job.brief.Tolerance}), out.Most, 1, false, nil), 1)
		out.FewestPoints, out.SingleMost = ranked, out.Most
		return out, nil
	}
	one, err := s.any(ctx, s.job, s.job.from(all, 1), 1, s.job.brief.Tolerance)
	if err != nil {
		return nil, err
	}
	if one == no {
		out.None, out.Most = true, 0
		return out, nil
	}
	plan, most, err := s.closeIn(ctx, out.Most, s.different)
	if err != nil {
		return nil, err
	}
	if most < out.Most {
		out.Most, out.Why, out.Each = s.counted(slices.Concat(s.job.sure, s.job.none), most)
	}
	// How many are served matters most; what follows makes the plan better, or says more
	// of it, and neither a search for that is long nor all those for one thing together.
	if s.opt.Relax != nil {
		s.opt.Limit = s.opt.Relax
	}
	served := plan.Served
	fewest := 1
	if s.opt.AllOrNone {
		s.finish(out, plan, fewest)
		return out, nil
	}
	if s.different == 0 && pause.Err(ctx) == nil {
		if plan, fewest, err = s.fewer(ctx, plan); err != nil {
			return nil, err
		}
	} else if served > 0 && whole == no && served == out.Most {
		fewest = 2
	}
	if served > 0 {
		if plan, err = s.better(ctx, plan); err != nil {
			return nil, err
		}
	}
	short, stop := s.briefly(ctx)
	defer stop()
	if err := s.single(short, out, all, plan.Served); err != nil {
		return nil, err
	}
	s.finish(out, plan, fewest)
	return out, nil
}

// briefly bounds what is done for one thing that makes a plan better.
func (s *server) briefly(ctx context.Context) (context.Context, context.CancelFunc) {
	if s.opt.Relax == nil {
		return context.WithCancel(ctx)
	}
	return s.opt.Relax(ctx)
}

// rank looks for the best drive that so many groups can all build. ranked is whether it
// is proved the best.
func (s *server) rank(ctx context.Context, all []int, groups int) (is answer, ranked bool, err error) {
	if groups == 0 {
		return no, false, nil
	}
	// That there is one settles the number; which is the best only makes the plan better.
	limit := s.opt.Rank
	if limit == nil {
		limit = s.opt.Limit
	}
	short := ctx
	if limit != nil {
		var stop context.CancelFunc
		short, stop = limit(ctx)
		defer stop()
	}
	b := *s.job.brief
	b.Sets = groups
	s.searches++
	r, err := design.Find(short, s.job.from(all, groups), &b, design.Options{Keep: 1, Threads: s.opt.Threads, Watch: s.opt.Watch})
	if err != nil {
		return unknown, false, err
	}
	for i := range r.Proposals {
		s.job.add(&r.Proposals[i])
	}
	switch {
	case len(r.Proposals) > 0:
		return yes, r.Status == design.ProvedBest, nil
	case r.Status == design.NonePossible:
		s.account = r
		return no, false, nil
	case s.opt.Rank == nil || pause.Err(ctx) != nil:
		return unknown, false, nil
	}
	is, err = s.any(ctx, s.job, s.job.from(all, groups), groups, s.job.brief.Tolerance)
	return is, false, err
}

// limitFor is how many different drives the plan to be shown may have.
func (s *server) limitFor(p allot.Plan) int {
	if s.different > 0 {
		return s.different
	}
	return different(p)
}

func different(p allot.Plan) int {
	n := 0
	for _, c := range p.Counts {
		if c > 0 {
			n++
		}
	}
	return n
}

// counted is by how many groups counting alone bounds those that can be served: each of
// some refutations says that every set takes more of one of some parts. It is not more
// than most; why is empty if that is the bound.
func (s *server) counted(by []noDrive, most int) (bound int, why []Piece, each int) {
	bound = most
	for _, n := range by {
		if n.tolerance < s.job.brief.Tolerance {
			continue
		}
		sum, least := 0, math.MaxInt
		var list []Piece
		for i, c := range n.caps {
			if c == plenty || s.job.most[i] <= c {
				continue
			}
			have := s.job.pieces(i)
			if have <= c {
				continue
			}
			sum, least = sum+have/(c+1), min(least, c+1)
			list = append(list, Piece{s.parts[i].kind, s.parts[i].name, have})
		}
		if sum < bound || sum == bound && why == nil {
			alike := true
			for i, c := range n.caps {
				alike = alike && (c == plenty || s.job.most[i] <= c || s.job.pieces(i) <= c || c+1 == least)
			}
			if bound = sum; alike {
				why, each = list, least
			} else {
				why, each = nil, 0
			}
		}
	}
	return bound, why, each
}

// shareOut is the best sharing out of some choices among so many groups. With bare only
// the number of groups matters. When ctx ends it is the best so far, and no worse than from,
// the counts of a plan that will do, if there is one: choices may have been added since, for
// drives that are found come behind those that are known.
func (s *server) shareOut(ctx context.Context, choices []choice, groups, most int, bare bool, from []int) allot.Plan {
	p := s.problem(choices)
	a := &allot.Problem{Groups: groups, Different: most, Known: from}
	for i := range s.parts {
		a.Stock = append(a.Stock, p.Stock[i])
	}
	for _, set := range p.Together {
		sum := 0
		for _, r := range set {
			sum += a.Stock[r]
		}
		a.Stock = append(a.Stock, sum)
	}
	dearest := int64(0)
	for _, c := range p.Choices {
		takes := slices.Clone(c.Takes[:len(s.parts)])
		for _, set := range p.Together {
			sum := 0
			for _, r := range set {
				sum += c.Takes[r]
			}
			takes = append(takes, sum)
		}
		cost := c.Cost
		if bare {
			cost = 0
		}
		a.Choices, dearest = append(a.Choices, allot.Choice{Cost: cost, Takes: takes}), max(dearest, cost)
	}
	s.sawnFrom(a, choices, p.Stock)
	switch {
	case bare:
	case s.different == 0: // the fewest different drives first
		a.Another = dearest*int64(groups) + 1
	default:
		a.Another = int64(score.AnotherDrive(s.job.brief.Weights))
	}
	plan := allot.Best(ctx, a)
	s.settled = 0
	if plan.Proved && !bare {
		s.settled = len(choices)
	}
	return plan
}
