package design

import (
	"math"
	"slices"

	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// Extra is one more rule that a drive must keep, such as one of a contest. It is
// asked at several moments, so that it can refuse early what it can; nil is no
// refusal. Its methods are called from several goroutines at once.
type Extra interface {
	// Begun is asked of a drive of which motor, cells, output part and the number of
	// stages are chosen, and nothing of the stages.
	Begun(d *drive.Drive) *constraints.Refusal
	// Reaches is asked whether a drive that is partly chosen may still keep the rule.
	Reaches(p *Partly) bool
	// Parts is asked once all parts are chosen, before anything is placed.
	Parts(d *drive.Drive) *constraints.Refusal
	// Room may take from the places of a drive's shafts those that the rule refuses
	// wherever the others are. One placement is looked at for all that are alike but
	// for where they stand in the frame, so it had better be one that the rule likes.
	Room(d *drive.Drive, p *layout.Problem)
	// Works decides on a design that keeps all the other rules, by what it does at its
	// spacings and lies. The drive has not been placed.
	Works(d *drive.Drive, m *drive.Model, g *drive.Geometry) *constraints.Refusal
	// Stands decides on its holes. A design whose tidiest holes are refused is given up.
	Stands(d *drive.Drive) *constraints.Refusal
}

// Partly bounds what drives can do of which motor, cells and output part are chosen
// and some stages, from the output back.
type Partly struct {
	Motor  mechanics.Motor
	Supply mechanics.Supply
	Demand drive.Demand
	Wheel  *parts.Wheel            // nil if the model has none
	Ratio  units.Interval[float64] // turns of the motor for one of the output, creep left out
	// Torque is the least that the motor carries at the steady demand. What is more
	// than the demand over the velocity ratio is friction that no load takes away.
	Torque units.NewtonMillimetres
	Share  float64 // the most of the speed that creep leaves
}

// reaches asks the extra rule about a node that is bounded so.
func (p problem) reaches(h *head, torque units.NewtonMillimetres, ratio, share units.Interval[float64]) bool {
	if p.extra == (noExtra{}) {
		return true
	}
	wheel, _ := p.outputParts(h.output)
	return p.extra.Reaches(&Partly{Motor: h.motorModel, Supply: h.supply, Demand: h.demand, Wheel: wheel,
		Ratio:  units.Interval[float64]{Lo: math.Exp(ratio.Lo), Hi: math.Exp(ratio.Hi)},
		Torque: torque, Share: math.Exp(share.Hi)})
}

// noExtra refuses nothing.
type noExtra struct{}

func (noExtra) Begun(*drive.Drive) *constraints.Refusal                                { return nil }
func (noExtra) Reaches(*Partly) bool                                                   { return true }
func (noExtra) Parts(*drive.Drive) *constraints.Refusal                                { return nil }
func (noExtra) Room(*drive.Drive, *layout.Problem)                                     {}
func (noExtra) Works(*drive.Drive, *drive.Model, *drive.Geometry) *constraints.Refusal { return nil }
func (noExtra) Stands(*drive.Drive) *constraints.Refusal                               { return nil }

// keep puts a task under an extra rule, if there is one, and drops what it refuses
// from the beginning.
func (t *task) keep(extra Extra) {
	if extra == nil {
		return
	}
	t.extra = extra
	t.heads = slices.DeleteFunc(t.heads, func(h head) bool {
		d := &drive.Drive{Motor: &t.motors[h.motor].Part, Holder: &t.holders[h.holder].Part, Stages: make([]drive.Stage, h.stages)}
		d.Wheel, d.Drum = t.outputParts(h.output)
		no := extra.Begun(d)
		if no != nil {
			t.tally.add(no)
		}
		return no != nil
	})
}
