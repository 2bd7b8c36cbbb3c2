package proof

import (
	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/pause"
)

// box is all the designs of a row, with its rods chosen, that are left to look at
// together: a bunch of states for each stage, and the lies that are open.
type box struct {
	bunch [drive.MaxStages]*bunch
	lies
}

// bandsOf looks through the bands of a row whose rods are chosen.
func (r *row) bandsOf(charged points) error {
	if !r.enoughRod() {
		r.leave(refused(constraints.Stock))
		return nil
	}
	all := box{bunch: r.bunch, lies: r.lies}
	for i := range r.hd.stages {
		r.states[i] = all.bunch[i].states[0]
	}
	r.made = r.assemble()
	var err error
	if r.model, err = drive.Prepare(r.made, r.brief, drive.Conditions{}); err != nil {
		return err
	}
	return r.look(&all, charged)
}

// look rules a box out by a bound, or looks at its two halves, or at its one design.
func (r *row) look(b *box, charged points) error {
	if r.looked&15 == 0 {
		if err := pause.Err(r.ctx); err != nil {
			return err
		}
	}
	if !r.spend(1) {
		return nil
	}
	no, split := r.bound(b, charged)
	if no.bound > r.limit {
		r.leave(no)
		return nil
	}
	if r.tight {
		switch there, err := r.roomFor(b); {
		case err != nil:
			return err
		case !there:
			r.leave(refused(constraints.Room))
			return nil
		}
	}
	first, second := *b, *b
	switch {
	case b.innerBest != b.innerWorst:
		first.innerWorst, second.innerBest = b.innerBest, b.innerBest+1
	case b.outputBest != b.outputWorst:
		first.outputWorst, second.outputBest = b.outputBest, b.outputBest+1
	case split >= 0:
		first.bunch[split], second.bunch[split] = b.bunch[split].lower, b.bunch[split].upper
	default:
		return r.design(b, charged)
	}
	if err := r.look(&first, charged); err != nil {
		return err
	}
	return r.look(&second, charged)
}

// bound rules all designs of a box out, or says which stage to halve: that whose bands
// leave most in doubt; -1 if there is nothing to halve.
func (r *row) bound(b *box, charged points) (reason, int) {
	f := r.outsetOf()
	split, most := -1, -1.0
	for i := r.hd.stages - 1; i >= 0; i-- {
		c := b.bunch[i]
		charged += c.cost
		at := r.axleIn(b, i)
		was := f
		var no constraints.Rule
		if f, no = r.through(r.hd, &f, c, &at); no != "" {
			return refused(no), -1
		}
		if c.lower == nil {
			continue
		}
		// The share of torque that is in doubt by this stage, and of speed.
		torque := float64(r.hd.demand.Steady)/was.ratio.Lo + was.friction.Hi
		doubt := at.drag.Hi*(c.hub.Hi-c.hub.Lo)/(torque+1e-9) + c.ratio.Hi/c.ratio.Lo - 1 + (was.creep.Lo - f.creep.Lo) - (was.creep.Hi - f.creep.Hi)
		if c.lower.cost != c.upper.cost {
			doubt++
		}
		if doubt > most {
			split, most = i, doubt
		}
	}
	if charged > r.limit {
		return reason{bound: charged}, split
	}
	return r.atMotor(r.hd, &f, 0, span{Lo: 1, Hi: 1}, charged, r.limit), split
}

// outsetOf is what the output asks with the rods chosen, a vehicle's free axle with it.
func (r *row) outsetOf() flow {
	free := float64(r.model.Demand.Steady - r.hd.demand.Steady)
	return r.hd.outset(span{Lo: free, Hi: free})
}

// axleIn is the axle that carries stage i's driven pulley in a box.
func (r *row) axleIn(b *box, i int) axleAt {
	drag, weight := r.model.AxleMu[i]*float64(r.model.AxleRadius[i]), float64(r.model.AxleWeight[i])
	at := axleAt{drag: span{Lo: drag, Hi: drag}, weight: span{Lo: weight, Hi: weight}}
	at.best, at.worst = b.of(i, r.hd.stages)
	return at
}
