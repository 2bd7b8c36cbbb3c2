package report

import (
	"fmt"
	"slices"

	"findrive/internal/built"
	"findrive/internal/drive"
	"findrive/internal/measure"
	"findrive/internal/parts"
)

// TellReadings puts what readings taught into the words of MeasureText: each reading with
// what is odd about it, and then what they say.
func TellReadings(r *measure.Result) (readings, says []string) {
	for i := range r.Readings {
		j := &r.Readings[i]
		words := readingWords(r, j)
		if j.Question != "" {
			words += " " + questionedWords(j)
		}
		readings = append(readings, words)
	}
	says = learnedWords(r)
	if now := nowWords(r); now != "" {
		says = append(says, now+" That is this very model with these cells.")
	}
	return readings, says
}

// TellLearned says what a cupboard knows by counting and weighing, from a calibration file.
func TellLearned(cup *parts.Cupboard) []string {
	var out []string
	for i := range cup.Motors {
		m := &cup.Motors[i]
		if !slices.Contains(cup.Learned.Motors, m.Name) {
			continue
		}
		known := m.SpeedKnown
		if m.Calibrated {
			known = drive.CountedUncertainty
		}
		words := fmt.Sprintf("Motor %s: free of all load it turns about %s times a minute", m.Name, significant(float64(m.FreeSpeed), 3))
		if known > 0 {
			words += fmt.Sprintf(", known to %s either way", percent(known))
		}
		out = append(out, words+".")
	}
	for i := range cup.Bands {
		if b := &cup.Bands[i]; slices.Contains(cup.Learned.Bands, b.Name) {
			out = append(out, fmt.Sprintf("Band %s: it pulls about %s times as hard as plain rubber, known to %s either way.", b.Name, significant(b.PullFactor, 2), percent(drive.WeighedBandUncertainty)))
		}
	}
	for i := range cup.Remembered {
		c := &cup.Remembered[i]
		pulleys := ""
		for k := range c.Stages {
			if k > 0 {
				pulleys += ", "
			}
			pulleys += c.Stages[k].Driver + " > " + c.Stages[k].Driven
		}
		out = append(out, fmt.Sprintf("The very model that was counted, %s: %s to %s turns a minute at the end of the drive.", pulleys, rpm(c.Slowest), rpm(c.Fastest)))
	}
	return out
}

// TellSpeed is how fast a built drive goes: "About 19 turns a minute (16 to 21): one turn in
// 3.2 s". Empty if it stands still.
func TellSpeed(w *built.Working) string {
	if w.Stops != built.Turns {
		return ""
	}
	return speedWords(asProposal(w), w.Build.Brief)
}
