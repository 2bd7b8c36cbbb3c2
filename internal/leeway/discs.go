package leeway

import (
	"findrive/internal/design"
	"findrive/internal/making"
)

// discs are the pulleys that can be made of the sheets there are.
func discs(c Case) []Lever {
	if !making.Possible(c.Cupboard, c.Brief) {
		return nil
	}
	allow := func(c Case) { c.Brief.Making.Discs = true }
	way := once("", allow)
	way.Words = func(c Case, q *design.Proposal) string { return DiscWords(q, c.Brief.Sets) }
	return []Lever{{Key: "discs", Words: "no pulleys made of discs", Aside: "pulleys made of discs", Relax: allow, Ways: []Way{way}, Cost: Make}}
}

// DiscLine is the line of the brief that allows discs.
const DiscLine = "discs = true in [making]"

// DiscWords say what to make for a drive, and the line of the brief that allows it.
func DiscWords(q *design.Proposal, sets int) string {
	return DiscWordsOf(making.SeveralOf(q.Drive.Pulleys(), sets))
}

// DiscWordsOf are DiscWords for the pulleys of several drives.
func DiscWordsOf(pulleys []making.Several) string {
	words := making.WordsOf(pulleys)
	if words == "" { // without making any it does not help, which cannot be
		words = "make pulleys of discs"
	}
	return words + ": " + DiscLine
}
