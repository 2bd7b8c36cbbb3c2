package supply

import (
	"cmp"
	"context"
	"math"
	"slices"

	"findrive/internal/design"
	"findrive/internal/money"
	"findrive/internal/pause"
	"findrive/internal/purchase"
	"findrive/internal/score"
)

// choice is one thing that a group of a job may build: a drive, or what a drive would
// take that nobody has found.
type choice struct {
	job         int
	drive       *found // nil for what nobody has found
	takes, gone []int
	sawn        []sawn // of axles, that of takes is not counted
}

// solution is the least money, as far as it is known.
type solution struct {
	plan    purchase.Plan
	choices []choice
	atLeast money.Amount // proved
	proved  bool
}

// known are the drives found within the tolerances.
func (a *asker) known(tolerance []float64) []choice {
	var out []choice
	for i, j := range a.jobs {
		for _, f := range j.drives {
			if f.off <= tolerance[i] {
				out = append(out, choice{i, f, f.takes, f.gone, f.sawn})
			}
		}
	}
	return out
}

// hoped are what drives take at least; ok is false if there are too many ways.
func (a *asker) hoped(tolerance []float64, dearest money.Amount) (out []choice, ok bool) {
	for i, j := range a.jobs {
		all, ok := a.vectors(j, tolerance[i], dearest)
		if !ok {
			return nil, false
		}
		for _, h := range all {
			gone := make([]int, len(h))
			for k, n := range h {
				if a.goes[k] {
					gone[k] = n
				}
			}
			out = append(out, choice{i, nil, h, gone, j.sawnAtLeast(h)})
		}
	}
	return out, true
}

// problem is the purchase for some choices.
func (a *asker) problem(choices []choice) *purchase.Problem {
	p := &purchase.Problem{Mix: a.q.Mix}
	for _, j := range a.jobs {
		p.Tasks = append(p.Tasks, purchase.Task{Groups: j.groups, Another: int64(score.AnotherDrive(j.brief.Weights))})
	}
	turns := a.turns()
	p.Stock = a.had(nil)
	for i := range a.parts {
		for range turns {
			p.Rows = append(p.Rows, purchase.Row{Part: i, Scale: 1})
		}
	}
	for _, j := range a.jobs {
		for _, n := range slices.Concat(j.sure, j.none) {
			var set []int
			for i, most := range n.caps {
				if most != plenty && j.most[i] > most && a.parts[i].kind != "axle" {
					for turn := range turns {
						set = append(set, i*turns+turn)
					}
				}
			}
			if len(set) > 1 {
				p.Together = append(p.Together, set)
			}
		}
	}
	for _, c := range choices {
		takes := make([]int, len(p.Rows))
		for i, n := range c.takes {
			if n == 0 || a.parts[i].kind == "axle" {
				continue
			}
			for turn := range turns {
				switch {
				case !a.q.InTurn || turn == c.job:
					takes[i*turns+turn] = n
				case turn > c.job: // what was used up is missed from then on
					takes[i*turns+turn] = c.gone[i]
				}
			}
		}
		cost := int64(0)
		if c.drive != nil {
			cost = int64(c.drive.drive.Total)
		}
		p.Choices = append(p.Choices, purchase.Choice{Task: c.job, Cost: cost, Takes: takes})
	}
	for _, o := range a.q.List.Offers {
		p.Offers = append(p.Offers, purchase.Offer{Part: a.bought(o.Kind, o.Part), Supplier: o.Supplier, Pack: o.Pack, Price: o.Price, Least: o.Least})
	}
	for _, s := range a.q.List.Suppliers {
		p.Suppliers = append(p.Suppliers, purchase.Supplier{Carriage: s.Carriage, FreeFrom: s.FreeFrom, Minimum: s.Minimum})
	}
	a.measuring(p, choices)
	a.sawing(p, choices)
	return p
}

// least closes in on the least money for which all groups can build within tolerances.
func (a *asker) least(ctx context.Context, tolerance []float64) (*solution, error) {
	s := &solution{}
	for {
		whole := a.fromKnown(ctx, s, tolerance, true)
		if s.settled() {
			return s, nil
		}
		dearest := money.Amount(-1)
		if s.plan.Found {
			dearest = s.plan.Money
		}
		hopes, ok := a.hoped(tolerance, dearest)
		if !ok {
			return s, nil
		}
		bound := purchase.Least(ctx, a.problem(hopes), purchase.Options{MoneyOnly: true})
		switch {
		case !bound.Found && bound.Proved:
			// Whatever else may be hoped for costs as much as the plan.
			s.proved = true
			if s.plan.Found {
				s.atLeast = s.plan.Money
			}
			return s, nil
		case s.plan.Found:
			s.atLeast = max(s.atLeast, min(bound.AtLeast, s.plan.Money))
		default:
			s.atLeast = max(s.atLeast, bound.AtLeast)
		}
		if s.settled() || !bound.Proved || pause.Err(ctx) != nil {
			return s, nil
		}
		built, news, err := a.settle(ctx, hopes, &bound, tolerance)
		switch {
		case err != nil:
			return s, err
		case built != nil:
			s.take(*built)
		case !news && whole:
			return s, nil
		case !news: // the drives that are known may come to more than was looked for
			a.fromKnown(ctx, s, tolerance, false)
			s.settled()
			return s, nil
		}
	}
}

// fromKnown takes the least money with the drives that are known, if it is less than that
// of a solution. With quick it may be more; whole is whether it surely is the least.
func (a *asker) fromKnown(ctx context.Context, s *solution, tolerance []float64, quick bool) (whole bool) {
	choices := a.known(tolerance)
	plan := purchase.Least(ctx, a.problem(choices), purchase.Options{MoneyOnly: true, Quick: quick})
	s.take(solution{plan: plan, choices: choices})
	return plan.Proved
}

// take takes another plan if it costs less.
func (s *solution) take(o solution) {
	if o.plan.Found && (!s.plan.Found || o.plan.Money < s.plan.Money) {
		s.plan, s.choices = o.plan, o.choices
	}
}

// settled is whether the plan is proved to cost least, and notes that it is.
func (s *solution) settled() bool {
	s.proved = s.proved || s.plan.Found && s.plan.Money <= s.atLeast
	return s.proved
}

// settle tries to build what a bound hopes for from what it buys. Group by group of those
// that hope for the same, the search may take whatever the others leave. If there is a
// drive for all, the purchase may do; if there is none for one of them, that hope was
// in vain, and why is noted. What is built is nil if there is not a drive for all, and news
// is false if nothing new was found out.
func (a *asker) settle(ctx context.Context, hopes []choice, bound *purchase.Plan, tolerance []float64) (built *solution, news bool, err error) {
	before := a.learned()
	built = &solution{plan: purchase.Plan{Found: true, Packs: bound.Packs, Money: bound.Money}}
	p := a.problem(hopes)
	have := a.had(bound.Packs)
	left := a.left(p, have, bound.Counts)
	cut := make([][]sawn, len(hopes)) // by the groups of each hope
	for i, n := range bound.Counts {
		cut[i] = times(hopes[i].sawn, n)
	}
	for i, n := range bound.Counts {
		if n == 0 {
			continue
		}
		h := &hopes[i]
		j := a.jobs[h.job]
		add := func(takes []int, sign int) {
			for r := range left {
				left[r] += sign * n * takes[r]
			}
		}
		add(p.Choices[i].Takes, 1)
		cut[i] = nil
		caps := a.capsFrom(h.job, left, n)
		a.capCut(j, caps, slices.Concat(cut...), have, n)
		is, err := a.ask(ctx, j, caps, tolerance[h.job])
		switch {
		case err != nil:
			return nil, false, err
		case is == unknown:
			return nil, a.learned() > before, nil
		case is == no:
			return nil, true, a.refute(ctx, j, caps, tolerance[h.job])
		}
		f := j.fitting(caps, tolerance[h.job])
		if others := slices.Concat(cut...); f == nil || !a.sawable(slices.Concat(others, times(f.sawn, n)), have) {
			// Each set by itself can have its axles, and all together cannot, for the rods yield
			// fewer of those that are longer than the shortest.
			g, err := a.sawnForAll(ctx, j, caps, others, have, n, tolerance[h.job])
			if err != nil {
				return nil, false, err
			}
			f = cmp.Or(g, f)
		}
		if a.sheetsShort && (f == nil || !a.reach(slices.Concat(slices.Concat(cut...), times(f.sawn, n)))) {
			is, err := a.onlyHoped(ctx, j, caps, h.takes, tolerance[h.job])
			if err != nil || is != yes {
				return nil, a.learned() > before, err
			}
			f = j.fitting(caps, tolerance[h.job])
		}
		if f == nil { // found, but with more axles than were to be had
			return nil, a.learned() > before, nil
		}
		of := choice{h.job, f, f.takes, f.gone, f.sawn}
		add(a.problem([]choice{of}).Choices[0].Takes, -1)
		cut[i] = times(f.sawn, n)
		built.choices, built.plan.Counts = append(built.choices, of), append(built.plan.Counts, n)
		built.plan.Cost += int64(n) * int64(f.drive.Total)
	}
	short := func(n int) bool { return n < 0 } // as of what is glued, in later turns
	if slices.ContainsFunc(left, short) || !a.sawable(slices.Concat(cut...), have) {
		built = nil
	}
	return built, a.learned() > before, nil
}

// sawnForAll is a drive of which n sets, each within caps, can be sawn beside others; nil if none
// is found.
func (a *asker) sawnForAll(ctx context.Context, j *job, caps []int, others []sawn, have []int, n int, tolerance float64) (*found, error) {
	known := func() *found {
		i := slices.IndexFunc(j.drives, func(f *found) bool {
			return f.off <= tolerance && within(f.takes, caps) && a.sawable(slices.Concat(others, times(f.sawn, n)), have)
		})
		if i < 0 {
			return nil
		}
		return j.drives[i]
	}
	if f := known(); f != nil {
		return f, nil
	}
	all := slices.Clone(caps)
	for i := range all {
		if all[i] != plenty {
			all[i] *= n
		}
	}
	if _, err := a.put(ctx, j, a.beside(j, all, others, have, n), n, 1, tolerance, design.Exists); err != nil {
		return nil, err
	}
	return known(), nil
}

// learned is how much is known of what drives there are.
func (a *asker) learned() int {
	n := 0
	for _, j := range a.jobs {
		n += len(j.drives) + len(j.none)
	}
	return n
}

// turns is how often a part can be used, one time after another.
func (a *asker) turns() int {
	if a.q.InTurn {
		return len(a.jobs)
	}
	return 1
}

// capsFrom is how many of each part one of n sets of a job may take from what is left of
// the rows.
func (a *asker) capsFrom(job int, left []int, n int) []int {
	caps := slices.Repeat([]int{plenty}, len(a.parts))
	turns := a.turns()
	for r := range left {
		i := r / turns
		if turn := r % turns; !a.limited[i] || a.parts[i].kind == "axle" || a.q.InTurn && turn < job || a.q.InTurn && turn > job && !a.goes[i] {
			continue
		}
		if room := max(0, left[r]) / n; caps[i] == plenty || room < caps[i] {
			caps[i] = room
		}
	}
	return caps
}

// left is what so many of each choice leave of each part that is counted, turn by turn.
func (a *asker) left(p *purchase.Problem, have, counts []int) []int {
	left := make([]int, len(a.parts)*a.turns())
	for r, row := range p.Rows[:len(left)] {
		left[r] = have[row.Part]
		for i, n := range counts {
			left[r] -= n * p.Choices[i].Takes[r]
		}
	}
	return left
}

// had is how many there are of each part, then of each rod, with some packs. Axles are cut:
// there are none.
func (a *asker) had(packs []int) []int {
	have := make([]int, len(a.parts)+len(a.rods))
	for i, p := range a.parts {
		if p.kind != "axle" {
			have[i] = p.stock
		}
	}
	for k, r := range a.rods {
		have[len(a.parts)+k] = r.stock
	}
	for o, n := range packs {
		offer := &a.q.List.Offers[o]
		have[a.bought(offer.Kind, offer.Part)] += n * offer.Pack
	}
	return have
}

// plan writes a solution out.
func (a *asker) plan(s *solution) *Plan {
	p := &Plan{Money: s.plan.Money, AtLeast: min(s.atLeast, s.plan.Money), Proved: s.proved, PointsProved: s.plan.CostProved}
	have := a.had(s.plan.Packs)
	used := make([]int, len(a.parts)) // at the time when most is in use
	for i, n := range s.plan.Counts {
		if n == 0 {
			continue
		}
		c := &s.choices[i]
		f := c.drive
		share := Share{Brief: c.job, Groups: n, Drive: f.drive}
		for k := range a.parts {
			if f.takes[k] > 0 {
				share.Takes = append(share.Takes, Piece{a.parts[k].kind, a.parts[k].name, f.takes[k]})
			}
			if f.gone[k] > 0 {
				share.Gone = append(share.Gone, Piece{a.parts[k].kind, a.parts[k].name, f.gone[k]})
			}
		}
		p.Shares = append(p.Shares, share)
		p.WorstSpeed = math.Max(p.WorstSpeed, f.off)
		p.Points += f.drive.Total * score.Points(n)
	}
	slices.SortStableFunc(p.Shares, func(x, y Share) int {
		if x.Brief != y.Brief {
			return x.Brief - y.Brief
		}
		return y.Groups - x.Groups
	})
	used = append(used, a.begun(p.Shares, have)...)
	problem := a.problem(s.choices)
	for r, row := range problem.Rows[:len(a.parts)*a.turns()] {
		sum := 0
		for i, n := range s.plan.Counts {
			sum += n * problem.Choices[i].Takes[r]
		}
		used[row.Part] = max(used[row.Part], sum)
	}
	goods := make([]money.Amount, len(a.q.List.Suppliers))
	for o, n := range s.plan.Packs {
		if n == 0 {
			continue
		}
		offer := a.q.List.Offers[o]
		at := a.bought(offer.Kind, offer.Part)
		sum := money.Amount(n) * offer.Price
		goods[offer.Supplier] += sum
		p.Bought = append(p.Bought, Bought{offer, n, sum, have[at] - used[at]})
	}
	slices.SortStableFunc(p.Bought, func(x, y Bought) int { return x.Offer.Supplier - y.Offer.Supplier })
	for i, g := range goods {
		if g > 0 {
			p.Carriage = append(p.Carriage, Carriage{a.q.List.Suppliers[i].Name, g, problem.Suppliers[i].CarriageOn(g)})
		}
	}
	return p
}
