package explain

import (
	"fmt"
	"math"
)

// WholeStage says that the driver turns Driver times while the driven pulley turns
// Driven times.
type WholeStage struct{ Driver, Driven int }

// mostDriven keeps the numbers of one stage small.
const mostDriven = 5

// nearStage is how far the numbers of one stage may be from its ratio, as far as
// small numbers come that near, and nearAll how far all of them multiplied may be
// from the ratio of the whole drive: a pupil who multiplies gets what is claimed.
const (
	nearStage = 0.08
	nearAll   = 0.03
)

// Wholes are the ratios of the stages of one drive, driver turns to driven turns and
// each above 0, in small whole numbers for sums that pupils can do: of all numbers
// near enough stage by stage and together, those with the smallest second ones.
func Wholes(ratios []float64) []WholeStage {
	choices := make([][]WholeStage, len(ratios))
	for i, r := range ratios {
		choices[i] = fractions(r)
	}
	var best []WholeStage
	leastOff, leastCost := math.Inf(1), math.Inf(1)
	picked := make([]WholeStage, len(ratios))
	var pick func(i int, product, cost float64)
	pick = func(i int, product, cost float64) {
		if i == len(ratios) {
			// Near enough is near enough; only further off counts.
			off := max(nearAll, math.Abs(product-1))
			if off < leastOff-1e-9 || off < leastOff+1e-9 && cost < leastCost-1e-9 {
				best, leastOff, leastCost = append(best[:0], picked...), off, cost
			}
			return
		}
		for _, w := range choices[i] {
			picked[i] = w
			share := float64(w.Driver) / float64(w.Driven) / ratios[i]
			// A second number one larger is worth four hundredths of nearness.
			pick(i+1, product*share, cost+float64(min(w.Driver, w.Driven)-1)+25*math.Abs(share-1))
		}
	}
	pick(0, 1, 0)
	return best
}

// fractions are the pairs of small whole numbers near a ratio, or the nearest one.
func fractions(ratio float64) []WholeStage {
	if ratio < 1 {
		out := fractions(1 / ratio)
		for i, w := range out {
			out[i] = WholeStage{w.Driven, w.Driver}
		}
		return out
	}
	var out []WholeStage
	nearest, least := WholeStage{1, 1}, math.Inf(1)
	for q := 1; q <= mostDriven; q++ {
		floor := int(ratio * float64(q))
		for p := floor; p <= floor+1; p++ {
			if divisor(p, q) > 1 {
				continue
			}
			off := math.Abs(float64(p)/float64(q)/ratio - 1)
			if off < least {
				nearest, least = WholeStage{p, q}, off
			}
			if off <= nearStage {
				out = append(out, WholeStage{p, q})
			}
		}
	}
	if out == nil {
		out = append(out, nearest)
	}
	return out
}

func divisor(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// nearHalf is how far a number said in halves may be from what it is (judgement: what is not
// seen in a count).
const nearHalf = 0.05

// Halves says how often in words, to the next half below 20 and whole from there:
// "8 and a half", "60". A small number that no half is near is in two figures: "0.67".
func Halves(v float64) string {
	half := math.Round(2*v) / 2
	if v >= 20 {
		half = math.Round(v)
	}
	if math.Abs(half-v) > nearHalf*v {
		return about(v)
	}
	whole := math.Floor(half)
	switch {
	case half == whole:
		return fmt.Sprintf("%.0f", whole)
	case whole == 0:
		return "half"
	}
	return fmt.Sprintf("%.0f and a half", whole)
}
