package explain

import "math"

// WholeStage says that the driver turns Driver times while the driven pulley turns
// Driven times.
type WholeStage struct{ Driver, Driven int }

// mostDriven keeps the numbers of one stage small.
const mostDriven = 3

// near is how far a whole-number ratio may be off before a larger second number is
// tried.
const near = 0.06

// Whole is a ratio of driver turns to driven turns in two small whole numbers of nearly
// its proportion, for sums that pupils can do.
func Whole(ratio float64) WholeStage {
	if ratio < 1 {
		w := Whole(1 / ratio)
		return WholeStage{w.Driven, w.Driver}
	}
	best, off := WholeStage{1, 1}, math.Inf(1)
	for q := 1; q <= mostDriven; q++ {
		p := int(math.Round(ratio * float64(q)))
		if miss := math.Abs(float64(p)/float64(q)/ratio - 1); miss < off-1e-9 {
			best, off = WholeStage{p, q}, miss
		}
		if off <= near {
			break
		}
	}
	return best
}
