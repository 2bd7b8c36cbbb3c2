package supply

import (
	"math"
	"slices"

	"findrive/internal/allot"
	"findrive/internal/cutting"
	"findrive/internal/design"
	"findrive/internal/parts"
	"findrive/internal/purchase"
	"findrive/internal/units"
)

// sawnBy lists what is cut for so many of each choice.
func sawnBy(choices []choice, counts []int) []sawn {
	var out []sawn
	for i, n := range counts {
		if n > 0 {
			out = append(out, times(choices[i].sawn, n)...)
		}
	}
	return out
}

// sawable tells whether axles and discs can be cut from what there is.
func (a *asker) sawable(list []sawn, have []int) bool {
	taken := make([]int, len(list))
	for i := range list {
		taken[i] = list[i].count
	}
	for at := range a.parts {
		if a.parts[at].kind == "axle" && a.limited[at] && !a.cuttable(at, list, taken, have) {
			return false
		}
	}
	return a.reach(list)
}

// beside is what so many sets of a job may be built from when others are built too: so many
// pieces of each part in all, and of rods what is left when the axles of the others are
// cut, what is left of a rod that is begun among it; and the sheets that their discs leave
// whole. There may be other ways to cut those, so that there is no drive proves nothing.
func (a *asker) beside(j *job, caps []int, others []sawn, have []int, sets int) *parts.Cupboard {
	c := j.cupboard(caps, sets)
	c.Axles = nil
	if a.sheetsShort {
		c.Sheets = a.sheetsBeside(others)
	}
	taken := make([]int, len(others))
	for i := range others {
		taken[i] = others[i].count
	}
	for at, p := range a.parts {
		if p.kind != "axle" {
			continue
		}
		begun, ends := map[string]int{}, map[string][]units.Millimetres{}
		if pieces := piecesOf(at, others, taken); a.limited[at] && len(pieces) > 0 {
			plan, err := cutting.Cuts(pieces, a.rodsFor(at, pieces, have), cutting.Kerf)
			if err != nil {
				continue
			}
			for _, bar := range plan.Bars {
				begun[bar.Stock]++
				ends[bar.Stock] = append(ends[bar.Stock], bar.Left)
			}
		}
		for k, r := range a.rods {
			if r.part != at {
				continue
			}
			add := func(length units.Millimetres, count int) {
				i := slices.IndexFunc(j.together.Axles, func(x parts.AxleStock) bool { return x.Name == r.name })
				rod := j.together.Axles[i]
				rod.Length, rod.Count = length, count
				c.Axles = append(c.Axles, rod)
			}
			add(r.length, have[len(a.parts)+k]-begun[r.name])
			for _, length := range ends[r.name] {
				if length >= j.inner {
					add(length, 1)
				}
			}
		}
	}
	return c
}

// hundredths is what a length and one cut are in whole hundredths of a millimetre.
func hundredths(l units.Millimetres) int { return int(math.Floor(float64(l+cutting.Kerf)*100 + 1e-6)) }

// sawnFrom puts what is cut from rods into a sharing out of the same choices: of each kind
// of which there may be too few, the pieces and the length of them all, which bound it, and
// the pieces of each length, by which choices differ and which cutting settles.
func (a *asker) sawnFrom(p *allot.Problem, choices []choice, have []int) {
	short := slices.Clone(choices)
	for i := range short {
		short[i].sawn = slices.DeleteFunc(slices.Clone(short[i].sawn), func(s sawn) bool { return !a.limited[s.part] && a.parts[s.part].made == nil })
	}
	for at := range a.parts {
		if a.parts[at].kind != "axle" || !a.limited[at] {
			continue
		}
		shortest := units.Millimetres(math.Inf(1))
		for _, c := range short {
			for _, s := range c.sawn {
				if s.part == at {
					shortest = min(shortest, s.length)
				}
			}
		}
		if math.IsInf(float64(shortest), 1) {
			continue
		}
		pieces, length := 0, 0
		for k, r := range a.rods {
			if n := have[len(a.parts)+k]; r.part == at {
				pieces += n * design.FromRod(r.length, shortest)
				length += n * (hundredths(r.length) + 1)
			}
		}
		p.Stock = append(p.Stock, pieces, length)
		for i, c := range short {
			pieces, length := 0, 0
			for _, s := range c.sawn {
				if s.part == at {
					pieces += s.count
					length += s.count * hundredths(s.length)
				}
			}
			p.Choices[i].Takes = append(p.Choices[i].Takes, pieces, length)
		}
	}
	for m := range a.measures {
		p.Stock = append(p.Stock, a.room(m))
		for i, c := range choices {
			p.Choices[i].Takes = append(p.Choices[i].Takes, a.measured(m, c.takes))
		}
	}
	saw := &purchase.Problem{Choices: make([]purchase.Choice, len(choices))}
	a.sawing(saw, short)
	if len(saw.Rows) == 0 {
		return
	}
	for range saw.Rows {
		p.Joint = append(p.Joint, len(p.Stock))
		p.Stock = append(p.Stock, math.MaxInt32)
	}
	for i := range p.Choices {
		p.Choices[i].Takes = append(p.Choices[i].Takes, saw.Choices[i].Takes...)
	}
	p.Fits = func(counts []int) bool {
		taken := make([]int, len(saw.Rows))
		for i, n := range counts {
			for k, t := range saw.Choices[i].Takes {
				taken[k] += n * t
			}
		}
		return saw.Fits(taken, have)
	}
}
