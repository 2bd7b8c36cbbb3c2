package drive

import (
	"findrive/internal/brief"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// Demand is what the brief asks of the output axle.
type Demand struct {
	Target units.RPM
	// Steady is the torque that must be kept up while turning, besides the
	// output axle's own friction in its bearings.
	Steady units.NewtonMillimetres
	// Start is the largest torque met at starting or in one turn.
	Start units.NewtonMillimetres
	// Radial is the weight that hangs on the output axle's bearings, downwards
	// in the drawing; 0 for an upright axle.
	Radial units.Newtons
}

// DemandOf works out the demand at the given load friction. Wheel and drum are
// the parts chosen for a vehicle or a lift, else nil.
func DemandOf(b *brief.Brief, wheel *parts.Wheel, drum *parts.Drum, at Level) Demand {
	d := Demand{Target: b.Speed.Turning}
	load := b.Load
	weight := load.Mass.Weight()
	switch b.Model {
	case brief.UprightRide:
		d.Steady = mechanics.PivotTorque(at.of(BearingFriction(parts.Wood)), load.Mass, load.PivotRadius)
		d.Start = d.Steady
	case brief.LevelRide:
		d.Radial = weight
		d.Start = mechanics.OutOfBalanceTorque(load.OutOfBalance, load.OutOfBalanceRadius)
	case brief.Vehicle:
		r := wheel.Diameter / 2
		if b.Speed.Linear > 0 {
			d.Target = units.RPMForRim(b.Speed.Linear, r)
		}
		d.Steady = mechanics.RollingTorque(at.of(mechanics.RollingResistance(load.Surface)), load.Mass, load.Slope, r) +
			max(0, mechanics.SlopeTorque(load.Mass, load.Slope, r))
		d.Start = d.Steady
		d.Radial = units.Newtons(float64(weight) * load.DrivenShare)
	case brief.Lift:
		r := drum.Diameter/2 + load.CordDiameter/2
		if b.Speed.Linear > 0 {
			// Each rope part at the moving block takes in cord, so the drum
			// winds that many times as fast as the load rises.
			d.Target = units.RPMForRim(b.Speed.Linear*units.MetresPerSecond(load.TackleParts), r)
		}
		d.Steady = mechanics.LiftTorque(load.Mass, drum.Diameter, load.CordDiameter, load.TackleParts, load.TackleEfficiency)
		d.Start = d.Steady
		d.Radial = mechanics.LiftPull(load.Mass, load.TackleParts, load.TackleEfficiency)
	case brief.PlainShaft:
		d.Steady, d.Start = load.Torque, load.Torque
		d.Radial = weight
	}
	return d
}

// BearingFriction is the friction of an axle of the given material in its
// holes, clips or straws.
func BearingFriction(axle parts.Material) mechanics.Range {
	if axle == parts.Steel || axle == parts.Brass || axle == parts.Alloy {
		return mechanics.SteelInPlastic()
	}
	return mechanics.DowelInWood()
}

// Swings is by how much the torque swings up in a turn above the steady one.
func (d *Demand) Swings() units.NewtonMillimetres { return d.Start - d.Steady }
