package leeway

import (
	"fmt"
	"math"
	"slices"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/design"
	"findrive/internal/units"
)

// mostMore is how much larger a frame is thought of, each way.
const mostMore = 150 // mm

// frame are the sizes of the frame, its grid of holes and its rails.
func frame(c Case) []Lever {
	f := &c.Brief.Frame
	size := func(key, how string, is func(f *brief.Frame) units.Millimetres, grow func(c Case, by units.Millimetres)) Lever {
		was := is(f)
		return Lever{Key: key, Words: fmt.Sprintf("a frame %s mm %s", units.Decimals(float64(was), 1), how), Aside: fmt.Sprintf("a frame %d mm more than %s mm %s", mostMore, units.Decimals(float64(was), 1), how), Cost: Frame,
			Relax: func(c Case) { grow(c, mostMore) },
			Ways: []Way{{Most: mostMore, Apply: func(c Case, n int) {
				if n > 0 {
					grow(c, units.Millimetres(n))
					sayZones(&c.Brief.Frame)
				}
			}, Words: func(c Case, _ *design.Proposal) string {
				now := is(&c.Brief.Frame)
				return fmt.Sprintf("make the frame %s mm %s, %s mm more", units.Decimals(float64(now), 1), how, units.Decimals(float64(now-was), 1))
			}}}}
	}
	out := []Lever{
		size("frame length", "long", func(f *brief.Frame) units.Millimetres { return f.Length }, func(c Case, by units.Millimetres) { Lengthen(&c.Brief.Frame, by) }),
		size("frame height", "high", func(f *brief.Frame) units.Millimetres { return f.Height }, func(c Case, by units.Millimetres) { Heighten(&c.Brief.Frame, by) }),
		size("frame depth", "deep", func(f *brief.Frame) units.Millimetres { return f.Depth }, func(c Case, by units.Millimetres) { c.Brief.Frame.Depth += by }),
	}
	wasDeep := f.Depth
	axlesGrow(&out[2], func(_ Case, q *design.Proposal) units.Millimetres { return q.Drive.Lanes.Depth - wasDeep })
	if f.Pitch > 1 {
		was := f.Pitch
		drilled := func(c Case) { c.Brief.Frame.Pitch = was / units.Millimetres(math.Ceil(float64(was))) }
		out = append(out, Lever{Key: "hole pitch", Words: fmt.Sprintf("holes only every %s mm", units.Decimals(float64(was), 2)), Aside: "holes anywhere", Cost: Frame,
			Relax: drilled, Ways: []Way{once("drill holes where they are needed, not only on the grid", drilled)}})
	}
	if len(f.Rails) > 0 {
		sheet := func(c Case) {
			f := &c.Brief.Frame
			rails := f.Rails
			f.Rails = nil
			for h := units.Millimetres(0); h <= f.Height; h += units.Millimetres(railStep) {
				f.Rails = append(f.Rails, h)
			}
			f.Rails = append(f.Rails, rails...)
		}
		way := once("carry the axles at other heights than the rails'", sheet)
		way.Do = func(c Case, _ int, q *design.Proposal) {
			f := &c.Brief.Frame
			f.Rails = slices.Clone(f.Rails)
			for _, at := range q.Drive.Positions {
				f.Rails = append(f.Rails, at.Y)
			}
			slices.Sort(f.Rails)
			f.Rails = slices.Compact(f.Rails)
		}
		if f.Strip > 0 {
			was := f.Strip
			wider := func(c Case, n int) { c.Brief.Frame.Strip = was + units.Millimetres(n) }
			strip := Lever{Key: "strip", Words: fmt.Sprintf("strip of %s mm", units.Decimals(float64(was), 1)), Aside: fmt.Sprintf("strip %d mm wider", mostStrip), Cost: Frame,
				Relax: func(c Case) { wider(c, mostStrip) },
				Ways: []Way{{Most: mostStrip, Apply: wider, Words: func(c Case, _ *design.Proposal) string {
					return fmt.Sprintf("make the frame of %s mm strip, not of %s mm", units.Decimals(float64(c.Brief.Frame.Strip), 1), units.Decimals(float64(was), 1))
				}}}}
			axlesGrow(&strip, func(c Case, q *design.Proposal) units.Millimetres {
				need := units.Millimetres(0)
				for _, axle := range q.Drive.Axles {
					need = max(need, 2*constraints.HoleInset(c.Brief.Limits, c.Brief.Making, axle.Diameter))
				}
				return need - was
			})
			out = append(out, strip)
		}
		out = append(out, Lever{Key: "rails", Words: "the heights of the rails", Aside: fmt.Sprintf("a rail every %d mm", railStep), Cost: Frame,
			Relax: sheet, Ways: []Way{way}})
	}
	return out
}

// axlesGrow makes of a lever of the frame one with more of which axles must be longer, so
// that rods yield fewer of them: with a little of it more may be possible than with much.
// needs is how many millimetres more a drive takes that was found in a case.
func axlesGrow(l *Lever, needs func(c Case, q *design.Proposal) units.Millimetres) {
	way := &l.Ways[0]
	way.Loose = func(c Case, steps, grown int) {
		to := c.Copy()
		way.Apply(to, grown)
		way.Apply(c, steps)
		c.Brief.Frame.AxlesLess += c.Brief.Frame.OverSides() - to.Brief.Frame.OverSides()
	}
	l.Relax = func(c Case) { way.Loose(c, way.Most, 0) }
	way.Needs = func(c Case, q *design.Proposal) int {
		const exact = 1e-9 // mm
		return min(max(0, int(math.Ceil(float64(needs(c, q))-exact))), way.Most)
	}
}

// mostStrip is how much wider a strip is thought of.
const mostStrip = 20 // mm

// railStep is how far apart rails are thought of that may be anywhere.
const railStep = 5 // mm

// sayZones makes of zones that have no words sizes that a brief can say: to tenths of a
// millimetre, outwards.
func sayZones(f *brief.Frame) {
	for _, z := range []*brief.Rect{&f.MotorZone, &f.OutputZone} {
		if _, has := brief.ZoneWords(*f, *z); has {
			continue
		}
		down := func(x units.Millimetres) units.Millimetres { return units.Millimetres(math.Floor(float64(x)*10) / 10) }
		up := func(x, most units.Millimetres) units.Millimetres {
			return min(most, units.Millimetres(math.Ceil(float64(x)*10)/10))
		}
		z.X0, z.Y0, z.X1, z.Y1 = down(z.X0), down(z.Y0), up(z.X1, f.Length), up(z.Y1, f.Height)
	}
}

// Lengthen makes a frame longer to the right; zones that reach its end still do.
func Lengthen(f *brief.Frame, by units.Millimetres) {
	for _, z := range []*brief.Rect{&f.MotorZone, &f.OutputZone} {
		if z.X1 == f.Length {
			z.X1 += by
		}
	}
	f.Length += by
}

// Heighten makes a frame higher at the top, its rails staying where they are; zones
// that reach its top still do.
func Heighten(f *brief.Frame, by units.Millimetres) {
	for _, z := range []*brief.Rect{&f.MotorZone, &f.OutputZone} {
		if z.Y1 == f.Height {
			z.Y1 += by
		}
	}
	f.Height += by
}
