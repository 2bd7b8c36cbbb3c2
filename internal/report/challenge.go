package report

import (
	"fmt"
	"io"
	"math"
	"strings"

	"findrive/internal/built"
	"findrive/internal/constraints"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/goals"
	"findrive/internal/units"
)

// ChallengeOptions steer ChallengeText.
type ChallengeOptions struct {
	Width  int  // as TextOptions
	Colour bool // as TextOptions
	Asked  int  // how many drives were asked for
	Full   int  // how many are shown in full; 0 means 1, less than 0 none
	// TradeOff is speed against climb, shown if there is one.
	TradeOff *goals.TradeOff
}

// ChallengeText writes the best drives for a challenge for whoever leads the club.
// The error is from w.
func ChallengeText(w io.Writer, r *goals.Result, opt ChallengeOptions) error {
	p := newPage(opt.Width, opt.Colour)
	p.challengeOutcome(r, opt.Asked)
	full := opt.Full
	if full == 0 {
		full = 1
	}
	if len(r.Entries) > 0 {
		p.entries(r)
	}
	for i := range r.Entries {
		if i >= full {
			break
		}
		p.entry(r, &r.Entries[i], i == 0)
	}
	if len(r.Entries) == 0 {
		p.refusals(&design.Result{Cupboard: r.Cupboard, Brief: r.Challenge.Brief, Status: r.Status, Refused: r.Refused})
	}
	if opt.TradeOff != nil {
		p.tradeOff(opt.TradeOff)
	}
	if len(r.Entries) > 0 {
		p.cautions(challengeResult(r), true)
	}
	_, err := io.WriteString(w, p.text.String())
	return err
}

// challengeResult is the drives of a challenge as a search returns them.
func challengeResult(r *goals.Result) *design.Result {
	out := &design.Result{Cupboard: r.Cupboard, Brief: r.Challenge.Brief, Status: r.Status}
	for i := range r.Entries {
		out.Proposals = append(out.Proposals, *r.Entries[i].Proposal)
	}
	return out
}

// challengeTask is what is asked, in words.
func challengeTask(c *goals.Challenge) string {
	far := distanceWords(c.Distance)
	switch c.Kind {
	case goals.ExactTime:
		return fmt.Sprintf("%s in exactly %s from rest", far, secondsWords(c.Time))
	case goals.Fastest:
		return fmt.Sprintf("the least time over %s from rest", far)
	case goals.Slowest:
		return fmt.Sprintf("the longest time over %s without stopping, started by itself", far)
	case goals.Steepest:
		return fmt.Sprintf("the steepest ramp, %s long, climbed from rest within %s", far, secondsWords(c.Within))
	case goals.Heaviest:
		return fmt.Sprintf("the heaviest lift over %s within %s", distanceWords(c.Height), secondsWords(c.Within))
	case goals.Turns:
		return fmt.Sprintf("nearest to %s turns in %s", significant(c.Turns, 4), secondsWords(c.Time))
	}
	return fmt.Sprintf("the most forgiving of wonky holes at %s", c.Brief.Speed.Words)
}

func distanceWords(v units.Millimetres) string {
	if v >= 1000 {
		return trimmed(float64(v)/1000, 2) + " m"
	}
	return trimmed(float64(v), 0) + " mm"
}

func secondsWords(v units.Seconds) string { return trimmed(float64(v), 1) + " s" }

func degreesWords(v units.Radians) string { return trimmed(v.Degrees(), 0) + " degrees" }

// ruleWords are the rules of the contest.
func ruleWords(c *goals.Challenge) string {
	words := []string{"one motor", fmt.Sprintf("at most %s", count(c.Brief.MaxStages, "stage"))}
	r := c.Rules
	if r.Cells > 0 {
		words = append(words, "at most "+count(r.Cells, "cell"))
	}
	if r.Footprint.Length > 0 {
		words = append(words, fmt.Sprintf("it stands on %s by %s mm", trimmed(float64(r.Footprint.Length), 0), trimmed(float64(r.Footprint.Width), 0)))
	}
	if r.Parts > 0 {
		words = append(words, "at most "+count(r.Parts, "part"))
	}
	if r.Budget > 0 {
		words = append(words, fmt.Sprintf("at most %d pretend pounds", r.Budget))
	}
	return strings.Join(words, ", ") + "."
}

func (p *page) challengeOutcome(r *goals.Result, asked int) {
	c, n := r.Challenge, len(r.Entries)
	name := c.Brief.Name
	switch {
	case r.Status == design.NonePossible:
		p.heading(fmt.Sprintf("%s: proved that no drive from this cupboard can enter.", name))
	case n == 0:
		p.heading(fmt.Sprintf("%s: stopped early, and no drive found yet. That does not prove there is none.", name))
	case r.Status == design.StoppedEarly:
		p.heading(fmt.Sprintf("%s: stopped early with %s. %s", name, count(n, "drive"), provedWords(r.Proved, n)))
	case n == 1:
		p.heading(name + ": proved best, and the only drive that can enter.")
		if asked == 1 {
			p.text.Reset()
			p.heading(name + ": proved best.")
		}
	default:
		first := "the best bet first"
		if c.Kind == goals.Forgiving { // which no luck of the day changes
			first = "the best first"
		}
		p.heading(fmt.Sprintf("%s: proved, no drive scores better than these %d; %s.", name, n, first))
		if n < asked {
			p.text.Reset()
			p.heading(fmt.Sprintf("%s: proved, these are all the %d drives that can enter, %s.", name, n, first))
		}
	}
	p.say(0, "Asked: "+challengeTask(c)+".")
	p.say(0, "Rules: "+ruleWords(c))
	p.apartWords(r)
	if r.Status == design.StoppedEarly {
		if r.Open != nil {
			p.say(0, fmt.Sprintf("Proved so far: nothing unseen does better than %s. Give it more time with --time-limit.", bestWords(c, r.Open)))
		} else {
			p.say(0, "How much better an unseen drive could be is not known yet. Give it more time with --time-limit.")
		}
	}
}

// apartWords say what this program asked for beyond the club's rules, and what is to be
// had without.
func (p *page) apartWords(r *goals.Result) {
	c := r.Challenge
	if r.AnyStart {
		p.say(0, fmt.Sprintf("No drive comes within %s of it with at most a fifth of the time (%s) spent in getting away, so here any start will do: runs will differ more.", secondsWords(c.Time/2), secondsWords(c.Time/5)))
	}
	if r.Fine {
		p.say(0, fmt.Sprintf("No drive can enter whose holes may be %s mm off: these need better ones. Drill both sides together, from the drawing.", size(c.Rules.Holes)))
	}
	if e := r.Finer; e != nil {
		p.say(0, fmt.Sprintf("Apart: holes better than %s mm give %s (%s, within %s mm); holes = \"0 mm\" under [challenge.rules] lets that in.",
			size(c.Rules.Holes), finerWords(c, e), pulleyPairs(e.Proposal), size(e.Proposal.Forgives)))
	}
}

// finerWords are the score of a drive that is told apart.
func finerWords(c *goals.Challenge, e *goals.Entry) string {
	s := &e.Score
	switch c.Kind {
	case goals.Fastest, goals.ExactTime:
		return secondsWords(s.Run.Likely)
	case goals.Turns:
		return trimmed(s.Turns, 0) + " turns"
	}
	return bestWords(c, s)
}

func provedWords(proved, n int) string {
	switch proved {
	case 0:
		return "None is proved best yet."
	case 1:
		return "The first is proved best all the same."
	}
	return fmt.Sprintf("The first %d are proved best all the same.", proved)
}

// bestWords is a limit of the score that nothing unseen passes.
func bestWords(c *goals.Challenge, s *goals.Score) string {
	switch c.Kind {
	case goals.Fastest:
		return secondsWords(s.Run.Likely)
	case goals.ExactTime:
		return secondsWords(s.Off) + " off"
	case goals.Slowest:
		return secondsWords(s.Takes)
	case goals.Steepest:
		return degreesWords(s.Climbs)
	case goals.Heaviest:
		return trimmed(float64(s.Lifts), 0) + " g"
	case goals.Turns:
		return trimmed(c.Turns-s.Turns, 1) + " turns off"
	}
	return "holes " + size(s.Holes) + " mm out of place"
}

// entry is one drive in full.
func (p *page) entry(r *goals.Result, e *goals.Entry, explain bool) {
	c, q := r.Challenge, e.Proposal
	p.blank()
	p.heading(fmt.Sprintf("%d. %s", e.Rank, scoreWords(c, e)))
	p.say(3, strings.Join([]string{turnsWords(q, c.Brief), ratioWords(q), tackleWords(q), effortWords(q.Drive)}, " "))
	for _, s := range marginWords(c, e) {
		p.hang(3, 5, s)
	}
	p.stages(q, explain)
	p.holes(q, e.Score.Asked, explain)
	for _, s := range knobWords(c, e) {
		p.hang(3, 5, s)
	}
	p.hang(3, 5, handling(q, c.Brief.Limits.ContinuousShare))
	if len(q.Assumed) > 0 {
		p.hang(3, 5, "Relies on facts nobody measured: "+strings.Join(byPart(q.Assumed), "; ")+".")
	}
	for _, note := range q.Notes {
		p.emphasised(3, 5, "Look out: "+note+".", bold)
	}
}

// scoreWords are what a drive comes to, in a line.
func scoreWords(c *goals.Challenge, e *goals.Entry) string {
	s := &e.Score
	switch c.Kind {
	case goals.Fastest:
		return fmt.Sprintf("%s over %s from rest (%s)", secondsWords(s.Run.Likely), distanceWords(c.Distance), rangeWords(s.Run))
	case goals.ExactTime:
		off := "right on time"
		if math.Abs(float64(s.Off)) >= 0.05 {
			off = fmt.Sprintf("%s too %s", secondsWords(units.Seconds(math.Abs(float64(s.Off)))), map[bool]string{true: "late", false: "early"}[s.Off > 0])
		}
		return fmt.Sprintf("%s over %s from rest, %s (%s)", secondsWords(s.Run.Likely), distanceWords(c.Distance), off, rangeWords(s.Run))
	case goals.Slowest:
		return fmt.Sprintf("%s over %s", secondsWords(s.Takes), distanceWords(c.Distance))
	case goals.Steepest:
		return fmt.Sprintf("Climbs %s, %s in %s", degreesWords(s.Climbs), distanceWords(c.Distance), secondsWords(s.Takes))
	case goals.Heaviest:
		most := ""
		if s.AtMost {
			most = ", the most that may hang over a table"
		}
		return fmt.Sprintf("Lifts %s g by %s in %s%s", trimmed(float64(s.Lifts), 0), distanceWords(c.Height), secondsWords(s.Takes), most)
	case goals.Turns:
		return fmt.Sprintf("About %s turns in %s", turnsShown(s.Turns), secondsWords(c.Time))
	}
	most := ""
	if s.AtMost {
		most = " or more"
	}
	return fmt.Sprintf("Every hole may be %s mm%s out of place", size(s.Holes), most)
}

func rangeWords(r *goals.RunScore) string {
	if r.Late == 0 {
		return fmt.Sprintf("%s at best; on a bad day it may not get away", trimmed(float64(r.Early), 1))
	}
	return fmt.Sprintf("%s to %s", trimmed(float64(r.Early), 1), trimmed(float64(r.Late), 1))
}

// marginWords say how near the drive is to the rules and to what gives way.
func marginWords(c *goals.Challenge, e *goals.Entry) []string {
	var out []string
	s, q := &e.Score, e.Proposal
	var legal []string
	if most := c.Rules.Cells; most > 0 {
		legal = append(legal, fmt.Sprintf("%d of %d cells", e.Bill.Cells, most))
	}
	if on := c.Rules.Footprint; on.Length > 0 {
		legal = append(legal, fmt.Sprintf("it covers %.0f by %.0f mm of %.0f by %.0f", e.Bill.Stands.Length, e.Bill.Stands.Width, on.Length, on.Width))
	}
	if most := c.Rules.Parts; most > 0 {
		legal = append(legal, fmt.Sprintf("%d of %d parts", e.Bill.Parts, most))
	}
	if most := c.Rules.Budget; most > 0 {
		legal = append(legal, fmt.Sprintf("%d of %d pretend pounds", e.Bill.Price, most))
	}
	if len(legal) > 0 {
		out = append(out, "Within the rules: "+strings.Join(legal, ", ")+".")
	}
	if run := s.Run; run != nil {
		words := fmt.Sprintf("Getting away costs %s of the time; it goes %s cm a second at the end.", secondsWords(run.Start), significant(100*float64(run.End), 2))
		if at := e.AtHoles; at > 0 && e.Counted == nil && math.Abs(float64(at/run.Likely)-1) > 0.03 {
			words = fmt.Sprintf("With its holes just as drawn below, about %s. ", secondsWords(at)) + words
		}
		if run.Slipping >= 0.05 {
			words += fmt.Sprintf(" A band or the wheels slip for the first %s, which is reckoned with.", secondsWords(run.Slipping))
		}
		out = append(out, words)
	}
	if s.Traction > 0 {
		words := fmt.Sprintf("Wheels: the floor holds %s times what the start needs", significant(s.Traction, 2))
		if s.Traction < 1.5 {
			words += ", so they are near spinning: put weight over the driven axle, or a band round each wheel as a tyre"
		}
		out = append(out, words+".")
	}
	if e.Beyond != nil {
		out = append(out, beyondWords(c, e))
	}
	margins := fmt.Sprintf("Motor: it starts with %s times the torque it needs and then runs at %s of its stall.",
		significant(float64(q.Motor.Stall/q.Motor.StartTorque), 2), percent(q.Motor.Share))
	if c.Kind == goals.Slowest {
		margins = "It starts by itself: the motor has " + significant(float64(q.Motor.Stall/q.Motor.StartTorque), 2) + " times the torque that it needs."
	}
	out = append(out, margins)
	if e.Counted == nil && (c.Kind == goals.ExactTime || c.Kind == goals.Turns) {
		out = append(out, "The range says how well this can be known from data sheets: try it once, let findrive measure learn from the count, and ask again.")
	}
	return out
}

// beyondWords are what keeps a drive from doing better, and what lies beyond.
func beyondWords(c *goals.Challenge, e *goals.Entry) string {
	b := e.Beyond
	score, step, unit := e.Score.Climbs.Degrees(), 1.0, "degrees"
	if c.Kind == goals.Heaviest {
		score, step, unit = float64(e.Score.Lifts), 10, "g"
	}
	words := fmt.Sprintf("What binds: at %s %s %s.", trimmed(b.At, 0), unit, b.Says)
	if kept := b.At - step; kept > score+step/2 {
		words += fmt.Sprintf(" So with its holes just as drawn it keeps every rule up to %s %s; the %s of the list are for axles at the marks of a ruler, some millimetres from there.",
			trimmed(kept, 0), unit, trimmed(score, 0))
	}
	if b.Most == 0 {
		return words
	}
	ends := map[built.Stop]string{built.BandSlips: "; then a band slips", built.Stalls: "; then the motor stalls", built.NoStart: "; then it no longer starts"}[b.Ends]
	hot := ""
	if b.Rule == constraints.MotorRuns || b.Rule == constraints.MotorStarts {
		hot = " the motor gets hot and"
	}
	words += fmt.Sprintf(" Without that margin the same drive does up to %s %s%s. That is at your own risk:%s a poor day stops it.", trimmed(b.Most, 0), unit, ends, hot)
	return words
}

// knobWords say what changes the time or the turns a little.
func knobWords(c *goals.Challenge, e *goals.Entry) []string {
	if len(e.Knobs) == 0 {
		return nil
	}
	var words []string
	for _, k := range e.Knobs {
		what := count(k.Cells, "cell")
		if k.Wheel != "" {
			what = "wheels " + k.Wheel
		}
		if k.Stage > 0 {
			what = "band " + k.Band
			if k.Use != drive.Single {
				what += ", " + k.Use.String() + ","
			}
			what += fmt.Sprintf(" in stage %d", k.Stage)
		}
		to := trimmed(k.Turns, 0) + " turns"
		if c.Kind == goals.ExactTime {
			to = secondsWords(k.Time)
		}
		words = append(words, what+": "+to)
	}
	return []string{"To tune it, with the holes as they are, finest first: " + strings.Join(words, "; ") + "."}
}
