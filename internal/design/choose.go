package design

import (
	"math"
	"slices"

	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/forecast"
	"findrive/internal/layout"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/score"
	"findrive/internal/units"
)

// wanted is up to which cost the states of designs are listed. In a small cupboard, which has few, all
// are: to list them bit by bit takes longer.
func (s *settling) wanted() score.Points {
	if s.large {
		return min(s.limit, unsettled-1)
	}
	return unsettled - 1
}

// listStates lists the states of every stage at the hole error of the choice, of designs that cost
// no more than wanted, and tells how many there are; false if the search was stopped first.
func (s *settling) listStates(wanted score.Points) (count [drive.MaxStages]int, ok bool) {
	for i := range s.stages {
		on := s.onStage(i, s.head, s.driver[i], s.driven[i])
		s.listings[i] = s.listingOf(on, s.choice.bears)
		if count[i], ok = s.within(s.listings[i], on, s.choice.bears, wanted-s.choice.cost); !ok {
			return count, false
		}
		s.states[i] = s.listings[i].of(listed{0, count[i]})
	}
	return count, true
}

// someStates tells whether every stage has a state that has been listed.
func (s *settling) someStates() bool {
	return !slices.Contains(s.states[:s.stages], nil)
}

// refiningOf makes ready to look at the designs with the axles of the choice and the states
// that have been listed, which it gives in one box; nil if there are none.
func (s *settling) refiningOf() (*refining, box) {
	if !s.someStates() || !s.prepareModel() {
		return nil, box{}
	}
	all := box{states: s.states, worst: shape{drive.Folded, drive.Folded}}
	last := s.stages - 1
	r := &refining{settling: s, weight: s.model.Demand.Weight, swings: s.head.demand.Swing > 0, rise: s.riseOf(s.head, last, s.driver[last], s.driven[last])}
	for i := range last {
		r.across[i] = farthest(s.seats.at(s.head, i, s.driver[i]), s.seats.at(s.head, i+2, s.driven[i+1]))
	}
	d := &s.model.Demand
	for of, torque := range [loads]units.NewtonMillimetres{d.Steady, d.Start} {
		r.flow[of][s.stages] = reckoned{torque: interval(torque), pull: interval(r.weight.Size()), ratio: interval(1.0), keeps: interval(1.0)}
	}
	if r.weight.Size() == 0 {
		all.worst.output = drive.InLine // nothing else pulls on that axle
	} else if r.weight.X != 0 {
		all.best.output = drive.Folded // a cord sideways: holes are not asked to mind it
	}
	if s.stages == 1 {
		all.worst.inner = drive.InLine
	}
	return r, all
}

// prepareModel makes the model of the present axles.
func (s *settling) prepareModel() bool {
	for i := range s.stages {
		s.choice.states[i] = s.states[i].states[0]
	}
	model, err := drive.Prepare(s.assemble(), s.brief, drive.Conditions{})
	s.model = &model
	return err == nil
}

// workOut works the one design of a box out and looks for holes.
func (r *refining) workOut(b *box) {
	before := r.choice.cost
	defer func() { r.choice.cost = before }()
	for i := range r.stages {
		r.choice.states[i] = b.states[i].states[0]
		r.choice.cost += b.states[i].cost
	}
	if no := r.partsDo(); no != nil {
		r.tally.add(no)
		return
	}
	lies := b.best.lies(r.stages)
	cost, no := r.atWork(&lies)
	if no != nil {
		r.tally.add(no)
		return
	}
	if cost > r.most || r.tight && !r.roomFor(b) {
		return
	}
	found, outcome := r.place(b)
	switch outcome {
	case layout.Impossible:
		r.tally.add(constraints.RoomInFrame(r.brief))
		r.tight = true
		return
	case layout.GaveUp:
		r.open = min(r.open, cost)
		return
	}
	if no := r.extra.Stands(found); no != nil {
		r.tally.add(no)
		return
	}
	for i := range r.stages {
		found.Spacings = append(found.Spacings, r.choice.states[i].Centre)
		found.Lies = append(found.Lies, lies[i])
	}
	r.best = &candidate{drive: found, bears: r.choice.bears, cost: cost, choice: r.choice, lies: b.best}
	if r.most = cost - 1; r.one {
		r.most = -1
	}
	r.limit = min(r.limit, r.most)
}

// place looks for holes for the one design of a box. Those that are to be printed are the tidiest,
// and stand near its marks if they can, for which its speed is stated, and not only in their cells.
// Of one more rule, which may ask where they are, they are the tidiest too; else as far as these
// are soon found.
func (r *refining) place(b *box) (*drive.Drive, layout.Outcome) {
	w := r.windowsOf(b)
	if r.printing {
		if found := r.asStated(w); found != nil {
			return found, layout.Placed
		}
	}
	d := r.assemble()
	if !r.printing && r.extra == (noExtra{}) {
		if found, outcome := r.findPlacement(d, w, tidyBudget, false); outcome != layout.GaveUp {
			return found, outcome
		}
		return r.findPlacement(d, w, placeBudget, true)
	}
	return r.findPlacement(d, w, placeBudget, false)
}

// asStated looks for holes for the choice at which it does what is stated of it: near its
// marks, within a millimetre or a step of the grid of holes, and with the pulls on its
// axles at the least angles of its lies or not much more, the nearest first; nil if there
// are none.
func (s *settling) asStated(w *windows) *drive.Drive {
	near := *w
	for i, state := range s.choice.states[:s.stages] {
		near.centre[i] = state.cell.Meet(interval(state.Centre).Grow(max(1, s.brief.Frame.Pitch)))
	}
	for near.opened = openedStep; ; near.opened += openedStep {
		if found, outcome := s.findPlacement(s.assemble(), &near, placeBudget, false); outcome == layout.Placed && s.extra.Stands(found) == nil {
			return found
		}
		if near.opened >= widestLie {
			return nil
		}
	}
}

const (
	// openedStep is in what steps the pulls on an axle may be further from one another
	// than the least angle, and widestLie how far any lie reaches.
	openedStep units.Radians = 15 * math.Pi / 180
	widestLie  units.Radians = math.Pi / 2
)

// windowsOf is where the shafts of the designs of a box may be, until it is asked again.
func (r *refining) windowsOf(b *box) *windows {
	w := &r.window
	*w = windows{best: b.best, worst: b.worst}
	for i, c := range b.states[:r.stages] {
		w.centre[i], w.far[i], w.prefer[i] = c.cell, c.far, c.states[0].Centre
		if w.thickness[i] = noBand; c.thinnest != nil {
			w.thickness[i] = c.thinnest.thickness
		}
		if len(c.states) > 1 {
			w.prefer[i] = c.states[0].ideal
		}
	}
	return w
}

// partsDo are the rules about the parts of the choice together.
func (s *settling) partsDo() *constraints.Refusal {
	if no := s.enoughBands(); no != nil {
		return no
	}
	if no := constraints.TurnsRight(s.brief.Direction, s.reversals()); no != nil {
		return no
	}
	if s.extra == (noExtra{}) {
		return nil
	}
	return s.extra.Parts(s.assemble())
}

// reversals is how many bands of the choice are crossed.
func (s *settling) reversals() int {
	n := 0
	for _, state := range s.choice.states[:s.stages] {
		if state.crossed {
			n++
		}
	}
	return n
}

// atWork works the design of the choice out exactly and charges it, or gives the rule
// that it breaks. A design dearer than the limit need not be charged in full.
func (r *refining) atWork(lies *[drive.MaxStages]drive.Lie) (score.Points, *constraints.Refusal) {
	var fits [drive.MaxStages]mechanics.Fitted
	var bands [drive.MaxStages]*parts.Band
	for i, s := range r.choice.states[:r.stages] {
		fits[i], r.model.Stages[i] = s.Fitted, s.stage
		bands[i] = &r.bands[s.band].Part
	}
	g := drive.GeometryAt(&fits, lies)
	at := constraints.Work{Brief: r.brief, Bands: bands, Motor: r.motors[r.head.motor].Part.Name, Model: r.model, Geometry: &g}
	at.Wheel, _ = r.outputParts(r.head.output)
	at.Carry()
	if no := constraints.First(at.Rules()); no != nil {
		return 0, no
	}
	cost := r.choice.cost + r.motorLoad(r.head, at.Running.MotorTorque)
	if cost > r.most {
		return cost, nil
	}
	class := r.head.class
	if r.head.weighed != nil && knownOf(r.assemble()).Bands {
		class = r.head.weighed
	}
	w := class.WorkOf(r.model, &g, at.Running, at.Starting)
	if cost += r.charge(class.Of(&w), r.head.demand.Target); cost > r.most || r.extra == (noExtra{}) {
		return cost, nil
	}
	return cost, r.extra.Works(r.assemble(), r.model, &g)
}

// charge is the penalty for what a drive does in the classrooms.
func (t *task) charge(f forecast.Forecast, target units.RPM) score.Points {
	w := t.brief.Weights
	return score.Classrooms(w, f.Works, forecast.Rooms) + score.MayStand(w, f.Stands, forecast.Rooms) + score.Speed(w, f.Low, f.High, target)
}

// motorLoad is the motor-load penalty at a running torque.
func (t *task) motorLoad(h *head, torque units.NewtonMillimetres) score.Points {
	if torque <= h.bears {
		return 0
	}
	return score.MotorLoad(t.brief.Limits, t.brief.Weights, float64(torque/h.stall))
}
