package design

import (
	"cmp"
	"context"
	"math"
	"slices"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/parts"
	"findrive/internal/score"
	"findrive/internal/units"
)

// candidate is an arrangement settled as cheaply as it can be.
type candidate struct {
	drive *drive.Drive
	bears units.Millimetres // how far every hole may be out of place
	cost  score.Points
	// What was chosen, and how the pulls lie.
	choice choice
	lies   shape
}

// Settling an arrangement is a second, smaller branch and bound: choose how far holes
// may be out of place, a joint on the motor's shaft, and a stock with joints for each
// axle, each in order of penalty; then halve what is left of spacings, bands and lies
// (refine.go) down to single designs, work these out and look for holes.
//
// Invariant: best is the cheapest design found so far, and most is what the next must
// cost at most to replace it.
type settling struct {
	*task
	*arrangement
	ctx   context.Context
	axles [drive.MaxStages][]axleOption
	plans []layout.LanePlan
	// jointFloor is what the node has already been charged for joints, the least on any
	// stock.
	jointFloor score.Points

	// Of each stage, at the present hole error: as far as the limit asks for them.
	listings [drive.MaxStages]*listing
	states   [drive.MaxStages]*cluster

	model  *drive.Model // of the present choice of axles; nil while it is left off
	choice choice
	// Room that is used again.
	asked  asked
	placer *layout.Placer

	memories map[roomKey]*memory // made when there is something to remember

	best *candidate
	// Boxes that may cost more than limit are left for later, and those that may cost more
	// than most, which is no less, are dropped: nothing dearer is wanted.
	limit, most score.Points
	open        score.Points // least cost left unsettled
	printing    bool         // the holes that are found are printed
	one         bool         // any design will do: the rest is not looked at
}

// choice is one pick of bands and axles.
type choice struct {
	bears   units.Millimetres // how far every hole may be out of place
	axles   [drive.MaxStages]*axleOption
	states  [drive.MaxStages]*state
	onMotor *drive.Joint // of the first driver
	tubes   tubes
	cost    score.Points // everything but the bands and what the drive does at work
}

// axleOption is one way to make one axle: the stock and the joints on it.
type axleOption struct {
	stock  int
	driven drive.Joint // the stage's driven pulley
	next   drive.Joint // the next stage's driver, or the output part
	cost   score.Points
}

const unsettled = score.Points(math.MaxInt64)

// settlingOf begins to settle an arrangement, of whose designs none is wanted that costs
// more than most.
func (t *task) settlingOf(ctx context.Context, n *node, most score.Points) *settling {
	return &settling{task: t, arrangement: t.arrange(n), ctx: ctx, limit: most, most: most, open: unsettled}
}

// eachLevel begins a choice for each hole error that may do, the largest first.
func (s *settling) eachLevel(f func()) {
	for level, bears := range s.bearable {
		if level > 0 && s.mustForgive {
			return
		}
		cost := s.fixed - s.jointFloor + score.Forgiveness(s.brief.Weights, bears, s.brief.Limits.HoleError)
		if s.choice = (choice{bears: bears, cost: cost}); cost <= s.most {
			f()
		}
	}
}

// prepare lists the options of every axle and refuses an arrangement that has none for
// one of them.
func (s *settling) prepare() bool {
	widths := make([]units.Millimetres, s.stages)
	for i := range s.stages {
		driver, driven := &s.pulleys[s.driver[i]].Part, &s.pulleys[s.driven[i]].Part
		widths[i] = max(driver.Width, driven.Width)
		s.jointFloor += s.axleCost[s.driven[i]]
		if i > 0 {
			s.jointFloor += s.axleCost[s.driver[i]]
		}
	}
	s.jointFloor += score.Joint(s.brief.Weights, s.onMotor[s.head.motor][s.driver[0]][0].Kind)
	motor := &s.motors[s.head.motor].Part
	s.plans = layout.LanePlans(s.stages, widths, constraints.MotorAlong(motor, &s.pulleys[s.driver[0]].Part), s.brief.Limits.LaneGap, s.brief.Frame.Depth)
	if no := constraints.LanesFit(s.brief.Frame.Depth, s.stages, len(s.plans)); no != nil {
		s.tally.add(no)
		return false
	}
	if no := s.sheetsReach(); no != nil {
		s.tally.add(no)
		return false
	}
	for i := range s.stages {
		if s.axles[i] = s.axleOptions(i); len(s.axles[i]) == 0 {
			return false
		}
	}
	return true
}

// chooseMotorJoint picks how the driver sits on the motor's shaft, the easiest way first.
func (s *settling) chooseMotorJoint(next func()) {
	before := s.choice.cost
	for k := range s.onMotor[s.head.motor][s.driver[0]] {
		j := &s.onMotor[s.head.motor][s.driver[0]][k]
		if s.choice.cost = before + score.Joint(s.brief.Weights, j.Kind); s.choice.cost > s.most {
			break // the rest cost no less
		}
		s.choice.onMotor = j
		next()
	}
	s.choice.cost = before
}

// axleOptions lists the ways to make the axle of stage i's driven pulley,
// cheapest first.
func (s *settling) axleOptions(i int) []axleOption {
	var out []axleOption
	w := s.brief.Weights
	for a := range s.task.axles {
		if !s.wantsAxle(i, a) {
			continue
		}
		stock := &s.task.axles[a].Part
		next := s.onNext(i, stock)
		for _, driven := range s.onAxle[s.driven[i]][a] {
			for _, other := range next {
				o := axleOption{stock: a, driven: driven, next: other,
					cost: score.Joint(w, driven.Kind) + score.Joint(w, other.Kind) + score.Assumptions(w, len(stock.Assumed))}
				if i == s.stages-1 {
					o.cost += score.Points(max(0, drive.OutputPieces(s.outputParts(s.head.output))-1)) * score.Joint(w, other.Kind)
				}
				out = append(out, o)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b axleOption) int { return cmp.Compare(a.cost, b.cost) })
	return out
}

// onNext lists the joints of what else sits on the axle of stage i's driven
// pulley: the next driver, or at the output the wheel or drum. A model with
// neither has one joint that costs nothing.
func (s *settling) onNext(i int, stock *parts.AxleStock) []drive.Joint {
	var hub constraints.Hub
	wheel, drum := s.outputParts(s.head.output)
	switch {
	case i < s.stages-1:
		hub = constraints.PulleyHub(&s.pulleys[s.driver[i+1]].Part)
	case wheel != nil:
		hub = constraints.WheelHub(wheel)
	case drum != nil:
		hub = constraints.DrumHub(drum)
	default:
		return []drive.Joint{{}}
	}
	joints, no := constraints.Joints(hub, stock.Diameter, s.cup.Sleeves, s.brief.Making)
	if no != nil {
		s.tally.add(no)
	}
	return joints
}

// chooseAxles picks the axle of stage i's driven pulley, then the rest.
func (s *settling) chooseAxles(i int, next func()) {
	if i == s.stages {
		if no := s.enoughAxles(); no != nil {
			s.tally.add(no)
			return
		}
		next()
		return
	}
	before := s.choice.cost
	for k := range s.axles[i] {
		o := &s.axles[i][k]
		if s.choice.cost = before + o.cost; s.choice.cost > s.most {
			break // the rest cost no less
		}
		s.choice.axles[i] = o
		s.chooseAxles(i+1, next)
	}
	s.choice.cost = before
}

// enoughBands is the stock rule over all stages' bands.
func (s *settling) enoughBands() *constraints.Refusal {
	for i, o := range s.choice.states[:s.stages] {
		use := 0
		for _, other := range s.choice.states[:s.stages] {
			if other.band == o.band {
				use += other.use.BandsTaken()
			}
		}
		if i == 0 || s.choice.states[i-1].band != o.band {
			if no := constraints.EnoughStock(s.bands[o.band].Part.Name, s.bands[o.band].Count, use, s.brief.Sets); no != nil {
				return no
			}
		}
	}
	return nil
}

// assemble makes the drive of the present choice, not yet placed.
func (s *settling) assemble() *drive.Drive {
	d := &drive.Drive{
		Motor: &s.motors[s.head.motor].Part, Holder: &s.holders[s.head.holder].Part,
		Stages: make([]drive.Stage, s.stages), Axles: make([]*parts.AxleStock, s.stages),
		MotorTurns: motorTurns(s.brief.Direction, s.reversals()),
	}
	d.Wheel, d.Drum = s.outputParts(s.head.output)
	for i := range s.stages {
		o, axle := s.choice.states[i], s.choice.axles[i]
		d.Stages[i] = drive.Stage{
			Driver: &s.pulleys[s.driver[i]].Part, Driven: &s.pulleys[s.driven[i]].Part,
			DrivenJoint: axle.driven, Band: &s.bands[o.band].Part, Use: o.use, Crossed: o.crossed,
		}
		if i == 0 {
			d.Stages[i].DriverJoint = *s.choice.onMotor
		} else {
			d.Stages[i].DriverJoint = s.choice.axles[i-1].next
		}
		d.Axles[i] = &s.task.axles[axle.stock].Part
	}
	if d.Wheel != nil || d.Drum != nil {
		d.OutputJoint = s.choice.axles[s.stages-1].next
	}
	s.choice.tubes.putIn(d)
	return d
}

// motorTurns is the motor's way of turning that gives the wanted output: +1
// anticlockwise seen from the front. If the brief leaves both open the output
// turns clockwise.
func motorTurns(d brief.Direction, reversals int) int {
	want := Seen(d)
	if d.MotorTurns != brief.Either {
		return sign(Seen(brief.Direction{Sense: d.MotorTurns, SeenFrom: d.SeenFrom}) == brief.Anticlockwise)
	}
	turns := sign(want == brief.Anticlockwise)
	if reversals%2 == 1 {
		turns = -turns
	}
	return turns
}

// Seen is the wanted sense as seen from the front. From the back, or from below
// an upright ride, clockwise looks anticlockwise.
func Seen(d brief.Direction) brief.Sense {
	behind := d.SeenFrom == "back" || d.SeenFrom == "below"
	switch {
	case d.Sense == brief.Either || !behind:
		return d.Sense
	case d.Sense == brief.Clockwise:
		return brief.Anticlockwise
	}
	return brief.Clockwise
}

func sign(positive bool) int {
	if positive {
		return 1
	}
	return -1
}
