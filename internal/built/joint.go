package built

import (
	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/units"
)

// joints settles how each pulley, wheel or drum sits on its shaft: the easiest way
// that works. What fits in no way keeps its sizes and is refused by the rule of
// fits.
func joints(b *Build) {
	d := b.Drive
	for i := range d.Stages {
		s := &d.Stages[i]
		s.DriverJoint, _ = b.joint(constraints.PulleyHub(s.Driver), b.shaft(i))
		s.DrivenJoint, _ = b.joint(constraints.PulleyHub(s.Driven), d.Axles[i].Diameter)
	}
	if hub, ok := b.outputHub(); ok {
		d.OutputJoint, _ = b.joint(hub, d.Axles[len(d.Axles)-1].Diameter)
	}
}

// shaft is the diameter of what carries stage i's driver.
func (b *Build) shaft(i int) units.Millimetres {
	if i == 0 {
		return b.Drive.Motor.ShaftDiameter
	}
	return b.Drive.Axles[i-1].Diameter
}

// outputHub is that of the wheel or drum, if there is one.
func (b *Build) outputHub() (constraints.Hub, bool) {
	switch b.Brief.Model {
	case brief.Vehicle:
		return constraints.WheelHub(b.Drive.Wheel), true
	case brief.Lift:
		return constraints.DrumHub(b.Drive.Drum), true
	}
	return constraints.Hub{}, false
}

func (b *Build) joint(h constraints.Hub, shaft units.Millimetres) (drive.Joint, *constraints.Refusal) {
	ways, no := constraints.Joints(h, shaft, b.Cupboard.Sleeves, b.Brief.Making)
	if no != nil {
		return drive.Joint{Bore: h.Bore, Shaft: shaft}, no
	}
	return ways[0], nil
}
