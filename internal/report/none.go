package report

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"findrive/internal/design"
	"findrive/internal/leeway"
	"findrive/internal/why"
)

// mostOtherChanges is how many changes are named besides the smallest.
const mostOtherChanges = 3

// none writes why there is no drive: in one sentence what stands in the way and what
// would unlock it, then what that comes to.
func (p *page) none(r *design.Result, opt TextOptions) {
	a := opt.Instead
	if a == nil || a.Possible() {
		p.outcome(r)
		if r.Status == design.NonePossible || opt.Why || opt.Full > 0 {
			p.account(r)
		} else {
			p.say(0, "Give it more with --time-limit.")
		}
		p.next(opt.NextWhy)
		return
	}
	p.noneBecause(r, a)
	if opt.Why || opt.Full > 0 {
		p.account(r)
	}
	p.next(opt.NextWhy)
}

func (p *page) noneBecause(r *design.Result, a *why.Answer) {
	head := fmt.Sprintf("Proved: no drive for %s can be built", nameOf(r.Brief))
	if r.Status != design.NonePossible {
		head = fmt.Sprintf("No drive for %s found so far, which does not prove there is none", nameOf(r.Brief))
	}
	if obstacle := a.Obstacle(); obstacle != "" {
		head += ": " + obstacle
	}
	c := a.Smallest()
	if c != nil {
		head += "; to unlock it, " + changeWords(c)
	}
	p.heading(head + ".")
	switch {
	case c != nil:
		p.say(0, fmt.Sprintf("Searched with that change, there is then %s.", thenWords(c)))
		p.say(0, pullWords(c.Then()))
		if q := a.Nearest(c); q != nil {
			p.say(0, nearestWords(q, c.Then()))
		}
		if getsPulleys(a, c) {
			p.cardWouldDo(a)
		}
	case len(a.Lacking) > 0:
		p.needed(a)
	case len(a.Conflict.Cures) > 0:
		var words []string
		for _, m := range a.Conflict.Cures[0].Rules() {
			words = append(words, a.Levers[m].Aside)
		}
		p.say(0, fmt.Sprintf("It can be built with %s; how little of that would do was not found.", strings.Join(words, " and ")))
		p.cardWouldDo(a)
	case a.Complete():
		p.say(0, "No change of one or two things unlocks it: change several.")
	default:
		p.say(0, "No change that unlocks it was found so far. Give it more with --time-limit.")
	}
	var others []string
	for i := 1; i < len(a.Changes) && i <= mostOtherChanges; i++ {
		if o := &a.Changes[i]; len(c.Steps) == 1 || len(o.Steps) == len(c.Steps) {
			words := changeWords(o)
			if len(o.Steps) > 1 {
				words += ": " + driveLine(o.Then())
			}
			others = append(others, words)
		}
	}
	if len(others) > 0 {
		p.say(0, "Or, each enough by itself, and searched with:")
		for _, o := range others {
			p.hang(0, 2, "- "+o+".")
		}
	}
	if c != nil && !smallestProved(r, a, c) {
		p.say(0, "So far: not everything was settled in the time, and a smaller change may do.")
	}
}

// thenWords are the drive that there is with a change: its speed, in how many classrooms it works if
// it is the best that there then is, and its parts.
func thenWords(c *why.Change) string {
	works := ""
	if c.Best != nil {
		works = ", works in " + worksIn(c.Best)
	}
	return ideaSpeed(c.Then()) + works + ": " + driveLine(c.Then())
}

// needed says of kinds of part of which there are none that no drive does without them.
func (p *page) needed(a *why.Answer) {
	each := ""
	if n := a.Case.Brief.Sets; n > 1 {
		each = fmt.Sprintf(", and each of the %d groups has its own", n)
	}
	p.say(0, "Every drive for this brief needs "+map[bool]string{true: "one", false: "these"}[len(a.Lacking) == 1]+each+".")
}

// smallestProved tells whether it is settled that less than a change does not do.
func smallestProved(r *design.Result, a *why.Answer, c *why.Change) bool {
	for _, s := range c.Steps {
		if !s.Least {
			return false
		}
	}
	return r.Status == design.NonePossible && a.Tried
}

// changeWords are the steps of a change.
func changeWords(c *why.Change) string {
	var words []string
	for _, s := range c.Steps {
		words = append(words, s.Words)
	}
	out := strings.Join(words, ", and ")
	if c.Cost == leeway.Rule {
		out += " (a rule of good practice: only if you must)"
	}
	return out
}

// belowMargin says at what load a proposed drive gives way. It cannot be loaded so far, for the
// rules ask for something in hand.
func belowMargin(o *design.Overload) string {
	at, gives := givesWay(o)
	if math.IsInf(at, 1) {
		return overloadWords(o)
	}
	is := map[string]string{"mass_g": "The load is %s g.", "out_of_balance_g": "One side is %s g heavier.", "torque_mNm": "The torque is %s mN·m."}[o.Of]
	return fmt.Sprintf(is+" At about %s %s %s, and the rules keep a margin below that.", significant(o.Brief, 4), significant(at, 2), loadUnit(o), gives)
}

// gainOf is how many times the motor's turning force the output gives; 0 if it is not known.
func gainOf(q *design.Proposal) float64 {
	last := len(q.Stages) - 1
	if last < 0 || len(q.Axles) <= last || q.Motor.Torque <= 0 {
		return 0
	}
	return float64((q.Stages[last].Running.DrivenTorque - q.Axles[last].Friction) / q.Motor.Torque)
}

// pullWords are what becomes of a motor's speed and pull in a drive, in a few words.
func pullWords(q *design.Proposal) string {
	times := cmp.Or(atWork(q), q.Ratio)
	out := "It turns about as fast as the motor"
	switch {
	case times > 1.05:
		out = fmt.Sprintf("It turns about %s times slower than the motor", significant(times, 2))
	case times < 0.95:
		out = fmt.Sprintf("It turns about %s times faster than the motor", significant(1/times, 2))
	}
	if gain := gainOf(q); gain > 0 {
		out += fmt.Sprintf(", and pulls %s times as hard, friction taken off", significant(gain, 2))
	}
	out += "."
	if q.Overload != nil {
		out += " " + belowMargin(q.Overload)
	}
	return out
}
