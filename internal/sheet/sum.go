package sheet

import "findrive/internal/explain"

// The pupils' sum works with whole turns: for each stage two small whole numbers
// in nearly the proportion of its ratio, so that all turns of all pulleys come
// out whole.

// wholeStages are the stages in small whole numbers, motor first.
func (s *Set) wholeStages() []explain.WholeStage {
	ratios := make([]float64, len(s.drive.Stages))
	for i := range ratios {
		ratios[i] = float64(s.drive.Stages[i].Ratio)
	}
	return explain.Wholes(ratios)
}

// wholeTurns are the turns of each shaft, motor first, in whole numbers as small
// as leave something to work out at each stage, with the stages they come from.
func (s *Set) wholeTurns() (turns []int, stages []explain.WholeStage) {
	stages = s.wholeStages()
	n := len(stages)
	output := 1
	for _, w := range stages {
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
	}
	if !asks(turns, stages) {
		more := 2
		if n == 1 { // easy, and more than was said
			more = 10
		}
		for i := range turns {
			turns[i] *= more
		}
	}
	return turns, stages
}

// asks reports whether each stage leaves something to work out: where the driven
// pulley turns just as often as in the stage's own two numbers, the answer would
// have been said already.
func asks(turns []int, stages []explain.WholeStage) bool {
	for i, w := range stages {
		if turns[i+1] == w.Driven {
			return false
		}
	}
	return true
}

// together is what the stages' whole numbers multiply to.
func together(stages []explain.WholeStage) float64 {
	product := 1.0
	for _, w := range stages {
		product *= float64(w.Driver) / float64(w.Driven)
	}
	return product
}

func divisor(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
