package recheck

import (
	"math"
	"slices"
)

var penaltyTerms = []string{"classrooms", "may stand", "speed", "stages", "cells", "band fit", "joints", "bands", "assumptions", "idle stages", "motor load", "forgiveness", "made pulleys"}

// penalties works each term of the penalty out again and adds them up.
func (r *report) penalties(c *certificate, p *proposal) {
	w, l := c.Brief.Weights, &c.Brief.Limits
	speedStep := thousandths(w.SpeedStep * w.SpeedPerPercent)
	for _, weight := range []*float64{&w.Classroom, &w.MayStand, &w.Stage, &w.Cell, &w.BandFit, &w.Sleeve, &w.DrillOut, &w.Glue, &w.Crossed,
		&w.DoubledBand, &w.Assumption, &w.IdleStage, &w.MotorLoad, &w.Unforgiving, &w.OnEdge, &w.MadePulley} {
		*weight = thousandths(*weight)
	}
	should := map[string]float64{
		"stages": w.Stage * float64(len(p.Stages)-1),
		"cells":  w.Cell * float64(p.Cells.Cells-1),
	}
	should["classrooms"] = w.Classroom * float64((classrooms-p.Works)/10) // whole tenths
	if p.Stands > classrooms/20 {
		should["may stand"] = w.MayStand
	}
	// The end of the range that is nearer to the speed asked, if it is outside.
	if near := math.Max(p.Speed.Low, math.Min(p.Speed.High, p.Target)); near > 0 {
		percent := 100 * math.Abs(math.Log(near/p.Target))
		should["speed"] = math.Floor(percent/w.SpeedStep+1e-9) * speedStep
	} else {
		should["speed"] = w.MayStand
	}
	facts := len(p.Motor.Assumed) + len(p.Cells.Assumed)
	joint := func(kind string) float64 {
		switch kind {
		case "drop of glue":
			return w.Glue
		case "sleeve":
			return w.Sleeve
		case "drill out":
			return w.DrillOut
		}
		return 0
	}
	for i := range p.Stages {
		s := &p.Stages[i]
		outside := math.Max(0, math.Max(l.ComfortMin-s.AtSpacing.Stretch, s.AtSpacing.Stretch-l.ComfortMax))
		should["band fit"] += w.BandFit * math.Ceil(outside/c.Constants.BandFitStep-1e-9)
		should["joints"] += joint(s.Driver.Joint.Kind) + joint(s.Driven.Joint.Kind)
		if s.Use != "single" {
			should["bands"] += w.DoubledBand
		}
		if s.Driver.Floor == s.Driven.Floor {
			should["idle stages"] += w.IdleStage
		}
		if s.Crossed {
			should["bands"] += w.Crossed
		}
		facts += len(s.Driver.Assumed) + len(s.Driven.Assumed) + len(s.Band.Assumed) + len(p.Axles[i].Assumed)
	}
	if p.OutputJoint != nil {
		should["joints"] += joint(p.OutputJoint.Kind) * p.outputs()
	}
	if p.Wheel != nil {
		facts += len(p.Wheel.Assumed)
	}
	if p.Drum != nil {
		facts += len(p.Drum.Assumed)
	}
	should["made pulleys"] = w.MadePulley * float64(len(p.made()))
	should["assumptions"] = w.Assumption * float64(facts)
	over := math.Max(0, p.Design.Share-l.ContinuousShare)
	should["motor load"] = w.MotorLoad * math.Ceil(over/c.Constants.MotorLoadStep-1e-9)
	switch {
	case p.Bears >= l.HoleError-1e-9:
	case p.Bears >= c.Constants.Edge-1e-9:
		should["forgiveness"] = w.Unforgiving
	default:
		should["forgiveness"] = w.Unforgiving + w.OnEdge
	}

	var total float64
	for _, t := range p.Penalty {
		total += t.Points
		if math.Abs(t.Points-should[t.Term]) > 0.0005 {
			r.fail("the penalty term %q is %.3f points and comes out as %.3f", t.Term, t.Points, should[t.Term])
		}
		r.hold(slices.Contains(penaltyTerms, t.Term), "the penalty term %q is not known", t.Term)
		delete(should, t.Term)
	}
	for _, term := range penaltyTerms {
		r.hold(should[term] == 0, "the penalty term %q is left out", term)
	}
	r.hold(math.Abs(total-p.Total) < 0.0005, "the penalty terms add up to %.3f points and the total is %.3f", total, p.Total)
	r.hold(len(p.Stages) <= c.Brief.MaxStages, "there are more stages than asked")
	r.hold(len(c.Brief.Cells) == 0 || slices.Contains(c.Brief.Cells, p.Cells.Cells), "this number of cells is not allowed")
}

// thousandths rounds a weight as it is before it is counted.
func thousandths(weight float64) float64 { return math.Round(1000*weight) / 1000 }

// outputs is how many parts sit as the output joint says: the four wheels of a vehicle, or
// one drum.
func (p *proposal) outputs() float64 {
	if p.Wheel != nil {
		return 4
	}
	return 1
}

// assumptions gathers the facts that nobody measured from the parts again.
func (r *report) assumptions(p *proposal) {
	var should []string
	add := func(name string, facts []string) {
		for _, fact := range facts {
			if line := name + ": " + fact; !slices.Contains(should, line) {
				should = append(should, line)
			}
		}
	}
	add(p.Motor.Name, p.Motor.Assumed)
	add(p.Cells.Name, p.Cells.Assumed)
	for i := range p.Stages {
		s := &p.Stages[i]
		add(s.Driver.Name, s.Driver.Assumed)
		add(s.Driven.Name, s.Driven.Assumed)
		add(s.Band.Name, s.Band.Assumed)
		add(p.Axles[i].Stock, p.Axles[i].Assumed)
	}
	for _, w := range []*round{p.Wheel, p.Drum} {
		if w != nil {
			add(w.Name, w.Assumed)
		}
	}
	r.hold(slices.Equal(slices.Sorted(slices.Values(should)), slices.Sorted(slices.Values(p.Assumed))),
		"the assumptions listed are not those of the parts")
}

// joints checks how each pulley, wheel or drum sits on its shaft.
func (r *report) joints(c *certificate, p *proposal) {
	on := func(name string, j *joint, bore, shaft, room float64, canDrill bool) {
		r.same("the bore of "+name, j.Bore, bore)
		r.same("the shaft under "+name, j.Shaft, shaft)
		over := bore - shaft
		switch j.Kind {
		case "push fit":
			r.hold(over >= -0.2-slackRule && over <= slackRule, "%s is not a push fit", name)
		case "drop of glue":
			r.hold(c.Brief.Making.Glue && over >= -slackRule && over <= 0.2+slackRule, "%s can not be glued on", name)
		case "sleeve":
			ok := j.Sleeve != nil
			if ok {
				inner, outer := shaft-j.Sleeve.Inner, j.Sleeve.Outer-bore
				ok = inner >= -slackRule && inner <= 0.3+slackRule && outer >= -slackRule && outer <= 0.3+slackRule
			}
			r.hold(ok, "the sleeve in %s does not fit", name)
		case "drill out":
			r.hold(c.Brief.Making.DrillOut && over < 0 && canDrill && room >= shaft+4-slackRule, "%s can not be drilled out", name)
		default:
			r.fail("%s: the joint %q is not known", name, j.Kind)
		}
	}
	for i := range p.Stages {
		s := &p.Stages[i]
		shaft := p.Motor.Shaft
		if i > 0 {
			shaft = p.Axles[i-1].Diameter
		}
		on(s.Driver.Name, &s.Driver.Joint, s.Driver.Bore, shaft, s.Driver.Floor, s.Driver.CanDrill)
		on(s.Driven.Name, &s.Driven.Joint, s.Driven.Bore, p.Axles[i].Diameter, s.Driven.Floor, s.Driven.CanDrill)
	}
	if p.OutputJoint == nil {
		return
	}
	shaft := p.Axles[len(p.Axles)-1].Diameter
	for _, w := range []*round{p.Wheel, p.Drum} {
		if w != nil {
			on(w.Name, p.OutputJoint, w.Bore, shaft, w.Diameter, w.CanDrill)
		}
	}
}
