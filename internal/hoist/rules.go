package hoist

import (
	"fmt"
	"slices"

	"findrive/internal/parts"
	"findrive/internal/units"
)

// Rule is what a hoist must keep to.
type Rule string

// The rules, in the order they are tried.
const (
	WayRule    Rule = "way of pulling"
	FitRule    Rule = "cord in groove"
	StockRule  Rule = "stock"
	RiseRule   Rule = "blocks meet"
	PullRule   Rule = "pull"
	StrongRule Rule = "strength of the cord"
	LengthRule Rule = "length of the cord"
)

// cordReserve is how many times the pull a cord must bear (common practice for
// cord that is knotted, old or rubbed).
const cordReserve = 8

// Refusal is the account of one rule: how many reevings it refused, and the one
// that came nearest.
type Refusal struct {
	Rule    Rule
	Count   int
	Nearest string // a sentence about it
	by      float64
	parts   int
}

// refused is the first rule a hoist breaks and by how much, relative; with a
// sentence.
type refused struct {
	rule Rule
	by   float64
	say  func() string
}

func breaks(h *Hoist, b *Brief, cup *parts.Cupboard) *refused {
	size := units.Lengths.Format
	if b.Way != AnyWay && h.Way() != b.Way {
		return &refused{WayRule, 1, func() string { return fmt.Sprintf("it is pulled %s, and %s is asked for", h.Way(), b.Way) }}
	}
	for _, block := range h.Blocks() {
		if over := h.Cord.Diameter - block.GrooveWidth; over > 0 {
			return &refused{FitRule, float64(over / block.GrooveWidth), func() string {
				return fmt.Sprintf("cord %s of %s does not lie in the groove of %s, %s wide", h.Cord.Name, size(h.Cord.Diameter), block.Name, size(block.GrooveWidth))
			}}
		}
	}
	for _, block := range h.Blocks() {
		if needs := b.Sets * h.Uses(block.Name); needs > block.Count {
			return &refused{StockRule, float64(needs-block.Count) / float64(needs), func() string {
				return fmt.Sprintf("%d of block %s are needed and there are %d", needs, block.Name, block.Count)
			}}
		}
	}
	if h.LiftAvailable < b.Lift {
		return &refused{RiseRule, float64((b.Lift - h.LiftAvailable) / b.Lift), func() string {
			return fmt.Sprintf("the blocks meet after a lift of %.0f mm, and %s is asked for", float64(h.LiftAvailable), size(b.Lift))
		}}
	}
	if h.Raising.Likely > b.Pull {
		return &refused{PullRule, float64(h.Raising.Likely/b.Pull) - 1, func() string {
			return fmt.Sprintf("the pull would be about %.2g N, and %.3g N is comfortable", h.Raising.Likely, b.Pull)
		}}
	}
	if h.Mass <= 0 {
		return &refused{PullRule, 1, func() string { return "the comfortable pull does not even lift the moving block" }}
	}
	if needs := cordReserve * h.Raising.High; h.Cord.Strength > 0 && h.Cord.Strength < needs {
		return &refused{StrongRule, float64(needs/h.Cord.Strength) - 1, func() string {
			return fmt.Sprintf("cord %s breaks at %.3g N, and %d times the pull is %.2g N", h.Cord.Name, h.Cord.Strength, cordReserve, needs)
		}}
	}
	if cut := cordSets(h); cut < b.Sets {
		short := float64(h.CordNeeded)*float64(b.Sets)/(float64(h.Cord.Length)*float64(h.Cord.Count)) - 1
		return &refused{LengthRule, max(short, 0.001), func() string {
			return fmt.Sprintf("each hoist needs %s of cord in one piece, and there is enough of %s for %d of %d", metres(h.CordNeeded), h.Cord.Name, cut, b.Sets)
		}}
	}
	return nil
}

func metres(l units.Millimetres) string { return fmt.Sprintf("%.1f m", float64(l)/1000) }

// cordSets is how many hoists the cord is enough for, each from one piece.
func cordSets(h *Hoist) int {
	return int(h.Cord.Length/h.CordNeeded) * h.Cord.Count
}

// sets is how many hoists alike the stock gives.
func sets(h *Hoist) int {
	n := cordSets(h)
	for _, block := range h.Blocks() {
		n = min(n, block.Count/h.Uses(block.Name))
	}
	return n
}

// tally gathers refusals by rule.
type tally map[Rule]*Refusal

func (t tally) add(h *Hoist, why *refused) {
	r := t[why.rule]
	if r == nil {
		r = &Refusal{Rule: why.rule}
		t[why.rule] = r
	}
	r.Count++
	// Of two equally near the first stands, so that the account does not depend on
	// anything but the order of the search.
	if r.Count == 1 || why.by < r.by-1e-9 {
		r.by, r.parts = why.by, h.Parts()
		r.Nearest = fmt.Sprintf("nearest, with %s: %s", h.Title(), why.say())
	}
}

func (t tally) list() []Refusal {
	var out []Refusal
	for _, rule := range []Rule{WayRule, FitRule, StockRule, RiseRule, PullRule, StrongRule, LengthRule} {
		if r := t[rule]; r != nil {
			out = append(out, *r)
		}
	}
	slices.SortStableFunc(out, func(a, b Refusal) int { return b.Count - a.Count })
	return out
}
