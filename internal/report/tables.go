package report

import (
	"cmp"
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"findrive/internal/built"
	"findrive/internal/explain"
	"findrive/internal/fairtest"
	"findrive/internal/making"
	"findrive/internal/measure"
	"findrive/internal/parts"
	"findrive/internal/swap"
	"findrive/internal/why"
)

// FairTestCSV writes a row for each drive of each test, best test first. The error is from w.
func FairTestCSV(w io.Writer, r *fairtest.Result) error {
	rows := [][]string{{"differs_in", "stage", "points", "groups_at_once", "test", "part", "ratio", "low_rpm", "speed_rpm", "high_rpm"}}
	all := r.Others
	if r.Best != nil {
		all = append([]*fairtest.Test{r.Best}, all...)
	}
	for _, t := range all {
		numbers := t.Numbers()
		for i, v := range t.Drives {
			s := v.Working.Speed
			rows = append(rows, []string{string(t.Thing), strconv.Itoa(t.Stage), cell(t.Cost), strconv.Itoa(t.AtOnce),
				numbers[i], safe(clean(v.Part)), cell(v.Working.Ratio), cell(s.Low), cell(s.Likely), cell(s.High)})
		}
	}
	return csv.NewWriter(w).WriteAll(rows)
}

// SwapCSV writes a row for each replacement, nearest first, or for the spare there is. The
// error is from w.
func SwapCSV(w io.Writer, a *swap.Answer) error {
	rows := [][]string{{"number", "holes_to_drill", "parts_changed", "steps", "penalty_points", "output_speed_rpm", "drive"}}
	if a.Spare != nil {
		rows = append(rows, []string{"1", "0", "1", safe(fmt.Sprintf("take another %s: there are %d", a.Broken.Name, a.Spare.Count)), "", cell(a.Model.Speed), ""})
	}
	if a.Cut != nil {
		rows = append(rows, []string{"0", "0", "1", safe(making.Words([]*parts.Pulley{a.Cut}, 1)), "", cell(a.Model.Speed), ""})
	}
	for i := range a.Replacements {
		r := &a.Replacements[i]
		var steps []string
		for _, s := range r.Steps {
			steps = append(steps, s.Words)
		}
		rows = append(rows, []string{strconv.Itoa(i + 1), strconv.Itoa(r.Holes), strconv.Itoa(r.Parts), safe(strings.Join(steps, "; ")),
			points(r.Drive.Total), cell(r.Drive.Speed.Likely), safe(driveLine(r.Drive))})
	}
	return csv.NewWriter(w).WriteAll(rows)
}

// MeasureCSV writes a row for each reading, with what was foretold of it, and one for all
// that was learned, before and after. The error is from w.
func MeasureCSV(w io.Writer, r *measure.Result) error {
	rows := [][]string{{"what", "name", "read", "before_low", "before", "before_high", "after_low", "after", "after_high", "question"}}
	for i := range r.Readings {
		j := &r.Readings[i]
		rows = append(rows, append(append([]string{string(j.Kind), safe(clean(j.Words)), cell(j.Read)}, valueCells(j.Foretold)...), "", "", "", safe(j.Question)))
	}
	learned := func(what string, l *measure.Learned) {
		row := append([]string{what, safe(l.Name), ""}, valueCells(l.Before)...)
		rows = append(rows, append(append(row, valueCells(l.After)...), ""))
	}
	learned("motor free rpm", &r.Motor)
	for i := range r.Bands {
		learned("band stiffness", &r.Bands[i])
	}
	for i := range r.Rubbing {
		learned("grip or friction", &r.Rubbing[i])
	}
	if r.Output.Before.Likely > 0 {
		learned("output rpm", &r.Output)
	}
	return csv.NewWriter(w).WriteAll(rows)
}

func valueCells(v measure.Value) []string {
	return []string{cell(v.Low()), cell(v.Likely), cell(v.High())}
}

// ClassCSV writes a row for each group. The error is from w.
func ClassCSV(w io.Writer, c *measure.Class) error {
	rows := [][]string{{"group", "counts", "turns_per_minute", "due_low", "due", "due_high", "standard_deviations_apart", "doubt"}}
	for i := range c.Groups {
		g := &c.Groups[i]
		var counts []string
		for k := range g.Counts {
			counts = append(counts, clean(g.Counts[k].Words))
		}
		row := append([]string{safe(clean(g.Name)), safe(strings.Join(counts, "; ")), cell(g.Turns)}, valueCells(c.Due)...)
		rows = append(rows, append(row, cell(g.Apart), safe(g.Doubt)))
	}
	return csv.NewWriter(w).WriteAll(rows)
}

// WhyCSV writes a row for each change that would unlock what cannot be built, with the drive
// then; or, where it can be, one for each term in which the first differs from the other. The
// error is from w.
func WhyCSV(w io.Writer, a *why.Answer) error {
	if c := a.Comparison; a.Possible() {
		rows := [][]string{{"term", "first_points", "other_points", "first_why", "other_why"}}
		for i := 0; c != nil && i < len(c.Terms); i++ {
			t := c.Terms[i]
			rows = append(rows, []string{t.Name, cell(t.First.Float()), cell(t.Other.Float()), safe(t.WhyFirst), safe(t.WhyOther)})
		}
		return csv.NewWriter(w).WriteAll(rows)
	}
	rows := [][]string{{"change", "steps", "penalty_points", "output_speed_rpm", "drive"}}
	for i := range a.Changes {
		c := &a.Changes[i]
		var steps []string
		for _, s := range c.Steps {
			steps = append(steps, s.Words)
		}
		rows = append(rows, []string{strconv.Itoa(i + 1), safe(strings.Join(steps, "; ")), points(c.Drive.Total), cell(c.Drive.Speed.Likely), safe(driveLine(c.Drive))})
	}
	return csv.NewWriter(w).WriteAll(rows)
}

// ExplainCSV writes a row for each line of the story, of the curriculum and of the cautions.
// The error is from w.
func ExplainCSV(w io.Writer, s *explain.Story) error {
	rows := [][]string{{"part", "says"}}
	for _, x := range s.Sections {
		for _, l := range x.Lines {
			rows = append(rows, []string{safe(x.Heading), safe(l)})
		}
	}
	for _, l := range s.Curriculum {
		rows = append(rows, []string{safe(l.PlaceName), safe(cmp.Or(l.Quote, l.Says))})
	}
	for _, c := range s.Cautions {
		says := c.Says
		if s.For == explain.Pupil {
			says = c.Young
		}
		rows = append(rows, []string{safe(c.Step), safe(says)})
	}
	return csv.NewWriter(w).WriteAll(rows)
}

// TryCSV writes a row for each rule, kept or broken, and one for each cause if something was
// told, likeliest first. found may be nil. The error is from w.
func TryCSV(w io.Writer, t *built.Working, found *built.Diagnosis) error {
	rows := [][]string{{"what", "name", "stage", "broken", "share", "says", "cure"}}
	for _, v := range t.Findings {
		rows = append(rows, []string{"rule", string(v.Rule), strconv.Itoa(v.Stage), strconv.FormatBool(v.Broken), "", safe(clean(v.Says)), ""})
	}
	if found != nil {
		for _, s := range found.Suspects {
			rows = append(rows, []string{"cause", string(s.Fault), strconv.Itoa(s.Stage), "", cell(s.Share), safe(s.Says), safe(s.Mend)})
		}
	}
	return csv.NewWriter(w).WriteAll(rows)
}

// RepliesCSV writes a row for each sentence of each reply, its short answer first. The error
// is from w.
func RepliesCSV(w io.Writer, replies []*built.Reply) error {
	rows := [][]string{{"question", "says"}}
	for _, r := range replies {
		for _, says := range slices.Concat([]string{r.Short}, r.Faults, r.Says) {
			rows = append(rows, []string{safe(string(r.Question)), safe(says)})
		}
	}
	return csv.NewWriter(w).WriteAll(rows)
}
