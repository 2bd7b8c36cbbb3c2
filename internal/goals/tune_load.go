package goals

import (
	"cmp"
	"slices"
	"sort"

	"findrive/internal/built"
	"findrive/internal/constraints"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/units"
)

// Carries is up to which mass in grams, or slope in degrees, a model lifts or climbs: Kept
// with every rule kept, Goes as far as it goes at all and no rule is broken but margins
// against a poor day. 0 is that it does not do even the least.
type Carries struct{ Kept, Goes float64 }

// loaded reports whether a goal is about what a model lifts or climbs, which is told by what
// it carries and not by how fast it is.
func (c *Challenge) loaded() bool { return c.Kind == Heaviest || c.Kind == Steepest }

// loadSteps are the step in which loads are told, and how many of them are looked at.
func (c *Challenge) loadSteps() (step float64, most int) {
	if c.Kind == Heaviest {
		return float64(weightStep), int(heaviestLift / weightStep)
	}
	return 1, steepestThought
}

// under is a model with another load.
func (c *Challenge) under(b *built.Build, load float64) *built.Build {
	x, q := *b, *b.Brief
	if c.Kind == Heaviest {
		q.Load.Mass = units.Grams(load)
	} else {
		q.Load.Slope = units.Degrees(load)
	}
	x.Brief = &q
	return &x
}

// inTime reports whether a model does its way within the time that counts.
func (c *Challenge) inTime(b *built.Build) bool {
	way := c.Distance
	if c.Kind == Heaviest {
		way = c.Height
	}
	n := b.SpeedUnder(drive.Conditions{})
	travel := design.TravelOf(b.Drive, b.Brief, design.SpeedRange{Low: n, Likely: n, High: n})
	return travel != nil && float64(travel.Likely)*float64(c.Within) >= float64(way)/1000
}

// carries works out what a model carries. More load never mends a rule; see steepest and
// heaviest.
func (c *Challenge) carries(b *built.Build) Carries {
	step, most := c.loadSteps()
	upTo := func(does func(x *built.Build) bool) float64 {
		fails := sort.Search(most, func(k int) bool {
			x := c.under(b, step*float64(k+1))
			return !does(x) || !c.inTime(x)
		})
		return step * float64(fails)
	}
	out := Carries{Kept: upTo(func(x *built.Build) bool { return x.Sound(constraints.Speed) })}
	out.Goes = upTo(func(x *built.Build) bool { return x.Sound(append(slices.Clone(margins), constraints.Speed)...) })
	return out
}

// judgeLoad is JudgeBuilt for a goal that is told by what a model carries.
func (c *Challenge) judgeLoad(b *built.Build) (*Built, error) {
	least, _ := c.loadSteps()
	if c.Kind == Steepest {
		least = 0
	}
	w, err := built.Work(c.under(b, least))
	if err != nil {
		return nil, err
	}
	if w.Stops != built.Turns {
		return nil, ErrNoRun
	}
	carries := c.carries(b)
	out := &Built{Challenge: c, Working: w, Carries: &carries, Likely: carries.Kept}
	rules := &contest{rules: c.Rules, brief: b.Brief}
	out.against(rules, b, w)
	for _, k := range c.singleChanges(b, rules) {
		does := c.carries(k.model)
		if does.Goes == 0 {
			continue
		}
		k.Carries, k.Likely = does, does.Kept
		out.Changes = append(out.Changes, k.Change)
	}
	slices.SortStableFunc(out.Changes, func(x, y Change) int {
		return cmp.Or(-cmp.Compare(x.Carries.Kept, y.Carries.Kept), -cmp.Compare(x.Carries.Goes, y.Carries.Goes))
	})
	out.Changes = out.Changes[:min(len(out.Changes), mostChanges)]
	return out, nil
}
