package why

import (
	"context"
	"fmt"
	"slices"

	"findrive/internal/design"
	"findrive/internal/leeway"
	"findrive/internal/score"
)

// Comparison is of two drives, term by term.
type Comparison struct {
	First, Other *design.Proposal
	Terms        []Difference // in the order of the penalty
	// Tie is what decides between drives of equal points; empty for others.
	Tie string
}

// Difference is one term of the penalty of two drives.
type Difference struct {
	Name         string
	First, Other score.Points
	// WhyFirst and WhyOther are what the drives are charged for.
	WhyFirst, WhyOther string
}

// By is how many points the other is behind in this term, less than 0 if it is ahead.
func (d *Difference) By() score.Points { return d.Other - d.First }

// Compare sets two drives against each other.
func Compare(first, other *design.Proposal) *Comparison {
	c := &Comparison{First: first, Other: other}
	for i, t := range first.Penalty {
		o := other.Penalty[i]
		c.Terms = append(c.Terms, Difference{Name: t.Name, First: t.Points, Other: o.Points, WhyFirst: t.Why, WhyOther: o.Why})
	}
	if first.Total == other.Total {
		c.Tie = tie(first, other)
	}
	return c
}

// tie is the first thing in which two drives differ that the order of equals goes by;
// see design's tie rule.
func tie(first, other *design.Proposal) string {
	a, b := first.Drive, other.Drive
	switch {
	case first.Tackle != nil && other.Tackle != nil && first.Tackle.Parts != other.Tackle.Parts:
		return fmt.Sprintf("it has fewer rope parts (%d, not %d)", first.Tackle.Parts, other.Tackle.Parts)
	case len(a.Stages) != len(b.Stages):
		return fmt.Sprintf("it has fewer stages (%d, not %d)", len(a.Stages), len(b.Stages))
	case a.Holder.Cells != b.Holder.Cells:
		return fmt.Sprintf("it has fewer cells (%d, not %d)", a.Holder.Cells, b.Holder.Cells)
	case a.Motor.Strength() != b.Motor.Strength():
		return fmt.Sprintf("of the two motors %s is the stronger", a.Motor.Name)
	case a.Motor.FreeSpeed != b.Motor.FreeSpeed:
		return fmt.Sprintf("of the two motors, which are equally strong, %s is the slower", a.Motor.Name)
	case a.Motor.Name != b.Motor.Name:
		return fmt.Sprintf("%s comes before %s in the order of motors", a.Motor.Name, b.Motor.Name)
	}
	for i := len(a.Stages) - 1; i >= 0; i-- {
		x, y := &a.Stages[i], &b.Stages[i]
		for _, p := range [][2]struct {
			size float64
			name string
		}{{{float64(x.Driven.Outside), x.Driven.Name}, {float64(y.Driven.Outside), y.Driven.Name}}, {{float64(x.Driver.Outside), x.Driver.Name}, {float64(y.Driver.Outside), y.Driver.Name}}} {
			switch {
			case p[0].size > p[1].size:
				return fmt.Sprintf("%s is larger than %s (compared from the output back; a large driven pulley there needs less grip)", p[0].name, p[1].name)
			case p[0].size < p[1].size:
				return fmt.Sprintf("%s is smaller than %s (compared from the output back; a small driver there leaves less for the other stages to do)", p[0].name, p[1].name)
			case p[0].name != p[1].name:
				return fmt.Sprintf("%s comes before %s in the list of pulleys", p[0].name, p[1].name)
			}
		}
	}
	return ""
}

// Same tells whether two drives are the same but for where their holes are.
func Same(a, b *design.Proposal) bool {
	if a.Drive.Motor.Name != b.Drive.Motor.Name || a.Drive.Holder.Name != b.Drive.Holder.Name || len(a.Drive.Stages) != len(b.Drive.Stages) {
		return false
	}
	return slices.EqualFunc(a.Stages, b.Stages, func(x, y design.StageReport) bool {
		return x.Driver == y.Driver && x.Driven == y.Driven && x.Band.Name == y.Band.Name && x.Use == y.Use && x.Crossed == y.Crossed
	})
}

// compare finds the best drive and what it is to be compared with.
func (k *asker) compare(ctx context.Context, a *Answer) error {
	c := a.Case
	keep := max(2, k.opt.Against)
	free := leeway.Case{Cupboard: c.Cupboard, Brief: c.Brief}
	if c.Pins != nil {
		keep = 1
	}
	ctx, stop := limited(ctx, k.opt.First)
	defer stop()
	all, err := design.Find(ctx, c.Cupboard, c.Brief, k.options(free, keep))
	if err != nil {
		return err
	}
	a.Settled = all.Status == design.ProvedBest
	if len(all.Proposals) > 0 {
		a.Best = &all.Proposals[0]
	}
	if c.Pins == nil {
		if at := keep - 1; at < len(all.Proposals) {
			a.Comparison = Compare(a.Best, &all.Proposals[at])
		}
		return nil
	}
	wanted, err := design.Find(ctx, c.Cupboard, c.Brief, k.options(c, 1))
	if err != nil {
		return err
	}
	a.Settled = a.Settled && wanted.Status == design.ProvedBest
	a.Wanted = &a.Found.Proposals[0]
	if len(wanted.Proposals) > 0 {
		a.Wanted = &wanted.Proposals[0]
	}
	if a.Best != nil {
		a.Comparison = Compare(a.Best, a.Wanted)
	}
	return nil
}
