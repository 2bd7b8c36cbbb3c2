package design

import (
	"fmt"
	"math"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/drive"
	"findrive/internal/score"
	"findrive/internal/units"
)

// penalty sums the terms of a finished drive and says of each what it is for.
func (t *task) penalty(d *drive.Drive, g *drive.Geometry, n, target units.RPM, share float64, forgives bool) ([]score.Term, score.Points) {
	l, w := t.brief.Limits, t.brief.Weights
	var fit, use, joints score.Points
	for i := range d.Stages {
		fit += score.BandFit(l, w, g.Fits[i].Stretch)
		use += score.BandUse(w, d.Stages[i].Use, d.Stages[i].Crossed)
		joints += score.Joint(w, d.Stages[i].DriverJoint.Kind) + score.Joint(w, d.Stages[i].DrivenJoint.Kind)
	}
	joints += score.Joint(w, d.OutputJoint.Kind)
	facts := assumptionCount(d)
	terms := []score.Term{
		{Name: "speed", Points: score.Speed(w, n, target), Why: offWords(n, target)},
		{Name: "stages", Points: score.Stages(w, len(d.Stages)), Why: plural(len(d.Stages), "stage")},
		{Name: "cells", Points: score.Cells(w, d.Holder.Cells), Why: plural(d.Holder.Cells, "cell")},
		{Name: "band fit", Points: fit, Why: fitWords(l, d, g)},
		{Name: "joints", Points: joints, Why: jointWords(d)},
		{Name: "bands", Points: use, Why: bandWords(d)},
		{Name: "assumptions", Points: score.Assumptions(w, facts), Why: factWords(facts)},
		{Name: "motor load", Points: score.MotorLoad(l, w, share), Why: fmt.Sprintf("the motor runs at %.0f %% of stall", 100*share)},
		{Name: "forgiveness", Points: score.Forgiveness(w, forgives), Why: forgivenessWords(l, forgives)},
	}
	var total score.Points
	for _, term := range terms {
		total += term.Points
	}
	return terms, total
}

func offWords(n, target units.RPM) string {
	off := 100 * math.Abs(float64(n/target)-1)
	switch {
	case off < 0.5:
		return "just the speed wanted"
	case n > target:
		return fmt.Sprintf("%.0f %% too fast", off)
	}
	return fmt.Sprintf("%.0f %% too slow", off)
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
	count[d.OutputJoint.Kind]++
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

func forgivenessWords(l brief.Limits, forgives bool) string {
	if forgives {
		return fmt.Sprintf("a hole may be %s mm out of place", units.Significant(float64(l.HoleError), 3))
	}
	return fmt.Sprintf("a hole %s mm out of place could stop it", units.Significant(float64(l.HoleError), 3))
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
