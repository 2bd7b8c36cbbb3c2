package built

import (
	"context"
	"fmt"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/parts"
	"findrive/internal/pause"
)

// moreStages is a drive of more stages, as few more as will do, with which a drive that is
// too fast turns as was wanted: found by the search of drives in the frame it stands in,
// and worked out again as a built one. Of as many stages one is taken that keeps its motor,
// cells and pulleys, else one that keeps motor and cells, else any. Nil if there is none,
// no frame is known, or the context ended first. The error is that of design.Find.
func (b *Build) moreStages(ctx context.Context) (*Change, error) {
	if !b.Framed || !(b.Brief.Speed.Turning > 0 || b.Brief.Speed.Linear > 0) {
		return nil, nil
	}
	cup := b.stocked()
	for n := len(b.Drive.Stages) + 1; n <= drive.MaxStages; n++ {
		wanted := *b.Brief
		wanted.MaxStages, wanted.Sets = n, 1
		for _, find := range b.searches(n) {
			if pause.Err(ctx) != nil {
				return nil, nil
			}
			r, err := find.search(ctx, cup, &wanted, design.Options{Keep: 1, Pins: &find.pins})
			if err != nil {
				return nil, err
			}
			for i := range r.Proposals {
				if c := b.becomes(&r.Proposals[i], cup, &wanted); c != nil && c.Solves(TooFast) {
					return c, nil
				}
			}
		}
	}
	return nil, nil
}

// finder is a search of drives that keep something of a built one.
type finder struct {
	pins   design.Pins
	search func(context.Context, *parts.Cupboard, *brief.Brief, design.Options) (*design.Result, error)
}

// searches are those for drives of n stages, that which keeps most first. Where much is
// kept the best is soon found; else any drive will do.
func (b *Build) searches(n int) []finder {
	d := b.Drive
	keeps := design.Pins{Motor: d.Motor.Name, Holder: d.Holder.Name, Stages: n}
	all := keeps
	for i := range d.Stages {
		all.Each = append(all.Each, design.StagePins{Driver: d.Stages[i].Driver.Name, Driven: d.Stages[i].Driven.Name})
	}
	return []finder{{all, design.Find}, {keeps, design.Exists}, {design.Pins{Stages: n}, design.Exists}}
}

// stocked is the cupboard with at least the parts that are in the drive.
func (b *Build) stocked() *parts.Cupboard {
	d := b.Drive
	used := map[[2]string]int{{"motor", d.Motor.Name}: 1, {"cells", d.Holder.Name}: 1}
	for i := range d.Stages {
		s := &d.Stages[i]
		used[[2]string{"pulley", s.Driver.Name}]++
		used[[2]string{"pulley", s.Driven.Name}]++
		used[[2]string{"band", s.Band.Name}] += s.Use.BandsTaken()
	}
	if d.Wheel != nil {
		used[[2]string{"wheel", d.Wheel.Name}] = drive.VehicleWheels
	}
	if d.Drum != nil {
		used[[2]string{"drum", d.Drum.Name}] = 1
	}
	return b.Cupboard.Recounted(func(kind string, it *parts.Item) int {
		return max(it.Count, used[[2]string{kind, it.Name}])
	})
}

// becomes is a proposal in the place of a drive that is too fast.
func (b *Build) becomes(p *design.Proposal, cup *parts.Cupboard, wanted *brief.Brief) *Change {
	after := FromProposal(p, cup, wanted)
	after.Name = b.Name
	was, err := Work(b)
	now, also := Work(after)
	if err != nil || also != nil {
		return nil
	}
	more := "another stage"
	if n := len(after.Drive.Stages) - len(b.Drive.Stages); n > 1 {
		more = fmt.Sprintf("%d more stages", n)
	}
	var stages []string
	for i := range after.Drive.Stages {
		s := &after.Drive.Stages[i]
		use := ""
		if s.Use != drive.Single {
			use = ", " + s.Use.String()
		}
		stages = append(stages, fmt.Sprintf("%s to %s with band %s%s, %s apart", s.Driver.Name, s.Driven.Name, s.Band.Name, use, millimetres(after.Drive.Centre(i))))
	}
	says := more + ": " + strings.Join(stages, ", then ")
	if after.Drive.Motor.Name != b.Drive.Motor.Name {
		says += ", on motor " + after.Drive.Motor.Name
	}
	if after.Drive.Holder.Name != b.Drive.Holder.Name {
		says += fmt.Sprintf(", from holder %s (%s)", after.Drive.Holder.Name, cells(after.Drive.Holder.Cells))
	}
	return &Change{
		Steps: []string{says}, After: now,
		Before: b.trouble(TooFast, drive.Conditions{}), Now: after.trouble(TooFast, drive.Conditions{}),
		BrokenBefore: was.Broken(), BrokenNow: now.Broken(),
	}
}
