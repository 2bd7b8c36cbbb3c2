package purchase

import "findrive/internal/money"

// fill adds the cheapest packs of a supplier to a purchase that make up what is short
// of its least order; not ok if they cost limit or more.
func (b *basket) fill(packs []int, supplier int, short, limit money.Amount) (paid money.Amount, ok bool) {
	var offers []int
	top := limit - 1
	for o := range b.Offers {
		if f := &b.Offers[o]; f.Supplier == supplier {
			offers = append(offers, o)
			top = min(top, short+f.Price*money.Amount(b.atOnce(packs, o))) // this offer alone will do for so much
		}
	}
	if top < short {
		return 0, false
	}
	// made[a] says by which offer, in their order, an amount was first made up exactly,
	// and with how many packs of it; the rest was made up before.
	type step struct{ offer, packs int32 }
	const never = -1
	made := make([]step, top+1)
	for a := range made {
		made[a].offer = never
	}
	made[0] = step{0, 0}
	for i, o := range offers {
		nth := int32(i + 1)
		price, once := b.Offers[o].Price, b.atOnce(packs, o)
		all := price * money.Amount(once)
		with := make([]int32, top+1) // how many packs of this offer make up an amount, if some do
		for a := price; a <= top; a++ {
			if n := with[a-price]; n > 0 {
				with[a] = n + 1
			} else if a >= all && made[a-all].offer != never && made[a-all].offer < nth {
				with[a] = int32(once)
			}
			if made[a].offer == never && with[a] > 0 {
				made[a] = step{nth, with[a]}
			}
		}
	}
	for a := short; a <= top; a++ {
		if made[a].offer == never {
			continue
		}
		for rest := a; rest > 0; {
			s := made[rest]
			o := offers[s.offer-1]
			packs[o] += int(s.packs)
			rest -= b.Offers[o].Price * money.Amount(s.packs)
		}
		return a, true
	}
	return 0, false
}

// atOnce is how many more packs of an offer must be had at once: one, if enough of it
// are bought as it is.
func (b *basket) atOnce(packs []int, offer int) int {
	return max(1, b.Offers[offer].Least-packs[offer])
}
