package sheet

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"findrive/internal/assembly"
	"findrive/internal/assemblydrawing"
	"findrive/internal/certificate"
	"findrive/internal/drawing"
	"findrive/internal/explain"
	"findrive/internal/mechanics"
	"findrive/internal/units"
)

// Build is the build sheet for the adult.
func (s *Set) Build() (Page, error) {
	p := Page{Name: BuildPage, Title: "Build sheet: " + s.id.Name, Identity: s.id}
	add := func(b ...Block) { p.Blocks = append(p.Blocks, b...) }
	add(Text{Words: s.summary()})
	add(Columns{Share: sideShare, Left: []Block{s.sidePicture()},
		Right: []Block{Heading("What it should do"), Text{Words: s.promise(), Bold: true}, Text{Words: s.senses()}, Text{Words: s.measure()},
			Boxes{Labels: []string{"Try 1", "Try 2"}, Height: 10}, Boxes{Labels: []string{"Try 3", "Middle one"}, Height: 10}}})
	add(Panel{Heading("Before anyone builds"), Steps{Items: s.cautions(), Halves: true}, Text{Words: decides, Bold: true}})
	add(Heading("Build it in this order"), Steps{Items: s.steps(), Numbered: true, Ticks: true, Halves: true})
	add(Heading("What goes where"),
		Columns{Left: []Block{s.partsTable()}, Right: []Block{s.bandTable()}, Share: 0.48},
		s.holeTable())
	add(s.tackleBlocks()...)
	add(Heading(faultCard), s.faultTable(), s.changeTable())
	if notes := s.notes(); len(notes) > 0 {
		add(Steps{Items: notes, Halves: len(notes) > 1})
	}
	return p, nil
}

// decides defers to those who decide.
const decides = "Reminders only. Your school's or employer's own risk assessment, local codes of practice and competent staff decide: ask first. In the United Kingdom see also BS 4163:2021 (health and safety in design and technology)."

func (s *Set) summary() string {
	d := s.drive
	var list []string
	for i := range d.Stages {
		a, b := s.letters(i)
		list = append(list, a+" drives "+b)
	}
	cells := d.Cells.Chemistry
	if m := d.Motor.Minutes; m != nil {
		cells += ", about " + about(*m/60) + " h"
	}
	words := fmt.Sprintf("%s: %s. Motor %s on %s (%s) turns %s.",
		units.Capital(plural(len(d.Stages), "stage", "stages")), strings.Join(list, ", "), d.Motor.Name, plural(d.Cells.Cells, "cell", "cells"), cells, s.turnsWords())
	if w := s.tackle(); w != nil {
		words += fmt.Sprintf(" The drum pulls with about %s N on a tackle of %d rope parts.", about(w.Pull), w.Parts)
	}
	return words
}

// atWork is how often the motor turns for one turn of the output, with what the bands lose.
func (s *Set) atWork() float64 {
	creeps := make([]float64, len(s.drive.Stages))
	for i := range s.drive.Stages {
		creeps[i] = float64(s.drive.Stages[i].Running.Creep)
	}
	return mechanics.TurnsAtWork(float64(s.drive.Ratio), creeps)
}

// loses reports whether what the bands lose is worth telling of.
func (s *Set) loses() bool { return explain.Loses(float64(s.drive.Ratio), s.atWork()) }

// turnsWords say how often the motor turns for one turn of the output: as it is at work, and by
// the pulleys where that is another figure.
func (s *Set) turnsWords() string {
	real, pulleys := about(s.atWork()), about(s.drive.Ratio)
	if !s.loses() || real == pulleys {
		return fmt.Sprintf("%s times for one turn of the %s", pulleys, s.output())
	}
	return fmt.Sprintf("about %s times for one turn of the %s (%s by the pulleys, the bands lose the rest)", real, s.output(), pulleys)
}

// tackle is the pulley blocks between drum and load; nil without any.
func (s *Set) tackle() *certificate.Winch {
	if w := s.drive.Tackle; w != nil && w.Parts > 1 {
		return w
	}
	return nil
}

// tackleBlocks show how the cord of a crane runs through its tackle; nothing without one.
func (s *Set) tackleBlocks() []Block {
	n := s.plan.Build.Rope
	if n == 0 {
		return nil
	}
	lower, upper := assembly.TacklePulleys(n)
	upperBlock, over := "", ""
	if upper > 0 {
		upperBlock = "The upper block hangs from " + s.blockPlace() + "."
	}
	if s.guideSide() != "" {
		over = "over the guide and "
	}
	words := inTurn(s.overEdge(), upperBlock, fmt.Sprintf("The cord runs from the drum %sdown round a pulley of the hook's block and goes on as drawn; its end is tied to %s. Part 1 winds on the drum: it takes in %d mm of cord for each mm the load rises.", over, s.cordEnd(), n))
	what := fmt.Sprintf("The cord goes from the drum down round the hook's block, which has %s", plural(lower, "pulley", "pulleys"))
	if upper > 0 {
		what += fmt.Sprintf(", and up round the upper block, which has %s", plural(upper, "pulley", "pulleys"))
	}
	what += fmt.Sprintf(". %d parts of it carry the load. Its end is tied to %s.", n, s.cordEnd())
	return []Block{Heading("How the cord runs"), Columns{Share: 0.5,
		Left: []Block{Picture{Title: "The tackle", Description: what, Size: drawing.Size{Width: 86, Height: 38}, Least: 32,
			Draw: func(c *drawing.Canvas, room drawing.Rect) { assemblydrawing.Tackle(c, room, n, s.plan.Build.Guide) }}},
		Right: []Block{Text{Words: words}}}}
}

// cordEnd is what the end of a tackle's cord is tied to.
func (s *Set) cordEnd() string {
	n := s.plan.Build.Rope
	switch _, upper := assembly.TacklePulleys(n); {
	case n%2 == 1:
		return "the hook's block"
	case upper == 0:
		return s.blockPlace()
	}
	return "the upper block"
}

// blockPlace is where the upper block of a tackle, or the end of its cord, is fixed.
func (s *Set) blockPlace() string {
	if s.guideSide() != "" {
		return "what holds the guide of the cord"
	}
	return "the frame beside the drum"
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
	words := units.Capital(s.output()) + ": " + turning(d.Speed)
	if s.model() == vehicle {
		words = "Wheels: " + turning(d.Speed)
	}
	if t := d.Travel; t != nil {
		what := "it travels "
		if s.model() == lift {
			what = "the load rises "
		}
		words += "; " + what + travel(*t)
	}
	return words + "."
}

// senses says which way things turn, and what was asked for.
func (s *Set) senses() string {
	words := "Turns " + s.seen(s.drive.OutputTurns) + "; the motor the other way."
	if s.drive.OutputTurns == s.drive.Motor.Turns {
		words = "Turns " + s.seen(s.drive.OutputTurns) + ", as the motor does."
	}
	if s.cert.Brief.WantedWords != "" {
		words += " Asked for: " + s.cert.Brief.WantedWords + "."
	}
	return words
}

// timed is over what a run of this drive is timed; empty where turns are counted.
func (s *Set) timed() string {
	if d := s.drive; d.Travel == nil || !(d.Travel.Likely > 0) {
		return ""
	}
	switch s.model() {
	case vehicle:
		return about(s.metres()) + " m"
	case lift:
		return mm(liftedOver) + " mm"
	}
	return ""
}

// measure says how to measure the speed, and what the range means for it.
func (s *Set) measure() string {
	d := s.drive
	switch {
	case s.model() == vehicle && d.Travel != nil && d.Travel.Likely > 0:
		metres := s.metres()
		return fmt.Sprintf("Measure it: mark %s m on the floor, let it run in, and time it three times: %s. Take the middle one.",
			about(metres), times(metres, *d.Travel))
	case s.model() == lift && d.Travel != nil && d.Travel.Likely > 0:
		return fmt.Sprintf("Measure it: time the load over %s mm three times, something soft under it: %s. Take the middle one.",
			mm(liftedOver), times(float64(liftedOver)/1000, *d.Travel))
	}
	letter, seconds := s.outputLetter(), s.window()
	expect := turnsIn(float64(seconds), d.Speed)
	switch {
	case d.Speed.Likely <= explain.VerySlow:
		return fmt.Sprintf("Measure it: put a sticker on the rim of %s and count turns for a whole minute, three times: %s. Take the middle one.", letter, expect)
	case d.Speed.Likely <= explain.ByEye:
		return fmt.Sprintf("Measure it: put a sticker on the rim of %s and count turns for %d s, three times: %s. Twice the middle one is a minute's.", letter, seconds, expect)
	case d.Speed.Likely <= explain.ByTap:
		return fmt.Sprintf("Measure it: put a sticker on the rim of %s and tap the table at every turn for %d s while someone counts, three times: %s. Four times the middle one is a minute's.", letter, seconds, expect)
	}
	return fmt.Sprintf("Measure it: it is too fast to count. Film the sticker on %s in slow motion and count turns for %d s of real time, three times: %s. Take the middle one.", letter, seconds, expect)
}

// window is for how many seconds turns are counted.
func (s *Set) window() int {
	return explain.Window(float64(s.drive.Speed.Likely))
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
	t := Table{Caption: "Pulleys, in driving order", Head: []string{"Pulley", "Outside mm", "Groove floor mm", "Sits on", "Fit"}, Right: []int{1, 2}, Names: true}
	for i := range s.pulleys {
		p := &s.pulleys[i]
		t.Rows = append(t.Rows, []string{p.letter + ": " + p.Name, mm(p.Outside), mm(p.GrooveFloor), s.shaftName(p.shaft), s.fitWords(&p.Joint, float64(p.Width))})
	}
	for _, j := range s.joints() {
		if j.letter == "" {
			r := s.drive.Wheel
			if r == nil {
				r = s.drive.Drum
			}
			on := j.on
			if b := s.plan.Build; s.drive.Wheel != nil && b.Shafts[len(b.Shafts)-1].Free {
				on += " and free axle"
			}
			t.Rows = append(t.Rows, []string{r.Name, mm(r.Diameter), "–", on, s.fitWords(j.joint, j.hub)})
		}
	}
	return t
}

// fitWords name a fit in short, with whose job it is; the steps say how it is made.
func (s *Set) fitWords(j *certificate.Joint, hub float64) string {
	words, adult := s.fit(j, hub)
	for _, how := range []string{", held in a vice", ", in the bore first", ", one in each end of the bore first"} {
		words = strings.TrimSuffix(words, how)
	}
	if adult {
		return "ADULT: " + words
	}
	return units.Capital(words)
}

func (s *Set) bandTable() Table {
	t := Table{Caption: "Bands", Head: []string{"From – to", "Band", "Flat mm", "Middles apart mm", "Works at mm", "Stretch"}, Right: []int{2, 3, 5}, Names: true}
	for i := range s.drive.Stages {
		st := &s.drive.Stages[i]
		t.Rows = append(t.Rows, []string{s.between(i), bandWords(st), mm(st.Band.FlatLength), mm(st.Centre),
			mm(math.Ceil(float64(st.CentreAllowed.From))) + " – " + mm(math.Floor(float64(st.CentreAllowed.To))), percent(st.Stretch - 1)})
	}
	t.Note = "Holes must be as exact as can be."
	if off := mm(units.HalfDown(units.Millimetres(s.drive.Forgives))); off != "0" {
		t.Note = "Holes may be up to " + off + " mm off."
	}
	t.Note += " Finger test: pressed in the middle, a run gives about a finger's width and springs back."
	return t
}

// holeTable has a row for each shaft: its holes, and what sits where along it,
// as the gaps between the parts.
func (s *Set) holeTable() Table {
	front, back := s.sides()
	t := Table{Caption: "Holes, and what sits along the axles", Head: []string{"Shaft", "Across mm", "Up mm", "Drill mm", "Rod", "What is on it from the " + front + " to the " + back + " side"}, Right: []int{1, 2, 3}, Names: true}
	for i := range s.plan.Build.Shafts {
		sh := &s.plan.Build.Shafts[i]
		drill, rod := "–", "–"
		if i > 0 {
			rod = s.plan.Build.Parts[sh.Rod].Name + ", " + mm(sh.Diameter) + " mm"
			if sh.Hole > 0 {
				drill = mm(sh.Hole)
			}
		}
		t.Rows = append(t.Rows, []string{s.shaftLabel(i), mm(sh.At.X), mm(sh.At.Y), drill, rod, s.along(i)})
	}
	t.Note = fmt.Sprintf("Across and up from the %s, seen from the %s side; the %s side has the same holes.", s.datum(), front, back)
	if !s.cert.Brief.Making.DrillFrame {
		t.Note = fmt.Sprintf("Across and up from the %s, seen from the %s side. Nothing is drilled: clips, straws or tubes carry the axles there.", s.datum(), front)
	}
	t.Note += " Tubes and washers (1 mm) keep the parts apart; lay each rod on its strip of the steps page."
	return t
}

// datum says where places are measured from, so that it can be found on a side that is
// covered.
func (s *Set) datum() string {
	f := &s.plan.Build.Frame
	if f.Left == 0 && f.Below == 0 {
		return "lower left corner of the side"
	}
	return fmt.Sprintf("lower left inside corner (from the outside %s mm across, %s mm up)", mm(f.Left), mm(f.Below))
}

// along says where along a shaft things sit.
func (s *Set) along(shaft int) string {
	if shaft == 0 {
		body := s.drive.Lanes.BodyFront
		return fmt.Sprintf("body from %s to %s; middle of %s at %s", mm(body), mm(body+s.drive.Motor.BodyLength), s.pulleys[0].letter, mm(s.pulleys[0].lane))
	}
	var list, caps []string
	for i := range s.plan.Steps {
		step := &s.plan.Steps[i]
		if step.Shaft != shaft {
			continue
		}
		switch step.Kind {
		case assembly.AxleStep:
			for _, w := range s.overEnd(step) {
				if !strings.Contains(w, "band") {
					list = append(list, w)
				}
			}
			caps = append(caps, s.capWords(step)...)
		case assembly.WheelStep:
			caps = append(caps, s.capWords(step)...)
		}
	}
	words := strings.Join(list, ", ")
	if len(caps) > 0 { // wheels, which the fits name
		for i, w := range caps {
			caps[i], _, _ = strings.Cut(w, " (")
		}
		ends := "on each end " + and(caps)
		if words == "" {
			return ends
		}
		words += "; " + ends
	}
	return cmp.Or(words, "–")
}

// notes are the certificate's own warnings and assumptions.
func (s *Set) notes() []Step {
	var out []Step
	for _, w := range s.drive.Notes {
		out = append(out, Step{Do: units.Capital(w) + "."})
	}
	if len(s.drive.Assumed) > 0 {
		out = append(out, Step{Do: "Taken for granted, as nobody has measured it: " + strings.Join(s.drive.Assumed, "; ") + "."})
	}
	return out
}
