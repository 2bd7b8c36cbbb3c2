package report

import (
	"cmp"
	"fmt"
	"slices"

	"findrive/internal/constraints"
	"findrive/internal/design"
)

// refusals writes the account of the rules, and what might be changed.
func (p *page) refusals(r *design.Result) {
	account := p.account(r)
	if r.Status != design.NonePossible || len(account) == 0 {
		return
	}
	p.blank()
	p.heading("What to change, most promising first")
	for i, no := range account {
		if i == mostAdvice {
			break
		}
		p.hang(0, 3, fmt.Sprintf("%d. %s", i+1, advice(no.Rule)))
	}
	if len(lacking(r)) == 0 && (r.Brief.Speed.Turning > 0 || r.Brief.Speed.Linear > 0) { // a challenge has none
		p.say(0, "findrive why, with the same files, finds out which of these cannot be kept together, and which single change is enough.")
	}
}

// account writes how often each rule refused something: the nearest miss first, because
// that is the one most easily mended.
func (p *page) account(r *design.Result) []design.Refused {
	account, lack := slices.Clone(r.Refused), lacking(r)
	if len(account)+len(lack) == 0 { // stopped before anything was refused
		return nil
	}
	slices.SortStableFunc(account, func(a, b design.Refused) int {
		return cmp.Or(cmp.Compare(a.Miss, b.Miss), cmp.Compare(b.Count, a.Count))
	})
	p.blank()
	p.heading("What stood in the way")
	for _, words := range lack {
		p.hang(0, 3, words)
	}
	for i, no := range account {
		p.hang(0, 3, fmt.Sprintf("%d. %s: refused %s. Nearest miss: %s.", i+1, no.Rule, times(no.Count), no.Nearest))
	}
	return account
}

// mostAdvice is how many suggestions a tired reader is given.
const mostAdvice = 5

func times(n int64) string {
	switch n {
	case 1:
		return "once"
	case 2:
		return "twice"
	}
	return fmt.Sprintf("%d times", n)
}

// lacking says which kinds of part there are none of, without which nothing can be
// built.
func lacking(r *design.Result) []string {
	if r.Cupboard == nil {
		return nil
	}
	var out []string
	for _, kind := range design.Lacking(r.Cupboard, r.Brief) {
		out = append(out, fmt.Sprintf("The cupboard has no %s.", kind))
	}
	return out
}

// advice says what to change when a rule is what stands in the way.
func advice(rule constraints.Rule) string {
	switch rule {
	case constraints.Stock:
		return "Get more of the part named above, or build fewer sets at once."
	case constraints.Fit:
		return "Allow glue or drilling out in the brief, or add a sleeve or a pulley whose bore suits the shaft."
	case constraints.Groove:
		return "Add a narrower band, or a pulley with a wider groove."
	case constraints.SmallGroove:
		return "Add a thinner band, or a larger pulley for the motor."
	case constraints.Stretch:
		return "Add a band of another length: measure the loop round the two pulleys and take a tenth to a third less."
	case constraints.Arc:
		return "Let the axles stand further apart (a longer frame, a longer band), or allow one more stage of pulleys less unequal."
	case constraints.CrossedSpacing:
		return "Let the crossed band's axles stand further apart, or use smaller pulleys there."
	case constraints.RunningStretch:
		return "Add a wider or thicker band, so that the load stretches it less, or make the load lighter."
	case constraints.Grip:
		return "Make the load lighter, add a wider band or a larger motor pulley, or use pulleys with a V groove."
	case constraints.GripStart:
		return "Balance the load so that it starts more easily, or add a wider band or a larger motor pulley."
	case constraints.TooManyVolts:
		return "Use a holder for fewer cells, or a motor made for more volts; if its packet gives a range, write it as volts in its table."
	case constraints.MotorStarts, constraints.MotorRuns:
		return "Allow another cell or one more stage, add a stronger motor, or make the load lighter and better balanced."
	case constraints.HeldBack:
		return "Make the load lighter, add a stronger motor or another cell, or turn the axles in something smoother, so that less of the speed is taken."
	case constraints.Traction:
		return "Put more of the weight over the driven axle, or stretch a band round each wheel as a tyre."
	case constraints.Direction:
		return "Leave the motor's way of turning open (its wires can be swapped), or leave more room for a crossed band."
	case constraints.Depth:
		return "Make the frame deeper, allow fewer stages, or add narrower pulleys."
	case constraints.HoleWall:
		return "Use thicker strip or thinner axles, or carry the axles in clips, straws or tubes (drill_frame = false in the brief)."
	case constraints.Floor:
		return "Use wheels of another size, let the frame ride at another height (ground in the brief), or add smaller pulleys for the wheels' axle."
	case constraints.Room:
		return "Make the frame larger, widen the zones for the motor and the output, or add smaller pulleys."
	case constraints.Contest:
		return "Look at the rules of the contest: the cells, the budget, the number of parts, the footprint."
	case constraints.Speed:
		return "Allow a wider tolerance or one more stage, or add a pulley of another size."
	}
	return "Relax the rule named " + string(rule) + " in the brief."
}
