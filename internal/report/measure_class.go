package report

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strings"

	"findrive/internal/classdrawing"
	"findrive/internal/measure"
)

// ClassText writes what the counts of a class teach, for the class: its dot plot, what the
// models have in common, and whose stands apart and why that may be. The error is from w.
func ClassText(w io.Writer, c *measure.Class, opt TryOptions) error {
	p := newPage(opt.Width, opt.Colour)
	t := TellClass(c)
	unit, per := c.Scale()
	p.heading(t.Head)
	p.dotPlot(c, per)
	due := t.Due
	if c.Due.Likely > 0 {
		due = "[===] " + due
		unit += ";"
	} else {
		unit += "."
	}
	p.say(0, "Each o is a group, in "+unit+" "+due)
	p.blank()
	p.heading("Each group")
	for _, g := range t.Groups {
		p.hang(0, 2, "- "+g)
	}
	p.blank()
	p.heading("What the class as a whole says")
	for _, s := range t.Teaches {
		p.say(0, s)
	}
	apart := 0
	for i := range c.Groups {
		if g := &c.Groups[i]; g.Found != nil {
			p.groupApart(c, g, &t.Apart[apart])
			apart++
		}
	}
	p.blank()
	p.say(0, t.Note)
	_, err := io.WriteString(w, p.text.String())
	return err
}

// dotPlot is the plot in letters: a row of dots over a scale, and under it where the
// forecast lies.
func (p *page) dotPlot(c *measure.Class, per float64) {
	const columns = 61
	axis := classdrawing.Axis(c)
	lo, hi, step := axis.Low, axis.High, axis.Step
	at := func(v float64) int {
		return int(math.Round((columns - 1) * math.Max(0, math.Min(1, (v-lo)/(hi-lo)))))
	}
	var heap [columns]int
	tallest := 0
	for i := range c.Groups {
		k := at(float64(c.Groups[i].Turns) * per)
		heap[k]++
		tallest = max(tallest, heap[k])
	}
	p.blank()
	for row := tallest; row > 0; row-- {
		var b strings.Builder
		for k := range heap {
			b.WriteByte(" o"[map[bool]int{true: 1}[heap[k] >= row]])
		}
		p.line("   "+strings.TrimRight(b.String(), " "), "")
	}
	ruler, figures := []byte(strings.Repeat("-", columns)), []byte(strings.Repeat(" ", columns+6))
	free := 0
	for k := 0; lo+float64(k)*step <= hi+step/100; k++ {
		v := lo + float64(k)*step
		x, text := at(v), significant(v, 3)
		ruler[x] = '+'
		from := max(0, x-len(text)/2)
		if from >= free {
			copy(figures[from:], text)
			free = from + len(text) + 1
		}
	}
	p.line("   "+string(ruler), "")
	p.line("   "+strings.TrimRight(string(figures), " "), "")
	if c.Due.Likely > 0 {
		from, to := at(c.Due.Low()*per), at(c.Due.High()*per)
		p.line("   "+strings.Repeat(" ", from)+"["+strings.Repeat("=", max(0, to-from-1))+"]", "")
	}
}

func groupWords(g *measure.Group, unit string, per float64) string {
	var said []string
	for i := range g.Counts {
		said = append(said, clean(g.Counts[i].Words))
	}
	s := fmt.Sprintf("%s: %s %s (%s)", clean(g.Name), significant(float64(g.Turns)*per, 3), unit, strings.Join(said, ", "))
	switch {
	case g.Apart < 0:
		s += "; slower than the others by more than chance explains"
	case g.Apart > 0:
		s += "; faster than the others by more than chance explains"
	}
	if g.Doubt != "" {
		s += "; " + g.Doubt
	}
	return s + "."
}

// classTeaches is what the groups have in common.
func classTeaches(c *measure.Class, unit string, per float64) []string {
	var out []string
	if !c.Enough {
		out = append(out, "Fewer than four groups tell little about each other: here they are compared with the forecast.")
	} else {
		out = append(out, fmt.Sprintf("The middle of the class is %s %s. Models that are alike differ by about %s from it: that is how motors, axles and counts differ in this room.", significant(float64(c.Middle)*per, 3), unit, percent(c.Scatter)))
		if c.Due.Likely > 0 {
			out = append(out, middleWords(c))
		}
	}
	l := c.Learned
	switch {
	case l == nil:
		out = append(out, "Every model stands apart, so nothing is learned of the motors: look the drive over with findrive try.")
	case l.Questioned() > 0:
		out = append(out, "The middle is further off than all that is uncertain explains, so nothing is learned of the motors: is the drive of the file the one that was built, and are the cells new?")
	default:
		m := c.Build.Drive.Motor
		s := fmt.Sprintf("A motor %s of this bag, free of all load, turns about %s times a minute at %s V (one motor: %s); before, %s.", clean(m.Name), significant(l.Motor.After.Likely, 3), significant(float64(m.Rated), 2), between(l.Motor.After, 3), between(l.Motor.Before, 3))
		if l.Output.After.Likely > 0 {
			s += fmt.Sprintf(" The next model of this kind is foretold at %s to %s %s; before, %s to %s.", significant(l.Output.After.Low()*per, 2), significant(l.Output.After.High()*per, 2), unit, significant(c.Due.Low()*per, 2), significant(c.Due.High()*per, 2))
		}
		out = append(out, s)
	}
	return out
}

// middleWords compare the middle with the forecast.
func middleWords(c *measure.Class) string {
	off := float64(c.Middle)/c.Due.Likely - 1
	words := "The middle is where it was foretold."
	if math.Abs(off) >= 0.01 {
		words = fmt.Sprintf("The middle is %s %s than the middle of the forecast", percent(math.Abs(off)), map[bool]string{true: "faster", false: "slower"}[off > 0])
		if math.Abs(math.Log(1+off)) > c.Due.Share {
			words += ", outside its range: so it is something that all the models have, such as the cells, the motors of this bag, a pulley's size or the load in the file."
		} else {
			words += ", within its range: nothing need be wrong with all of them."
		}
	}
	return words
}

// groupApart says what the numbers of a model that stands apart point to.
func (p *page) groupApart(c *measure.Class, g *measure.Group, t *ToldApart) {
	p.blank()
	p.heading(t.Head)
	p.say(0, t.Against)
	for _, s := range t.Look {
		p.hang(0, 2, "- "+s)
	}
	if len(t.Suspects) > 0 {
		p.say(0, "What it may come from, likeliest first, each worked out:")
		p.suspects(c.Build, g.Found)
	}
}

type classFile struct {
	Schema  int          `json:"schema"`
	Kind    string       `json:"kind"` // "measured class"
	Name    string       `json:"name"`
	Due     rangeJSON    `json:"due_rpm"`
	Middle  number       `json:"middle_rpm"`
	Scatter number       `json:"scatter_share"` // one standard deviation
	Groups  []groupJSON  `json:"groups"`
	Motor   *learnedJSON `json:"motor_free_rpm"` // of one motor of the bag
	Next    *learnedJSON `json:"next_model_rpm"`
}

type groupJSON struct {
	Name   string         `json:"name"`
	Counts []string       `json:"counts"`
	Turns  number         `json:"turns_per_minute"`
	Apart  number         `json:"standard_deviations_apart"` // 0: not apart
	Doubt  string         `json:"doubt"`
	Found  *diagnosisJSON `json:"diagnosis"`
}

// ClassJSON writes the same for other programs. The error is from w.
func ClassJSON(w io.Writer, c *measure.Class) error {
	f := classFile{Schema: MeasureSchemaVersion, Kind: "measured class", Name: clean(c.Build.Name), Due: valueJSON(c.Due), Middle: number(c.Middle), Scatter: number(c.Scatter), Groups: []groupJSON{}}
	for i := range c.Groups {
		g := &c.Groups[i]
		out := groupJSON{Name: clean(g.Name), Counts: []string{}, Turns: number(g.Turns), Apart: number(g.Apart), Doubt: g.Doubt}
		for k := range g.Counts {
			out.Counts = append(out.Counts, clean(g.Counts[k].Words))
		}
		if g.Found != nil {
			out.Found = diagnosisOf(g.Found)
		}
		f.Groups = append(f.Groups, out)
	}
	if l := c.Learned; l != nil && l.Questioned() == 0 {
		motor := learnedOf(&l.Motor)
		f.Motor = &motor
		if l.Output.After.Likely > 0 {
			next := learnedOf(&l.Output)
			f.Next = &next
		}
	}
	out := json.NewEncoder(w)
	out.SetIndent("", "  ")
	return out.Encode(f)
}
