// Package score says how good a drive is: a penalty in points, lower is better,
// made of named terms that are shown one by one.
//
// Points are kept in whole thousandths, so that two drives are equal exactly
// when they are shown as equal, and sums never depend on their order.
package score

import (
	"math"

	"findrive/internal/brief"
	"findrive/internal/drive"
	"findrive/internal/units"
)

// Points is a penalty in thousandths of a point.
type Points int64

// Float is the penalty in points.
func (p Points) Float() float64 { return float64(p) / 1000 }

// points rounds a weight. It is rounded before it is counted, so that what is charged part by
// part comes to the same as what is charged for all of them at once.
func points(weight float64) Points { return Points(math.Round(weight * 1000)) }

// Term is one line of a drive's penalty.
type Term struct {
	Name   string
	Points Points
	Why    string
}

// Tenths are the classrooms of ten in which a drive turns as asked, of those it was put
// into, rounded up: it is charged for each whole tenth in which it does not. A finer
// share could not be told by a class of thirty.
func Tenths(works, of int) int { return (10*works + of - 1) / of }

// Classrooms is the penalty for a drive that turns as asked in so many classrooms.
func Classrooms(w brief.Weights, works, of int) Points {
	return points(w.Classroom) * Points(10-Tenths(works, of))
}

// MayStand is the penalty for a drive that may not turn at all: more than one in twenty
// of its models does not.
func MayStand(w brief.Weights, stands, of int) Points {
	if 20*stands > of {
		return points(w.MayStand)
	}
	return 0
}

// Speed is the penalty for a range of speeds low..high that leaves out the one asked:
// how far that is from the nearer end, as 100 |ln| in percent, counted in whole steps of
// Weights.SpeedStep and rounded down. Within the range a class cannot tell.
func Speed(w brief.Weights, low, high, target units.RPM) Points {
	near := units.Interval[units.RPM]{Lo: low, Hi: high}.Clamp(target)
	if near <= 0 {
		return points(w.MayStand)
	}
	percent := 100 * math.Abs(math.Log(float64(near)/float64(target)))
	return points(w.SpeedStep*w.SpeedPerPercent) * Points(math.Floor(percent/w.SpeedStep+stepSlack))
}

// stepSlack keeps a speed that is a whole number of steps off, to the last bit,
// from falling one step short.
const stepSlack = 1e-9

// Idle is the penalty for stages that change no speed: their pulleys are equal. They
// are worth having only where the room or the way of turning asks for one.
func Idle(w brief.Weights, stages int) Points { return points(w.IdleStage) * Points(stages) }

// Stages is the penalty for having more than one stage.
func Stages(w brief.Weights, stages int) Points { return points(w.Stage) * Points(stages-1) }

// Cells is the penalty for more cells than one.
func Cells(w brief.Weights, cells int) Points { return points(w.Cell) * Points(cells-1) }

// BandFitStep is the stretch that one step of band-fit penalty stands for.
const BandFitStep = 0.05

// BandFit is the penalty for a fitted stretch: nothing inside the comfortable
// window, then one step for each 0.05 begun outside it.
func BandFit(l brief.Limits, w brief.Weights, stretch float64) Points {
	outside := max(l.ComfortStretchMin-stretch, stretch-l.ComfortStretchMax, 0)
	return points(w.BandFit) * Points(math.Ceil(outside/BandFitStep-stepSlack))
}

// Joint is the penalty for the work a joint makes.
func Joint(w brief.Weights, kind drive.JointKind) Points {
	switch kind {
	case drive.Glued:
		return points(w.Glue)
	case drive.Sleeved:
		return points(w.Sleeve)
	case drive.DrilledOut:
		return points(w.DrillOut)
	}
	return 0
}

// BandUse is the penalty for crossing or doubling a band.
func BandUse(w brief.Weights, use drive.Use, crossed bool) Points {
	var p Points
	if use != drive.Single {
		p += points(w.DoubledBand)
	}
	if crossed {
		p += points(w.Crossed)
	}
	return p
}

// Assumptions is the penalty for relying on n facts nobody measured.
func Assumptions(w brief.Weights, n int) Points { return points(w.Assumption) * Points(n) }

// Made is the penalty for so many different pulleys that are to be made of discs.
func Made(w brief.Weights, kinds int) Points { return points(w.MadePulley) * Points(kinds) }

// AnotherDrive is what each different drive after the first costs where groups build
// different drives for one brief.
func AnotherDrive(w brief.Weights) Points { return points(w.AnotherDrive) }

// MotorLoadStep is the share of stall that one step of motor-load penalty stands
// for.
const MotorLoadStep = 0.05

// MotorLoad is the penalty for a motor that runs at the given share of its stall
// torque: nothing up to the share it bears for long, then one step for each 5 %
// begun. A hard-worked motor gets hot, and on a day of tired cells and tight bands
// it is the one that does not turn.
func MotorLoad(l brief.Limits, w brief.Weights, share float64) Points {
	return points(w.MotorLoad) * Points(math.Ceil(max(0, share-l.ContinuousShare)/MotorLoadStep-stepSlack))
}

// Edge is how far holes may be out of place, in mm, below which a drive is on the edge:
// hardly a hand drills to that (common practice: a sharp pencil and a bradawl do).
const Edge units.Millimetres = 1

// Forgiveness is the penalty for a drive that bears holes out of place by no more than
// so much, where the brief has them out by holeError.
func Forgiveness(w brief.Weights, bears, holeError units.Millimetres) Points {
	switch {
	case bears >= holeError:
		return 0
	case bears >= Edge:
		return points(w.Unforgiving)
	}
	return points(w.Unforgiving) + points(w.OnEdge)
}

// Worth is how many points more than the first a drive may cost to be listed: nobody
// builds one that is so much worse.
const Worth Points = 10_000
