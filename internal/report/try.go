package report

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/built"
	"findrive/internal/constraints"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/units"
)

// TryOptions steer TryText.
type TryOptions struct {
	Width  int  // as TextOptions
	Colour bool // as TextOptions
	All    bool // also every rule that is kept
}

// TryText writes what was made of a built drive, for the person who has it on the
// table: what it does, what is not right, what gives way first; and, where a symptom
// was asked about, what it may come from and what to change, and then of the drive only
// what is not right. found may be nil. The error
// is from w.
func TryText(w io.Writer, t *built.Working, found *built.Diagnosis, opt TryOptions) error {
	p := newPage(opt.Width, opt.Colour)
	p.tried(t)
	switch {
	case found == nil || opt.All:
		p.builtStages(t)
		p.verdicts(t, opt.All)
		p.inFrame(t)
		p.effort(t)
	case slices.ContainsFunc(t.Findings, func(f built.Finding) bool { return f.Broken }):
		p.verdicts(t, false)
	}
	if found != nil {
		p.diagnosis(t, found)
	}
	p.blank()
	p.heading("Before anyone touches it")
	for _, s := range tryCautions(t) {
		p.hang(0, 2, "- "+s)
	}
	p.say(0, "These are reminders only: your school's own risk assessment, local codes and competent staff decide.")
	_, err := io.WriteString(w, p.text.String())
	return err
}

// asProposal has the fields of a proposal that words about speed and direction need.
func asProposal(t *built.Working) *design.Proposal {
	q := &design.Proposal{Drive: t.Build.Drive, Speed: t.Speed, Linear: t.Linear, Target: t.Target, Motor: t.Motor, Turns: brief.Clockwise}
	if t.Build.Drive.OutputTurns() > 0 {
		q.Turns = brief.Anticlockwise
	}
	q.Motor.Turns = brief.Clockwise
	if t.Build.Drive.MotorTurns > 0 {
		q.Motor.Turns = brief.Anticlockwise
	}
	return q
}

func (p *page) tried(t *built.Working) {
	b := t.Build
	q := asProposal(t)
	p.heading(clean(b.Name) + ": " + stopWords(t))
	var words []string
	if t.Stops == built.Turns {
		words = append(words, speedWords(q, b.Brief)+".")
		if t.Counted != nil {
			words = append(words, "That is how this very model was counted.")
		}
		if t.Target > 0 {
			words = append(words, strings.Replace(against(q, b.Brief), "You asked for", "Wanted was", 1))
		}
	} else if t.Speed.High > 0 {
		words = append(words, fmt.Sprintf("With a better motor, grip or cells than usual it may turn after all, at up to %s turns a minute.", rpm(t.Speed.High)))
	}
	words = append(words, turnsWords(q, b.Brief))
	if t.Ratio > 0 {
		words = append(words, fmt.Sprintf("%s, %s: %s.",
			count(len(t.Stages), "stage"), count(b.Drive.Holder.Cells, "cell"), timesWords(t.Ratio, t.AtWork())))
	}
	p.say(0, strings.Join(words, " "))
}

// stopWords say in one line how it goes.
func stopWords(t *built.Working) string {
	broken := 0
	for _, f := range t.Findings {
		if f.Broken {
			broken++
		}
	}
	switch {
	case t.Stops == built.OffBand:
		return "it cannot turn, for a band does not go round as it should."
	case t.Stops == built.BandSlips:
		return fmt.Sprintf("the band of stage %d slips, and the output stands still.", t.SlipsFirst+1)
	case t.Stops == built.Stalls:
		return "the motor stalls: it is asked for more than it has."
	case t.Stops == built.NoStart:
		return "the motor hums and does not start."
	case broken == 0:
		return "it should work, and keeps every rule."
	case broken == 1:
		return "it turns, and one thing is not right."
	}
	return fmt.Sprintf("it turns, and %d things are not right.", broken)
}

func (p *page) builtStages(t *built.Working) {
	p.blank()
	columns := []column{{head: "Driver -> driven"}, {head: "Band"}, {head: "Centres\nmm", right: true, fixed: true},
		{head: "Stretch", right: true, fixed: true}, {head: "Arc", right: true, fixed: true}, {head: "Grip", right: true, fixed: true}, {head: "Creep", right: true, fixed: true}}
	var rows [][]string
	for i := range t.Stages {
		s, st := &t.Stages[i], &t.Build.Drive.Stages[i]
		band := st.Band.Name
		switch st.Use {
		case drive.LoopedTwice:
			band += ",\nlooped twice"
		case drive.Paired:
			band = "2 x " + band + ",\nside by side"
		}
		if st.Crossed {
			band += ",\ncrossed"
		} else {
			band += ",\nopen"
		}
		stretch, arc, hold, creep := percent(s.Fitted.Stretch-1), trimmed(min(s.Fitted.DriverArc, s.Fitted.DrivenArc).Degrees(), 0), "-", "-"
		switch {
		case s.Overlaps:
			stretch, arc = "-", "-"
		case s.Fitted.Stretch <= 1:
			stretch = "loose"
		}
		if t.Ratio > 0 && !math.IsInf(s.Grip(), 1) {
			hold = gripTimes(s.Grip())
		}
		if s.TightStretch > 0 {
			creep = percent(s.Creep)
		}
		rows = append(rows, []string{letter(2*i) + " " + st.Driver.Name + " ->\n" + letter(2*i+1) + " " + st.Driven.Name, band, size(s.Fitted.Centre), stretch, arc, hold, creep})
	}
	p.table(3, columns, rows)
	p.say(3, "Arc: degrees of band on the smaller pulley. Grip: what the band can pull over what it has to. Creep: speed that the band's stretch takes.")
}

func (p *page) verdicts(t *built.Working, all bool) {
	for _, broken := range []bool{true, false} {
		var lines []string
		for _, f := range t.Findings {
			if f.Broken == broken {
				lines = append(lines, findingWords(t, f))
			}
		}
		if len(lines) == 0 {
			continue
		}
		p.blank()
		if !broken && !all {
			p.say(0, fmt.Sprintf("%s kept; --rules lists them.", count(len(lines), "other rule")))
			return
		}
		p.heading(map[bool]string{true: "Not right", false: "Right"}[broken])
		for _, l := range lines {
			p.hang(0, 2, "- "+l)
		}
	}
}

func findingWords(t *built.Working, f built.Finding) string {
	where := ""
	if f.Stage > 0 && len(t.Stages) > 1 && f.Rule != constraints.Grip && f.Rule != constraints.GripStart {
		where = fmt.Sprintf("Stage %d: ", f.Stage)
	}
	s := where + f.Says
	return units.Capital(s) + "."
}

// effort says what the motor has to do and what gives way first.
func (p *page) effort(t *built.Working) {
	if t.Stops == built.OffBand {
		return
	}
	var lines []string
	m := &t.Motor
	if t.Stops == built.Turns {
		s := fmt.Sprintf("The motor works at %s of its stall torque", percent(m.Share))
		switch {
		case m.Share > t.Build.Brief.Limits.ContinuousShare:
			s += fmt.Sprintf(": more than the %s it bears for long, so run it for a minute or two at a time", percent(t.Build.Brief.Limits.ContinuousShare))
		default:
			s += ", which it bears for long"
		}
		lines = append(lines, fmt.Sprintf("%s, and turns %s times a minute.", s, rpm(t.MotorSpeed())))
		if m.Minutes > 0 {
			lines = append(lines, fmt.Sprintf("Fresh cells last about %s; it draws %s mA.", lasting(m.Minutes), significant(1000*float64(m.Current), 2)))
		}
	}
	if m.Contradiction != "" {
		lines = append(lines, "The motor's sheet contradicts itself: "+m.Contradiction+".")
	}
	if len(t.Stages) > 0 {
		s := &t.Stages[t.SlipsFirst]
		if g := s.Grip(); !math.IsInf(g, 1) && t.Stops != built.BandSlips {
			lines = append(lines, fmt.Sprintf("If a band slips it will be that of stage %d: it grips %s what is needed.", t.SlipsFirst+1, gripTimes(g)))
		}
	}
	if o := t.Overload; o != nil {
		lines = append(lines, overloadWords(o))
	}
	if len(lines) == 0 {
		return // no heading over nothing
	}
	p.blank()
	p.heading("Motor, cells and load")
	for _, l := range lines {
		p.hang(0, 2, "- "+l)
	}
}

func lasting(minutes float64) string {
	if minutes < 90 {
		return significant(minutes, 2) + " minutes"
	}
	return significant(minutes/60, 2) + " hours"
}

// overloadWords say how far the load of a drive that is built can grow.
func overloadWords(o *design.Overload) string {
	what := map[string]string{"mass_g": "The load can grow from", "out_of_balance_g": "One side can grow heavier from", "torque_mNm": "The torque can grow from"}[o.Of]
	at, gives := givesWay(o)
	if math.IsInf(at, 1) {
		return fmt.Sprintf("%s %s %s a hundredfold before anything gives way.", what, significant(o.Brief, 4), loadUnit(o))
	}
	return fmt.Sprintf("%s %s to about %s %s before %s.", what, significant(o.Brief, 4), significant(at, 2), loadUnit(o), gives)
}

// givesWay is at what load something gives way, and what.
func givesWay(o *design.Overload) (at float64, what string) {
	if o.Slips <= o.Stalls {
		return o.Slips, fmt.Sprintf("the band of stage %d slips", o.SlipsStage)
	}
	return o.Stalls, "the motor stalls"
}

func loadUnit(o *design.Overload) string {
	if o.Of == "torque_mNm" {
		return "mN·m"
	}
	return "g"
}

// tryCautions are common practice in schools and no risk assessment.
func tryCautions(t *built.Working) []string {
	out := []string{
		"Switch off before touching pulleys or bands. A stalled motor gets hot within seconds: let it cool.",
		"Stretched bands snap: eyes away and eye protection on when one is changed. Rubber may be latex.",
		"Never short cells. If wires or cells are warm, take the cells out first.",
	}
	switch t.Build.Brief.Model {
	case brief.Lift:
		out = append(out, "Take the load off before anything is changed: it falls when the band comes off.")
	case brief.Vehicle:
		out = append(out, "Lift the wheels off the floor before switching on.")
	}
	return out
}
