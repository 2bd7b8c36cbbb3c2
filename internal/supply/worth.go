package supply

import (
	"findrive/internal/money"
	"findrive/internal/parts"
)

// Worth is what the parts in use cost, however they were come by: at the price of a piece
// in the cheapest pack of the list, or the cupboard's own price. It is rounded up.
type Worth struct {
	Consumed money.Amount // does not come back
	Kept     money.Amount // comes back when the models are taken apart
	// Unpriced are parts for which neither list nor cupboard has a price.
	Unpriced []Piece
}

// worth adds up what some shares take. With inTurn kept parts count once, for the brief
// that has most of them in use.
// Of axles the rods count that are begun for them, of those that there are.
func (a *asker) worth(shares []Share, have []int) Worth {
	gone, kept := make([]int64, len(a.parts)), make([]int64, len(a.parts))
	per := make([]map[int]int64, len(a.parts)) // kept, by brief
	for _, s := range shares {
		lost := map[int]int{}
		for _, g := range s.Gone {
			at := a.at[key{g.Kind, g.Name}]
			lost[at] = g.Pieces
			gone[at] += int64(s.Groups * g.Pieces)
		}
		for _, t := range s.Takes {
			at := a.at[key{t.Kind, t.Name}]
			if per[at] == nil {
				per[at] = map[int]int64{}
			}
			per[at][s.Brief] += int64(s.Groups * (t.Pieces - lost[at]))
		}
	}
	for at, by := range per {
		for _, n := range by {
			if a.q.InTurn {
				kept[at] = max(kept[at], n)
			} else {
				kept[at] += n
			}
		}
	}
	var w Worth
	var consumed, back int64 // in thousandths of the smallest coin
	for i, p := range a.parts {
		if gone[i]+kept[i] == 0 {
			continue
		}
		if p.kind == "axle" || p.made != nil {
			continue
		}
		piece, ok := a.price(i)
		if !ok {
			w.Unpriced = append(w.Unpriced, Piece{p.kind, p.name, int(gone[i]) + int(kept[i])})
			continue
		}
		consumed += gone[i] * piece
		back += kept[i] * piece
	}
	for k, n := range a.begun(shares, have) {
		piece, ok := a.price(len(a.parts) + k)
		switch {
		case n == 0:
		case ok:
			consumed += int64(n) * piece
		default:
			w.Unpriced = append(w.Unpriced, Piece{"axle", a.rods[k].name, n})
		}
	}
	for k, n := range a.sheetsCut(shares) {
		sheet := &a.together.Sheets[k].Item
		switch {
		case n == 0:
		case sheet.PricePence > 0 && a.q.List.Currency.Digits == parts.PriceDigits:
			consumed += int64(n) * 1000 * sheet.PricePence
		default:
			w.Unpriced = append(w.Unpriced, Piece{"sheet", sheet.Name, n})
		}
	}
	w.Consumed, w.Kept = money.Amount((consumed+999)/1000), money.Amount((back+999)/1000)
	return w
}

// price is what a piece of a part or a rod costs, in thousandths of the smallest coin.
func (a *asker) price(part int) (int64, bool) {
	kind, names, onSale := "axle", []string(nil), false
	if part < len(a.parts) {
		kind, names, onSale = a.parts[part].kind, a.parts[part].names, a.parts[part].onSale
	} else {
		r := &a.rods[part-len(a.parts)]
		names, onSale = r.names, r.onSale
	}
	if !onSale {
		for _, name := range names {
			if it := a.q.Cupboard.Item(kind, name); it != nil && it.PricePence > 0 && a.q.List.Currency.Digits == parts.PriceDigits {
				return 1000 * it.PricePence, true
			}
		}
		return 0, false
	}
	return int64(a.piece[part]), true
}
