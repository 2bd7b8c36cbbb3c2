package supply

import (
	"context"
	"slices"

	"findrive/internal/allot"
	"findrive/internal/pause"
)

// mostRounds is how often the two problems are held against each other before that is
// given up.
const mostRounds = 400

// closeIn finds how many groups, of so many at most, can be served with at most so many
// different drives (0: any number), and how many at most as far as it is proved.
func (s *server) closeIn(ctx context.Context, want, limit int) (best allot.Plan, most int, err error) {
	tolerance := []float64{s.job.brief.Tolerance}
	for range mostRounds {
		known, before := s.known(tolerance), s.learned()
		if plan := s.shareOut(ctx, known, want, limit, true, best.Counts); best.Counts == nil || plan.Served > best.Served {
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
		bound := s.shareOut(ctx, hopes, want, limit, true, nil)
		if want = min(want, bound.AtMost); best.Served >= want || bound.Served < want || pause.Err(ctx) != nil {
			return best, max(want, best.Served), nil
		}
		// What a proof was made stronger with may have found drives too.
		if news, err = s.build(ctx, hopes, &bound); err != nil || !news && s.learned() == before {
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
	s.capCut(s.job, caps, others, have, 1)
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
		s.capCut(s.job, caps, others, have, n)
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
		if f == nil && s.sheetsShort {
			is, err := s.onlyHoped(ctx, s.job, caps, hopes[i].takes, tolerance)
			if err != nil || is != yes {
				return s.learned() > before, err
			}
			f = s.sawnBeside(caps, others, have, n)
		}
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
