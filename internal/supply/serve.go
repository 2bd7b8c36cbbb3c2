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
		s.finish(out, s.shareOut(ctx, s.known([]float64{s.job.brief.Tolerance}), out.Most, 1, false), 1)
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
	// of it, and no search for that is long.
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
	if err := s.single(ctx, out, all, plan.Served); err != nil {
		return nil, err
	}
	s.finish(out, plan, fewest)
	return out, nil
}

// rank looks for the best drive that so many groups can all build. ranked is whether it
// is proved the best.
func (s *server) rank(ctx context.Context, all []int, groups int) (is answer, ranked bool, err error) {
	if groups == 0 {
		return no, false, nil
	}
	if s.opt.Limit != nil {
		var stop context.CancelFunc
		ctx, stop = s.opt.Limit(ctx)
		defer stop()
	}
	b := *s.job.brief
	b.Sets = groups
	s.searches++
	r, err := design.Find(ctx, s.job.from(all, groups), &b, design.Options{Keep: 1, Threads: s.opt.Threads, Watch: s.opt.Watch})
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
	}
	return unknown, false, nil
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
// the number of groups matters.
func (s *server) shareOut(ctx context.Context, choices []choice, groups, most int, bare bool) allot.Plan {
	p := s.problem(choices)
	a := &allot.Problem{Groups: groups, Different: most}
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
	return allot.Best(context.WithoutCancel(ctx), a) // it is short, and what was found is to be told
}

// mostRounds is how often the two problems are held against each other before that is
// given up.
const mostRounds = 400

// closeIn finds how many groups, of so many at most, can be served with at most so many
// different drives (0: any number), and how many at most as far as it is proved.
func (s *server) closeIn(ctx context.Context, want, limit int) (best allot.Plan, most int, err error) {
	tolerance := []float64{s.job.brief.Tolerance}
	for range mostRounds {
		known := s.known(tolerance)
		if plan := s.shareOut(ctx, known, want, limit, true); best.Counts == nil || plan.Served > best.Served {
			best = plan
		}
		if best.Served >= want || pause.Err(ctx) != nil || s.opt.AllOrNone && want < s.job.groups {
			return best, want, nil
		}
		news := false
		if limit == 0 || different(best) < limit {
			if news, err = s.residue(ctx, known, best, want); err != nil {
				return best, want, err
			}
			if news {
				continue
			}
		}
		// What is proved of every set bounds how many there can be.
		want, _, _ = s.counted(s.job.none, want)
		hopes, ok := s.hoped(tolerance, -1)
		if best.Served >= want || !ok || s.opt.AllOrNone && want < s.job.groups {
			return best, want, nil
		}
		bound := s.shareOut(ctx, hopes, want, limit, true)
		if want = min(want, bound.AtMost); best.Served >= want || bound.Served < want || pause.Err(ctx) != nil {
			return best, max(want, best.Served), nil
		}
		if news, err = s.build(ctx, hopes, &bound); err != nil || !news {
			return best, want, err
		}
	}
	return best, want, nil
}

// residue looks for a drive from what a plan leaves, for as many of the groups that go
// without as can be. If there is none, why is noted: every drive takes one of the parts
// that have run out.
func (s *server) residue(ctx context.Context, choices []choice, plan allot.Plan, want int) (news bool, err error) {
	have, others := s.had(nil), sawnBy(choices, plan.Counts)
	caps := s.capsFrom(0, s.left(s.problem(choices), have, plan.Counts), 1)
	fewest := 2 // what is asked below of one set says the same, but for the lengths of rods
	if s.rodsShort() {
		fewest = 1
	}
	for sets := want - plan.Served; sets >= fewest; sets /= 2 {
		before := len(s.job.drives)
		is, err := s.any(ctx, s.job, s.beside(s.job, caps, others, have, sets), sets, s.job.brief.Tolerance)
		if err != nil || is == yes && len(s.job.drives) > before {
			return err == nil, err
		}
	}
	s.capAxles(s.job, caps, others, have, 1)
	for i, n := range caps {
		if n >= s.job.most[i] {
			caps[i] = plenty
		}
	}
	before := len(s.job.drives) + len(s.job.none)
	switch is, err := s.ask(ctx, s.job, caps, s.job.brief.Tolerance); {
	case err != nil:
		return false, err
	case is == no && !s.noted(caps):
		if err := s.refute(ctx, s.job, caps, s.job.brief.Tolerance); err != nil {
			return false, err
		}
		return false, nil // to be reckoned with by the bound
	case is == yes:
		return len(s.job.drives)+len(s.job.none) > before, nil
	}
	return false, nil
}

// noted is whether it is known without a search why there is no drive with so many.
func (s *server) noted(caps []int) bool {
	return slices.ContainsFunc(s.job.none, func(n noDrive) bool { return n.tolerance >= s.job.brief.Tolerance && covered(caps, n.caps) })
}

// build tries to build what a bound hopes for, as settle does for a purchase.
func (s *server) build(ctx context.Context, hopes []choice, bound *allot.Plan) (news bool, err error) {
	before := s.learned()
	p, have := s.problem(hopes), s.had(nil)
	left := s.left(p, have, bound.Counts)
	cut := make([][]sawn, len(hopes)) // by the groups of each hope
	for i, n := range bound.Counts {
		cut[i] = times(hopes[i].sawn, n)
	}
	tolerance := s.job.brief.Tolerance
	for i, n := range bound.Counts {
		if n == 0 {
			continue
		}
		for r := range left {
			left[r] += n * p.Choices[i].Takes[r]
		}
		cut[i] = nil
		caps, others := s.capsFrom(0, left, n), slices.Concat(cut...)
		s.capAxles(s.job, caps, others, have, n)
		is, err := s.ask(ctx, s.job, caps, tolerance)
		switch {
		case err != nil || is == unknown:
			return s.learned() > before, err
		case is == no:
			if at := slices.IndexFunc(s.job.sure, func(o noDrive) bool { return covered(caps, o.caps) }); at >= 0 {
				s.job.none = append(s.job.none, noDrive{s.job.sure[at].caps, tolerance})
				return true, nil
			}
			return true, s.refute(ctx, s.job, caps, tolerance)
		}
		f := s.sawnBeside(caps, others, have, n)
		if f == nil { // of those known none can be cut beside the others
			if _, err := s.any(ctx, s.job, s.beside(s.job, s.capsFrom(0, left, 1), others, have, n), n, tolerance); err != nil {
				return false, err
			}
			if f = s.sawnBeside(caps, others, have, n); f == nil {
				return s.learned() > before, nil
			}
		}
		for r, t := range s.problem([]choice{{0, f, f.takes, f.gone, f.sawn}}).Choices[0].Takes[:len(left)] {
			left[r] -= n * t
		}
		cut[i] = times(f.sawn, n)
	}
	return s.learned() > before, nil
}

// sawnBeside is a known drive that takes no more than caps, so many of which can be cut
// beside others; nil if none is known.
func (s *server) sawnBeside(caps []int, others []sawn, have []int, n int) *found {
	for _, f := range s.job.drives {
		if f.off <= s.job.brief.Tolerance && within(f.takes, caps) && s.sawable(slices.Concat(others, times(f.sawn, n)), have) {
			return f
		}
	}
	return nil
}

// rodsShort is whether there may be too few axles of some kind.
func (s *server) rodsShort() bool {
	for i, p := range s.parts {
		if p.kind == "axle" && s.limited[i] {
			return true
		}
	}
	return false
}

// any is whether there is any drive for so many sets from a cupboard.
func (a *asker) any(ctx context.Context, j *job, cup *parts.Cupboard, sets int, tolerance float64) (answer, error) {
	b := *j.brief
	b.Sets, b.Tolerance = sets, tolerance
	if a.opt.Limit != nil {
		var stop context.CancelFunc
		ctx, stop = a.opt.Limit(ctx)
		defer stop()
	}
	a.searches++
	r, err := design.Exists(ctx, cup, &b, design.Options{Threads: a.opt.Threads, Watch: a.opt.Watch})
	if err != nil {
		return unknown, err
	}
	for i := range r.Proposals {
		j.add(&r.Proposals[i])
	}
	switch {
	case len(r.Proposals) > 0:
		return yes, nil
	case r.Status == design.NonePossible:
		if a.account == nil {
			a.account = r
		}
		return no, nil
	}
	return unknown, nil
}
