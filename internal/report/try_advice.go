package report

import (
	"fmt"
	"strings"

	"findrive/internal/built"
)

// advice answers a symptom: causes, what no number shows, and changes.
func (p *page) advice(t *built.Working, a *built.Advice) {
	p.blank()
	p.heading(fmt.Sprintf("%q: what it may come from", string(a.Symptom)))
	switch {
	case t.Stops == built.OffBand && len(a.Causes) == 0:
		p.say(0, "As the file has it, a band is off or pulleys are in each other's way. Put that right first, in the model or in the file.")
	case !a.Shows() && len(a.Causes) == 0:
		p.say(0, "This drive's own numbers do not show it: worked out, it should not be so. Look first at what no number shows, below, and measure again what the file says.")
	case !a.Shows():
		p.say(0, "This drive's own numbers do not show it: worked out, it should not be so. Look first at what no number shows, below, and measure again what the file says. What would weigh most, all the same:")
	case len(a.Causes) == 0:
		p.say(0, "No single thing in this drive's numbers is behind it. Look first at what no number shows, below.")
	default:
		p.say(0, "Each was worked out again with that one thing as it ought to be. The likeliest stands first.")
	}
	for i, c := range a.Causes {
		if i >= 5 {
			break
		}
		p.hang(0, 3, fmt.Sprintf("%d. %s", i+1, causeWords(t, c)))
	}
	p.blank()
	p.say(0, "What no number shows:")
	for _, s := range a.Unseen {
		p.hang(0, 2, "- "+sentence(s)+".")
	}
	p.blank()
	p.heading("What to change")
	if a.One == nil && a.Two == nil {
		p.say(0, "No change from this cupboard would make it better, by the numbers.")
		return
	}
	if a.One != nil {
		p.change(t, a, a.One, "The one change that helps most: ")
	}
	if a.Two != nil {
		lead := "Two together do better: "
		if a.One == nil {
			lead = "No one change helps, two together do: "
		}
		p.change(t, a, a.Two, lead)
	}
}

func causeWords(t *built.Working, c built.Cause) string {
	where := ""
	if c.Stage > 0 && len(t.Stages) > 1 {
		where = fmt.Sprintf("stage %d, ", c.Stage)
	}
	s := sentence(where + c.Says)
	if c.Before == "" || c.Before == c.After {
		return s + "."
	}
	return fmt.Sprintf("%s. Put right: %s (now: %s).", s, c.After, c.Before)
}

func (p *page) change(t *built.Working, a *built.Advice, c *built.Change, lead string) {
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
		words = append(words, sentence(stopWords(after)))
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
