// Package groups shares one cupboard out among the groups of a class, who may
// build different drives for one brief where that serves more of them. Drives come
// from package design, the sharing out from package allot; both prove what they
// say.
//
// Drives cannot all be listed, so the list grows with the question: while groups
// go without, drives are searched for that leave out the parts that have run out.
// When leaving some of them out leaves no drive at all, every set takes one of
// them, and that bounds the number of groups.
package groups

import (
	"cmp"
	"context"
	"slices"

	"findrive/internal/allot"
	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/parts"
	"findrive/internal/pause"
	"findrive/internal/score"
	"findrive/internal/search"
)

// Result is how a class is served.
type Result struct {
	Cupboard *parts.Cupboard
	Brief    *brief.Brief // its Sets are the groups
	Shares   []Share      // more groups first; empty if no drive is possible
	Served   int          // groups
	// Most is how many groups can be served at most: proved. Served is the answer if
	// they are equal.
	Most int
	// None is true if it is proved that not even one set can be built.
	None bool
	// Drives is how many drives were weighed against each other; of plans made of
	// those the one shown has the fewest points.
	Drives int
	Single *Single // one drive for all, as far as it goes; nil if no drive was found
	// Gone are the parts that are used up, or too few for any of the drives weighed
	// that takes them.
	Gone []Part
	// Unlock are parts of each of which a few more serve another group, by a drive
	// of those weighed.
	Unlock []More
	// Bound is why no more than Most: every set takes BoundEach of these parts.
	Bound     []Part
	BoundEach int
	// Stopped is true if ctx ended first.
	Stopped bool
	// Account is the search for one set, for what stood in the way if None.
	Account *design.Result
}

// Proved is whether it is proved that no more groups can be served.
func (r *Result) Proved() bool { return r.Served >= r.Most }

// Share is a drive and how many groups build it.
type Share struct {
	Groups int
	Drive  *design.Proposal
}

// Single is the drive, of those weighed, that by itself serves the most groups, of
// the fewest points among those.
type Single struct {
	Drive *design.Proposal
	Sets  int // that the stock makes of it
}

// Part is a part of the stock. Parts alike in all that matters go by one name.
type Part struct {
	Kind, Name string
	Have, Used int // by all groups
}

// More is so many more of a part, by themselves.
type More struct {
	Part
	Pieces int
}

// Options steer Plan.
type Options struct {
	Drives  int // to be ranked at each search; 0 means 10
	Threads int
	// Limit bounds one search; it is called as each begins. Nil bounds none.
	Limit func(context.Context) (context.Context, context.CancelFunc)
	Watch func(search.Progress)
}

type key struct{ kind, name string }

// class is the state of the work.
type class struct {
	cup    *parts.Cupboard
	brief  *brief.Brief
	opt    Options
	drives []*design.Proposal
	keys   []key // parts of the stock, in the order they were met
	stock  map[key]design.Use
	plan   allot.Plan
}

// Plan finds the best sharing out for b.Sets groups of the parts there are: pulleys that
// could be made of discs, which share their sheets, are left out. When ctx ends it returns the best
// so far. The error is design.Find's: the program contradicts itself.
func Plan(ctx context.Context, cup *parts.Cupboard, b *brief.Brief, opt Options) (*Result, error) {
	if opt.Drives == 0 {
		opt.Drives = 10
	}
	b = b.WithoutDiscs()
	c := &class{cup: cup, brief: b, opt: opt, stock: map[key]design.Use{}}
	r := &Result{Cupboard: cup, Brief: b, Most: b.Sets}
	first, err := c.search(ctx, cup, 1, opt.Drives)
	if err != nil {
		return nil, err
	}
	r.Account = first
	if first.Status == design.NonePossible {
		r.None, r.Most = true, 0
		return r, nil
	}
	if b.Sets > 1 {
		if _, err := c.search(ctx, cup, b.Sets, 1); err != nil {
			return nil, err
		}
	}
	r.Most, r.Bound = c.kinds()
	r.BoundEach = 1
	if err := c.extend(ctx, r); err != nil {
		return nil, err
	}
	c.report(ctx, r)
	r.Stopped = pause.Err(ctx) != nil
	return r, nil
}

// search ranks drives for so many sets of each and adds those that are new.
func (c *class) search(ctx context.Context, cup *parts.Cupboard, sets, keep int) (*design.Result, error) {
	b := *c.brief
	b.Sets = sets
	if c.opt.Limit != nil {
		var stop context.CancelFunc
		ctx, stop = c.opt.Limit(ctx)
		defer stop()
	}
	r, err := design.Find(ctx, cup, &b, design.Options{Keep: keep, Threads: c.opt.Threads, Watch: c.opt.Watch})
	if err != nil {
		return nil, err
	}
	for i := range r.Proposals {
		p := &r.Proposals[i]
		if slices.ContainsFunc(c.drives, func(o *design.Proposal) bool { return o.Total == p.Total && slices.EqualFunc(o.Uses, p.Uses, same) }) {
			continue
		}
		c.drives = append(c.drives, p)
		for _, u := range p.Uses {
			k := key{u.Kind, u.Name}
			if _, met := c.stock[k]; !met {
				c.keys = append(c.keys, k)
				c.stock[k] = u
			}
		}
	}
	return r, nil
}

func same(a, b design.Use) bool { return a.Kind == b.Kind && a.Name == b.Name && a.Each == b.Each }

// problem is the sharing out of the drives there are.
func (c *class) problem() *allot.Problem {
	p := &allot.Problem{Groups: c.brief.Sets, Another: int64(score.AnotherDrive(c.brief.Weights))}
	for _, k := range c.keys {
		p.Stock = append(p.Stock, c.stock[k].Have)
	}
	for _, d := range c.drives {
		takes := make([]int, len(c.keys))
		for _, u := range d.Uses {
			takes[slices.Index(c.keys, key{u.Kind, u.Name})] += u.Each
		}
		p.Choices = append(p.Choices, allot.Choice{Cost: int64(d.Total), Takes: takes})
	}
	return p
}

// kinds bounds the groups by what every set takes: one motor, one holder, and so
// on, whichever they are.
func (c *class) kinds() (int, []Part) {
	most, by := c.brief.Sets, []Part(nil)
	limit := func(kind string, counts []int, names []string) {
		sum := 0
		for _, n := range counts {
			sum += n
		}
		if sum < most {
			most, by = sum, nil
			for i, name := range names {
				by = append(by, Part{Kind: kind, Name: name, Have: counts[i]})
			}
		}
	}
	var counts []int
	var names []string
	collect := func(it *parts.Item) { counts, names = append(counts, it.Count), append(names, it.Name) }
	for i := range c.cup.Motors {
		collect(&c.cup.Motors[i].Item)
	}
	limit("motor", counts, names)
	counts, names = nil, nil
	for i := range c.cup.Holders {
		if h := &c.cup.Holders[i]; len(c.brief.Cells) == 0 || slices.Contains(c.brief.Cells, h.Cells) {
			collect(&h.Item)
		}
	}
	limit("cells", counts, names)
	return most, by
}

// extend shares out, and looks for drives that do without what has run out, until
// all are served that can be, or nothing new is found.
func (c *class) extend(ctx context.Context, r *Result) error {
	tried := map[string]bool{}
	for {
		// What has been found is shared out even when the time is up.
		c.plan = allot.Best(context.WithoutCancel(ctx), c.problem())
		if c.plan.Served >= r.Most || pause.Err(ctx) != nil {
			return nil
		}
		before := len(c.drives)
		for _, without := range c.scarce() {
			id := ""
			for _, k := range without {
				id += k.kind + "\x00" + k.name + "\x00"
			}
			if tried[id] {
				continue
			}
			tried[id] = true
			found, err := c.search(ctx, c.leaveOut(without), 1, c.opt.Drives)
			if err != nil {
				return err
			}
			if found.Status == design.NonePossible {
				if err := c.bound(ctx, r, without); err != nil {
					return err
				}
			}
			if len(c.drives) > before || c.plan.Served >= r.Most || pause.Err(ctx) != nil {
				break // share out anew before more is looked for
			}
		}
		if len(c.drives) == before {
			return nil
		}
	}
}

// bound notes that every set takes one of the parts; or more, if it is a single part
// and there is no drive with fewer of it.
func (c *class) bound(ctx context.Context, r *Result, all []key) error {
	sum := 0
	var by []Part
	for _, k := range all {
		u := c.stock[k]
		sum += u.Have
		by = append(by, Part{Kind: k.kind, Name: k.name, Have: u.Have})
	}
	each := 1
	if len(all) == 1 && all[0].kind == "pulley" {
		for ; sum/each > c.plan.Served; each++ {
			found, err := c.search(ctx, c.only(all[0].name, each), 1, 1)
			if err != nil {
				return err
			}
			if found.Status != design.NonePossible {
				break
			}
		}
	}
	if sum/each < r.Most {
		r.Most, r.Bound, r.BoundEach = sum/each, by, each
	}
	return nil
}

// only is the cupboard with so many of a pulley, and none of those that are alike.
func (c *class) only(pulley string, n int) *parts.Cupboard {
	k := key{"pulley", pulley}
	cup := c.leaveOut([]key{k})
	i := slices.IndexFunc(c.cup.Pulleys, func(p parts.Pulley) bool { return p.Name == pulley })
	one := c.cup.Pulleys[i]
	one.Count = n
	cup.Pulleys = append(cup.Pulleys, one)
	return cup
}

// scarce are the sets of parts to search without: those too few for another group, all
// together, then kind by kind, then each by itself.
func (c *class) scarce() [][]key {
	gone := c.gone()
	var out [][]key
	var all []key
	for _, g := range gone {
		all = append(all, key{g.Kind, g.Name})
	}
	if len(all) == 0 {
		return nil
	}
	out = append(out, all)
	for _, kind := range []string{"motor", "cells", "pulley", "band", "axle", "sleeve", "wheel", "drum"} {
		var of []key
		for _, k := range all {
			if k.kind == kind {
				of = append(of, k)
			}
		}
		if len(of) > 1 && len(of) < len(all) {
			out = append(out, of)
		}
	}
	if len(all) > 1 {
		for _, k := range all {
			out = append(out, []key{k})
		}
	}
	return out
}

// used is how many of each part the plan takes.
func (c *class) used() map[key]int {
	out := map[key]int{}
	for i, n := range c.plan.Counts {
		for _, u := range c.drives[i].Uses {
			out[key{u.Kind, u.Name}] += n * u.Each
		}
	}
	return out
}

// gone are the parts of which less is left than some drive of the plan takes.
func (c *class) gone() []Part {
	used := c.used()
	need := map[key]int{}
	for i, n := range c.plan.Counts {
		if n == 0 {
			continue
		}
		for _, u := range c.drives[i].Uses {
			k := key{u.Kind, u.Name}
			need[k] = max(need[k], u.Each)
		}
	}
	var out []Part
	for _, k := range c.keys {
		if need[k] > 0 && c.stock[k].Have-used[k] < need[k] {
			out = append(out, Part{k.kind, k.name, c.stock[k].Have, used[k]})
		}
	}
	return out
}

// leaveOut is the cupboard without some parts and those that are alike.
func (c *class) leaveOut(all []key) *parts.Cupboard {
	cup := *c.cup
	out := map[key]bool{}
	for _, k := range all {
		for _, name := range append([]string{k.name}, c.stock[k].Also...) {
			out[key{k.kind, name}] = true
		}
	}
	cup.Motors = without(cup.Motors, out, "motor", func(p *parts.Motor) string { return p.Name })
	cup.Holders = without(cup.Holders, out, "cells", func(p *parts.CellHolder) string { return p.Name })
	cup.Pulleys = without(cup.Pulleys, out, "pulley", func(p *parts.Pulley) string { return p.Name })
	cup.Bands = without(cup.Bands, out, "band", func(p *parts.Band) string { return p.Name })
	cup.Axles = without(cup.Axles, out, "axle", func(p *parts.AxleStock) string { return p.Name })
	cup.Sleeves = without(cup.Sleeves, out, "sleeve", func(p *parts.Sleeve) string { return p.Name })
	cup.Wheels = without(cup.Wheels, out, "wheel", func(p *parts.Wheel) string { return p.Name })
	cup.Drums = without(cup.Drums, out, "drum", func(p *parts.Drum) string { return p.Name })
	return &cup
}

func without[P any](list []P, out map[key]bool, kind string, name func(*P) string) []P {
	return slices.DeleteFunc(slices.Clone(list), func(p P) bool { return out[key{kind, name(&p)}] })
}

// report fills in the result from the plan.
func (c *class) report(ctx context.Context, r *Result) {
	r.Served, r.Drives = c.plan.Served, len(c.drives)
	for i, n := range c.plan.Counts {
		if n > 0 {
			r.Shares = append(r.Shares, Share{n, c.drives[i]})
		}
	}
	slices.SortStableFunc(r.Shares, func(a, b Share) int {
		return cmp.Or(cmp.Compare(b.Groups, a.Groups), cmp.Compare(a.Drive.Total, b.Drive.Total))
	})
	for _, d := range c.drives {
		sets := d.Uses[0].Have / d.Uses[0].Each
		for _, u := range d.Uses {
			sets = min(sets, c.stock[key{u.Kind, u.Name}].Have/u.Each)
		}
		sets = min(sets, c.brief.Sets)
		if s := r.Single; s == nil || sets > s.Sets || sets == s.Sets && d.Total < s.Drive.Total {
			r.Single = &Single{d, sets}
		}
	}
	r.Gone = c.gone()
	if r.Served == c.brief.Sets {
		r.Bound = nil
		return
	}
	for i, k := range c.keys {
		p := c.problem()
		most := 0
		for _, choice := range p.Choices {
			most = max(most, choice.Takes[i])
		}
		for more := 1; more <= most; more++ {
			p.Stock[i]++
			if allot.Best(context.WithoutCancel(ctx), p).Served > r.Served {
				r.Unlock = append(r.Unlock, More{Part{Kind: k.kind, Name: k.name, Have: c.stock[k].Have}, more})
				break
			}
		}
	}
}
