package design

import (
	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/units"
)

// checkPlaced works a placed drive out with every centre distance longer by off
// and returns its likely speed and the motor's running torque, or the first rule
// it breaks.
func checkPlaced(d *drive.Drive, b *brief.Brief, model *drive.Model, off units.Millimetres) (units.RPM, units.NewtonMillimetres, *constraints.Refusal) {
	g, err := drive.GeometryOf(d, model, off)
	if err != nil {
		return 0, 0, constraints.TooShort(d.Stages[0].Band)
	}
	running := model.Carry(&g, model.Demand.Steady)
	starting := &running
	if model.Demand.Start != model.Demand.Steady {
		flow := model.Carry(&g, model.Demand.Start)
		starting = &flow
	}
	l := b.Limits
	if t := drive.TractionOf(b, d.Wheel, model.Demand); b.Model == brief.Vehicle {
		if no := constraints.WheelTraction(t.Needed, t.Holds); no != nil {
			return 0, 0, no
		}
	}
	for i := len(d.Stages) - 1; i >= 0; i-- { // from the output: what slips there stops the rest
		stage, f := &d.Stages[i], &g.Fits[i]
		if no := constraints.FittedStretch(l, stage.Band, f.Stretch); no != nil {
			return 0, 0, no
		}
		if no := constraints.ArcOfContact(l, f); no != nil {
			return 0, 0, no
		}
		if stage.Crossed {
			if no := constraints.CrossedBandSpacing(f.DriverPitch, f.DrivenPitch, f.Centre); no != nil {
				return 0, 0, no
			}
		}
		greatest, _ := model.Stages[i].Grip(*f)
		if no := constraints.GripRunning(l, stage.Band, i, gripOf(&running, i, greatest)); no != nil {
			return 0, 0, no
		}
		if no := constraints.GripStarting(l, stage.Band, i, gripOf(starting, i, greatest)); no != nil {
			return 0, 0, no
		}
		// A level ride asks most of its bands at the heaviest moment of every turn.
		tight := running.Stages[i].Loaded.TightStretch
		if model.Demand.Swing > 0 && starting.Slips < 0 {
			tight = max(tight, starting.Stages[i].Loaded.TightStretch)
		}
		if no := constraints.RunningTight(l, stage.Band, tight); no != nil {
			return 0, 0, no
		}
	}
	stall := model.Motor.StallTorque(model.Supply)
	if no := constraints.MotorStart(l, d.Motor.Name, stall, starting.MotorTorque); no != nil {
		return 0, 0, no
	}
	if no := constraints.MotorRun(l, d.Motor.Name, stall, running.MotorTorque); no != nil {
		return 0, 0, no
	}
	speed := model.OutputSpeed(&g, &running)
	if no := constraints.SpeedKept(l, kept(model, &g, speed)); no != nil {
		return 0, 0, no
	}
	return speed, running.MotorTorque, constraints.SpeedWithin(speed, model.Demand.Target, b.Tolerance)
}

// gripOf is a stage's grip margin in a flow; 0 if it, or a stage nearer the
// output, slips.
func gripOf(flow *drive.Flow, i int, greatest units.Newtons) float64 {
	if flow.Slips >= i {
		return 0
	}
	return constraints.GripMargin(greatest, flow.Stages[i].Effective)
}
