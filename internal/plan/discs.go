package plan

import (
	"slices"

	"findrive/internal/certificate"
	"findrive/internal/making"
	"findrive/internal/parts"
)

// made are the pulleys of discs that so many sets of a drive take.
func made(c *certificate.Certificate, sets int) []making.Several {
	var out []making.Several
	d := &c.Proposals[0]
	for i := range d.Stages {
		for _, p := range []*certificate.Pulley{&d.Stages[i].Driver, &d.Stages[i].Driven} {
			if p.Made != nil {
				out = making.Added(out, making.Several{Pulley: p.ToMake(), Count: sets})
			}
		}
	}
	return out
}

func toMake(c *certificate.Certificate, kind, name string) bool {
	return kind == "pulley" && slices.ContainsFunc(made(c, 1), func(s making.Several) bool { return s.Pulley.Name == name })
}

// discs holds the discs of all groups to the sheets that there are, by laying them: all
// together, or, where briefs are built in turn, each brief's from sheets of their own. cup
// is the cupboard as it is, or nil.
func (p *Plan) discs(all []*certificate.Certificate, cup *parts.Cupboard) []string {
	turns := make([][]making.Several, len(p.Briefs))
	var sheets []parts.SheetStock
	for i, c := range all {
		turn := 0
		if p.InTurn {
			turn = p.Drives[i].Brief
		}
		for _, s := range made(c, p.Drives[i].Groups) {
			turns[turn] = making.Added(turns[turn], s)
		}
		if c.Discs != nil && sheets == nil {
			sheets = c.Discs.Stock()
		}
	}
	if cup != nil {
		sheets = cup.Sheets
	}
	left := slices.Clone(sheets)
	var out []string
	for _, of := range turns {
		pieces, err := making.Nest(left, of)
		if err != nil {
			out = append(out, "discs: "+err.Error())
		}
		for _, piece := range pieces {
			left[slices.IndexFunc(left, func(s parts.SheetStock) bool { return s.Name == piece.Sheet.Name })].Count--
		}
	}
	return out
}
