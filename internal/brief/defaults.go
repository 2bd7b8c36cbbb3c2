package brief

import "findrive/internal/units"

// DefaultLimits are the limits a brief starts from. Each can be changed in its
// [limits] table.
func DefaultLimits() Limits {
	return Limits{
		// Common practice: aim at 10 to 30 %, warn below 5 and above 50 %.
		FittedStretchMin: 1.05, FittedStretchMax: 1.5,
		ComfortStretchMin: 1.10, ComfortStretchMax: 1.35, IdealStretch: 1.2,
		// As far as the rubber law was fitted (Treloar 1944, series A).
		RunningStretchMax: 2.0,
		// Common rule of V-belt handbooks; see constraints.ArcOfContact.
		ArcMin: units.Degrees(120), ArcWarn: units.Degrees(130),
		// Judgement: grip is known to a factor of two.
		GripMin: 1.2, GripStartMin: 1.0,
		// Judgement; half of stall is the motor's greatest power.
		StartMin: 1.5, RunMin: 2.0,
		// Judgement; see constraints.SpeedKept.
		KeptSpeedMin: 0.5,
		// Hobby guidance: a quarter of stall for long running.
		ContinuousShare: 0.25,
		// Common practice.
		Clearance: 2, LaneGap: 2, HoleWall: 2, RunningFit: 0.5,
		// O-ring belt practice (Apple Rubber, Seal Design Guide, "Drive Belt").
		SectionRatio: 4,
		// Common practice: pupils' holes are within 2 mm.
		HoleError: 2,
	}
}

// DefaultWeights are the prices a brief starts from, in points (judgement); see
// docs/score.md. Each can be changed in its [weights] table.
func DefaultWeights() Weights {
	return Weights{
		Classroom: 2, MayStand: 10, SpeedPerPercent: 1, SpeedStep: 2, Stage: 4, BandFit: 1, Sleeve: 1, DrillOut: 2, Glue: 0.5,
		Crossed: 2, DoubledBand: 0.5, Assumption: 0.25, IdleStage: 6, Unforgiving: 5, OnEdge: 10, Cell: 0.5, MotorLoad: 1,
		// As much as a stage: a second set of drawings, and a second explanation.
		AnotherDrive: 4,
		// A little less than a stage: discs to cut, glue that dries overnight.
		MadePulley: 3,
	}
}
