package supply

import (
	"cmp"
	"context"
	"slices"
	"sort"

	"findrive/internal/allot"
	"findrive/internal/parts"
	"findrive/internal/pause"
)

// fewer looks for a plan that serves as many groups with fewer different drives, from one
// drive up. fewest is how many are needed at least: proved.
func (s *server) fewer(ctx context.Context, plan allot.Plan) (best allot.Plan, fewest int, err error) {
	best, fewest = plan, 1
	known := s.known([]float64{s.job.brief.Tolerance})
	best = s.shareOut(ctx, known, plan.Served, 0, false, plan.Counts)
	short, stop := s.briefly(ctx)
	defer stop()
	for n := 1; n < different(best) && pause.Err(short) == nil; n++ {
		few, most, err := s.closeIn(short, best.Served, n)
		switch {
		case err != nil:
			return best, fewest, err
		case few.Served == best.Served:
			return s.shareOut(ctx, s.known([]float64{s.job.brief.Tolerance}), best.Served, n, false, few.Counts), fewest, nil
		case most < best.Served && fewest == n:
			fewest = n + 1
		}
	}
	return best, fewest, nil
}

// mostPolish is how often the shares of a plan are gone through for better drives.
const mostPolish = 3

// better looks for plans of fewer points that serve as many groups with as many different
// drives: of better drives share by share.
func (s *server) better(ctx context.Context, plan allot.Plan) (allot.Plan, error) {
	tolerance := []float64{s.job.brief.Tolerance}
	limit := s.limitFor(plan)
	plan = s.shareOut(ctx, s.known(tolerance), plan.Served, limit, false, plan.Counts)
	short, stop := s.briefly(ctx)
	defer stop()
	for range mostPolish {
		if err := s.polishShares(short, plan); err != nil {
			return plan, err
		}
		next := s.shareOut(ctx, s.known(tolerance), plan.Served, limit, false, plan.Counts)
		if next.Cost >= plan.Cost {
			break
		}
		plan = next
	}
	return plan, nil
}

// polishShares looks for better drives for what each share of a plan may take, the parts
// that the plan leaves included.
func (s *server) polishShares(ctx context.Context, plan allot.Plan) error {
	known := s.known([]float64{s.job.brief.Tolerance})
	p, have := s.problem(known), s.had(nil)
	for i, n := range plan.Counts {
		if n == 0 || pause.Err(ctx) != nil {
			continue
		}
		others := slices.Clone(plan.Counts)
		others[i] = 0
		caps := s.capsFrom(0, s.left(p, have, others), 1)
		if _, err := s.search(ctx, s.job, s.beside(s.job, caps, sawnBy(known, others), have, n), n, 2, s.job.brief.Tolerance); err != nil {
			return err
		}
		if _, err := s.search(ctx, s.job, s.besides(known, plan.Counts, i), n, 2, s.job.brief.Tolerance); err != nil {
			return err
		}
	}
	return nil
}

// besides is what a share may take if the others give way wherever they have not used a
// part up: two shares may then change together.
func (s *server) besides(known []choice, counts []int, share int) *parts.Cupboard {
	caps := make([]int, len(s.parts))
	for k, p := range s.parts {
		have := p.stock
		left, others, each := have, 0, 0
		for i, n := range counts {
			if n == 0 {
				continue
			}
			left -= n * known[i].takes[k]
			if i != share {
				others, each = others+n*known[i].takes[k], max(each, known[i].takes[k])
			}
		}
		if caps[k] = have; left < each {
			caps[k] = have - others
		}
	}
	all, have := slices.Clone(counts), s.had(nil)
	all[share] = 0
	for i, n := range all {
		more := slices.Clone(counts)
		if more[i]++; n > 0 && !s.sawable(sawnBy(known, more), have) {
			return s.beside(s.job, caps, sawnBy(known, all), have, counts[share])
		}
	}
	return s.beside(s.job, caps, nil, have, counts[share])
}

// single finds the drive that by itself serves the most groups, of so many at most.
func (s *server) single(ctx context.Context, out *Serving, all []int, most int) error {
	out.SingleMost = most
	for out.SingleSets = s.furthest(ctx, out, all, most); out.SingleSets < out.SingleMost; {
		sets := (out.SingleSets + out.SingleMost + 1) / 2
		is, err := s.any(ctx, s.job, s.job.from(all, sets), sets, s.job.brief.Tolerance)
		switch {
		case err != nil:
			return err
		case is == no:
			out.SingleMost = sets - 1
		case is == unknown:
			out.SingleSets = s.furthest(ctx, out, all, most)
			return nil
		default:
			out.SingleSets = s.furthest(ctx, out, all, most)
		}
	}
	return nil
}

// furthest is how many groups the known drive that goes furthest serves; of those looked at
// when ctx ends.
func (s *server) furthest(ctx context.Context, out *Serving, all []int, most int) int {
	best := 0
	for _, f := range s.job.drives {
		if best > 0 && pause.Err(ctx) != nil {
			break
		}
		n := most
		for i, t := range f.takes {
			if t > 0 && s.parts[i].kind != "axle" {
				n = min(n, all[i]/t)
			}
		}
		if n < best {
			continue
		}
		n = sort.Search(n, func(k int) bool { return !s.sawable(times(f.sawn, k+1), all) })
		if n > best || n == best && out.Single != nil && f.drive.Total < out.Single.Total {
			best, out.Single = n, f.drive
		}
	}
	return best
}

// finish writes the answer out.
func (s *server) finish(out *Serving, plan allot.Plan, fewest int) {
	known := s.known([]float64{s.job.brief.Tolerance})
	out.PointsProved = s.settled == len(known) // else drives were found since, or it is open
	used := make([]bool, len(s.parts))
	for i := range known {
		f := known[i].drive
		share := Share{Drive: f.drive, Groups: 1}
		for k := range s.parts {
			if f.takes[k] > 0 {
				used[k] = true
				share.Takes = append(share.Takes, Piece{s.parts[k].kind, s.parts[k].name, f.takes[k]})
			}
			if f.gone[k] > 0 {
				share.Gone = append(share.Gone, Piece{s.parts[k].kind, s.parts[k].name, f.gone[k]})
			}
		}
		out.Weighed = append(out.Weighed, share)
		if i < len(plan.Counts) && plan.Counts[i] > 0 {
			share.Groups = plan.Counts[i]
			out.Shares = append(out.Shares, share)
			out.Served += share.Groups
		}
	}
	for k, p := range s.parts {
		if used[k] {
			out.Stock = append(out.Stock, Piece{p.kind, p.name, s.job.pieces(k)})
		}
	}
	slices.SortStableFunc(out.Shares, func(a, b Share) int {
		return cmp.Or(cmp.Compare(b.Groups, a.Groups), cmp.Compare(a.Drive.Total, b.Drive.Total))
	})
	out.Fewest = min(fewest, max(1, len(out.Shares)))
	out.SingleMost = max(out.SingleMost, out.SingleSets)
	if len(out.Shares) == 1 && out.Single == nil {
		out.Single, out.SingleSets = out.Shares[0].Drive, out.Served
	}
}
