package making

import (
	"math"

	"findrive/internal/parts"
)

// Measure is a limit that holds however discs are laid in rows on one kind of sheet: what
// they measure together is at most what the sheets do. There are several, each sharp for
// discs of some size.
//
// A disc takes so much of a row's length, and its row at least so much of a sheet's width.
// Of either share a function is taken that adds up to 1 at most whenever the shares do
// (Fekete and Schepers, "New classes of fast lower bounds for bin packing problems", 2001);
// so the products of both add up to 1 at most on a sheet.
type Measure struct {
	sheet      *parts.SheetStock
	long, wide int // of the functions; 0 for the share itself
}

// mostFold is up to how many discs side by side a measure is sharp.
const mostFold = 8

// Measures are those of the sheets that some pulleys are made from which are the sharpest
// for some disc.
func Measures(cup *parts.Cupboard, pulleys []parts.Pulley) []Measure {
	var out []Measure
	for i := range cup.Sheets {
		s := &cup.Sheets[i]
		used := map[Measure]bool{}
		add := func(m Measure) {
			if !used[m] {
				used[m] = true
				out = append(out, m)
			}
		}
		for k := range pulleys {
			for _, d := range pulleys[k].Made.Pieces() {
				if d.Sheet != s.Name {
					continue
				}
				add(Measure{sheet: s}) // area
				best := Measure{sheet: s}
				for long := range mostFold + 1 {
					for wide := range mostFold + 1 {
						if m := (Measure{s, long, wide}); m.of(d.Diameter) > best.of(d.Diameter)+1e-9 {
							best = m
						}
					}
				}
				add(best)
			}
		}
	}
	return out
}

// fold is the k-th of the functions.
func fold(share float64, k int) float64 {
	times := share * float64(k+1)
	if k == 0 || math.Abs(times-math.Round(times)) < 1e-9 {
		return share
	}
	return math.Floor(times) / float64(k)
}

func (m *Measure) of(disc mm) float64 {
	return fold(share(disc, m.sheet.Length), m.long) * fold(share(disc, m.sheet.Width), m.wide)
}

// share is what part of an edge a disc takes.
func share(disc, length mm) float64 { return min(1, float64((disc+across)/(length-2*edge+across))) }

// Takes is what the discs of a pulley measure.
func (m *Measure) Takes(p *parts.Pulley) float64 {
	sum := 0.0
	for _, d := range p.Made.Pieces() {
		if d.Sheet == m.sheet.Name {
			sum += m.of(d.Diameter)
		}
	}
	return sum
}

// Room is what all sheets measure.
func (m *Measure) Room() float64 { return float64(m.sheet.Count) }
