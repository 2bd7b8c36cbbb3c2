package sheet

import (
	"fmt"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/certificate"
	"findrive/internal/drawing"
	"findrive/internal/explain"
	"findrive/internal/units"
)

// Pupils is the page for the children. Every sentence has fewer than twelve
// words, most of them of one beat, for readers of seven or eight.
func (s *Set) Pupils() Page {
	p := Page{Name: PupilsPage, Title: "Our " + s.thing(), Identity: s.id, Young: true}
	add := func(b ...Block) { p.Blocks = append(p.Blocks, b...) }
	add(Boxes{Labels: []string{"Names"}, Height: 10})
	safe := list(
		"Switch off before you touch it.",
		"Never flick a band.",
		"Tie back hair. Roll up sleeves.",
		"Wires hot? Switch off. Tell an adult.")
	if len(s.plan.Build.Made) > 0 {
		safe = append(safe, list("Sit down to cut.")...)
	}
	add(Panel{Heading("Stay safe"), Steps{Halves: true, Items: safe}})
	add(Heading("1 Find your parts"), Text{Words: "Put each part on its shape. Does it fit the line?" + s.youngMade()})
	add(s.outlines()...)
	add(Heading("2 Guess first"), s.letterQuestion("Which one will turn fastest? Ring it."), s.letterQuestion("Which one will turn slowest? Ring it."),
		Text{Words: s.youngGuess()}, Boxes{Labels: []string{"My guess"}, Height: 11})
	add(Columns{Left: append([]Block{Heading("3 Do the sum")}, s.sumBlocks(false)...),
		Right: []Block{Heading("4 Build it"), Text{Words: "Where does each part go?"}, s.sketch()}})
	add(Steps{Items: s.youngSteps(), Numbered: true, Ticks: true, Halves: true})
	add(Heading("5 Test it"))
	add(s.youngTest()...)
	add(s.classPlot()...)
	add(Heading("6 Tell us why"),
		Text{Words: "Which one turned fastest? Was your guess right?"}, Boxes{Labels: []string{""}, Height: 16},
		Text{Words: s.youngWhy()}, Boxes{Labels: []string{"It makes it"}, Height: 24})
	return p
}

// stagesTo is in how many stages a small pulley drives a big one, and in how many a big one a
// small one.
func (s *Set) stagesTo() (bigger, smaller int) {
	for i := range s.drive.Stages {
		switch r := float64(s.drive.Stages[i].Ratio); {
		case explain.Slows(r):
			bigger++
		case explain.SpeedsUp(r):
			smaller++
		}
	}
	return bigger, smaller
}

// youngWhy asks about two pulleys as this drive has them.
func (s *Set) youngWhy() string {
	bigger, smaller := s.stagesTo()
	switch {
	case bigger > 0:
		return "A small pulley turns a big pulley. What does that do?"
	case smaller > 0:
		return "A big pulley turns a small pulley. What does that do?"
	}
	return "Both pulleys are the same size. What does that do?"
}

// why are the answers to youngWhy, the stages that this drive has first.
func (s *Set) why() []Step {
	const slower, faster = "A small pulley that drives a big one: slower and stronger.", "A big pulley that drives a small one: faster and weaker."
	bigger, smaller := s.stagesTo()
	switch all := len(s.drive.Stages); {
	case bigger == all:
		return list(slower+" The motor spins fast but is weak; each stage gives up speed for turning force.", faster)
	case bigger > 0:
		return list(slower+" The motor spins fast but is weak; such a stage gives up speed for turning force.", faster)
	case smaller == all:
		return list(faster+" Each stage gives up turning force for speed.", slower)
	case smaller > 0:
		return list(faster+" Such a stage gives up turning force for speed.", slower)
	}
	return list("Two pulleys of one size: as fast as before, and as strong.", slower, faster)
}

// thing is the model in a child's word.
func (s *Set) thing() string {
	switch s.model() {
	case uprightRide:
		return "roundabout"
	case levelRide:
		return "big wheel"
	case vehicle:
		return "buggy"
	case lift:
		return "crane"
	}
	return "machine"
}

func list(lines ...string) []Step {
	var out []Step
	for _, l := range lines {
		out = append(out, Step{Do: l})
	}
	return out
}

func (s *Set) letterQuestion(words string) Block {
	var letters []string
	for _, p := range s.pulleys {
		letters = append(letters, p.letter)
	}
	return Text{Words: words + "     " + strings.Join(letters, "     ")}
}

// sumBlocks is the sum with whole turns, from the output back to the motor; solved
// for the adult.
func (s *Set) sumBlocks(solved bool) []Block {
	turns, stages := s.wholeTurns()
	n := len(s.drive.Stages)
	var lines []string
	say := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	say("%s turns %s.", s.outputLetter(), count(turns[n]))
	for i := n - 1; i >= 0; i-- {
		a, b := s.letters(i)
		w := stages[i]
		say("%s turns %s for %s of %s.", a, count(w.Driver), number(w.Driven, "turn", "turns"), b)
		before, answer := fmt.Sprint(turns[i+1]), fmt.Sprint(turns[i])
		if !solved {
			answer = blank
			if i < n-1 { // the last answer, which must not be given away
				before = blank
			}
		}
		sum := fmt.Sprintf("%s × %d", before, w.Driver)
		if w.Driven > 1 {
			sum = fmt.Sprintf("%s ÷ %d × %d", before, w.Driven, w.Driver)
		}
		say("So %s turns %s = %s times.", a, sum, answer)
		if i > 0 {
			// The next driven pulley shares this driver's axle.
			_, before := s.letters(i - 1)
			if solved {
				say("%s and %s share a rod. %s turns %s too.", before, a, before, count(turns[i]))
			} else {
				say("%s and %s share a rod. They turn as one.", before, a)
			}
		}
	}
	motor := fmt.Sprintf("The motor turns with %s.", s.pulleys[0].letter)
	// What pupils would count, were the motor not too fast to be counted; in one line, for the
	// page has no room for two.
	if real := about(float64(turns[n]) * s.atWork()); s.loses() && real != about(float64(turns[0])) {
		motor = fmt.Sprintf("Bands stretch. The motor turns about %s.", real)
	}
	say("%s", motor)
	return []Block{Steps{Items: list(lines...)}}
}

// blank is room for a child's figures.
const blank = "_____"

// count says how often.
func count(n int) string { return number(n, "time", "times") }

func number(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// youngGuess asks for what will be measured.
func (s *Set) youngGuess() string {
	switch {
	case s.model() == vehicle && s.drive.Travel != nil:
		return "How many seconds will it take for " + s.course() + "?"
	case s.model() == lift:
		return "How many seconds will it take for 30 centimetres?"
	}
	return fmt.Sprintf("How many turns will %s make in %d seconds?", s.outputLetter(), s.window())
}

// expected is the answer to the guess.
func (s *Set) expected() string {
	if t := s.drive.Travel; t != nil && t.Likely > 0 {
		switch s.model() {
		case vehicle:
			return "Seconds for " + s.course() + ": " + times(s.metres(), *t) + "."
		case lift:
			return fmt.Sprintf("Seconds for %s centimetres: %s.", mm(liftedOver/10), times(float64(liftedOver)/1000, *t))
		}
	}
	return fmt.Sprintf("Turns of %s in %d seconds: %s.", s.outputLetter(), s.window(), turnsIn(float64(s.window()), s.drive.Speed))
}

// youngTest is how the children measure.
func (s *Set) youngTest() []Block {
	boxes := Boxes{Labels: []string{"Try 1", "Try 2", "Try 3", "Middle one"}, Height: 14}
	switch s.model() {
	case vehicle:
		if s.drive.Travel != nil {
			return []Block{Steps{Items: list("Mark a start line.", "Mark a finish line, "+s.course()+" away.", "Time your buggy. Do it 3 times.")}, boxes}
		}
	case lift:
		return []Block{Steps{Items: list(s.youngCord()+"Hang on the load. Put a soft mat below.", "Time it for 30 centimetres. Do it 3 times.")}, boxes}
	}
	sticker := "Put a sticker on " + s.outputLetter() + "."
	seconds := fmt.Sprintf("%d seconds", s.window())
	switch {
	case s.drive.Speed.Likely > explain.ByTap:
		return []Block{Steps{Items: list(sticker, "It is too fast to count.", "Film it in slow motion.", "Count its turns in "+seconds+". Do it 3 times.")}, boxes}
	case s.drive.Speed.Likely > explain.ByEye:
		return []Block{Steps{Items: list(sticker, "Tap the table at each turn.", "A friend counts taps for "+seconds+". Do it 3 times.")}, boxes}
	}
	return []Block{Steps{Items: list(sticker, "Count its turns for "+seconds+". Do it 3 times.")}, boxes}
}

// classPlot is the class's counts to fill in, where several groups build the drive.
func (s *Set) classPlot() []Block {
	if s.sets < 2 || len(s.drive.Stages) > plotStages || len(s.plan.Build.Made) > 0 {
		return nil
	}
	var travel explain.Range
	if t := s.drive.Travel; t != nil {
		travel = rangeOf(*t)
	}
	axis := explain.ClassAxis(brief.Model(s.model()), rangeOf(s.drive.Speed), travel)
	const high, ends = 34, 8 // mm
	return []Block{Text{Words: "Now ask all the groups. Put a dot for each."}, Picture{
		Title: "Our class", Description: "An empty plot of " + axis.Unit + ", from " + units.Significant(axis.Low, 3) + " to " + units.Significant(axis.High, 3) + ", to put a dot for each group on.",
		Size: drawing.Size{Width: 170, Height: high}, Least: 24,
		Draw: func(c *drawing.Canvas, room drawing.Rect) {
			axis.Draw(c, room.X0+ends, room.X1-ends, room.Y1-14, drawing.Words(12))
		}}}
}

// plotStages is up to how many stages there is room for the class's plot on a sheet of paper,
// if no pulleys are to be cut, which takes room too.
const plotStages = 3

func rangeOf(r certificate.Range) explain.Range {
	return explain.Range{Low: float64(r.Low), Likely: float64(r.Likely), High: float64(r.High)}
}

// metres is how long a run is timed: short for what is slow.
func (s *Set) metres() float64 {
	if t := s.drive.Travel; t != nil && t.Likely < 0.2 {
		return 1
	}
	return 3
}

func (s *Set) course() string {
	if s.metres() == 1 {
		return "1 metre"
	}
	return "3 metres"
}

// Answers is the adult's copy of what the pupils are asked.
func (s *Set) Answers() Page {
	p := Page{Name: AnswersPage, Title: "Answers for the adult: our " + s.thing(), Identity: s.id}
	add := func(b ...Block) { p.Blocks = append(p.Blocks, b...) }
	d := s.drive
	turns, stages := s.wholeTurns()
	fast, slow := s.extremes()
	add(Heading("Guess first"), Steps{Items: list(
		fmt.Sprintf("Fastest: %s. Slowest: %s. Pulleys on one rod turn alike.", fast, slow),
		s.expected())})
	add(Heading("The sum"))
	add(s.sumBlocks(true)...)
	n := len(turns) - 1
	add(Text{Words: fmt.Sprintf("The sum uses small whole numbers: its %d turns for %d are about %s for 1 turn of %s. Worked out from the pitch diameters, the motor turns %s times%s.",
		turns[0], turns[n], explain.Halves(together(stages)), s.outputLetter(), about(d.Ratio), s.withLosses())})
	add(s.ratioTable())
	add(Heading("Test it"), Text{Words: s.measure()},
		Text{Words: "The range is wide because makers allow their own small motors a fifth either way, and bands differ by a third. A count in the range is a good count; one outside it is worth finding out about."})
	add(Heading("Why"), Steps{Items: append(append(s.why(), list(
		"The rim of both pulleys moves as fast as the band. The big one has further to go round, so it takes longer.",
		"Not so: a bigger pulley is faster; every band turns things the other way (only crossed ones do); a stronger motor makes a stronger model.")...), s.askMore()...)})
	add(Heading("Words to use"), Table{Caption: "Words to use", Head: []string{"Pupil", "Teacher"}, Names: true, Rows: [][]string{
		{"driver: the pulley that does the pushing", "driver pulley"},
		{"driven: the pulley that gets turned", "driven pulley"},
		{"how often it turns in a minute", "speed of rotation, turns a minute"},
		{"rod", "axle"},
		{"how far apart the middles are", "centre distance"},
		{"too tight, too loose, just right", "tension"}}})
	return p
}

// withLosses says how often the motor turns at work, where that is another figure.
func (s *Set) withLosses() string {
	if !s.loses() || about(s.atWork()) == about(s.drive.Ratio) {
		return ""
	}
	return "; the bands stretch as they pull, and with what they lose it is about " + about(s.atWork())
}

// askMore are questions with this drive's answers.
func (s *Set) askMore() []Step {
	var out []Step
	if f := s.drive.Fewer; f != nil {
		out = append(out, Step{Do: "Ask: what would one cell less do? " + fewerWords(f)})
	}
	for i := range s.drive.Stages {
		if s.drive.Stages[i].Crossed {
			out = append(out, Step{Do: fmt.Sprintf("Ask: what does the crossed band %s do? It turns the next pulley the other way.", s.between(i))})
			break
		}
	}
	if len(s.drive.Stages) > 1 {
		a, b := s.letters(0)
		rest := float64(s.drive.Ratio / s.drive.Stages[0].Ratio)
		would := fmt.Sprintf("turn %s times as fast", about(rest))
		switch {
		case explain.Slows(rest):
			would += ", and much more weakly"
		case explain.SpeedsUp(rest):
			would += ", but more strongly"
		}
		out = append(out, Step{Do: fmt.Sprintf("Ask: what if only %s and %s were there? The %s would %s.", a, b, s.output(), would)})
	}
	return out
}

// extremes are the letters of what turns fastest and slowest.
func (s *Set) extremes() (fast, slow string) {
	speeds := []float64{float64(s.drive.Motor.Speed)}
	for i := range s.drive.Axles {
		speeds = append(speeds, float64(s.drive.Axles[i].Turns))
	}
	most, least := 0, 0
	for i, v := range speeds {
		if v > speeds[most] {
			most = i
		}
		if v < speeds[least] {
			least = i
		}
	}
	names := func(shaft int) string {
		var list []string
		for _, p := range s.onShaft(shaft) {
			list = append(list, p.letter)
		}
		return and(list)
	}
	return names(most), names(least)
}

func (s *Set) ratioTable() Table {
	t := Table{Caption: "Velocity ratios", Head: []string{"From – to", "Pitch diameters mm", "Ratio", "In the sum", "Lost to stretch"}, Right: []int{2, 3, 4}, Names: true}
	stages := s.wholeStages()
	for i := range s.drive.Stages {
		st, w := &s.drive.Stages[i], stages[i]
		t.Rows = append(t.Rows, []string{s.between(i), mm(st.Driver.Pitch) + " and " + mm(st.Driven.Pitch), fmt.Sprintf("%.2f", float64(st.Ratio)),
			fmt.Sprintf("%d to %d", w.Driver, w.Driven), percent(st.Running.Creep)})
	}
	t.Note = "The pitch diameter runs through the middle of the band in the groove. The printed size of a pulley is its outside, which sets nothing."
	return t
}

// outlines are the parts in true size, to be laid on the paper.
func (s *Set) outlines() []Block {
	var parts []outline
	for i := range s.pulleys {
		p := &s.pulleys[i]
		if p.Made != nil { // it is on the discs page
			continue
		}
		parts = append(parts, outline{label: p.letter, size: mm(p.Outside) + " mm", diameter: float64(p.Outside), bore: float64(certificate.Number(p.Joint.Shaft))})
	}
	for i := range s.drive.Stages {
		b := &s.drive.Stages[i].Band
		label := fmt.Sprint(i + 1)
		if n := bandsTaken(&s.drive.Stages[i]); n > 1 {
			label += fmt.Sprintf(" (take %d)", n)
		}
		parts = append(parts, outline{label: label, size: mm(b.FlatLength) + " mm", flat: float64(b.FlatLength), width: float64(b.Width)})
	}
	return outlinePictures(parts)
}
