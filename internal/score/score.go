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

func points(v float64) Points { return Points(math.Round(v * 1000)) }

// Term is one line of a drive's penalty.
type Term struct {
	Name   string
	Points Points
	Why    string
}

// Speed is the penalty for a likely loaded speed n where target was asked:
// |ln(n/target)| in percent, counted in whole steps of Weights.SpeedStep and
// rounded down, because no count in a classroom can tell speeds apart that lie
// within one step. Out of reach at n = 0.
func Speed(w brief.Weights, n, target units.RPM) Points {
	if n <= 0 {
		return math.MaxInt64 / 4
	}
	percent := 100 * math.Abs(math.Log(float64(n)/float64(target)))
	return points(math.Floor(percent/w.SpeedStep+stepSlack) * w.SpeedStep * w.SpeedPerPercent)
}

// stepSlack keeps a speed that is a whole number of steps off, to the last bit,
// from falling one step short.
const stepSlack = 1e-9

// SpeedBound is the least Speed of any n in the range.
func SpeedBound(w brief.Weights, n units.Interval[units.RPM], target units.RPM) Points {
	if n.Contains(target) {
		return 0
	}
	return Speed(w, n.Clamp(target), target)
}

// SpeedWindow is the range of speeds whose Speed penalty is within a budget: a
// little wider than that, never narrower.
func SpeedWindow(w brief.Weights, budget Points, target units.RPM) units.Interval[units.RPM] {
	if w.SpeedPerPercent <= 0 || budget.Float() > 1000*w.SpeedPerPercent {
		return units.Interval[units.RPM]{Lo: 0, Hi: units.RPM(math.Inf(1))}
	}
	steps := math.Floor(budget.Float()/(w.SpeedPerPercent*w.SpeedStep)+stepSlack) + 1
	reach := units.RPM(math.Exp(steps * w.SpeedStep / 100 * (1 + stepSlack)))
	return units.Interval[units.RPM]{Lo: target / reach, Hi: target * reach}
}

// Stages is the penalty for having more than one stage.
func Stages(w brief.Weights, stages int) Points { return points(w.Stage * float64(stages-1)) }

// Cells is the penalty for more cells than one.
func Cells(w brief.Weights, cells int) Points { return points(w.Cell * float64(cells-1)) }

// BandFitStep is the stretch that one step of band-fit penalty stands for.
const BandFitStep = 0.05

// BandFit is the penalty for a fitted stretch: nothing inside the comfortable
// window, then one step for each 0.05 begun outside it.
func BandFit(l brief.Limits, w brief.Weights, stretch float64) Points {
	outside := max(l.ComfortStretchMin-stretch, stretch-l.ComfortStretchMax, 0)
	return points(w.BandFit * math.Ceil(outside/BandFitStep-stepSlack))
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
func Assumptions(w brief.Weights, n int) Points { return points(w.Assumption * float64(n)) }

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
	return points(w.MotorLoad * math.Ceil(max(0, share-l.ContinuousShare)/MotorLoadStep-stepSlack))
}

// Forgiveness is the penalty for a drive that a hole out of place by the
// brief's HoleError would stop.
func Forgiveness(w brief.Weights, forgives bool) Points {
	if forgives {
		return 0
	}
	return points(w.Unforgiving)
}
