package design

import (
	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/forecast"
	"findrive/internal/layout"
	"findrive/internal/mechanics"
	"findrive/internal/pause"
	"findrive/internal/score"
	"findrive/internal/units"
)

// box is a cluster of states for each stage and a range of shapes: all the designs that
// are left to look at together.
type box struct {
	states      [drive.MaxStages]*cluster
	best, worst shape
	left        left
	next        cut
	vague       int8 // how often room is not asked for, as it could not be told of a larger box
}

// single tells whether a box holds one design, lies apart.
func (b *box) single(stages int) bool {
	for _, c := range b.states[:stages] {
		if !c.single() {
			return false
		}
	}
	return true
}

// shape is how the pulls lie on the axles between stages, alike on all of them, and on
// the output axle under a weight.
type shape struct{ inner, output drive.Lie }

// lies are those of every axle.
func (s shape) lies(stages int) [drive.MaxStages]drive.Lie {
	var out [drive.MaxStages]drive.Lie
	for i := range stages - 1 {
		out[i] = s.inner
	}
	out[stages-1] = s.output
	return out
}

func (s shape) of(i, stages int) drive.Lie {
	if i == stages-1 {
		return s.output
	}
	return s.inner
}

// refining looks for the cheapest design of a choice of axles and penalties.
type refining struct {
	*settling
	later  []pending
	weight mechanics.Force                    // on the output axle
	rise   *rise                              // of that axle
	across [drive.MaxStages]units.Millimetres // how far the shafts on either side of an axle may stand apart
	swings bool                               // starting asks more than running
	tight  bool                               // some design had no room, so that room is asked for early
	flow   [loads][drive.MaxStages + 1]reckoned
	extent forecast.Extent
	looked int // boxes so far
	until  int // so many, after which it is left off; 0 for no end
	// Placement problems, made when room is first asked for, and room that is used again.
	layouts []layouts
	window  windows
}

// refine halves a box until the cheapest design in it is found, as far as any may cost
// no more than the limit. bound is what they cost at least. What may cost more is left
// for later.
func (r *refining) refine(b *box, bound score.Points) {
	if r.done(b, bound) {
		return
	}
	r.looked++
	if (r.tight || r.looked > askRoomFrom) && !b.single(r.stages) {
		best := b.best
		if !r.haveRoom(b) || b.best != best && r.done(b, r.bound(b)) {
			return
		}
	}
	first, second, ok := r.halves(b)
	if !ok {
		r.workOut(b)
		return
	}
	least, most := r.bound(&first), r.bound(&second)
	if most < least {
		first, second, least, most = second, first, most, least
	}
	r.refine(&first, least)
	r.refine(&second, most)
}

// done tells whether a box of which every design costs at least so much need not be
// looked into now.
func (r *refining) done(b *box, bound score.Points) bool {
	if bound == unsettled {
		return true
	}
	if bound <= r.limit && (r.until == 0 || r.looked < r.until) && pause.Err(r.ctx) == nil {
		return false
	}
	if bound <= r.most {
		r.later = append(r.later, pending{*b, bound})
	}
	return true
}

// haveRoom tells whether the frame may have room for any design of a box, and leaves out its
// best lies as far as there is none for them.
func (r *refining) haveRoom(b *box) bool {
	if b.vague > 0 {
		b.vague--
		return true
	}
	untold := false
	none := func(of *box) bool {
		got := r.roomOf(of)
		untold = untold || got == layout.GaveUp
		return got == layout.Impossible
	}
	if none(b) {
		return false
	}
	for of := *b; b.best.inner < b.worst.inner; b.best.inner++ {
		if of.best.inner, of.worst.inner = b.best.inner, b.best.inner; !none(&of) {
			break
		}
	}
	for of := *b; b.best.output < b.worst.output; b.best.output++ {
		if of.best.output, of.worst.output = b.best.output, b.best.output; !none(&of) {
			break
		}
	}
	if untold {
		b.vague = askAgainAfter
	}
	return true
}

// When room is asked for. Both are tried out (scripts/performance ordinary): nothing depends
// on them but time.
const (
	// askRoomFrom is after how many boxes the room of several designs is asked for, if none
	// has been found to lack it before: few boxes are soon gone through without.
	askRoomFrom = 4
	// askAgainAfter is how often a box is halved before its room is asked for again, where a
	// short look did not tell.
	askAgainAfter = 2
)

// pending is a box that is left for later, as no design of it costs less.
type pending struct {
	box
	bound score.Points
}

// cut is where a box is halved next.
type cut int8

const (
	notKnown    cut = iota
	nowhere         // it is one design
	innerLies       // between the best lie of the inner axles and the others
	outputLies      // likewise of the output axle
	bandsOfOnes     // and up: the bands and marks of the first stage, the second, ...
)

// halves cuts a box in two where most is in doubt: between dear and cheap, between shapes,
// or between strong and weak bands.
func (r *refining) halves(b *box) (first, second box, ok bool) {
	if b.next == notKnown {
		r.reckonAll(b)
		b.next = r.mostInDoubt(b)
	}
	first, second = *b, *b
	first.next, second.next = notKnown, notKnown
	switch b.next {
	case nowhere:
		return first, second, false
	case innerLies:
		first.worst.inner, second.best.inner = b.best.inner, b.best.inner+1
	case outputLies:
		first.worst.output, second.best.output = b.best.output, b.best.output+1
	default:
		i := b.next - bandsOfOnes
		first.states[i], second.states[i] = b.states[i].halves()
	}
	return first, second, true
}

// mostInDoubt is where a box that has just been reckoned leaves most in doubt, as a share
// of the speed.
func (r *refining) mostInDoubt(b *box) cut {
	widest, most := nowhere, -1.0
	inner, output := 0.0, 0.0 // friction, as a share of stall
	reduced := 1.0
	for i, c := range b.states[:r.stages] {
		// What the friction on the axle of the driven pulley is at the motor.
		reduced *= c.ratio.Lo
		drag := r.model.AxleMu[i] * float64(r.model.AxleRadius[i]) / float64(r.head.stall) / reduced
		beside := r.weight.Size()
		if i+1 < r.stages {
			beside = r.flow[running][i+1].pull.Hi
		}
		does := &r.flow[running][i]
		turned := drag * float64(min(does.pull.Hi, beside))
		if i == r.stages-1 {
			output += turned * (b.worst.output.CosWorked() - b.best.output.CosWorked())
		} else {
			inner += turned * (b.worst.inner.CosWorked() - b.best.inner.CosWorked())
		}
		if c.single() {
			continue
		}
		if i > 0 { // it pulls on the axle of its driver too
			drag *= 1 + float64(c.ratio.Lo)
		}
		doubt := drag*float64(does.pull.Length()) + does.creep.Length()*float64(does.carries.Hi) + (c.ratio.Hi/c.ratio.Lo - 1)
		if g := c.greatest; g.Lo > 0 && r.extent.Margin[i]*float64(g.Lo/g.Hi) < nearSlipping {
			doubt += slipDoubt * float64(g.Hi/g.Lo-1)
		}
		if doubt > most {
			widest, most = bandsOfOnes+cut(i), doubt
		}
	}
	switch lies := max(inner, output) * liesCount; {
	case b.best.inner != b.worst.inner && (widest == nowhere || inner >= output && lies > most):
		return innerLies
	case b.best.output != b.worst.output && (widest == nowhere || lies > most):
		return outputLies
	}
	return widest
}

const (
	// nearSlipping is the grip margin below which a band may slip in some room, and
	// slipDoubt what the doubt about how much it holds counts there; liesCount is what doubt
	// about the lies counts. All are tried out (scripts/performance ordinary): nothing
	// depends on them but time.
	nearSlipping = 1.5
	slipDoubt    = 0.2
	liesCount    = 1.5
)

// bound is the least that any design of a box can cost, or something above the limit.
func (r *refining) bound(b *box) score.Points {
	b.next = notKnown
	if !r.narrow(b) {
		r.tally.add(constraints.RoomInFrame(r.brief))
		return unsettled
	}
	if !r.reckonAll(b) {
		return unsettled
	}
	var bands score.Points
	for _, c := range b.states[:r.stages] {
		bands += c.cost
	}
	if b.left.under < r.limit {
		b.left = all(r.limit)
	}
	least := r.atMotor(bands, &b.left)
	if least <= r.limit {
		b.next = r.mostInDoubt(b)
	}
	return least
}
