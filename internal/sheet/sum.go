package sheet

import "math"

// The pupils' sum works with whole turns: for each stage two small whole numbers
// in nearly the proportion of its ratio, so that all turns of all pulleys come
// out whole.

// wholeStage says that the driver turns Driver times while the driven pulley
// turns Driven times.
type wholeStage struct{ Driver, Driven int }

// mostDriven keeps the numbers of one stage small.
const mostDriven = 3

// near is how far a whole-number ratio may be off before a larger second number
// is tried.
const near = 0.06

// whole is a ratio of driver turns to driven turns in small whole numbers.
func whole(ratio float64) wholeStage {
	if ratio < 1 {
		w := whole(1 / ratio)
		return wholeStage{w.Driven, w.Driver}
	}
	best, off := wholeStage{1, 1}, math.Inf(1)
	for q := 1; q <= mostDriven; q++ {
		p := int(math.Round(ratio * float64(q)))
		if miss := math.Abs(float64(p)/float64(q)/ratio - 1); miss < off-1e-9 {
			best, off = wholeStage{p, q}, miss
		}
		if off <= near {
			break
		}
	}
	return best
}

// wholeTurns are the turns of each shaft, motor first, in whole numbers as small
// as can be, with the stages they come from.
func (s *Set) wholeTurns() (turns []int, stages []wholeStage) {
	n := len(s.drive.Stages)
	output := 1
	for i := range s.drive.Stages {
		w := whole(float64(s.drive.Stages[i].Ratio))
		stages = append(stages, w)
		output *= w.Driven
	}
	turns = make([]int, n+1)
	turns[n] = output
	for i := n - 1; i >= 0; i-- {
		turns[i] = turns[i+1] / stages[i].Driven * stages[i].Driver
	}
	d := 0
	for _, t := range turns {
		d = divisor(d, t)
	}
	for i := range turns {
		turns[i] /= d
		if n == 1 { // or there would be nothing to work out
			turns[i] *= 10
		}
	}
	return turns, stages
}

func divisor(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
