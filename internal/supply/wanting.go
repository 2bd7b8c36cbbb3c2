package supply

import (
	"context"

	"findrive/internal/prices"
)

// Wanting is the fewest pieces with which all groups could build though no order from
// the list lets them: a part may be short of which the list sells none, or too few.
type Wanting struct {
	Pieces []Piece // in the order of the parts
	Proved bool    // no fewer pieces would do
}

// wanting asks for the least from a list of our own, that sells every part of the
// cupboard and of the list in ones, each for the smallest coin. It is nil if even that
// does not help, or nothing was found in the time.
func wanting(ctx context.Context, q *Question, opt Options) (*Wanting, error) {
	all := *q
	all.List = &prices.List{Name: q.List.Name, Currency: q.List.Currency, Suppliers: []prices.Supplier{{Name: "any"}}, Parts: q.List.Parts}
	shelf := newShelf(q)
	sell := func(kind, name string) {
		all.List.Offers = append(all.List.Offers, prices.Offer{Name: kind + " " + name, Kind: kind, Part: name, Pack: 1, Price: 1, Least: 1})
	}
	for _, p := range shelf.parts {
		if p.kind != "axle" && p.made == nil {
			sell(p.kind, p.name)
		}
	}
	for _, r := range shelf.rods {
		sell("axle", r.name)
	}
	opt.Line, opt.Packs = false, false
	if opt.LineLimit != nil {
		var stop context.CancelFunc
		ctx, stop = opt.LineLimit(ctx)
		defer stop()
	}
	r, err := find(ctx, &all, opt)
	if err != nil || r.Plan == nil {
		return nil, err
	}
	w := &Wanting{Proved: r.Plan.Proved}
	for _, b := range r.Plan.Bought {
		w.Pieces = append(w.Pieces, Piece{Kind: b.Offer.Kind, Name: b.Offer.Part, Pieces: b.Packs})
	}
	return w, nil
}
