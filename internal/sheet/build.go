package sheet

import (
	"fmt"
	"math"
	"strings"

	"findrive/internal/certificate"
)

// Build is the build sheet for the adult.
func (s *Set) Build() (Page, error) {
	p := Page{Name: BuildPage, Title: "Build sheet: " + s.id.Name, Identity: s.id}
	add := func(b ...Block) { p.Blocks = append(p.Blocks, b...) }
	add(Text{Words: s.summary()})
	add(s.sidePicture())
	add(Heading("What it should do"), Text{Words: s.promise(), Bold: true}, Text{Words: s.measure()}, Boxes{Labels: []string{"Try 1", "Try 2", "Try 3", "The middle one"}, Height: 14})
	add(Heading("Before anyone builds"), Steps{Items: s.cautions()}, Text{Words: decides, Bold: true})
	add(Heading("What goes where"), s.partsTable())
	add(s.bandTable())
	add(s.holeTable(), s.laneTable())
	cut, err := s.cutBlocks()
	if err != nil {
		return p, err
	}
	add(Heading("Cutting list"))
	add(cut...)
	add(Heading("Build it in this order"), Steps{Items: s.steps(), Numbered: true, Ticks: true})
	add(Heading("When something is wrong"), s.faultTable(), s.changeTable())
	if notes := s.notes(); len(notes) > 0 {
		add(Heading("Also"), Steps{Items: notes})
	}
	return p, nil
}

// decides defers to those who decide.
const decides = "These are reminders only. Your school's or employer's own risk assessment decides, with your local codes of practice: ask for them before you start. In the United Kingdom see also BS 4163:2021, on health and safety in design and technology."

func (s *Set) summary() string {
	d := s.drive
	words := fmt.Sprintf("%s, motor to output: %s. The motor turns %s times for one turn of the %s. ",
		upper(plural(len(d.Stages), "stage", "stages")), s.chain(), about(d.Ratio), s.output())
	words += fmt.Sprintf("Motor %s on %s (%s).", d.Motor.Name, plural(d.Cells.Cells, "cell", "cells"), d.Cells.Chemistry)
	if w := s.tackle(); w != nil {
		words += fmt.Sprintf(" The drum pulls, with about %s N, on a tackle of %d rope parts.", about(w.Pull), w.Parts)
	}
	if s.sets > 1 {
		words += fmt.Sprintf(" For %d sets.", s.sets)
	}
	return words
}

// tackle is the pulley blocks between drum and load; nil without any.
func (s *Set) tackle() *certificate.Winch {
	if w := s.drive.Tackle; w != nil && w.Parts > 1 {
		return w
	}
	return nil
}

// chain is the pulleys in driving order by letter and name.
func (s *Set) chain() string {
	var list []string
	for i := range s.drive.Stages {
		a, b := &s.pulleys[2*i], &s.pulleys[2*i+1]
		list = append(list, fmt.Sprintf("%s (%s) drives %s (%s)", a.letter, a.Name, b.letter, b.Name))
	}
	return strings.Join(list, ", then ")
}

func (s *Set) promise() string {
	d := s.drive
	words := upper(s.output()) + ": " + turning(d.Speed)
	if s.model() == vehicle {
		words = "The wheels turn " + turning(d.Speed)
	}
	if t := d.Travel; t != nil {
		what := "it travels about "
		if s.model() == lift {
			what = "the load rises about "
		}
		words += "; " + what + travel(t.Likely) + " (" + travel(t.Low) + " to " + travel(t.High) + ")"
	}
	words += ". Way of turning: " + s.seen(d.OutputTurns) + "; the motor turns " + s.seen(d.Motor.Turns) + "."
	if s.cert.Brief.WantedWords != "" {
		words += " Asked for: " + s.cert.Brief.WantedWords + "."
	}
	return words
}

// Speeds up to which turns can be counted by eye, and with a sticker and a tap
// for each turn (common practice).
const (
	verySlow = 10 // too few turns in half a minute to say much
	byEye    = 60
	byTap    = 120
)

// measure says how to measure the speed, and what the range means for it.
func (s *Set) measure() string {
	d := s.drive
	switch {
	case s.model() == vehicle && d.Travel != nil && d.Travel.Likely > 0:
		metres := s.metres()
		return fmt.Sprintf("Measure it: mark %s m on the floor, let it run in first, and time it. %s is what to expect. Do it three times and take the middle one.",
			about(metres), upper(times(metres, *d.Travel)))
	case s.model() == lift && d.Travel != nil && d.Travel.Likely > 0:
		return fmt.Sprintf("Measure it: time the load over 300 mm, a soft thing under it. %s is what to expect. Do it three times and take the middle one.",
			upper(times(0.3, *d.Travel)))
	}
	letter, seconds := s.outputLetter(), s.window()
	expect := upper(turnsIn(float64(seconds), d.Speed))
	switch {
	case d.Speed.Likely <= verySlow:
		return fmt.Sprintf("Measure it: put a sticker on the rim of %s and count turns for a whole minute. %s is what to expect. Do it three times and take the middle one.", letter, expect)
	case d.Speed.Likely <= byEye:
		return fmt.Sprintf("Measure it: put a sticker on the rim of %s and count turns for %d s. %s is what to expect. Do it three times, take the middle one and double it for a minute.", letter, seconds, expect)
	case d.Speed.Likely <= byTap:
		return fmt.Sprintf("Measure it: put a sticker on the rim of %s and tap the table at every turn for %d s, while a second person counts the taps. %s is what to expect. Do it three times and take the middle one; four times that is a minute.", letter, seconds, expect)
	}
	return fmt.Sprintf("Measure it: it is too fast to count. Film the sticker on %s in slow motion and count turns for %d s of real time. %s is what to expect. Do it three times and take the middle one.", letter, seconds, expect)
}

// window is for how many seconds turns are counted.
func (s *Set) window() int {
	switch n := s.drive.Speed.Likely; {
	case n <= verySlow:
		return 60
	case n <= byEye:
		return 30
	case n <= byTap:
		return 15
	}
	return 5
}

func times(metres float64, v certificate.Range) string {
	most := "more"
	if v.Low > 0 {
		most = about(metres/float64(v.Low)) + " s"
	}
	return fmt.Sprintf("about %s s (%s to %s)", about(metres/float64(v.Likely)), about(metres/float64(v.High)), most)
}

func turnsIn(seconds float64, n certificate.Range) string {
	at := func(v certificate.Number) string {
		return fmt.Sprintf("%.0f", math.Round(float64(v)*seconds/60))
	}
	return fmt.Sprintf("about %s turns (%s to %s)", at(n.Likely), at(n.Low), at(n.High))
}

func (s *Set) partsTable() Table {
	t := Table{Caption: "Pulleys, in driving order", Head: []string{"Letter", "Pulley", "Outside mm", "Groove floor mm", "Sits on", "How it is fitted"}, Right: []int{2, 3}, Names: true}
	for i := range s.pulleys {
		p := &s.pulleys[i]
		t.Rows = append(t.Rows, []string{p.letter, p.Name, mm(p.Outside), mm(p.GrooveFloor), s.shaftName(p.shaft) + ", " + mm(p.Joint.Shaft) + " mm", fitWords(&p.Joint)})
	}
	for _, j := range s.joints() {
		if j.letter == "" {
			r := s.drive.Wheel
			if r == nil {
				r = s.drive.Drum
			}
			t.Rows = append(t.Rows, []string{"–", r.Name, mm(r.Diameter), "–", j.on + ", " + mm(j.joint.Shaft) + " mm", fitWords(j.joint)})
		}
	}
	return t
}

// fitWords name a fit, with whose job it is.
func fitWords(j *certificate.Joint) string {
	words, adult := fit(j)
	if adult {
		return "ADULT: " + words
	}
	return upper(words)
}

func (s *Set) bandTable() Table {
	t := Table{Caption: "Bands", Head: []string{"From – to", "Band", "Flat length mm", "Middles apart mm", "Works from – to mm", "Stretch"}, Right: []int{2, 3, 5}, Names: true}
	for i := range s.drive.Stages {
		st := &s.drive.Stages[i]
		t.Rows = append(t.Rows, []string{s.between(i), bandWords(st), mm(st.Band.FlatLength), mm(st.Centre),
			mm(math.Ceil(float64(st.CentreAllowed.From)*2)/2) + " – " + mm(math.Floor(float64(st.CentreAllowed.To)*2)/2), percent(st.Stretch - 1)})
	}
	t.Note = fmt.Sprintf("Holes may be up to %s mm off. Finger test: press the middle of a run. It gives about a finger's width and springs back, and the axles still coast.", mm(s.drive.Forgives))
	return t
}

func (s *Set) holeTable() Table {
	front, back := s.sides()
	t := Table{Caption: "Holes", Head: []string{"Hole", "Across mm", "Up mm", "Drill mm", "For"}, Right: []int{1, 2, 3}, Names: true}
	for i, at := range s.drive.Positions {
		drill, use := "–", "shaft of the motor: where its middle comes"
		if i > 0 {
			a := &s.drive.Axles[i-1]
			use = mm(a.Diameter) + " mm axle, " + a.Stock
			if a.Hole != nil {
				drill = mm(*a.Hole)
			}
		}
		t.Rows = append(t.Rows, []string{s.shaftLabel(i), mm(at.X), mm(at.Y), drill, use})
	}
	t.Note = fmt.Sprintf("Measured from the lower left inside corner of the frame, seen from the %s side. The %s side has the same holes: drill both sides together. The drilling template has them in true size.", front, back)
	if !s.cert.Brief.Making.DrillFrame {
		t.Note = fmt.Sprintf("Measured from the lower left inside corner of the frame, seen from the %s side. Nothing is drilled: axles are carried in clips, straws or tubes there.", front)
	}
	return t
}

// laneTable says where along each shaft things sit, as the gaps between them.
func (s *Set) laneTable() Table {
	front, back := s.sides()
	t := Table{Caption: "Along the axles, from the " + front + " inside face, mm", Head: []string{"Shaft", "Gap, part, gap, part ... to the " + back + " inside face"}, Names: true}
	depth := s.cert.Brief.Frame.Depth
	for shaft := range s.drive.Positions {
		var line []string
		at := certificate.Number(0)
		for _, p := range s.onShaft(shaft) {
			line = append(line, mm(p.lane-p.Width/2-at), fmt.Sprintf("%s (%s wide)", p.letter, mm(p.Width)))
			at = p.lane + p.Width/2
		}
		if shaft == 0 {
			body := s.drive.Lanes.BodyFront
			t.Rows = append(t.Rows, []string{upper(s.shaftName(0)), fmt.Sprintf("body from %s to %s; middle of %s at %s", mm(body), mm(body+s.drive.Motor.BodyLength), s.pulleys[0].letter, mm(s.pulleys[0].lane))})
			continue
		}
		line = append(line, mm(depth-at))
		t.Rows = append(t.Rows, []string{s.shaftLabel(shaft), strings.Join(line, ", ")})
	}
	t.Note = "Fill gaps with washers, beads or tube so that nothing wanders. Grooves joined by a band lie in one plane."
	return t
}

// notes are the certificate's own warnings and assumptions.
func (s *Set) notes() []Step {
	var out []Step
	for _, w := range s.drive.Notes {
		out = append(out, Step{Do: upper(w) + "."})
	}
	if len(s.drive.Assumed) > 0 {
		out = append(out, Step{Do: "Taken for granted, as nobody has measured it: " + strings.Join(s.drive.Assumed, "; ") + "."})
	}
	if m := s.drive.Motor.Minutes; m != nil {
		out = append(out, Step{Do: fmt.Sprintf("Fresh cells last about %s hours of running. Two tired cells are a fifth slower.", about(*m/60))})
	}
	return out
}
