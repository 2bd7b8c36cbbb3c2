package plan

import (
	"bytes"
	"context"
	"fmt"
	"slices"

	"findrive/internal/brief"
	"findrive/internal/certificate"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/groups"
	"findrive/internal/parts"
	"findrive/internal/pause"
	"findrive/internal/prices"
	"findrive/internal/report"
	"findrive/internal/supply"
	"findrive/internal/units"
)

// share is a drive of an answer and the groups that build it.
type share struct {
	brief  int
	groups int
	drive  *design.Proposal
	takes  []supply.Piece
	gone   []supply.Piece
}

// OfClass is the plan of how a class is served. Each drive is searched for once more from
// what its groups take alone, so that it stands in the plan as the best that can be made
// of that, in full. The error is the search's, or that ctx ended.
func OfClass(ctx context.Context, r *groups.Result, threads int) (*Plan, error) {
	p := &Plan{Schema: SchemaVersion, Kind: Kind, From: "findrive class", Cupboard: r.Cupboard.Name, Proved: r.Proved(), Briefs: []Brief{{r.Brief.Name, r.Brief.Sets, 0}}}
	var shares []share
	for _, s := range r.Shares {
		one := share{groups: s.Groups, drive: s.Drive}
		for _, t := range s.Takes {
			one.takes = append(one.takes, supply.Piece{Kind: t.Kind, Name: t.Name, Pieces: t.Used})
		}
		for _, g := range s.Gone {
			one.gone = append(one.gone, supply.Piece{Kind: g.Kind, Name: g.Name, Pieces: g.Used})
		}
		shares = append(shares, one)
	}
	return p, p.fill(ctx, r.Cupboard, []*brief.Brief{r.Brief}, shares, threads)
}

// OfPurchase is the plan of a purchase that lets all build, for one brief or several. It
// is nil if there is none.
func OfPurchase(ctx context.Context, from string, r *supply.Result, threads int) (*Plan, error) {
	if r.Plan == nil {
		return nil, nil
	}
	q := r.Question
	p := &Plan{Schema: SchemaVersion, Kind: Kind, From: from, Cupboard: q.Cupboard.Name, InTurn: q.InTurn, Proved: r.Plan.Proved}
	for _, b := range q.Briefs {
		p.Briefs = append(p.Briefs, Brief{b.Name, b.Sets, 0})
	}
	var shares []share
	for _, s := range r.Plan.Shares {
		shares = append(shares, share{s.Brief, s.Groups, s.Drive, s.Takes, s.Gone})
	}
	p.Order = orderOf(r)
	return p, p.fill(ctx, with(q, r.Plan.Bought), q.Briefs, shares, threads)
}

// Class is the answer that the plan was made from, with the drives as they stand in the plan:
// each may be better there than as it was found.
func (p *Plan) Class(r *groups.Result) *groups.Result {
	out := *r
	out.Shares = slices.Clone(r.Shares)
	for i := range out.Shares {
		out.Shares[i].Drive = p.stands[i]
	}
	return &out
}

// Purchase is the same of a purchase.
func (p *Plan) Purchase(r *supply.Result) *supply.Result {
	out, bought := *r, *r.Plan
	bought.Shares = slices.Clone(bought.Shares)
	for i := range bought.Shares {
		bought.Shares[i].Drive = p.stands[i]
	}
	out.Plan = &bought
	return &out
}

// with is the cupboard with what is bought in it.
func with(q *supply.Question, bought []supply.Bought) *parts.Cupboard {
	more := map[[2]string]int{}
	for _, b := range bought {
		more[[2]string{b.Offer.Kind, b.Offer.Part}] += b.Packs * b.Offer.Pack
	}
	all := q.List.Parts.With(q.Cupboard)
	all.Name = q.Cupboard.Name
	return all.Counted(func(kind string, it *parts.Item) int {
		n := more[[2]string{kind, it.Name}]
		if have := q.Cupboard.Item(kind, it.Name); have != nil {
			n += have.Count
		}
		return n
	})
}

// fill adds the drives and what they use.
func (p *Plan) fill(ctx context.Context, given *parts.Cupboard, briefs []*brief.Brief, shares []share, threads int) error {
	cup := withMade(given, shares)
	alike := design.AlikeParts(cup)
	p.use(shares, cup, briefs)
	// A drive worked out anew may have its axles of other rods than the one it stands for; where
	// those of all cannot be cut then, of the same.
	var said []string
	for _, sameRods := range []bool{false, true} {
		all, err := p.drives(ctx, given, cup, alike, briefs, shares, sameRods, threads)
		if err != nil {
			return err
		}
		if said = slices.Concat(p.sawing(all, nil), p.discs(all, nil)); len(said) == 0 {
			return nil
		}
	}
	return fmt.Errorf("the program contradicts itself: %s", said[0])
}

// drives adds the drives, each worked out anew, and reads their certificates.
func (p *Plan) drives(ctx context.Context, given, cup *parts.Cupboard, alike []design.Alike, briefs []*brief.Brief, shares []share, sameRods bool, threads int) ([]*certificate.Certificate, error) {
	p.Drives, p.stands = nil, nil
	for i := range p.Briefs {
		p.Briefs[i].Served = 0
	}
	var all []*certificate.Certificate
	for i, s := range shares {
		r, err := again(ctx, cup, alike, briefs[s.brief], s, sameRods, threads)
		if err != nil {
			return nil, err
		}
		r.Cupboard = given // of which the parts come
		var out bytes.Buffer
		if err := report.JSON(&out, r, report.JSONOptions{Compact: true}); err != nil {
			return nil, err
		}
		b := &p.Briefs[s.brief]
		p.Drives = append(p.Drives, Drive{Letter: Letter(i), Brief: s.brief, Groups: s.groups, First: b.Served + 1, Certificate: bytes.TrimSpace(out.Bytes())})
		b.Served += s.groups
		p.stands = append(p.stands, &r.Proposals[0])
		c, err := certificate.Read(p.Drives[i].Certificate)
		if err != nil {
			return nil, fmt.Errorf("drive %s: %w", p.Drives[i].Letter, err)
		}
		all = append(all, c)
	}
	return all, nil
}

// withMade is a cupboard with the pulleys that shares make of discs.
func withMade(cup *parts.Cupboard, shares []share) *parts.Cupboard {
	out := *cup
	out.Pulleys = slices.Clone(cup.Pulleys)
	for _, s := range shares {
		for _, p := range s.drive.Drive.Pulleys() {
			if p.Made != nil && out.Item("pulley", p.Name) == nil {
				out.Pulleys = append(out.Pulleys, *p)
			}
		}
	}
	return &out
}

// again works a drive out in full: the best from what its groups take, with sameRods only of those
// with each axle of the same kind of rod.
func again(ctx context.Context, cup *parts.Cupboard, alike []design.Alike, b *brief.Brief, s share, sameRods bool, threads int) (*design.Result, error) {
	left := map[[2]string]int{} // of each class, by its first name
	class := func(kind, name string) *design.Alike {
		at := slices.IndexFunc(alike, func(a design.Alike) bool { return a.Kind == kind && slices.Contains(a.Names, name) })
		if at < 0 {
			return &design.Alike{Kind: kind, Names: []string{name}}
		}
		return &alike[at]
	}
	for _, t := range s.takes {
		left[[2]string{t.Kind, class(t.Kind, t.Name).Names[0]}] += t.Pieces * s.groups
	}
	few := cup.Counted(func(kind string, it *parts.Item) int {
		k := [2]string{kind, class(kind, it.Name).Names[0]}
		if kind == "axle" { // rods, of which others cut theirs too: as many as the plan reckons with
			if left[k] == 0 {
				return 0
			}
			return it.Count
		}
		n := min(it.Count, left[k])
		left[k] -= n
		return n
	})
	few.Name = cup.Name
	if !slices.ContainsFunc(few.Pulleys, func(p parts.Pulley) bool { return p.Made != nil }) {
		few.Discs = nil // it makes no pulleys
	}
	of := *b
	of.Sets = s.groups
	opt := design.Options{Keep: 1, Threads: threads}
	if sameRods {
		opt.Pins = &design.Pins{Stages: len(s.drive.Drive.Axles)}
		for _, a := range s.drive.Drive.Axles {
			opt.Pins.Each = append(opt.Pins.Each, design.StagePins{Axle: a.Name})
		}
	}
	r, err := design.Find(ctx, few, &of, opt)
	switch {
	case err != nil:
		return nil, err
	case pause.Err(ctx) != nil:
		return nil, fmt.Errorf("stopped before the plan was worked out: %w", pause.Err(ctx))
	case len(r.Proposals) == 0:
		return nil, fmt.Errorf("the program contradicts itself: a drive of the plan cannot be made of its own parts")
	}
	uses := r.Proposals[0].Uses
	for i := range uses {
		u := &uses[i]
		a := class(u.Kind, u.Name)
		u.Places, u.Also = []design.Place{}, nil
		have := 0
		for _, name := range slices.Concat([]string{u.Name}, slices.DeleteFunc(slices.Clone(a.Names), func(n string) bool { return n == u.Name })) {
			if it := cup.Item(u.Kind, name); it != nil {
				u.Places = append(u.Places, design.Place{Name: name, Location: it.Location, Length: rodLength(cup, u.Kind, name), Count: it.Count})
				have += it.Count
				if name != u.Name {
					u.Also = append(u.Also, name)
				}
			}
		}
		if u.Kind != "axle" {
			u.Have = have
		}
	}
	return r, nil
}

// use adds up what is used.
func (p *Plan) use(shares []share, cup *parts.Cupboard, briefs []*brief.Brief) {
	type tally struct {
		now  map[int]int // by brief
		gone map[int]int
	}
	at := map[[2]string]*tally{}
	var order [][2]string
	of := func(kind, name string) *tally {
		k := [2]string{kind, name}
		if at[k] == nil {
			at[k] = &tally{map[int]int{}, map[int]int{}}
			order = append(order, k)
		}
		return at[k]
	}
	for _, s := range shares {
		for _, t := range s.takes {
			of(t.Kind, t.Name).now[s.brief] += t.Pieces * s.groups
		}
		for _, g := range s.gone {
			of(g.Kind, g.Name).gone[s.brief] += g.Pieces * s.groups
		}
	}
	alike := design.AlikeParts(cup)
	for _, k := range order {
		t := at[k]
		part := Part{Kind: k[0], Name: k[1]}
		before := 0
		for b := range p.Briefs {
			if p.InTurn {
				part.Used = max(part.Used, before+t.now[b])
				before += t.gone[b]
			} else {
				part.Used += t.now[b]
			}
			part.Gone += t.gone[b]
		}
		for _, a := range alike {
			if a.Kind == k[0] && slices.Contains(a.Names, k[1]) {
				part.Have = has(cup, &a, briefs)
			}
		}
		p.Used = append(p.Used, part)
	}
}

// has is how many there are of a class; of rods, how many of the shortest axles they make.
func has(cup *parts.Cupboard, a *design.Alike, briefs []*brief.Brief) int {
	n := 0
	for _, name := range a.Names {
		it := cup.Item(a.Kind, name)
		if it == nil {
			continue
		}
		each := 1
		if a.Kind == "axle" {
			each = 0
			for _, b := range briefs {
				each = max(each, design.FromRod(rodLength(cup, a.Kind, name), drive.AxleLength(b)))
			}
		}
		n += it.Count * each
	}
	return n
}

// rodLength is how long a rod is; 0 for parts that are none.
func rodLength(cup *parts.Cupboard, kind, name string) units.Millimetres {
	at := slices.IndexFunc(cup.Axles, func(x parts.AxleStock) bool { return x.Name == name })
	if kind != "axle" || at < 0 {
		return 0
	}
	return cup.Axles[at].Length
}

// orderOf is what is bought, nil if that is nothing.
func orderOf(r *supply.Result) *Order {
	if len(r.Plan.Bought) == 0 {
		return nil
	}
	l := r.Question.List
	o := &Order{Prices: l.Name, Currency: l.Currency.Code, Digits: l.Currency.Digits, VAT: string(l.VAT), Money: r.Plan.Money}
	if o.VAT == "" {
		o.VAT = string(prices.VATNotSaid)
	}
	fill := report.Fillers(r)
	for i, b := range r.Plan.Bought {
		o.Lines = append(o.Lines, Line{
			Supplier: l.Suppliers[b.Offer.Supplier].Name, Offer: b.Offer.Name, Kind: b.Offer.Kind, Part: b.Offer.Part,
			Packs: b.Packs, Filler: fill[i], Pack: b.Offer.Pack, Price: b.Offer.Price, Sum: b.Sum,
		})
	}
	for _, c := range r.Plan.Carriage {
		if c.Paid > 0 {
			o.Lines = append(o.Lines, Line{Supplier: c.Supplier, Offer: "carriage", Sum: c.Paid})
		}
	}
	return o
}
