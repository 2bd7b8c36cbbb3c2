package built

import (
	"fmt"
	"slices"
	"strings"

	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/units"
)

// fastest answers how fast the drive can be made by one or two changes from the cupboard
// that keep the rules of a contest: the same motor, no more cells, the frame as it is,
// and every rule of this program but that of the wanted speed. All single changes and all
// pairs are tried; a pair of a new pulley or band and the axles set to suit it is one of
// them. What would stand still on a poor day is no answer, unless the drive may do so
// already.
func fastest(r *Reply, w *Working) {
	b := w.Build
	best, at, sure := units.RPM(0), []step{}, !b.falters()
	if b.Sound(constraints.Speed) {
		best = w.Speed.Likely
	}
	try := func(o *Build, how ...step) {
		if n := o.speed(drive.Conditions{}); n > best*(1+leastFaster) && o.Sound(constraints.Speed) && !(sure && o.falters()) {
			best, at = n, how
		}
	}
	allowed := func(list []step) []step {
		return slices.DeleteFunc(list, func(s step) bool {
			return s.kind == otherMotor || s.kind == otherCells && b.after(s).Drive.Holder.Cells > b.Drive.Holder.Cells
		})
	}
	all := allowed(b.steps())
	for i, first := range all {
		part := b.after(first)
		try(part, first)
		others := all[i+1:]
		if first.kind == otherBand || first.kind == otherDriver || first.kind == otherDriven {
			others = append(slices.Clone(others), part.axleSteps(first.stage)...)
		}
		for _, second := range others {
			if second.kind != first.kind || second.stage != first.stage {
				try(part.after(second), first, second)
			}
		}
	}
	r.rulesOfContest(b)
	if best == 0 {
		r.Short = "It cannot be said: as it is it breaks a rule, and no one or two changes from the cupboard mend that."
		return
	}
	after, says := b, []string{}
	for _, s := range at {
		after = after.after(s)
		says = append(says, s.says)
	}
	o, err := Work(after)
	if err != nil {
		r.Short = "It cannot be said: " + err.Error() + "."
		return
	}
	r.Then = o
	if len(at) == 0 {
		r.Short = fmt.Sprintf("It is as fast as one or two changes make it: %s.", speedIn(o))
	} else {
		r.Short = fmt.Sprintf("Up to %s, by this: %s.", speedIn(o), strings.Join(says, "; and "))
		r.says("As built it goes %s.", speedIn(w))
	}
	weakest := &o.Stages[o.SlipsFirst]
	r.says("What is left in hand then: the band of stage %d grips %s; the motor works at %s %% of its stall torque.", o.SlipsFirst+1, times(weakest.Grip()), percent(o.Motor.Share))
	r.says("Other drives altogether may be faster: findrive propose looks at all of them, for a speed that is asked for.")
}

// leastFaster is by how much a change must be faster to be worth making.
const leastFaster = 0.005

func (r *Reply) rulesOfContest(b *Build) {
	frame := "no footprint, for the file has no frame"
	if b.Framed {
		f := b.Brief.Frame
		frame = fmt.Sprintf("a frame of %s by %s by %s inside", millimetres(f.Length), millimetres(f.Height), millimetres(f.Depth))
	}
	r.says("Kept to: motor %s, %s at most, %s, and every rule but that of the wanted speed.", b.Drive.Motor.Name, cells(b.Drive.Holder.Cells), frame)
}
