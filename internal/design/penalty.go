package design

import (
	"fmt"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/drive"
	"findrive/internal/forecast"
	"findrive/internal/making"
	"findrive/internal/score"
	"findrive/internal/units"
)

// penalty sums the terms of a finished drive and says of each what it is for.
func (t *task) penalty(d *drive.Drive, at *designed, p *Proposal) ([]score.Term, score.Points) {
	l, w, g := t.brief.Limits, t.brief.Weights, &at.geometry
	idle := idleStages(d)
	var fit, use, joints score.Points
	for i := range d.Stages {
		fit += score.BandFit(l, w, g.Fits[i].Stretch)
		use += score.BandUse(w, d.Stages[i].Use, d.Stages[i].Crossed)
		joints += score.Joint(w, d.Stages[i].DriverJoint.Kind) + score.Joint(w, d.Stages[i].DrivenJoint.Kind)
	}
	joints += score.Joint(w, d.OutputJoint.Kind) * score.Points(d.OutputPieces())
	facts := assumptionCount(d)
	terms := []score.Term{
		{Name: "classrooms", Points: score.Classrooms(w, p.Works, forecast.Rooms), Why: classroomWords(p.Works)},
		{Name: "may stand", Points: score.MayStand(w, p.Stands, forecast.Rooms), Why: standWords(p.Stands)},
		{Name: "speed", Points: score.Speed(w, p.Speed.Low, p.Speed.High, p.Target), Why: offWords(p)},
		{Name: "stages", Points: score.Stages(w, len(d.Stages)), Why: plural(len(d.Stages), "stage")},
		{Name: "cells", Points: score.Cells(w, d.Holder.Cells), Why: plural(d.Holder.Cells, "cell")},
		{Name: "band fit", Points: fit, Why: fitWords(l, d, g)},
		{Name: "joints", Points: joints, Why: jointWords(d)},
		{Name: "bands", Points: use, Why: bandWords(d)},
		{Name: "assumptions", Points: score.Assumptions(w, facts), Why: factWords(facts)},
		{Name: "idle stages", Points: score.Idle(w, idle), Why: idleWords(idle)},
		{Name: "motor load", Points: score.MotorLoad(l, w, at.share), Why: fmt.Sprintf("the motor runs at %.0f %% of stall", 100*at.share)},
		{Name: "forgiveness", Points: score.Forgiveness(w, p.Bears, l.HoleError), Why: forgivenessWords(l, p.Bears)},
	}
	if t.brief.Making.Discs {
		made := making.Different(d.Pulleys())
		terms = append(terms, score.Term{Name: "made pulleys", Points: score.Made(w, made), Why: madeWords(made)})
	}
	var total score.Points
	for _, term := range terms {
		total += term.Points
	}
	return terms, total
}

// madeWords say how many kinds of pulley are to be made.
func madeWords(kinds int) string {
	if kinds == 0 {
		return "every pulley is there"
	}
	return plural(kinds, "kind") + " of pulley to make of discs"
}

// classroomWords say a share as a class sees it.
func classroomWords(works int) string {
	return fmt.Sprintf("it turns as asked in %d of %d classrooms", works, forecast.Rooms)
}

func standWords(stands int) string {
	if stands == 0 {
		return "it turns in every one"
	}
	return fmt.Sprintf("it does not turn in %d of %d", stands, forecast.Rooms)
}

func offWords(p *Proposal) string {
	switch {
	case p.Target < p.Speed.Low:
		return "even the slowest of ten turns faster than wanted"
	case p.Target > p.Speed.High:
		return "even the fastest of ten turns slower than wanted"
	}
	return "the speed wanted is within the range"
}

// idleStages counts the stages of a drive that change no speed.
func idleStages(d *drive.Drive) int {
	n := 0
	for i := range d.Stages {
		if d.Stages[i].Driver.GrooveFloor == d.Stages[i].Driven.GrooveFloor {
			n++
		}
	}
	return n
}

func idleWords(n int) string {
	if n == 0 {
		return "every stage changes the speed"
	}
	return plural(n, "stage") + " of equal pulleys"
}

func fitWords(l brief.Limits, d *drive.Drive, g *drive.Geometry) string {
	var words []string
	for i := range d.Stages {
		switch s := g.Fits[i].Stretch; {
		case s < l.ComfortStretchMin:
			words = append(words, fmt.Sprintf("band %s is a little slack", d.Stages[i].Band.Name))
		case s > l.ComfortStretchMax:
			words = append(words, fmt.Sprintf("band %s is rather tight", d.Stages[i].Band.Name))
		}
	}
	return orElse(words, "every band is comfortably stretched")
}

func jointWords(d *drive.Drive) string {
	count := map[drive.JointKind]int{}
	for i := range d.Stages {
		count[d.Stages[i].DriverJoint.Kind]++
		count[d.Stages[i].DrivenJoint.Kind]++
	}
	count[d.OutputJoint.Kind] += d.OutputPieces()
	var words []string
	if n := count[drive.Glued]; n == 1 {
		words = append(words, "1 drop of glue")
	} else if n > 1 {
		words = append(words, fmt.Sprintf("%d drops of glue", n))
	}
	if n := count[drive.Sleeved]; n > 0 {
		words = append(words, plural(n, "sleeve"))
	}
	if n := count[drive.DrilledOut]; n > 0 {
		words = append(words, plural(n, "bore")+" to drill out")
	}
	return orElse(words, "everything is a push fit")
}

func bandWords(d *drive.Drive) string {
	var words []string
	for i := range d.Stages {
		s := &d.Stages[i]
		if s.Crossed {
			words = append(words, fmt.Sprintf("band %s is crossed", s.Band.Name))
		}
		switch s.Use {
		case drive.LoopedTwice:
			words = append(words, fmt.Sprintf("band %s is looped twice", s.Band.Name))
		case drive.Paired:
			words = append(words, fmt.Sprintf("two %s side by side", s.Band.Name))
		}
	}
	return orElse(words, "every band is single and open")
}

func factWords(n int) string {
	if n == 0 {
		return "nothing is assumed"
	}
	return plural(n, "fact") + " nobody measured"
}

func forgivenessWords(l brief.Limits, bears units.Millimetres) string {
	switch error := units.Significant(float64(l.HoleError), 3); {
	case bears >= l.HoleError:
		return fmt.Sprintf("a hole may be %s mm out of place", error)
	case bears >= score.Edge:
		return fmt.Sprintf("a hole %s mm out of place could stop it, one of %s mm could not", error, units.Significant(float64(score.Edge), 3))
	}
	return fmt.Sprintf("on the edge: a hole %s mm out of place could stop it", units.Significant(float64(score.Edge), 3))
}

// orElse joins words into a list, or gives what is said if there are none.
func orElse(words []string, none string) string {
	if len(words) == 0 {
		return none
	}
	return strings.Join(words, ", ")
}

func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
