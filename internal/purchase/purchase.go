// Package purchase finds the least money for which several groups can all build
// something: what each builds, and which packs are bought where. It is exact, and knows
// nothing of pulleys.
//
// Purchases are looked at in the order of their money. One that does not let everyone
// build is answered by a conflict: parts of one of which there must be more, or nobody
// more is served. Each of them in turn is then bought, so that every purchase that
// could do is in one branch, and the first that does is the cheapest.
package purchase

import (
	"context"
	"math"

	"findrive/internal/money"
)

// Problem is what is to be built, from what, and what can be bought.
type Problem struct {
	Tasks   []Task
	Choices []Choice
	Rows    []Row
	Stock   []int // pieces of each part
	Offers  []Offer
	// Suppliers are few: every set of them is looked at.
	Suppliers []Supplier
	// Together are sets of rows that are also reckoned with as one, what choices take of
	// them added up. That changes no answer; where every choice takes some of a set it
	// is found sooner.
	Together [][]int
	// Fits tells whether parts are enough where adding up what is taken of each does not
	// tell, as with pieces cut from lengths: taken is what all choices take of each row of
	// no part, in their order, and have the pieces there are of each part, at most
	// Unlimited. What fits does so with less taken and with more of any part. It depends on
	// the parts in Joint only. Nil if adding up is all.
	Fits  func(taken, have []int) bool
	Joint []int
	// Mix is whether groups of one task may build different choices.
	Mix bool
}

// Task is something that so many groups build.
type Task struct {
	Groups  int
	Another int64 // cost of each different choice after the first, 0 or more
}

// Choice is one way to do a task.
type Choice struct {
	Task  int
	Cost  int64 // for each group, 0 or more
	Takes []int // of each row, for each group, 0 or more
}

// Row is a limit: what all choices take of it together is at most Scale times the
// pieces there are of Part, bought ones included. A part has several rows where it can
// be used more than once, one time after another.
//
// A row of no part, its Part below 0, is no limit by itself: Fits is asked about it.
type Row struct{ Part, Scale int }

// Offer is a pack of one part at one supplier.
type Offer struct {
	Part, Supplier int
	Pack           int // pieces, at least 1
	Price          money.Amount
	Least          int // packs, if any are bought; at least 1
}

// Supplier is who sells; see prices.Supplier.
type Supplier struct{ Carriage, FreeFrom, Minimum money.Amount }

// CarriageOn is the carriage on goods worth so much.
func (s *Supplier) CarriageOn(goods money.Amount) money.Amount {
	if goods == 0 || s.FreeFrom > 0 && goods >= s.FreeFrom {
		return 0
	}
	return s.Carriage
}

// Plan is what Least comes to.
type Plan struct {
	Found  bool  // some purchase lets all groups build; else the plan is empty
	Counts []int // groups that build each choice
	Packs  []int // bought of each offer
	Money  money.Amount
	Cost   int64
	// AtLeast is what every purchase that lets all groups build costs, at least:
	// proved. It is Money if the purchase is the cheapest.
	AtLeast money.Amount
	// Proved is true if AtLeast is Money, or if it is proved that no purchase will do.
	Proved bool
	// CostProved is true if of all plans for that money none has a lower cost.
	CostProved bool
}

// Options steer Least.
type Options struct {
	// MoneyOnly leaves the plan's cost as it comes: not the least for the money.
	MoneyOnly bool
	// Quick gives up after a hundredth of the work that is done else.
	Quick bool
}

// Unlimited is more of a part than anybody uses.
const Unlimited = math.MaxInt32

const unlimited = Unlimited

// mostNodes is how many purchases are looked at before the search gives up with what
// it has.
const mostNodes = 200_000

// Least is the plan that costs the least money and, of those, has the least cost. When
// ctx ends it is the best so far.
func Least(ctx context.Context, p *Problem, opt Options) Plan {
	s := newSearch(ctx, p)
	if opt.Quick {
		s.mostNodes, s.sharing.mostOfAll = mostNodes/100, mostOfAll/100
	}
	s.firstGuess()
	s.push(node{need: make([]int, len(p.Stock))})
	for s.queue.Len() > 0 {
		n := s.pop()
		if s.best.Found && (n.money > s.best.Money || n.money == s.best.Money && opt.MoneyOnly) {
			break
		}
		if s.stopped() || !s.open(n, opt) {
			s.best.AtLeast = n.money
			s.best.Proved = s.best.Found && n.money >= s.best.Money
			return s.best
		}
	}
	s.best.AtLeast = s.best.Money
	s.best.Proved = !s.basket.inexact
	s.best.CostProved = s.best.Proved && s.best.Found && !opt.MoneyOnly && !s.costOpen
	if s.basket.inexact {
		s.best.AtLeast = 0
	}
	return s.best
}

// open looks at a purchase: it may be the best; and what more might be bought is
// queued. It is false if that could not be settled.
func (s *search) open(n node, opt Options) bool {
	limit := int64(math.MaxInt64)
	if s.best.Found && n.money == s.best.Money {
		limit = s.best.Cost // as much money must bring a lower cost
	}
	var counts []int
	var cost int64
	settled := true
	if s.short(s.caps(n.bought)) == nil {
		counts, cost, settled = s.share(s.caps(n.bought), limit, opt.MoneyOnly)
	}
	switch {
	case counts != nil:
		s.best.Found, s.best.Counts, s.best.Packs = true, counts, n.packs
		s.best.Money, s.best.Cost = n.money, cost
		s.costOpen = s.costOpen || !settled
		if opt.MoneyOnly {
			return true
		}
		limit = cost
	case !settled:
		return false
	}
	parts, settled := s.conflict(n, limit)
	if !settled {
		return false
	}
	for i, part := range parts {
		// Of the parts in conflict more is bought of the first; or not of it, and of
		// the second; and so on. No purchase is in two branches.
		child := node{need: clone(n.need), most: clone(n.most)}
		child.need[part] = n.bought[part] + 1
		if child.most == nil {
			child.most = make([]int, len(s.Stock))
			for k := range child.most {
				child.most[k] = unlimited
			}
		}
		for _, before := range parts[:i] {
			child.most[before] = min(child.most[before], n.bought[before])
		}
		s.push(child)
	}
	return true
}

// conflict is a set of parts of one of which more must be bought than n buys, or no
// plan costs less than limit; none if more of no part helps. It has as few parts as are
// left when one after the other is left out that can be, those of which a piece more is
// cheap first, so that the dear ones stay.
func (s *search) conflict(n node, limit int64) (parts []int, settled bool) {
	bound := s.caps(n.bought)
	if set := s.short(bound); set != nil {
		for _, k := range s.buyable {
			if n.mostOf(k) > n.bought[k] && set[k] {
				parts = append(parts, k)
			}
		}
		return parts, true
	}
	caps := clone(bound)
	var could []int
	for _, k := range s.buyable {
		if n.mostOf(k) > n.bought[k] && s.used[k] {
			could = append(could, k)
			caps[k] = s.atMost(n, k)
		}
	}
	if none, settled := s.none(caps, limit); none || !settled {
		return nil, settled
	}
	s.byPrice(could)
	for _, k := range could {
		caps[k] = bound[k]
	}
	for _, k := range could {
		caps[k] = s.atMost(n, k)
		none, settled := s.none(caps, limit)
		switch {
		case !settled:
			return nil, false
		case !none:
			caps[k] = bound[k]
			parts = append(parts, k)
		}
	}
	return parts, true
}

// none is whether no plan for so many of each part costs less than limit.
func (s *search) none(caps []int, limit int64) (none, settled bool) {
	counts, _, settled := s.share(caps, limit, true)
	return counts == nil, settled || counts != nil
}

// atMost is how many of a part there can be under a node.
func (s *search) atMost(n node, part int) int {
	if most := n.mostOf(part); most < unlimited {
		return s.Stock[part] + most
	}
	return unlimited
}

// caps is how many there are of each part.
func (s *search) caps(bought []int) []int {
	caps := clone(s.Stock)
	for i, b := range bought {
		caps[i] += b
	}
	return caps
}

func clone(v []int) []int {
	if v == nil {
		return nil
	}
	return append([]int(nil), v...)
}
