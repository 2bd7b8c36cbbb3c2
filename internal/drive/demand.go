package drive

import (
	"math"

	"findrive/internal/brief"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// Demand is what the brief asks of the output axle. The forces, in the drawing, y up:
//
//	upright axle        level axle          vehicle             lift
//	seen from above     seen from the front seen from the side  seen from the front
//
//	                        ____                ____                 ____
//	    .----.            /      \           .-|frame|-.            / drum \
//	   ( axle )          |   ()   |          |  '--'   |           |   ()   |
//	    '----'            \______/          (o)       (o)           \______/|
//	 the weight goes          |            driven     free                  | cord
//	 down the axle            v weight        ^         ^                   v
//	 into its pivot                     share of    the rest            pull of the
//	                                   the weight                       load or tackle
//	   Weight 0          Weight down     Weight UP                      Weight down
//
// The weight of a vehicle rests on its axles and these on the floor: the floor pushes
// the wheels up, so it is the underside of the axle's hole that is relieved and the
// upper side that is pressed. A band that pulls upwards adds to that.
type Demand struct {
	Target units.RPM
	// Steady is the mean torque over a turn that must be kept up, besides the output
	// axle's own friction in its bearings. A vehicle's free axle rubs too.
	Steady units.NewtonMillimetres
	// Swing is by how much the torque rises and falls in a turn, like a sine: m g r of
	// what is out of balance on a level axle, 0 elsewhere.
	Swing units.NewtonMillimetres
	// Start is the largest torque met at starting or in one turn, Steady + Swing.
	Start units.NewtonMillimetres
	// Weight is what presses on the output axle's bearings besides its band and the
	// weight of what sits on it (Model.AxleWeight).
	Weight mechanics.Force
}

// DemandOf works out the demand at the given friction of the load. Wheel and drum are
// the parts chosen for a vehicle or a lift, else nil; axle is the stock of the output
// axle and of a vehicle's free axle, nil to leave the latter's friction out.
func DemandOf(b *brief.Brief, wheel *parts.Wheel, drum *parts.Drum, axle *parts.AxleStock, at Level) Demand {
	return demandOf(b, wheel, drum, axle, at, at)
}

// demandOf is DemandOf with the friction of a vehicle's free axle at a level of its own.
func demandOf(b *brief.Brief, wheel *parts.Wheel, drum *parts.Drum, axle *parts.AxleStock, at, bearings Level) Demand {
	d := Demand{Target: b.Speed.Turning}
	load := b.Load
	weight := load.Mass.Weight()
	switch b.Model {
	case brief.UprightRide:
		d.Steady = mechanics.PivotTorque(at.of(BearingFriction(parts.Wood)), load.Mass, load.PivotRadius)
	case brief.LevelRide:
		d.Weight.Y = -weight
		d.Swing = mechanics.OutOfBalanceTorque(load.OutOfBalance, load.OutOfBalanceRadius)
	case brief.Vehicle:
		r := wheel.Diameter / 2
		if b.Speed.Linear > 0 {
			d.Target = units.RPMForRim(b.Speed.Linear, r)
		}
		d.Steady = mechanics.RollingTorque(at.of(mechanics.RollingResistance(load.Surface)), load.Mass, load.Slope, r) +
			max(0, mechanics.SlopeTorque(load.Mass, load.Slope, r))
		// What presses on the floor; the axles share it. The drawing lies as the
		// vehicle does.
		pressing := weight * units.Newtons(math.Cos(float64(load.Slope)))
		d.Weight.Y = pressing * units.Newtons(load.DrivenShare)
		if axle != nil {
			// Both axles' wheels are of one size, so what the free axle loses is made
			// good at the driven one, newton for newton along the floor. That its own
			// wheels do not press on its bearings is left out.
			free := pressing * units.Newtons(1-load.DrivenShare)
			d.Steady += mechanics.BearingTorque(bearings.of(BearingFriction(axle.Material)), free, axle.Diameter/2)
		}
	case brief.Lift:
		r := drum.Diameter/2 + load.CordDiameter/2
		if b.Speed.Linear > 0 {
			// Each rope part at the moving block takes in cord, so the drum
			// winds that many times as fast as the load rises.
			d.Target = units.RPMForRim(b.Speed.Linear*units.MetresPerSecond(load.TackleParts), r)
		}
		d.Steady = mechanics.LiftTorque(load.Mass, drum.Diameter, load.CordDiameter, load.TackleParts, load.TackleEfficiency)
		d.Weight = along(load.CordLeaves, mechanics.LiftPull(load.Mass, load.TackleParts, load.TackleEfficiency))
	case brief.PlainShaft:
		d.Steady = load.Torque
		d.Weight.Y = -weight
	}
	d.Start = d.Steady + d.Swing
	return d
}

// along is a pull the way that a cord leaves its drum.
func along(way brief.Way, pull units.Newtons) mechanics.Force {
	switch way {
	case brief.Up:
		return mechanics.Force{Y: pull}
	case brief.Left:
		return mechanics.Force{X: -pull}
	case brief.Right:
		return mechanics.Force{X: pull}
	}
	return mechanics.Force{Y: -pull}
}

// BearingFriction is the friction of an axle of the given material in its
// holes, clips or straws.
func BearingFriction(axle parts.Material) mechanics.Range {
	if axle == parts.Steel || axle == parts.Brass || axle == parts.Alloy {
		return mechanics.SteelInPlastic()
	}
	return mechanics.DowelInWood()
}
