package supply

import (
	"slices"

	"findrive/internal/money"
)

// mostVectors is how many ways to get round all refutations are kept in mind.
const mostVectors = 3000

// vectors are what sets could take for all that is known: of each refutation they take
// more of some part than it allows, and no more than that. Every drive takes at least
// what one of them takes, unless what it takes alone costs as much as dearest or more.
// ok is false if there are too many to list.
func (a *asker) vectors(j *job, tolerance float64, dearest money.Amount) (out [][]int, ok bool) {
	out = [][]int{make([]int, len(j.parts))}
	for _, n := range j.none {
		if n.tolerance < tolerance || j.free(a, n.caps) {
			continue
		}
		var stay, moved [][]int
		for _, h := range out {
			if !within(h, n.caps) {
				stay = append(stay, h)
				continue
			}
			for i, most := range n.caps {
				if most == plenty || !j.obtainable(i, most+1) {
					continue
				}
				more := slices.Clone(h)
				more[i] = most + 1
				if !a.tooDear(j, more, dearest) {
					moved = append(moved, more)
				}
			}
		}
		// Those that stay do not beat each other; of the others the least are kept.
		for _, h := range moved {
			beaten := func(o []int) bool { return within(o, h) }
			if slices.ContainsFunc(stay, beaten) {
				continue
			}
			stay = slices.DeleteFunc(stay, func(o []int) bool { return within(h, o) })
			stay = append(stay, h)
		}
		if out = stay; len(out) > mostVectors {
			return nil, false
		}
	}
	return out, true
}

// free is whether a part of which there is enough for all gets round a refutation.
func (j *job) free(a *asker, caps []int) bool {
	for i, n := range caps {
		if n != plenty && j.most[i] > n && !a.limited[i] {
			return true
		}
	}
	return false
}

// obtainable is whether one set can have so many pieces of a part.
func (j *job) obtainable(part, pieces int) bool {
	p := &j.parts[part]
	return pieces <= j.most[part] && (p.onSale || pieces <= j.pieces(part))
}

// tooDear is whether what one set takes costs so much by itself.
func (a *asker) tooDear(j *job, takes []int, dearest money.Amount) bool {
	need := make([]int, len(a.baskets.Stock))
	short := false
	for i, n := range takes {
		at, each, more := i, 1, n-j.pieces(i)
		if j.parts[i].kind == "axle" && more > 0 {
			// Of rods of several lengths it is not known of which there would be more.
			if at, each = j.onlyRod(i); at < 0 {
				continue
			}
			at += len(j.parts)
		}
		if more > 0 {
			need[at], short = (more+each-1)/each, true
		}
	}
	if !short || dearest < 0 {
		return false
	}
	_, paid, ok := a.baskets.Cheapest(need)
	return !ok || paid >= dearest
}
