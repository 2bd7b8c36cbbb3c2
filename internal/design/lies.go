package design

import (
	"findrive/internal/drive"
	"findrive/internal/units"
)

// rise is how far the output axle may stand from the shaft before it against its weight: below
// it, or above it where the floor pushes up.
type rise units.Interval[units.Millimetres]

// riseOf is that for a stage on the output axle; nil for any other, and where holes are not asked
// how the band lies to the weight.
func (t *task) riseOf(h *head, stage, driver, driven int) *rise {
	weight := h.demand.Weight
	if stage != h.stages-1 || weight.Y == 0 || weight.X != 0 {
		return nil
	}
	before, output := t.seats.at(h, stage, driver), t.seats.at(h, stage+1, driven)
	r := rise{Lo: before.Y0 - output.Y1, Hi: before.Y1 - output.Y0}
	if weight.Y > 0 {
		r = rise{Lo: -r.Hi, Hi: -r.Lo}
		if wheel, _ := t.outputParts(h.output); wheel != nil && !t.brief.Frame.HasGround {
			// The floor is where the wheels stand, and the driver keeps clear of it too.
			r.Hi = min(r.Hi, wheel.Diameter/2-t.brief.Limits.Clearance-t.pulleys[driver].Part.Outside/2)
		}
	}
	return &rise{Lo: r.Lo - seatNoise, Hi: r.Hi + seatNoise}
}

// best is the best lie, from some one on, that the output axle may have with spacings whose cells
// end so far off at least.
func (r *rise) best(from drive.Lie, far units.Millimetres) drive.Lie {
	for from.CosApart() < 0 && far*units.Millimetres(-from.CosApart()) > r.Hi {
		from++
	}
	return from
}

// worst is the worst, from some one on, with spacings of so much at most.
func (r *rise) worst(from drive.Lie, most units.Millimetres) drive.Lie {
	for from > drive.InLine && most*units.Millimetres(-from.CosBelow()) < r.Lo {
		from--
	}
	return from
}

// narrow leaves out the lies of a box that no shafts in their seats have at its spacings; false if
// there are no others.
func (r *refining) narrow(b *box) bool {
	if r.rise != nil {
		last := b.states[r.stages-1]
		b.best.output, b.worst.output = r.rise.best(b.best.output, last.far), r.rise.worst(b.worst.output, last.cell.Hi)
	}
	for i := range r.stages - 1 {
		for b.best.inner.Nearest(b.states[i].far, b.states[i+1].far) > r.across[i] {
			b.best.inner++
		}
	}
	return b.best.inner <= b.worst.inner && b.best.output <= b.worst.output
}
