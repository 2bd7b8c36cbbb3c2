package hoist

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"findrive/internal/parts"
	"findrive/internal/units"
)

// Rule is what a hoist must keep to.
type Rule string

// The rules.
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

// Refusal is the account of one rule.
type Refusal struct {
	Rule  Rule
	Count int // reevings that break it
	// Alone is how many break this rule and no other: if it gave way they could be
	// built. Nearest is a sentence about the one that misses by least, of those if
	// there are any.
	Alone   int
	Nearest string
	by      float64
}

// broken is a rule that a hoist breaks, by how much of what is allowed, and a
// sentence about it, made only when it is wanted.
type broken struct {
	rule Rule
	by   float64
	say  func() string
}

// breaks are all the rules that a hoist breaks, each once.
func breaks(h *Hoist, b *Brief, cup *parts.Cupboard) []broken {
	var out []broken
	no := func(rule Rule, by float64, format string, args ...any) {
		if len(out) == 0 || out[len(out)-1].rule != rule {
			out = append(out, broken{rule, by, func() string { return fmt.Sprintf(format, args...) }})
		}
	}
	size := units.Lengths.Format
	if b.Way != AnyWay && h.Way() != b.Way {
		no(WayRule, 1, "it is pulled %s, and %s is asked for", h.Way(), b.Way)
	}
	for _, block := range h.Blocks() {
		if over := h.Cord.Diameter - block.GrooveWidth; over > 0 {
			no(FitRule, float64(over/block.GrooveWidth), "cord %s of %s does not lie in the groove of %s, %s wide", h.Cord.Name, size(h.Cord.Diameter), block.Name, size(block.GrooveWidth))
		}
	}
	for _, block := range h.Blocks() {
		if needs := b.Sets * h.Uses(block.Name); needs > block.Count {
			no(StockRule, float64(needs-block.Count)/float64(block.Count), "%d of block %s are needed and there are %d", needs, block.Name, block.Count)
		}
	}
	if h.LiftAvailable < b.Lift {
		no(RiseRule, float64((b.Lift-h.LiftAvailable)/b.Lift), "the blocks meet after a lift of %.0f mm, and %s is asked for", float64(h.LiftAvailable), size(b.Lift))
	}
	switch {
	case h.Mass <= 0:
		no(PullRule, 1, "a pull of %.3g N does not even lift the moving block", b.Pull)
	case h.Raising.Likely > b.Pull:
		no(PullRule, float64(h.Raising.Likely/b.Pull)-1, "the pull would be about %.2g N, and %.3g N is comfortable", h.Raising.Likely, b.Pull)
	}
	if needs := cordReserve * h.Raising.High; h.Cord.Strength > 0 && h.Cord.Strength < needs {
		no(StrongRule, float64(needs/h.Cord.Strength)-1, "cord %s breaks at %.3g N, and %d times the pull is %.3g N", h.Cord.Name, h.Cord.Strength, cordReserve, needs)
	}
	if cut := cordSets(h); cut < b.Sets {
		short := float64(h.CordNeeded)*float64(b.Sets)/(float64(h.Cord.Length)*float64(h.Cord.Count)) - 1
		short = max(short, float64(h.CordNeeded/h.Cord.Length)-1, 0.001) // one piece too short, or too few pieces
		no(LengthRule, short, "each hoist needs %.1f m of cord in one piece, and there is enough of %s for %d of %d", float64(h.CordNeeded)/1000, h.Cord.Name, cut, b.Sets)
	}
	return out
}

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

func (t tally) add(h *Hoist, rules []broken) {
	for _, why := range rules {
		r := t[why.rule]
		if r == nil {
			r = &Refusal{Rule: why.rule, by: math.Inf(1)}
			t[why.rule] = r
		}
		alone := len(rules) == 1
		// Of two equally near the first stands, so that the account depends on nothing
		// but the order of the search.
		if alone && r.Alone == 0 || (alone || r.Alone == 0) && why.by < r.by-1e-9 {
			r.by = why.by
			r.Nearest = fmt.Sprintf("%s: %s", h.Title(), why.say())
		}
		r.Count++
		if alone {
			r.Alone++
		}
	}
}

// list is the account, first the rules that stand alone in the way, nearest first.
func (t tally) list() []Refusal {
	var out []Refusal
	for _, rule := range []Rule{WayRule, FitRule, StockRule, RiseRule, PullRule, StrongRule, LengthRule} {
		if r := t[rule]; r != nil {
			out = append(out, *r)
		}
	}
	slices.SortStableFunc(out, func(a, b Refusal) int {
		if (a.Alone > 0) != (b.Alone > 0) {
			return cmp.Compare(b.Alone, a.Alone)
		}
		return cmp.Compare(math.Round(100*a.by), math.Round(100*b.by))
	})
	return out
}
