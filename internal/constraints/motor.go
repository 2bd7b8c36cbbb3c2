package constraints

import (
	"fmt"

	"findrive/internal/brief"
	"findrive/internal/units"
)

// MotorStart is the starting rule: stall torque at least Limits.StartMin times
// the starting torque, 1.5 by default (judgement).
func MotorStart(l brief.Limits, motor string, stall, needed units.NewtonMillimetres) *Refusal {
	return motorRule(MotorStarts, l.StartMin, motor, stall, needed, "start")
}

// MotorRun is the running rule: stall torque at least Limits.RunMin times the
// running torque, 2 by default, which keeps the motor on the good side of its
// greatest power (half of stall: MIT course 2.007, Understanding D.C. Motor
// Characteristics).
func MotorRun(l brief.Limits, motor string, stall, needed units.NewtonMillimetres) *Refusal {
	return motorRule(MotorRuns, l.RunMin, motor, stall, needed, "run")
}

func motorRule(rule Rule, limit float64, motor string, stall, needed units.NewtonMillimetres, verb string) *Refusal {
	if float64(stall) >= limit*float64(needed) {
		return nil
	}
	return refuse(rule, limit*float64(needed)/float64(stall)-1, func() string {
		is, wanted := apart(float64(stall/needed), limit, 1)
		return fmt.Sprintf("motor %s has too little in hand to %s: its stall torque, %s mN·m, is %s times what the drive asks, and should be %s times", motor, verb, figure(stall), is, wanted)
	})
}

// OverContinuous reports whether the running torque is above the share of stall
// a small motor bears for long: a quarter (hobby guidance). It warns only.
func OverContinuous(l brief.Limits, stall, running units.NewtonMillimetres) bool {
	return float64(running) > l.ContinuousShare*float64(stall)
}
