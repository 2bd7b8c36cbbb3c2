package report

import (
	"slices"

	"findrive/internal/conflict"
	"findrive/internal/groups"
	"findrive/internal/making"
	"findrive/internal/supply"
	"findrive/internal/why"
)

// madeBy are the pulleys that are made of discs for some shares.
func madeBy(shares []supply.Share) []making.Several {
	var out []making.Several
	for _, s := range shares {
		out = making.AddedAll(out, s.Drive.Drive.Pulleys(), s.Groups)
	}
	return out
}

// madeByGroups are the pulleys that the groups of a class make of discs.
func madeByGroups(r *groups.Result) []making.Several {
	var out []making.Several
	for _, s := range r.Shares {
		out = making.AddedAll(out, s.Drive.Drive.Pulleys(), s.Groups)
	}
	return out
}

// makeFirst says what is to be made before anything is built; nothing if nothing is.
func (p *page) makeFirst(mark string, list []making.Several) {
	if len(list) > 0 {
		p.hang(0, 2, mark+"Before that, "+making.WordsOf(list)+".")
	}
}

// cardWouldDo says that pulleys can be made of discs.
func (p *page) cardWouldDo(a *why.Answer) {
	if cardMayDo(a) {
		p.say(0, "Large pulleys can be made of discs of card or plywood, which may do. Write the sheets there are, and what cuts rounds, into the cupboard ([sheet.NAME] and [cutter.NAME]); then it is searched with.")
	}
}

// CardWouldDo is whether that is to be said beside the smallest change.
func CardWouldDo(a *why.Answer) bool {
	c := a.Smallest()
	return (c == nil || getsPulleys(a, c)) && cardMayDo(a)
}

// cardMayDo is whether pulleys made of discs may unlock a model, as others would, and the
// cupboard does not say what there is to make them of.
func cardMayDo(a *why.Answer) bool {
	pulleys := func(s conflict.Set) bool {
		return slices.ContainsFunc(s.Rules(), func(m int) bool { return a.Levers[m].Key == "pulleys" })
	}
	cup := a.Case.Cupboard
	return (cup.Discs == nil || len(cup.Sheets) == 0 || len(cup.Cutters) == 0) && a.Case.Brief.Making.Glue && slices.ContainsFunc(a.Conflict.Cures, pulleys)
}

// getsPulleys tells whether pulleys must be got, and more than one for each set.
func getsPulleys(a *why.Answer, c *why.Change) bool {
	n := 0
	for _, u := range c.Drive.Uses {
		if u.Kind == "pulley" {
			n += max(0, u.Each-countOf(a, u.Name)/max(1, a.Case.Brief.Sets))
		}
	}
	return n > 1
}

// countOf is how many of a pulley the cupboard has.
func countOf(a *why.Answer, name string) int {
	if it := a.Case.Cupboard.Item("pulley", name); it != nil {
		return it.Count
	}
	return 0
}
