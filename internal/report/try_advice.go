package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"findrive/internal/built"
	"findrive/internal/units"
)

// advice answers a symptom that the drive's own numbers show: causes and changes.
func (p *page) advice(t *built.Working, a *built.Advice) {
	p.blank()
	p.heading(fmt.Sprintf("%q: what in its own numbers it comes from", string(a.Symptom)))
	switch {
	case t.Stops == built.OffBand && len(a.Causes) == 0:
		p.say(0, "As the file has it, a band is off or pulleys are in each other's way. Put that right first, in the model or in the file.")
	case len(a.Causes) == 0:
		p.say(0, "No single thing in this drive's numbers is behind it.")
	default:
		p.say(0, "Each was worked out again with that one thing as it ought to be. The likeliest stands first.")
	}
	for i, words := range causesWords(t, a) {
		p.hang(0, 3, fmt.Sprintf("%d. %s", i+1, words))
	}
	p.blank()
	p.heading("What to change")
	cure := a.Cure()
	switch {
	case cure != nil:
		lead := "This cures it: "
		if cure == a.Two {
			lead = "No one change cures it; these two together do: "
		}
		p.change(t, cure, lead)
		return
	case a.Staged != nil:
		p.change(t, a.Staged, "No one or two changes of this drive cure it. What does is ")
	case len(a.Enough) > 0:
		each := ""
		if len(a.Enough) > 1 {
			each = ", each by itself"
		}
		of := "in this cupboard"
		if t.Build.Alone {
			of = "of its own"
		}
		p.hang(0, 2, "- Nothing "+of+" cures it as it stands. What would be enough"+each+": "+strings.Join(a.Enough, "; or ")+". With that it is gone, worked out again, on a poor day too.")
	case a.One == nil && a.Two == nil:
		if t.Build.Alone {
			p.say(0, "No one or two changes of its own parts would make it better, by the numbers.")
		} else {
			p.say(0, "No one or two changes from this cupboard would make it better, by the numbers.")
		}
	default:
		best, lead := a.One, "No one or two changes of this drive cure it. What helps most is not enough: "
		if a.Two != nil {
			best = a.Two
		}
		p.change(t, best, lead)
		p.hang(0, 2, "- A drive of more stages, or of other pulleys altogether, is not a change of this one: findrive propose looks at all that the cupboard can make.")
	}
	if t.Build.Alone {
		p.hang(0, 2, "- "+built.OwnParts)
	}
}

// mostCauses is how many causes a tired reader is told, and littleShare the share of what
// the greatest takes under which one is not worth the line.
const (
	mostCauses  = 5
	littleShare = 0.2
)

// causesWords are the causes worth telling, in words, the likeliest first. How it is now is
// said once.
func causesWords(t *built.Working, a *built.Advice) []string {
	greatest := 0.0
	for i := range a.Causes {
		greatest = max(greatest, a.Causes[i].Takes)
	}
	causes := slices.Clone(a.Causes)
	slices.SortStableFunc(causes, func(x, y built.Cause) int {
		if a.Symptom != built.NoGo || x.Name != built.FewCells && y.Name != built.FewCells {
			return 0
		}
		return map[bool]int{true: 1, false: -1}[x.Name == built.FewCells] // after what costs nothing
	})
	var out []string
	now := ""
	for i, c := range causes {
		if len(out) == mostCauses {
			break
		}
		if i > 0 && c.Takes < littleShare*greatest {
			continue
		}
		words := causeWords(t, c)
		if c.Before != "" && c.Before == now {
			words = strings.Replace(words, fmt.Sprintf(" (now: %s)", now), "", 1)
		}
		now = cmp.Or(now, c.Before)
		out = append(out, words)
	}
	return out
}

func causeWords(t *built.Working, c built.Cause) string {
	where := ""
	if c.Stage > 0 && len(t.Stages) > 1 {
		where = fmt.Sprintf("stage %d, ", c.Stage)
	}
	s := units.Capital(where + c.Says)
	if c.Before == "" || c.Before == c.After {
		return s + "."
	}
	return fmt.Sprintf("%s. Put right: %s (now: %s).", s, c.After, c.Before)
}

func (p *page) change(t *built.Working, c *built.Change, lead string) {
	p.hang(0, 2, "- "+lead+strings.Join(c.Steps, "; and ")+".")
	after := c.After
	var words []string
	if after.Stops == built.Turns {
		q := asProposal(after)
		words = append(words, speedWords(q, after.Build.Brief)+".")
		if after.Target > 0 {
			words = append(words, strings.Replace(against(q, after.Build.Brief), "You asked for", "Wanted was", 1))
		}
	} else {
		words = append(words, units.Capital(stopWords(after)))
	}
	switch {
	case c.BrokenNow == 0:
		words = append(words, "It then keeps every rule.")
	default:
		words = append(words, fmt.Sprintf("It then still breaks %s (now %d):", count(c.BrokenNow, "rule"), c.BrokenBefore))
		for _, f := range after.Findings {
			if f.Broken {
				words = append(words, findingWords(after, f))
				break
			}
		}
	}
	p.say(2, "Worked out: "+strings.Join(words, " "))
}
