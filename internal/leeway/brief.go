package leeway

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// words are the lines of the brief that cost nothing but leave.
func words(c Case) []Lever {
	var out []Lever
	b, f := c.Brief, c.Brief.Frame
	whole := brief.Rect{X1: f.Length, Y1: f.Height}
	add := func(can bool, key, kept, aside, do string, relax func(c Case)) {
		if can {
			out = append(out, Lever{Key: key, Words: kept, Aside: aside, Relax: relax, Ways: []Way{once(do, relax)}})
		}
	}
	add(b.Direction.MotorTurns != brief.Either, "motor direction", "the motor turning "+string(b.Direction.MotorTurns), "the motor turning either way",
		"let the motor turn either way (its wires can be swapped)", func(c Case) { c.Brief.Direction.MotorTurns = brief.Either })
	add(b.Direction.MotorTurns != brief.Either && b.Direction.Sense != brief.Either, "direction", "the model turning "+string(b.Direction.Sense), "the model turning either way",
		"let it turn either way", func(c Case) { c.Brief.Direction.Sense = brief.Either })
	add(b.Load.Wheel != "", "wheel", "wheel "+b.Load.Wheel, "any wheel", "use any wheel", func(c Case) { c.Brief.Load.Wheel = "" })
	add(b.Load.Drum != "", "drum", "drum "+b.Load.Drum, "any drum", "use any drum", func(c Case) { c.Brief.Load.Drum = "" })
	add(f.MotorZone != whole, "motor zone", "where the brief lets the motor sit", "the motor anywhere in the frame",
		"let the motor sit anywhere in the frame", func(c Case) { c.Brief.Frame.MotorZone = wholeOf(c.Brief.Frame) })
	add(f.OutputZone != whole, "output zone", "where the brief lets the last axle sit", "the last axle anywhere in the frame",
		"let the last axle sit anywhere in the frame", func(c Case) { c.Brief.Frame.OutputZone = wholeOf(c.Brief.Frame) })
	add(!b.Making.Glue, "glue", "no glue", "glue allowed", "allow glue", func(c Case) { c.Brief.Making.Glue = true })
	add(!b.Making.DrillOut, "drilling out", "no drilling out of pulleys", "drilling out allowed", "allow bores to be drilled out (an adult's job)",
		func(c Case) { c.Brief.Making.DrillOut = true })
	if b.MaxStages < drive.MaxStages {
		out = append(out, Lever{Key: "stages", Words: "at most " + plural(b.MaxStages, "stage") + " of pulleys", Aside: fmt.Sprintf("up to %d stages", drive.MaxStages),
			Relax: func(c Case) { c.Brief.MaxStages = drive.MaxStages },
			Ways: []Way{{Most: drive.MaxStages - b.MaxStages, Apply: func(c Case, n int) { c.Brief.MaxStages += n },
				Words: func(c Case, _ *design.Proposal) string {
					return fmt.Sprintf("allow %d stages of pulleys", c.Brief.MaxStages)
				}}}})
	}
	return append(out, cells(c)...)
}

func wholeOf(f brief.Frame) brief.Rect { return brief.Rect{X1: f.Length, Y1: f.Height} }

func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// mostCells is as many as a school's motor usually bears.
const mostCells = 4

// cells are which holders there are and which of them may be used.
func cells(c Case) []Lever {
	if len(c.Cupboard.Holders) == 0 {
		return nil
	}
	allowed, most := c.Brief.Cells, 1
	for n := 2; n <= mostCells; n++ {
		if borne(c, n) {
			most = n
		}
	}
	words := "the numbers of cells allowed and the holders there are"
	if tooStrong(c) {
		words = "the holders there are, whose cells give more volts than the motors bear"
	}
	l := Lever{Key: "cells", Words: words, Aside: fmt.Sprintf("1 to %d cells", most), Relax: func(c Case) {
		c.Brief.Cells = nil
		for n := 1; n <= mostCells; n++ {
			if borne(c, n) {
				addHolder(c, n)
			}
		}
		for i := range c.Cupboard.Holders {
			c.Cupboard.Holders[i].Count = plenty
		}
	}}
	if len(allowed) > 0 && slices.ContainsFunc(c.Cupboard.Holders, func(h parts.CellHolder) bool { return !slices.Contains(allowed, h.Cells) }) {
		l.Ways = append(l.Ways, once("allow every number of cells that there are holders for", func(c Case) { c.Brief.Cells = nil }))
	}
	for i := range c.Cupboard.Holders {
		h := &c.Cupboard.Holders[i]
		l.Ways = append(l.Ways, more("cell holder "+h.Name, c, h.Count, 1, func(c Case) *int { return &c.Cupboard.Holders[i].Count }))
	}
	for n := 1; n <= mostCells; n++ {
		if !borne(c, n) {
			continue
		}
		if !slices.ContainsFunc(c.Cupboard.Holders, func(h parts.CellHolder) bool { return h.Cells == n }) {
			w := once("", func(c Case) { c.Brief.Cells = nil; addHolder(c, n) })
			w.Words = func(c Case, _ *design.Proposal) string {
				if c.Brief.Sets == 1 {
					return "get a holder for " + plural(n, "cell")
				}
				return fmt.Sprintf("get %d holders for %s each", c.Brief.Sets, plural(n, "cell"))
			}
			w.Do = func(c Case, _ int, _ *design.Proposal) {
				c.Brief.Cells = nil
				addHolder(c, n)
				c.Cupboard.Holders[len(c.Cupboard.Holders)-1].Count = c.Brief.Sets
			}
			l.Ways = append(l.Ways, w)
		}
	}
	return []Lever{l}
}

// borne reports whether some motor there is bears so many cells of a sort that is there.
func borne(c Case, n int) bool {
	h := c.Cupboard.Holders[0]
	h.Cells = n
	return slices.ContainsFunc(c.Cupboard.Motors, func(m parts.Motor) bool { return constraints.Volts(&m, &h) == nil })
}

// tooStrong reports whether every holder there is gives every motor there is more volts
// than it bears, whatever numbers of cells are allowed.
func tooStrong(c Case) bool {
	cup := c.Cupboard.InStock()
	for h := range cup.Holders {
		if slices.ContainsFunc(cup.Motors, func(m parts.Motor) bool { return constraints.Volts(&m, &cup.Holders[h]) == nil }) {
			return false
		}
	}
	return len(cup.Holders) > 0 && len(cup.Motors) > 0
}

// addHolder adds holders for so many cells of a sort that is there.
func addHolder(c Case, n int) {
	h := c.Cupboard.Holders[0]
	if !slices.ContainsFunc(c.Cupboard.Holders, func(h parts.CellHolder) bool { return h.Cells == n }) {
		h.Item = parts.Item{Name: "a holder for " + plural(n, "cell"), Count: plenty}
		h.Cells = n
		c.Cupboard.Holders = append(c.Cupboard.Holders, h)
	}
}

// Wanted is the speed of a brief as it was written.
func Wanted(b *brief.Brief) string {
	switch {
	case b.Speed.Words != "":
		return b.Speed.Words
	case b.Speed.Linear > 0:
		return units.Significant(float64(b.Speed.Linear), 3) + " m/s"
	}
	return units.Significant(float64(b.Speed.Turning), 3) + " rpm"
}

// speed is how far the likely speed may be off: in hundredths up to the widest that a
// brief may allow, then in strides.
func speed(c Case) []Lever {
	off := []float64{c.Brief.Tolerance}
	const widest, stride, far = 0.9, 1.25, 1000
	for t := c.Brief.Tolerance + 0.01; t < widest+1e-9; t += 0.01 {
		off = append(off, units.Shares.Rounded(t))
	}
	for t := 1.0; t < far; t *= stride {
		off = append(off, t)
	}
	set := func(c Case, steps int) { c.Brief.Tolerance = off[steps] }
	return []Lever{{Key: "speed", Words: fmt.Sprintf("the speed, %s to within %s %%", Wanted(c.Brief), units.Decimals(100*c.Brief.Tolerance, 0)),
		Aside: "any speed", Relax: func(c Case) { set(c, len(off)-1) }, Cost: Speed,
		Ways: []Way{{Most: len(off) - 1, Apply: set, Do: func(c Case, _ int, q *design.Proposal) {
			c.Brief.Speed = found(q, c.Brief.Tolerance)
		}, Enough: func(q *design.Proposal) int {
			return sort.SearchFloat64s(off, math.Abs(float64(q.Speed.Likely/q.Target)-1))
		}, Words: func(c Case, q *design.Proposal) string {
			ask := "ask for " + SpeedOf(q) + " instead, the nearest speed found"
			if c.Brief.Tolerance > widest+1e-9 {
				return ask
			}
			return ask + fmt.Sprintf(", or let the speed be %s %% off", units.Decimals(100*math.Abs(float64(q.Speed.Likely/q.Target)-1)+0.5, 0))
		}}}}}
}

// found is the speed of a drive as a brief asks for it, in as few figures as leave the
// drive well within the tolerance.
func found(q *design.Proposal, tolerance float64) brief.Speed {
	for figures := 2; ; figures++ {
		var s brief.Speed
		off := 0.0
		if q.Linear != nil {
			s.Words = units.Significant(float64(q.Linear.Likely), figures) + " m/s"
			s.Linear, _ = units.Travels.Parse(s.Words)
			off = float64(q.Linear.Likely/s.Linear) - 1
		} else {
			s.Words = units.Significant(float64(q.Speed.Likely), figures) + " rpm"
			s.Turning, _ = units.Turnings.Parse(s.Words)
			off = float64(q.Speed.Likely/s.Turning) - 1
		}
		if math.Abs(off) < tolerance/2 || figures > 9 {
			return s
		}
	}
}

// SpeedOf is the likely speed of a drive in the unit that suits it.
func SpeedOf(q *design.Proposal) string {
	if q.Linear != nil {
		return units.Significant(100*float64(q.Linear.Likely), 2) + " cm/s"
	}
	return units.Significant(float64(q.Speed.Likely), 2) + " turns a minute"
}

// sets are how many groups build at once.
func sets(c Case) []Lever {
	all := c.Brief.Sets
	if all == 1 {
		return nil
	}
	return []Lever{{Key: "sets", Words: fmt.Sprintf("%d sets built at once", all), Aside: "1 set", Cost: Sets,
		Relax: func(c Case) { c.Brief.Sets = 1 },
		Ways: []Way{{Most: all - 1, Apply: func(c Case, n int) { c.Brief.Sets = all - n }, Words: func(c Case, _ *design.Proposal) string {
			return fmt.Sprintf("build %s at once, not %d", plural(c.Brief.Sets, "set"), all)
		}}}}}
}

// load is what the model weighs. A lighter one may run too fast, so that what is
// possible with the load kept need not be with less.
func load(c Case) []Lever {
	const least, steps = 0.1, 90 // a hundredth at a time
	b := c.Brief
	value := func(b *brief.Brief) *float64 { return (*float64)(&b.Load.Mass) }
	kept, do := fmt.Sprintf("the load, %s g", units.Significant(float64(b.Load.Mass), 3)), "make it no heavier than %s g"
	switch {
	case b.Model == brief.PlainShaft:
		value = func(b *brief.Brief) *float64 { return (*float64)(&b.Load.Torque) }
		kept, do = fmt.Sprintf("the load, %s mN.m", units.Significant(float64(b.Load.Torque), 3)), "ask only %s mN.m of it"
	case b.Model == brief.LevelRide && b.Load.OutOfBalance > 0:
		value = func(b *brief.Brief) *float64 { return (*float64)(&b.Load.OutOfBalance) }
		kept, do = fmt.Sprintf("the load, %s g out of balance", units.Significant(float64(b.Load.OutOfBalance), 3)), "balance it to within %s g"
	}
	if *value(b) <= 0 {
		return nil
	}
	set := func(c Case, n int) {
		if n > 0 {
			*value(c.Brief) = figures(*value(c.Brief) * (1 - (1-least)*float64(n)/steps))
		}
	}
	return []Lever{{Key: "load", Words: kept, Aside: "a tenth of the load", Both: true, Cost: Load, Relax: func(c Case) { set(c, steps) },
		Ways: []Way{{Most: steps, Apply: set, Words: func(c Case, _ *design.Proposal) string {
			return fmt.Sprintf(do, units.Significant(*value(c.Brief), 4)) // no less than it is
		}}}}}
}
