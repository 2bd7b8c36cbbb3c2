package groups

import (
	"math"
	"slices"

	"findrive/internal/allot"
	"findrive/internal/cutting"
	"findrive/internal/design"
	"findrive/internal/units"
)

// rodsOf are the rods of a kind, and as many more of the first name.
func (c *class) rodsOf(name string, more int) []cutting.Stock {
	var out []cutting.Stock
	also := c.stock[key{"axle", name}].Also
	for i := range c.cup.Axles {
		if a := &c.cup.Axles[i]; a.Name == name || slices.Contains(also, a.Name) {
			rod := cutting.Stock{Name: a.Name, Length: a.Length, Count: a.Count}
			if a.Name == name {
				rod.Count += more
			}
			out = append(out, rod)
		}
	}
	return out
}

// rods puts what is cut from rods into a problem: by total length, which bounds it, and
// by cutting, which settles it. The axles of each length are rows of their own, of which
// there is no end, so that drives are compared by them.
func (c *class) rods(p *allot.Problem) {
	var axles []design.Axle
	for _, d := range c.drives {
		for _, a := range design.CutAxles(d.Drive, c.brief) {
			a.Count = 0
			if !slices.Contains(axles, a) {
				axles = append(axles, a)
			}
		}
	}
	for _, a := range axles {
		p.Joint = append(p.Joint, len(p.Stock))
		p.Stock = append(p.Stock, math.MaxInt32)
		for i, d := range c.drives {
			n := 0
			for _, cut := range design.CutAxles(d.Drive, c.brief) {
				if cut.Stock == a.Stock && cut.Length == a.Length {
					n += cut.Count
				}
			}
			p.Choices[i].Takes = append(p.Choices[i].Takes, n)
		}
	}
	for row, k := range c.keys {
		if k.kind != "axle" {
			continue
		}
		p.Stock[row] = c.length(k.name, 0)
		for i, d := range c.drives {
			p.Choices[i].Takes[row] = 0
			for _, cut := range design.CutAxles(d.Drive, c.brief) {
				if cut.Stock == k.name {
					p.Choices[i].Takes[row] += cut.Count * hundredths(cut.Length)
				}
			}
		}
	}
	p.Fits = func(counts []int) bool { return c.fits(counts, "", 0) }
}

// hundredths is what a length and one cut are in whole hundredths of a millimetre.
func hundredths(l units.Millimetres) int { return int(math.Floor(float64(l+cutting.Kerf)*100 + 1e-6)) }

func (c *class) length(name string, more int) int {
	sum := 0
	for _, r := range c.rodsOf(name, more) {
		sum += r.Count * (hundredths(r.Length) + 1)
	}
	return sum
}

// moreRod gives a problem more rods of a kind.
func (c *class) moreRod(p *allot.Problem, name string, more int) {
	p.Stock[slices.Index(c.keys, key{"axle", name})] = c.length(name, more)
	p.Fits = func(counts []int) bool { return c.fits(counts, name, more) }
}

// fits is whether the axles of so many of each drive can be cut, with more rods of one
// kind.
func (c *class) fits(counts []int, with string, more int) bool {
	for _, k := range c.keys {
		if k.kind != "axle" {
			continue
		}
		extra := 0
		if k.name == with {
			extra = more
		}
		if !c.cuttable(k.name, counts, extra) {
			return false
		}
	}
	return true
}

func (c *class) cuttable(name string, counts []int, more int) bool {
	var pieces []cutting.Piece
	for i, n := range counts {
		if n == 0 {
			continue
		}
		for _, cut := range design.CutAxles(c.drives[i].Drive, c.brief) {
			if cut.Stock == name {
				pieces = append(pieces, cutting.Piece{Length: cut.Length, Count: n * cut.Count})
			}
		}
	}
	return cutting.Enough(pieces, c.rodsOf(name, more), cutting.Kerf)
}

// rodsGone is whether what is left of a kind of rod is too little for one more of some
// drive of the plan.
func (c *class) rodsGone(name string) bool {
	for i, n := range c.plan.Counts {
		if n == 0 || !slices.ContainsFunc(design.CutAxles(c.drives[i].Drive, c.brief), func(a design.Axle) bool { return a.Stock == name }) {
			continue
		}
		counts := slices.Clone(c.plan.Counts)
		counts[i]++
		if !c.cuttable(name, counts, 0) {
			return true
		}
	}
	return false
}

// mostAxles is how many axles the rods of a kind yield at most: as many of the shortest
// that any drive takes.
func (c *class) mostAxles(name string) int {
	n := 0
	for _, r := range c.rodsOf(name, 0) {
		n += r.Count * design.FromRod(r.Length, design.AxleLength(c.brief))
	}
	return n
}
