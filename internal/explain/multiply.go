package explain

import (
	"fmt"
	"math"
)

// The way a stage changes turning.
type sense int

const (
	same sense = iota
	slowing
	speeding
)

// alike is how far from 1 a ratio is still called the same (two pulleys of one size differ
// so much by their making; judgement).
const alike = 0.02

func senseOf(ratio float64) sense {
	switch {
	case ratio > 1+alike:
		return slowing
	case ratio < 1-alike:
		return speeding
	}
	return same
}

// Slows reports whether a stage of this ratio goes from a small pulley to a big one, and SpeedsUp
// whether from a big one to a small one.
func Slows(ratio float64) bool { return senseOf(ratio) == slowing }

// SpeedsUp is told of with Slows.
func SpeedsUp(ratio float64) bool { return senseOf(ratio) == speeding }

// all is the way all stages together change turning, and mixed whether some do otherwise.
func (d *Drive) all() (s sense, mixed bool) {
	s = senseOf(d.Ratio)
	for i := range d.Stages {
		mixed = mixed || senseOf(d.Stages[i].Ratio) != s
	}
	return s, mixed
}

// share is a number of turns in halves to fifths, as children write it: 2½.
type share struct{ over, under int }

// part is what a number has above its whole, as one sign, where there is a sign.
func (q share) part() (sign string, known bool) {
	sign, known = map[[2]int]string{{0, 1}: "", {1, 2}: "½", {1, 3}: "⅓", {2, 3}: "⅔", {1, 4}: "¼", {3, 4}: "¾",
		{1, 5}: "⅕", {2, 5}: "⅖", {3, 5}: "⅗", {4, 5}: "⅘"}[reduced(q.over%q.under, q.under)]
	return sign, known
}

// exact reports whether the number is written as it is.
func (q share) exact() bool { _, known := q.part(); return known }

// String is the number; without a sign for its part it is to the nearest whole.
func (q share) String() string {
	whole := q.over / q.under
	part, known := q.part()
	switch {
	case !known:
		return fmt.Sprint(int(math.Round(float64(q.over) / float64(q.under))))
	case whole == 0 && part != "":
		return part
	}
	return fmt.Sprint(whole) + part
}

func reduced(over, under int) [2]int {
	if over == 0 {
		return [2]int{0, 1}
	}
	a, b := over, under
	for b > 0 {
		a, b = b, a%b
	}
	return [2]int{over / a, under / a}
}

// wholes are the ratios of the stages in small whole numbers, chosen together.
func (d *Drive) wholes() []WholeStage {
	ratios := make([]float64, len(d.Stages))
	for i := range d.Stages {
		ratios[i] = d.Stages[i].Ratio
	}
	return Wholes(ratios)
}

// product is the turns of the motor for one of the output, or of the output for one of the
// motor where the drive as a whole speeds up, by the small whole numbers of the stages; and
// the sum that leads there, stage by stage, in the signs of a school.
func (d *Drive) product() (total share, sums []string) {
	total = share{1, 1}
	turned := d.speedsUp()
	for i, w := range d.wholes() {
		if turned {
			w = WholeStage{w.Driven, w.Driver}
		}
		before := total
		total = share{total.over * w.Driver, total.under * w.Driven}
		by, sign := share{w.Driver, w.Driven}, "x"
		if w.Driver < w.Driven {
			by, sign = share{w.Driven, w.Driver}, "÷"
		}
		if i > 0 {
			equals := "="
			if !total.exact() || !before.exact() {
				equals = "= about"
			}
			sums = append(sums, fmt.Sprintf("%s %s %s %s %s.", before, sign, by, equals, total))
		}
	}
	return total, sums
}

// speedsUp reports whether by the small whole numbers the output turns faster than the motor.
func (d *Drive) speedsUp() bool {
	driver, driven := 1, 1
	for _, w := range d.wholes() {
		driver, driven = driver*w.Driver, driven*w.Driven
	}
	return driver < driven
}
