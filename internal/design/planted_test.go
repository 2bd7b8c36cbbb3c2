package design

import (
	"context"
	"math"
	"slices"

	"findrive/internal/brief"
	"findrive/internal/parts"
	"findrive/internal/search"
)

// Fault is a fault planted in a search, such as a slip in its source would be: in
// what is made ready for its bounds and choices, or in what it is told of the tree.
type Fault struct {
	Name  string
	ready func(t *task)
	told  func(p problem) tree
}

// FindWith is Find with a fault in the search. What is found is worked out as ever.
func FindWith(ctx context.Context, f Fault, cup *parts.Cupboard, b *brief.Brief, opt Options) (*Result, error) {
	t := newTask(cup, b)
	if f.ready != nil {
		f.ready(t)
	}
	under := t.under
	if f.told != nil {
		under = func(ceiling search.Cost) tree { return f.told(t.upTo(ceiling)) }
	}
	return t.find(ctx, opt, under)
}

// Faults are the planted faults: bounds that promise too little, ways that are never
// tried, a slip in the order.
var Faults = []Fault{
	{Name: "bound: the slowest that a motor may turn is taken for 1.4 times as fast", ready: heads(func(h *head) { h.slowest *= 1.4 })},
	{Name: "bound: the load is taken for 2.2 times as heavy", ready: heads(func(h *head) { h.demand.Steady *= 2.2 })},
	{Name: "bound: starting is taken to need twice the torque", ready: heads(func(h *head) { h.leastRatio += math.Log(2) })},
	{Name: "bound: a first stage is taken to slow less than it can", ready: func(t *task) {
		for m := range t.motorReach {
			t.motorReach[m].Hi -= 1.1
		}
	}},

	{Name: "skipped: the last motor and cells", ready: func(t *task) { t.heads = t.heads[:max(0, len(t.heads)-1)] }},
	{Name: "skipped: the last pulley that sits on an axle", ready: func(t *task) { t.axlePulleys = t.axlePulleys[:max(0, len(t.axlePulleys)-1)] }},
	{Name: "skipped: the last branch of each choice", told: func(p problem) tree { return lastSkipped{p} }},
	{Name: "skipped: the best band for each pair of pulleys", ready: pairs(func(l []*bandOption) []*bandOption { return l[min(1, len(l)):] })},
	{Name: "skipped: the longer half of each band's centre distances", ready: pairs(func(l []*bandOption) []*bandOption {
		for i := range l {
			l[i].rungs = l[i].rungs[:(len(l[i].rungs)+1)/2]
		}
		return l
	})},
	{Name: "skipped: a margin of the frame", ready: func(t *task) {
		smaller := *t.brief
		smaller.Frame.Height -= smaller.Frame.Pitch
		t.brief = &smaller
	}},

	{Name: "order: the tie rule upside down", told: func(p problem) tree { return tieReversed{p} }},
}

func heads(change func(h *head)) func(t *task) {
	return func(t *task) {
		for i := range t.heads {
			change(&t.heads[i])
		}
	}
}

// pairs changes what the search knows of the ways to band each pair of pulleys.
func pairs(change func(cheapestFirst []*bandOption) []*bandOption) func(t *task) {
	return func(t *task) {
		for driver := range t.pulleys {
			for driven := range t.pulleys {
				every := t.options(&onStage{0, driver, driven, t.longestCentre()}, unsettled)
				for _, crossed := range []bool{false, true} {
					for _, use := range uses {
						kind := func(o *bandOption) bool { return o.crossed == crossed && o.use == use }
						left := change(slices.DeleteFunc(slices.Clone(every), func(o *bandOption) bool { return !kind(o) }))
						po := &pairOptions{told: true}
						for band := range t.bands {
							po.bands, po.worked = append(po.bands, band), append(po.worked, nil)
						}
						for _, o := range left {
							po.worked[o.band] = o
						}
						t.pairs[pair{driver, driven, use, crossed}] = po
					}
				}
			}
		}
	}
}

type lastSkipped struct{ problem }

func (p lastSkipped) Branch(n node) []node {
	out := p.problem.Branch(n)
	return out[:len(out)-min(1, len(out)/2)]
}

type tieReversed struct{ problem }

func (p tieReversed) Tie(n, w node) int { return -p.problem.Tie(n, w) }
