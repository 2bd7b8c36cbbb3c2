package report

import (
	"fmt"
	"slices"
	"strings"

	"findrive/internal/design"
)

// otherwise are words, for each of the drives of a list, for what it has otherwise than those with
// the same pulleys on the same axles: its cells, motor, wheel or drum. Empty where its pulleys
// tell it.
func otherwise(all []*design.Proposal) []string {
	pulleys := func(q *design.Proposal) string {
		var out []string
		for i := range q.Stages {
			out = append(out, q.Stages[i].Driver, q.Stages[i].Driven)
		}
		if q.Tackle != nil { // which the list tells
			out = append(out, fmt.Sprint(q.Tackle.Parts))
		}
		return strings.Join(out, "\n")
	}
	things := []func(q *design.Proposal) string{
		func(q *design.Proposal) string { return count(q.Drive.Holder.Cells, "cell") },
		func(q *design.Proposal) string { return "motor " + q.Drive.Motor.Name },
		func(q *design.Proposal) string {
			switch {
			case q.Drive.Wheel != nil:
				return "wheel " + q.Drive.Wheel.Name
			case q.Drive.Drum != nil:
				return "drum " + q.Drive.Drum.Name
			}
			return ""
		},
		func(q *design.Proposal) string { return "in " + q.Drive.Holder.Name },
	}
	out := make([]string, len(all))
	for i, q := range all {
		alike := slices.DeleteFunc(slices.Clone(all), func(o *design.Proposal) bool { return o == q || pulleys(o) != pulleys(q) })
		var words []string
		for _, thing := range things {
			own := thing(q)
			differs := func(o *design.Proposal) bool { return thing(o) != own }
			if slices.ContainsFunc(alike, differs) {
				words = append(words, own)
				alike = slices.DeleteFunc(alike, differs)
			}
		}
		out[i] = strings.Join(words, ", ")
	}
	return out
}
