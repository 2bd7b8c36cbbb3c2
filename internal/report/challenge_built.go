package report

import (
	"fmt"
	"io"
	"strconv"

	"findrive/internal/drive"
	"findrive/internal/goals"
	"findrive/internal/units"
)

// ChallengeBuilt writes what a model on the table should do in a challenge, and what one
// change of it would. The error is from w.
func ChallengeBuilt(w io.Writer, m *goals.Built, opt TryOptions) error {
	p := newPage(opt.Width, opt.Colour)
	c := m.Challenge
	how := "worked out"
	if m.Working.Counted != nil {
		how = "as it was counted"
	}
	does := fmt.Sprintf("about %s (%s)", scored(c, m.Likely), builtRange(m))
	if m.Carries != nil {
		does = carriesWords(c, m.Carries)
	}
	p.heading(fmt.Sprintf("%s, the model you built, %s: %s.", clean(c.Brief.Name), how, does))
	p.say(0, "Asked: "+challengeTask(c)+".")
	switch {
	case m.Carries != nil && m.Carries.Goes > m.Carries.Kept:
		p.say(0, "At your own risk: it is past a margin, and a poor day stops it. Add load step by step, and switch off when it hums.")
	case m.Carries != nil:
	case m.Working.Counted == nil:
		p.say(0, "Time it, then findrive measure -o learned.toml, and ask again with --calibration learned.toml: the range gets narrow.")
	}
	for _, s := range m.Against {
		p.emphasised(0, 2, "Not right: "+s+".", bold)
	}
	p.blank()
	p.heading("To tune it, the holes as they are: one change")
	if len(m.Changes) == 0 {
		p.say(0, "No single change of band, cells or wheels keeps every rule. Change the load, or other holes.")
	} else {
		p.tuning(m)
	}
	p.say(0, "Switch off before a band, a cell or a wheel is changed. Your school's own risk assessment and competent staff decide.")
	_, err := io.WriteString(w, p.text.String())
	return err
}

// tuning is what each single change would make of a model.
func (p *page) tuning(m *goals.Built) {
	c := m.Challenge
	right := func(head string) column { return column{head: head, right: true, fixed: true} }
	columns, rows := []column{{head: "Change"}}, [][]string{}
	row := func(change string, likely float64, carries *goals.Carries) {
		switch {
		case carries != nil:
			rows = append(rows, []string{change, carried(c, carries.Kept), carried(c, carries.Goes)})
		case aim(c) > 0:
			rows = append(rows, []string{change, scored(c, likely), offWords(c, likely)})
		default:
			rows = append(rows, []string{change, scored(c, likely)})
		}
	}
	switch {
	case m.Carries != nil:
		columns = append(columns, right("By the rules"), right("At your risk"))
	case aim(c) > 0:
		columns = append(columns, right("Then"), right("Off"))
	default:
		columns = append(columns, right("Then"))
	}
	row("none", m.Likely, m.Carries)
	for i := range m.Changes {
		k := &m.Changes[i]
		var carries *goals.Carries
		if m.Carries != nil {
			carries = &k.Carries
		}
		row(tuneWords(*k), k.Likely, carries)
	}
	p.table(0, columns, rows)
}

// carriesWords say what a model lifts or climbs.
func carriesWords(c *goals.Challenge, v *goals.Carries) string {
	verb, nothing := "climbs", "no slope"
	if c.Kind == goals.Heaviest {
		verb, nothing = "lifts", "nothing"
	}
	words := fmt.Sprintf("%s %s with every rule kept", verb, carried(c, v.Kept))
	if v.Kept == 0 {
		words = "with every rule kept it " + verb + " " + nothing
	}
	if v.Goes > v.Kept {
		words += fmt.Sprintf(", and up to %s at your own risk", carried(c, v.Goes))
	}
	return words
}

func carried(c *goals.Challenge, v float64) string {
	if c.Kind == goals.Heaviest {
		return trimmed(v, 0) + " g"
	}
	return count(int(v), "degree")
}

// aim is what a goal is to hit; 0 for a race.
func aim(c *goals.Challenge) float64 {
	switch c.Kind {
	case goals.ExactTime:
		return float64(c.Time)
	case goals.Turns:
		return c.Turns
	}
	return 0
}

func scored(c *goals.Challenge, v float64) string {
	if c.Kind == goals.Turns {
		return turnsShown(v) + " turns"
	}
	return secondsWords(units.Seconds(v))
}

// turnsShown is a number of turns of a challenge: to a tenth where a tenth could be told in a
// count (judgement: below 50).
func turnsShown(v float64) string {
	if v < 50 {
		return trimmed(v, 1)
	}
	return trimmed(v, 0)
}

// offWords are how far off the aim a score is, as it is shown.
func offWords(c *goals.Challenge, v float64) string {
	shown := trimmed(v, 1)
	if c.Kind == goals.Turns {
		shown = turnsShown(v)
	}
	if exact, err := strconv.ParseFloat(shown, 64); err == nil {
		v = exact
	}
	return signed(v-aim(c), 1)
}

func builtRange(m *goals.Built) string {
	if m.High == 0 {
		return scored(m.Challenge, m.Low) + " at best; on a bad day it may not get away"
	}
	return trimmed(m.Low, 1) + " to " + trimmed(m.High, 1)
}

func tuneWords(k goals.Change) string {
	switch {
	case k.Cells != "":
		return "cells " + k.Cells
	case k.Wheel != "":
		return "wheels " + k.Wheel
	}
	words := fmt.Sprintf("stage %d: band %s", k.Stage, k.Band)
	if k.Use != drive.Single {
		words += ", " + k.Use.String()
	}
	return words
}
