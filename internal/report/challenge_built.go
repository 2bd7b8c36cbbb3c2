package report

import (
	"fmt"
	"io"
	"math"

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
	p.heading(fmt.Sprintf("%s, the model you built, %s: about %s (%s).", clean(c.Brief.Name), how, scored(c, m.Likely), builtRange(m)))
	p.say(0, "Asked: "+challengeTask(c)+".")
	if m.Working.Counted == nil {
		p.say(0, "Time it, then findrive measure -o learned.toml, and ask again with --calibration learned.toml: the range gets narrow.")
	}
	for _, s := range m.Against {
		p.emphasised(0, 2, "Not right: "+s+".", bold)
	}
	p.blank()
	p.heading("To tune it, the holes as they are: one change")
	if len(m.Changes) == 0 {
		p.say(0, "No single change of band, cells or wheels keeps every rule. Change the load, or other holes.")
	}
	var rows [][]string
	for _, k := range m.Changes {
		rows = append(rows, []string{tuneWords(k), scored(c, k.Likely), offWords(c, k.Likely)})
	}
	if len(rows) > 0 {
		columns := []column{{head: "Change"}, {head: "Then", right: true, fixed: true}}
		if aim(c) > 0 {
			columns = append(columns, column{head: "Off", right: true, fixed: true})
			rows = append([][]string{{"none", scored(c, m.Likely), offWords(c, m.Likely)}}, rows...)
		} else {
			rows = append([][]string{{"none", scored(c, m.Likely), ""}}, rows...)
			for i := range rows {
				rows[i] = rows[i][:2]
			}
		}
		p.table(0, columns, rows)
	}
	p.say(0, "Switch off before a band, a cell or a wheel is changed. Your school's own risk assessment and competent staff decide.")
	_, err := io.WriteString(w, p.text.String())
	return err
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
		return trimmed(v, 0) + " turns"
	}
	return secondsWords(units.Seconds(v))
}

func offWords(c *goals.Challenge, v float64) string {
	digits := 1
	if c.Kind == goals.Turns {
		digits = 0
	}
	off := v - aim(c)
	if math.Abs(off) < 0.05 {
		return "0"
	}
	return signed(off, digits)
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
