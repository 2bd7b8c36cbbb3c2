package ideas

import (
	"context"
	"fmt"
	"math"
	"slices"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/leeway"
	"findrive/internal/parts"
	"findrive/internal/pause"
	"findrive/internal/supply"
	"findrive/internal/units"
)

// Change is one change with which a drive becomes possible.
type Change struct {
	Words string           // what to do, to follow "If you": "let it turn either way"
	Drive *design.Proposal // the best drive then, for one set
	Sets  int              // that the stock makes of it
	// Different is how many different drives the sets are built as, where they may differ;
	// Drive is then the one that most of them build. 0 for one drive.
	Different int
}

// enough is how many changes are looked for: a tired reader wants a way out, not
// all of them.
const enough = 3

// way is a change that can be made by more or less. At 0 steps nothing is
// changed.
type way struct {
	most  int // steps
	apply func(c *parts.Cupboard, b *brief.Brief, steps int)
	// words are of the brief changed by as little as will do, and a drive found with it.
	words func(b *brief.Brief, q *design.Proposal) string
	// of, instead, are words of different drives; nil where one of them says all.
	of func(drives []supply.Share) string
}

// changes looks for single changes, those that cost least first, until enough are
// found or all are tried. all is whether there are no others.
func (k asker) changes(ctx context.Context, b *brief.Brief) (found []Change, all bool, err error) {
	return k.among(ctx, b, ways(k.cup, b))
}

func (k asker) among(ctx context.Context, b *brief.Brief, list []way) (found []Change, all bool, err error) {
	for _, w := range list {
		if w.most < 1 {
			continue
		}
		c, err := k.least(ctx, b, w)
		if err != nil {
			return nil, false, err
		}
		if c != nil {
			found = append(found, *c)
		}
		switch {
		case len(found) == enough:
			return found, false, nil
		case pause.Err(ctx) != nil:
			return found, false, nil
		}
	}
	return found, true, nil
}

// least is the change by few steps that will do; nil if its most will not. It
// halves, so the steps are the fewest where more of a change never makes less
// possible.
func (k asker) least(ctx context.Context, b *brief.Brief, w way) (*Change, error) {
	var best *Change
	lo, hi := 0, w.most // lo will not do, hi will
	for steps := hi; hi-lo > 1 || best == nil; steps = lo + (hi-lo)/2 {
		c, err := k.with(ctx, b, w, steps)
		switch {
		case err != nil:
			return nil, err
		case c != nil:
			best, hi = c, steps
		case best == nil:
			return nil, nil
		default:
			lo = steps
		}
	}
	return best, nil
}

// with searches with a change made, for one set unless the asker says otherwise.
func (k asker) with(ctx context.Context, b *brief.Brief, w way, steps int) (*Change, error) {
	cup, changed := *k.cup, *b
	changed.Sets = max(1, k.sets)
	w.apply(&cup, &changed, steps)
	if k.mix {
		return k.mixed(ctx, &cup, &changed, w)
	}
	r, err := design.Find(ctx, &cup, &changed, design.Options{Keep: 1, Threads: k.opt.Threads, Watch: k.opt.Watch})
	if err != nil || len(r.Proposals) == 0 {
		return nil, err
	}
	sets, _ := capacity(&r.Proposals[0])
	return &Change{Words: w.words(&changed, &r.Proposals[0]), Drive: &r.Proposals[0], Sets: sets}, nil
}

// mixed is whether all sets can be built with a change made, of different drives.
func (k asker) mixed(ctx context.Context, cup *parts.Cupboard, b *brief.Brief, w way) (*Change, error) {
	s, err := supply.Serve(ctx, cup, b, 0, supply.Options{Threads: k.opt.Threads, Watch: k.opt.Watch, AllOrNone: true})
	if err != nil || s.Served < b.Sets {
		return nil, err
	}
	words := w.words(b, s.Shares[0].Drive)
	if w.of != nil {
		words = w.of(s.Shares)
	}
	return &Change{Words: words, Drive: s.Shares[0].Drive, Sets: s.Served, Different: len(s.Shares)}, nil
}

// once is a change without degrees.
func once(words string, apply func(c *parts.Cupboard, b *brief.Brief)) way {
	return way{1, func(c *parts.Cupboard, b *brief.Brief, _ int) { apply(c, b) }, func(*brief.Brief, *design.Proposal) string { return words }, nil}
}

// ways are the changes that can be made to a brief and its cupboard, in the order
// of what they cost: first a word in the brief, then pulleys to make of what there is,
// another speed, a part, another model.
func ways(cup *parts.Cupboard, b *brief.Brief) []way {
	return slices.Concat(words(cup, b), discs(cup, b), speed(b), spares(cup), bands(cup), model(b))
}

// words are the changes that cost nothing but leave.
func words(cup *parts.Cupboard, b *brief.Brief) []way {
	var out []way
	add := func(can bool, words string, apply func(c *parts.Cupboard, b *brief.Brief)) {
		if can {
			out = append(out, once(words, apply))
		}
	}
	f := b.Frame
	whole := brief.Rect{X1: f.Length, Y1: f.Height}
	add(b.Direction.MotorTurns != brief.Either, "let the motor turn either way (its wires can be swapped)",
		func(_ *parts.Cupboard, b *brief.Brief) { b.Direction.MotorTurns = brief.Either })
	add(b.Direction.Sense != brief.Either, "let it turn either way",
		func(_ *parts.Cupboard, b *brief.Brief) { b.Direction.Sense = brief.Either })
	add(b.Load.Wheel != "", "use any wheel", func(_ *parts.Cupboard, b *brief.Brief) { b.Load.Wheel = "" })
	add(b.Load.Drum != "", "use any drum", func(_ *parts.Cupboard, b *brief.Brief) { b.Load.Drum = "" })
	add(len(b.Cells) > 0 && slices.ContainsFunc(cup.Holders, func(h parts.CellHolder) bool { return !slices.Contains(b.Cells, h.Cells) }),
		"allow every number of cells that there are holders for", func(_ *parts.Cupboard, b *brief.Brief) { b.Cells = nil })
	add(f.MotorZone != whole, "let the motor sit anywhere in the frame",
		func(_ *parts.Cupboard, b *brief.Brief) { b.Frame.MotorZone = whole })
	add(f.OutputZone != whole, "let the last axle sit anywhere in the frame",
		func(_ *parts.Cupboard, b *brief.Brief) { b.Frame.OutputZone = whole })
	add(!b.Making.Glue, "allow glue", func(_ *parts.Cupboard, b *brief.Brief) { b.Making.Glue = true })
	add(!b.Making.DrillOut, "allow bores to be drilled out", func(_ *parts.Cupboard, b *brief.Brief) { b.Making.DrillOut = true })
	add(b.MaxStages < mostStages, fmt.Sprintf("allow %d stages of pulleys", b.MaxStages+1),
		func(_ *parts.Cupboard, b *brief.Brief) { b.MaxStages++ })
	return out
}

// mostStages is as many as a brief may ask for.
const mostStages = 4

// spares are one more of each kind of pulley. Of other parts a set takes so few
// that one more of a kind that is there opens little.
func spares(cup *parts.Cupboard) []way {
	var out []way
	for i := range cup.Pulleys {
		if p := &cup.Pulleys[i]; p.Count < 2*mostStages {
			out = append(out, once(fmt.Sprintf("get one more of pulley %s", p.Name), func(c *parts.Cupboard, _ *brief.Brief) {
				c.Pulleys = slices.Clone(c.Pulleys)
				c.Pulleys[i].Count++
			}))
		}
	}
	return out
}

// bands are a bag of each trade size that the cupboard has not.
func bands(cup *parts.Cupboard) []way {
	var out []way
	for _, bag := range leeway.TradeBands(cup) {
		out = append(out, once(fmt.Sprintf("get rubber bands of trade size %s (%.0f x %.1f mm)", bag.Size, float64(bag.FlatLength), float64(bag.Width)),
			func(c *parts.Cupboard, _ *brief.Brief) { c.Bands = append(slices.Clone(c.Bands), bag) }))
	}
	return out
}

// speed is a wider tolerance, in whole hundredths as why has it.
func speed(b *brief.Brief) []way {
	const exact = 1e-9
	from := math.Floor(100*b.Tolerance + exact)
	return []way{{
		most: int(math.Round(100*mostTolerance - from)),
		apply: func(_ *parts.Cupboard, b *brief.Brief, steps int) {
			if steps > 0 {
				b.Tolerance = (from + float64(steps)) / 100
			}
		},
		words: func(b *brief.Brief, _ *design.Proposal) string {
			return fmt.Sprintf("let the speed be %.0f %% off", 100*b.Tolerance)
		},
	}}
}

// mostTolerance is the widest that a brief may allow.
const mostTolerance = 0.9

// model are changes of the load and the frame.
func model(b *brief.Brief) []way {
	var out []way
	less := func(value func(b *brief.Brief) *float64, words string) {
		const steps = 9
		if *value(b) <= 0 {
			return
		}
		out = append(out, way{steps, func(_ *parts.Cupboard, b *brief.Brief, n int) {
			v := value(b)
			*v *= 1 - float64(n)/(steps+1)
		}, func(b *brief.Brief, _ *design.Proposal) string {
			return fmt.Sprintf(words, units.Significant(*value(b), 2))
		}, nil})
	}
	switch b.Model {
	case brief.PlainShaft:
		less(func(b *brief.Brief) *float64 { return (*float64)(&b.Load.Torque) }, "ask only %s mN.m of it")
	case brief.LevelRide:
		less(func(b *brief.Brief) *float64 { return (*float64)(&b.Load.OutOfBalance) }, "balance it to within %s g")
	}
	if b.Model != brief.PlainShaft {
		less(func(b *brief.Brief) *float64 { return (*float64)(&b.Load.Mass) }, "make it no heavier than %s g")
	}
	more := func(of units.Millimetres, grow func(f *brief.Frame, by units.Millimetres), words string) {
		const step units.Millimetres = 10
		out = append(out, way{20, func(_ *parts.Cupboard, b *brief.Brief, steps int) { grow(&b.Frame, units.Millimetres(steps)*step) },
			func(b *brief.Brief, _ *design.Proposal) string {
				now := map[string]units.Millimetres{"long": b.Frame.Length, "high": b.Frame.Height, "deep": b.Frame.Depth}[words]
				return fmt.Sprintf("make the frame %.0f mm %s, %.0f mm more", float64(now), words, float64(now-of))
			}, nil})
	}
	more(b.Frame.Length, leeway.Lengthen, "long")
	more(b.Frame.Height, leeway.Heighten, "high")
	more(b.Frame.Depth, func(f *brief.Frame, by units.Millimetres) { f.Depth += by }, "deep")
	return out
}
