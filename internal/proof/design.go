package proof

import (
	"fmt"

	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/forecast"
	"findrive/internal/layout"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/pause"
	"findrive/internal/score"
)

// assemble makes the drive of the present choice, not yet placed.
func (r *row) assemble() *drive.Drive {
	k := r.hd.stages
	d := &drive.Drive{Motor: &r.motors[r.hd.motor].Part, Holder: &r.holders[r.hd.holder].Part,
		Stages: make([]drive.Stage, k), Axles: make([]*parts.AxleStock, k)}
	d.Wheel, d.Drum = r.part(r.hd.output)
	for i, p := range r.pairs[:k] {
		st := r.states[i]
		d.Stages[i] = drive.Stage{Driver: &r.pulleys[p.driver].Part, Driven: &r.pulleys[p.driven].Part,
			DriverJoint: *r.shaft, DrivenJoint: r.rods[i].driven, Band: &r.bands[st.band].Part, Use: st.use, Crossed: st.crossed}
		if i > 0 {
			d.Stages[i].DriverJoint = r.rods[i-1].next
		}
		d.Axles[i] = &r.axles[r.rods[i].stock].Part
	}
	if d.Wheel != nil || d.Drum != nil {
		d.OutputJoint = r.rods[k-1].next
	}
	return d
}

// design looks at the one design of a box: works it out, and if it should have been
// listed, looks for holes.
func (r *row) design(b *box, charged points) error {
	r.spend(workOfDesign)
	for i := range r.hd.stages {
		r.states[i] = b.bunch[i].states[0]
	}
	cost, no := r.worth(b.all(r.hd.stages), charged)
	if no != "" {
		r.leave(refused(no))
		return nil
	}
	if cost > r.limit {
		r.leave(reason{bound: cost})
		return nil
	}
	if !r.spend(workOfHoles) {
		return nil
	}
	switch outcome, _ := r.holes(r.windowsOf(b)); outcome {
	case layout.Placed:
		return r.missed(cost)
	case layout.GaveUp:
		if err := pause.Err(r.ctx); err != nil {
			return err
		}
		r.here.open = true
	default:
		r.tight = true
		r.leave(refused(constraints.Room))
	}
	return nil
}

// worth works the design of the chosen states out by the definition: what it costs, or the
// rule that it breaks. Its holes are not looked at.
func (r *row) worth(lies [drive.MaxStages]drive.Lie, cost points) (points, constraints.Rule) {
	l, w := r.brief.Limits, r.brief.Weights
	if !r.enoughBands() {
		return 0, constraints.Stock
	}
	crossed, weighed := 0, true
	var fits [drive.MaxStages]mechanics.Fitted
	at := constraints.Work{Brief: r.brief, Motor: r.made.Motor.Name, Wheel: r.made.Wheel, Model: &r.model}
	for i, st := range r.states[:r.hd.stages] {
		cost += st.cost
		fits[i], r.model.Stages[i] = st.fit, st.stage
		at.Bands[i] = &r.bands[st.band].Part
		weighed = weighed && at.Bands[i].Calibrated
		if st.crossed {
			crossed++
		}
	}
	if no := constraints.TurnsRight(r.brief.Direction, crossed); no != nil {
		return 0, no.Rule
	}
	g := drive.GeometryAt(&fits, &lies)
	at.Geometry = &g
	at.Carry()
	if no := constraints.First(at.Rules()); no != nil {
		return 0, no.Rule
	}
	class := r.hd.classes[0]
	if weighed {
		class = r.hd.classes[len(r.hd.classes)-1]
	}
	does := class.WorkOf(&r.model, &g, at.Running, at.Starting)
	f, share := class.Of(&does), float64(at.Running.MotorTorque/r.model.Motor.StallTorque(r.model.Supply))
	return cost + score.MotorLoad(l, w, share) + score.Classrooms(w, f.Works, forecast.Rooms) +
		score.MayStand(w, f.Stands, forecast.Rooms) + score.Speed(w, f.Low, f.High, r.model.Demand.Target), ""
}

// describe says in a few words which drive the present choice is. The names are the
// cupboard's.
func (r *row) describe(cost points) string {
	words := fmt.Sprintf("motor %s, cells %s", r.motors[r.hd.motor].Part.Name, r.holders[r.hd.holder].Part.Name)
	for i, p := range r.pairs[:r.hd.stages] {
		st := r.states[i]
		words += fmt.Sprintf(", %s to %s by %s", r.pulleys[p.driver].Part.Name, r.pulleys[p.driven].Part.Name, r.bands[st.band].Part.Name)
		if st.use != drive.Single {
			words += " " + st.use.String()
		}
		if st.crossed {
			words += " crossed"
		}
	}
	return fmt.Sprintf("%s, at %s points", words, inPoints(cost))
}
