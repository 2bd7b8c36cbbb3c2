package why

import (
	"context"
	"fmt"
	"slices"

	"findrive/internal/design"
	"findrive/internal/leeway"
	"findrive/internal/score"
	"findrive/internal/units"
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
		d := Difference{Name: t.Name, First: t.Points, Other: o.Points, WhyFirst: t.Why, WhyOther: o.Why}
		if t.Points != o.Points && t.Why == o.Why {
			d.WhyFirst, d.WhyOther = inFigures(t, first), inFigures(o, other)
		}
		c.Terms = append(c.Terms, d)
	}
	if first.Total == other.Total {
		c.Tie = tie(first, other)
	}
	return c
}

// inFigures is what a drive is charged for in figures, where in words it is what another is
// charged more or less for.
func inFigures(t score.Term, q *design.Proposal) string {
	figures := ""
	switch t.Name {
	case "band fit":
		var stretch []string
		for i := range q.Stages {
			stretch = append(stretch, units.Decimals(100*(q.Stages[i].Fitted.Stretch-1), 1)+" %")
		}
		figures = "stretched " + listed(stretch, "and")
	case "speed":
		figures = fmt.Sprintf("%s to %s turns a minute", units.Significant(float64(q.Speed.Low), 3), units.Significant(float64(q.Speed.High), 3))
	case "motor load":
		figures = units.Decimals(100*q.Motor.Share, 1) + " %"
	default:
		return t.Why
	}
	return t.Why + " (" + figures + ")"
}

// tie is why a drive comes before another of as many points; empty if it does not, or if they
// differ only in their bands and holes.
func tie(first, other *design.Proposal) string {
	a, b := first.Drive, other.Drive
	inList := func(x, y string) string { return fmt.Sprintf("%s comes before %s in the order of equals", x, y) }
	smaller := func(what, x, y string, is, was units.Millimetres) string {
		if is < was {
			return fmt.Sprintf("%s %s is smaller than %s", what, x, y)
		}
		return inList(what+" "+x, y)
	}
	switch at, stage := design.Decides(first, other); at {
	case design.RopeParts:
		return fmt.Sprintf("it has fewer rope parts (%d, not %d)", first.Tackle.Parts, other.Tackle.Parts)
	case design.StageCount:
		return fmt.Sprintf("it has fewer stages (%d, not %d)", len(a.Stages), len(b.Stages))
	case design.Cells:
		if a.Holder.Cells < b.Holder.Cells {
			return fmt.Sprintf("it has fewer cells (%d, not %d)", a.Holder.Cells, b.Holder.Cells)
		}
		return fmt.Sprintf("of the two holders, for equally many cells, %s", inList(a.Holder.Name, b.Holder.Name))
	case design.MotorKind:
		switch x, y := a.Motor, b.Motor; {
		case x.Strength() > y.Strength():
			return fmt.Sprintf("of the two motors %s is the stronger", x.Name)
		case x.FreeSpeed < y.FreeSpeed:
			return fmt.Sprintf("of the two motors, which are equally strong, %s is the slower", x.Name)
		default:
			return inList("motor "+x.Name, y.Name)
		}
	case design.OutputPart:
		if a.Wheel != nil && b.Wheel != nil {
			return smaller("wheel", a.Wheel.Name, b.Wheel.Name, a.Wheel.Diameter, b.Wheel.Diameter)
		}
		if a.Drum != nil && b.Drum != nil {
			return smaller("drum", a.Drum.Name, b.Drum.Name, a.Drum.Diameter, b.Drum.Diameter)
		}
	case design.DrivenPulley:
		x, y := a.Stages[stage].Driven, b.Stages[stage].Driven
		if x.Outside > y.Outside {
			return fmt.Sprintf("%s is larger than %s (compared from the output back; a large driven pulley there needs less grip)", x.Name, y.Name)
		}
		return fmt.Sprintf("of two driven pulleys equally large %s", inList(x.Name, y.Name))
	case design.DriverPulley:
		x, y := a.Stages[stage].Driver, b.Stages[stage].Driver
		if x.Outside < y.Outside {
			return fmt.Sprintf("%s is smaller than %s (compared from the output back; a small driver there leaves less for the other stages to do)", x.Name, y.Name)
		}
		return fmt.Sprintf("of two drivers equally large %s", inList(x.Name, y.Name))
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
