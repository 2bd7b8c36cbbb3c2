package sheet

import "findrive/internal/explain"

// The pupils' sum works with whole turns: for each stage two small whole numbers
// in nearly the proportion of its ratio, so that all turns of all pulleys come
// out whole.

// wholeTurns are the turns of each shaft, motor first, in whole numbers as small
// as can be, with the stages they come from.
func (s *Set) wholeTurns() (turns []int, stages []explain.WholeStage) {
	n := len(s.drive.Stages)
	output := 1
	for i := range s.drive.Stages {
		w := explain.Whole(float64(s.drive.Stages[i].Ratio))
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
