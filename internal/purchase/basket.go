package purchase

import (
	"cmp"
	"math"
	"slices"

	"findrive/internal/money"
)

// basket finds the cheapest way to buy so many of each part: which packs, at which
// suppliers, with carriage, and filled up to what a supplier takes an order for.
type basket struct {
	*Problem
	of       [][]int        // offers of each part
	perPiece []money.Amount // least price of a piece of each part, in thousandths
	cheap    map[lookup]way
	all      map[lookup][]way
	// inexact is true once something was left out because there was too much of it.
	inexact bool
}

// lookup is a part, how many of it, and the suppliers that may be bought from, a bit
// each.
type lookup struct{ part, need, from int }

// way is packs of the offers of one part.
type way struct {
	packs []int // as basket.of[part]
	paid  money.Amount
}

// Cheapest is the least money for at least so many pieces of each part, and the packs of
// each offer; not ok if they cannot be had.
func (p *Problem) Cheapest(need []int) (packs []int, paid money.Amount, ok bool) {
	return newBasket(p).cheapest(need, math.MaxInt64)
}

const unaffordable money.Amount = math.MaxInt64 / 4

func newBasket(p *Problem) *basket {
	b := &basket{Problem: p, of: make([][]int, len(p.Stock)), perPiece: make([]money.Amount, len(p.Stock)), cheap: map[lookup]way{}, all: map[lookup][]way{}}
	for o, offer := range p.Offers {
		b.of[offer.Part] = append(b.of[offer.Part], o)
	}
	for part, offers := range b.of {
		b.perPiece[part] = unaffordable
		for _, o := range offers {
			b.perPiece[part] = min(b.perPiece[part], 1000*p.Offers[o].Price/money.Amount(p.Offers[o].Pack))
		}
	}
	return b
}

// terms are how the suppliers are bought from.
type terms struct {
	from     int            // suppliers, a bit each
	carriage money.Amount   // of all
	spend    []money.Amount // at each at least
}

// asked is what must be spent at all suppliers together.
func (t *terms) asked() (sum money.Amount) {
	for _, a := range t.spend {
		sum += a
	}
	return sum
}

// cheapest is the least money for at least so many pieces of each part, and the packs;
// not ok if that cannot be had for limit.
func (b *basket) cheapest(need []int, limit money.Amount) (packs []int, paid money.Amount, ok bool) {
	var parts []int
	for part, n := range need {
		if n > 0 {
			parts = append(parts, part)
		}
	}
	if len(parts) == 0 {
		return make([]int, len(b.Offers)), 0, true
	}
	if limit < unaffordable {
		limit++
	} else {
		limit = unaffordable
	}
	best := order{basket: b, paid: limit}
	for _, t := range b.everyTerms(parts) {
		best.improve(t, parts, need)
	}
	return best.packs, best.paid, best.packs != nil
}

// everyTerms lists the ways to buy from those suppliers that offer some of the parts:
// first those that need not come to any sum.
func (b *basket) everyTerms(parts []int) []terms {
	useful := make([]bool, len(b.Suppliers))
	for _, part := range parts {
		for _, o := range b.of[part] {
			useful[b.Offers[o].Supplier] = true
		}
	}
	out := []terms{{spend: make([]money.Amount, len(b.Suppliers))}}
	for i, s := range b.Suppliers {
		if !useful[i] {
			continue
		}
		for _, t := range slices.Clone(out) {
			with := func(carriage, spend money.Amount) {
				w := terms{t.from | 1<<i, t.carriage + carriage, slices.Clone(t.spend)}
				w.spend[i] = spend
				out = append(out, w)
			}
			with(s.Carriage, s.Minimum)
			if s.Carriage > 0 && s.FreeFrom > 0 {
				with(0, max(s.Minimum, s.FreeFrom))
			}
		}
	}
	slices.SortStableFunc(out, func(a, b terms) int {
		return cmp.Or(cmp.Compare(a.asked(), b.asked()), cmp.Compare(a.carriage, b.carriage))
	})
	return out
}

// order is the best purchase so far.
type order struct {
	*basket
	packs []int // of each offer; nil if there is none yet
	paid  money.Amount
}

// improve looks for a better purchase on some terms. Every supplier of the terms is
// taken to be used, and its carriage paid: where it is not, other terms say so.
func (best *order) improve(t terms, parts, need []int) {
	b := best.basket
	rest := make([]money.Amount, len(parts)+1) // what parts i and later cost at least
	for i := len(parts) - 1; i >= 0; i-- {
		w := b.cheapestWay(lookup{parts[i], need[parts[i]], t.from})
		if w.packs == nil {
			return
		}
		rest[i] = rest[i+1] + w.paid
	}
	asked := t.asked()
	if t.carriage+max(rest[0], asked) >= best.paid {
		return
	}
	packs := make([]int, len(b.Offers))
	spent := make([]money.Amount, len(b.Suppliers))
	for _, part := range parts {
		b.add(packs, spent, part, b.cheapestWay(lookup{part, need[part], t.from}), 1)
	}
	if best.take(t, packs, spent); asked == 0 {
		return // the cheapest of each part is the cheapest of all
	}
	if best.paid == t.carriage+max(rest[0], asked) {
		return
	}
	clear(packs)
	clear(spent)
	best.search(t, parts, need, rest, packs, spent, 0)
}

// search tries every way to buy each part in turn.
func (best *order) search(t terms, parts, need []int, rest []money.Amount, packs []int, spent []money.Amount, i int) {
	var sum, least money.Amount
	for s, a := range spent {
		sum += a
		least += max(a, t.spend[s])
	}
	if t.carriage+max(sum+rest[i], least) >= best.paid {
		return
	}
	if i == len(parts) {
		best.take(t, packs, spent)
		return
	}
	part := parts[i]
	for _, w := range best.everyWay(lookup{part, need[part], t.from}) {
		best.add(packs, spent, part, w, 1)
		best.search(t, parts, need, rest, packs, spent, i+1)
		best.add(packs, spent, part, w, -1)
	}
}

func (b *basket) add(packs []int, spent []money.Amount, part int, w way, sign int) {
	for i, n := range w.packs {
		o := b.of[part][i]
		packs[o] += sign * n
		spent[b.Offers[o].Supplier] += money.Amount(sign*n) * b.Offers[o].Price
	}
}

// take keeps a purchase, filled up to what the suppliers ask, if it is the best.
func (best *order) take(t terms, packs []int, spent []money.Amount) {
	full := slices.Clone(packs)
	paid := t.carriage
	for s := range best.Suppliers {
		paid += spent[s]
		if short := t.spend[s] - spent[s]; short > 0 {
			more, ok := best.fill(full, s, short, best.paid-paid)
			if !ok {
				return
			}
			paid += more
		}
	}
	if paid < best.paid {
		best.packs, best.paid = full, paid
	}
}

// cheapestWay is the least money for so many of a part, with nil packs if they cannot
// be had.
func (b *basket) cheapestWay(l lookup) way {
	if w, ok := b.cheap[l]; ok {
		return w
	}
	// paid[j] is the least money for j pieces of the offers looked at so far, and
	// taken[i][j] how many packs of offer i are in it.
	offers := b.of[l.part]
	paid := make([]money.Amount, l.need+1)
	for j := range paid {
		paid[j] = unaffordable
	}
	paid[0] = 0
	taken := make([][]int, len(offers))
	for i, at := range offers {
		o := &b.Offers[at]
		taken[i] = make([]int, l.need+1)
		if l.from&(1<<o.Supplier) == 0 {
			continue
		}
		with := make([]money.Amount, l.need+1) // with some packs of this offer
		next := slices.Clone(paid)
		packs := make([]int, l.need+1)
		for j := 1; j <= l.need; j++ {
			with[j] = paid[max(0, j-o.Least*o.Pack)] + money.Amount(o.Least)*o.Price
			packs[j] = o.Least
			if before := max(0, j-o.Pack); before > 0 && with[before]+o.Price < with[j] {
				with[j], packs[j] = with[before]+o.Price, packs[before]+1
			}
			if with[j] < next[j] {
				next[j], taken[i][j] = with[j], packs[j]
			}
		}
		paid = next
	}
	w := way{paid: unaffordable}
	if paid[l.need] < unaffordable {
		w = way{make([]int, len(offers)), paid[l.need]}
		rest := l.need
		for i := len(offers) - 1; i >= 0; i-- {
			w.packs[i] = taken[i][rest]
			rest = max(0, rest-w.packs[i]*b.Offers[offers[i]].Pack)
		}
	}
	b.cheap[l] = w
	return w
}

// mostWays is how many ways to buy one part are looked at where suppliers ask for an
// order of so much.
const mostWays = 5000

// everyWay lists the purchases of at least so many of a part from which no pack can be
// left out, the cheapest first.
func (b *basket) everyWay(l lookup) []way {
	if out, ok := b.all[l]; ok {
		return out
	}
	offers := b.of[l.part]
	packs := make([]int, len(offers))
	var out []way
	var choose func(i, have int, paid money.Amount)
	choose = func(i, have int, paid money.Amount) {
		if len(out) >= mostWays {
			b.inexact = true
			return
		}
		if i == len(offers) || have >= l.need {
			if have >= l.need && b.spare(offers, packs, have, l.need) {
				out = append(out, way{slices.Clone(packs), paid})
			}
			return
		}
		o := &b.Offers[offers[i]]
		choose(i+1, have, paid)
		if l.from&(1<<o.Supplier) == 0 {
			return
		}
		most := max(o.Least, (l.need-have+o.Pack-1)/o.Pack)
		for n := o.Least; n <= most; n++ {
			packs[i] = n
			choose(i+1, have+n*o.Pack, paid+money.Amount(n)*o.Price)
		}
		packs[i] = 0
	}
	choose(0, 0, 0)
	slices.SortStableFunc(out, func(x, y way) int { return cmp.Compare(x.paid, y.paid) })
	b.all[l] = out
	return out
}

// spare is whether every pack is needed: without one, or without the least that can be
// had of an offer, there are too few.
func (b *basket) spare(offers, packs []int, have, need int) bool {
	for i, n := range packs {
		o := &b.Offers[offers[i]]
		switch {
		case n == 0:
		case n > o.Least && have-o.Pack >= need, n == o.Least && have-n*o.Pack >= need:
			return false
		}
	}
	return true
}
