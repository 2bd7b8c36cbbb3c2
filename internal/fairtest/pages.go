package fairtest

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/drawing"
	"findrive/internal/drive"
	"findrive/internal/explain"
	"findrive/internal/layout"
	"findrive/internal/sheet"
	"findrive/internal/units"
	"findrive/internal/views"
)

// The pages.
const (
	PupilsPage  = "pupils"
	AnswersPage = "answers"
)

// young is a thing in a child's words.
var young = map[Thing]string{
	NumberCells: "the cells",
	BandUse:     "how the band goes on", OtherBand: "the band", OtherMotor: "the motor", StageCount: "how many pairs of pulleys",
}

// writeIn is the height of a row of the results table: a child writes in it.
const writeIn units.Millimetres = 12

// Pupils is the page for the children, with a table to fill in and no answers. Every
// sentence has fewer than twelve words.
func (t *Test) Pupils(id sheet.Identity) sheet.Page {
	p := sheet.Page{Name: PupilsPage, Title: "Our fair test", Identity: id, Young: true}
	add := func(b ...sheet.Block) { p.Blocks = append(p.Blocks, b...) }
	add(sheet.Boxes{Labels: []string{"Names"}, Height: 10})
	add(sheet.Panel{sheet.Heading("Stay safe"), sheet.Steps{Halves: true, Items: steps(
		"Switch off before you touch it.", "Never flick a band.", "Tie back long hair.", "Ask an adult to change parts.")}})
	add(sheet.Heading("1 We change one thing"), sheet.Text{Words: fmt.Sprintf("We change %s. We make 3 tests:", t.youngThing())})
	var rows [][]string
	for i, v := range t.ordered() {
		rows = append(rows, []string{number(i), t.youngPart(v)})
	}
	add(sheet.Table{Caption: "1 We change one thing", Head: []string{"Test", "What we use"}, Names: true, Rows: rows})
	if t.Thing == StageCount {
		add(sheet.Text{Words: fmt.Sprintf("An adult takes pairs off. %s goes on the last rod.", units.Capital(t.carried()))})
	}
	add(sheet.Heading("2 We keep the rest the same"), sheet.Text{Words: "Tick each one when you have checked it."},
		sheet.Steps{Ticks: true, Halves: true, Items: steps(t.youngSame()...)})
	add(sheet.Heading("3 Guess first"), sheet.Text{Words: "Which one will be fastest? Ring it.     1     2     3"}, sheet.Text{Words: "Which one will be slowest? Ring it.     1     2     3"},
		sheet.Boxes{Labels: []string{"I think so because"}, Height: 11})
	add(sheet.Heading("4 Test it"), sheet.Steps{Numbered: true, Halves: true, Items: steps(t.youngHow()...)})
	unit := fmt.Sprintf("Turns in %d seconds", t.Seconds())
	if t.Timed() {
		unit = "Seconds"
	}
	var results [][]string
	for i := range t.Drives {
		results = append(results, []string{number(i), "", "", "", ""})
	}
	add(sheet.Table{Caption: unit, Head: []string{"Test", "Try 1", "Try 2", "Try 3", "Middle one"}, Names: true, Rows: results, Least: writeIn})
	add(sheet.Heading("Draw it"), sheet.Text{Words: "Draw a bar for each test."}, t.chart())
	add(sheet.Heading("5 What did we find?"), sheet.Text{Words: "Put 1, 2 and 3 in order."},
		sheet.Boxes{Labels: []string{"Slowest", "In the middle", "Fastest"}, Height: 12},
		sheet.Text{Words: "What did the change do?"}, sheet.Boxes{Labels: []string{"When we changed it,"}, Height: 22},
		sheet.Text{Words: "Was it fair? What else could have changed?"}, sheet.Boxes{Labels: []string{""}, Height: 16})
	return p
}

// Answers is the adult's copy: what each should do, with its range.
func (t *Test) Answers(id sheet.Identity) sheet.Page {
	p := sheet.Page{Name: AnswersPage, Title: "Fair test: what to expect, for the adult", Identity: id}
	add := func(b ...sheet.Block) { p.Blocks = append(p.Blocks, b...) }
	add(sheet.Text{Words: "For the adult only: the pupils' page does not give these away.", Bold: true})
	add(sheet.Heading("What is changed"), sheet.Text{Words: fmt.Sprintf("Only %s%s. All else stays: %s.", t.Changed(), t.lettered(), strings.Join(t.Same(), "; "))})
	add(sheet.Text{Words: t.StockWords()})
	if moves := t.Moves(); moves != "" {
		add(sheet.Text{Words: moves})
	}
	table := sheet.Table{Caption: "What to expect", Head: []string{"Test", "Part", "Ratio", units.Capital(t.PaceUnit()), t.unitWords()}, Right: []int{2}, Names: true}
	for i, v := range t.ordered() {
		n := t.predictionOf(v)
		table.Rows = append(table.Rows, []string{number(i), v.partWords(), units.Decimals(v.Working.Ratio, 1), v.PaceRange(), n.Words(t)})
	}
	table.Note = "The ranges are wide because one motor differs from the next by a fifth and bands by a third. A good or a poor motor moves all three together, so compare them with each other."
	add(table)
	add(sheet.Columns{Left: []sheet.Block{t.driveTable()}, Right: []sheet.Block{t.holeTable()}, Share: 0.62})
	var factors []sheet.Step
	for _, s := range t.FactorWords() {
		factors = append(factors, sheet.Step{Do: s})
	}
	add(sheet.Heading("Compare, whatever the motor"), sheet.Steps{Items: factors})
	why := t.Why()
	if also := t.AlsoChanges(); also != "" {
		why = append(why, also)
	}
	add(sheet.Heading("Why"), sheet.Steps{Items: steps(why...)})
	add(sheet.Heading("How to count"), sheet.Steps{Items: steps(t.HowToCount()...)})
	add(sheet.Heading("Ask"), sheet.Steps{Items: steps(
		"What did we change? What did we keep the same? What did we measure?",
		"Why count three times and take the middle one?",
		"What could make it unfair? Tired cells, a band that was on for a week, another counter, a nudge at the start.")})
	var cautions []sheet.Step
	for _, c := range t.Cautions() {
		cautions = append(cautions, sheet.Step{Do: c})
	}
	add(sheet.Panel{sheet.Heading("Before anyone begins"), sheet.Steps{Items: cautions, Halves: true},
		sheet.Text{Words: "These are reminders only: your school's own risk assessment, local codes and competent staff decide.", Bold: true}})
	return p
}

func steps(lines ...string) []sheet.Step {
	var out []sheet.Step
	for _, l := range lines {
		out = append(out, sheet.Step{Do: l})
	}
	return out
}

// number names a test; letters are for the pulleys of a drive.
func number(i int) string { return strconv.Itoa(i + 1) }

// ordered are the three as they are numbered on both pages: in the order of their speeds,
// the slowest first, so that the bars of the chart rise. The pupils' page does not say so.
func (t *Test) ordered() []*Variant { return []*Variant{&t.Drives[0], &t.Drives[1], &t.Drives[2]} }

// Numbers are those of the three on the pupils' page, slowest first.
func (t *Test) Numbers() [3]string { return [3]string{"1", "2", "3"} }

func (t *Test) predictionOf(v *Variant) *Prediction {
	all := t.Predictions()
	for i := range all {
		if all[i].Variant == v {
			return &all[i]
		}
	}
	return nil
}

func (t *Test) unitWords() string {
	if t.Timed() {
		return fmt.Sprintf("Seconds for %s m", units.Decimals(t.Metres(), 1))
	}
	return fmt.Sprintf("Turns in %d s", t.Seconds())
}

// Words are what the class should write down, with its range.
func (p *Prediction) Words(t *Test) string {
	show := func(v float64) string {
		if math.IsInf(v, 1) {
			return "more"
		}
		if t.Timed() {
			return figure(v)
		}
		return units.Decimals(v, 0)
	}
	return fmt.Sprintf("%s (%s to %s)", show(p.Likely), show(p.Low), show(p.High))
}

func (v *Variant) partWords() string {
	out := v.Part
	for _, s := range []string{v.Size, v.Fit} {
		if s != "" {
			out += ", " + s
		}
	}
	return out
}

func figure(v float64) string { return units.Significant(v, 2) }

// StockWords say for how many groups the cupboard serves.
func (t *Test) StockWords() string {
	one, adult := "build one model and swap the part", "build one model and let an adult swap the part between tests"
	if t.Thing == StageCount {
		one, adult = "build one model and take stages off", "build one model and let an adult take stages off between tests"
	}
	switch n := t.AtOnce; {
	case n == 0:
		return "The cupboard has not the parts for all three at once: " + adult + "."
	case n == 1:
		return "The cupboard makes all three at once, once. Or " + one + "."
	default:
		return fmt.Sprintf("The cupboard makes all three at once %d times, not counting axles. Or %s.", n, one)
	}
}

// Moves says what must go onto another axle where stages are left out, and how long that axle
// must then be; empty where none are.
func (t *Test) Moves() string {
	if t.Thing != StageCount {
		return ""
	}
	b := t.Base
	var where []string
	for i, v := range t.ordered() {
		if n := len(v.Working.Build.Drive.Stages); n < len(b.Drive.Stages) {
			where = append(where, fmt.Sprintf("on axle %d in test %s", n, number(i)))
		}
	}
	out := fmt.Sprintf("%s moves: it is %s.", units.Capital(t.carried()), strings.Join(where, " and "))
	if long, usual := drive.OutputAxleLength(b.Brief, b.Drive.Wheel, b.Drive.Drum), drive.AxleLength(b.Brief); long > usual {
		out += fmt.Sprintf(" That axle must be as long as the output's, %.0f mm longer than an axle is otherwise.", float64(long-usual))
	}
	return out + " The axles behind it come out with their pulleys, so that none is in the way; the pulley on its axle that drove the next stage may stay."
}

// carried is what sits on the output axle.
func (t *Test) carried() string {
	switch t.Base.Brief.Model {
	case brief.UprightRide, brief.LevelRide:
		return "the ride"
	case brief.Lift:
		return "the drum"
	case brief.Vehicle: // of which there is no such test
		return "the axle with wheels"
	}
	return "what it turns"
}

// FactorWords compare neighbours.
func (t *Test) FactorWords() []string {
	l := t.Numbers()
	var out []string
	for i := range 2 {
		low, likely, high := t.Factor(i)
		out = append(out, fmt.Sprintf("Test %s should go %s times as fast as test %s (%s to %s).", l[i+1], units.Decimals(likely, 2), l[i], units.Decimals(low, 2), units.Decimals(high, 2)))
	}
	return out
}

// Why says what the change does.
func (t *Test) Why() []string {
	switch t.Thing {
	case DrivenPulley:
		return []string{"The band goes by at one speed. A larger driven pulley takes more of it for a turn, so it turns slower, and stronger.", "Not so: a bigger pulley is faster. It is when it drives; here it is driven."}
	case DriverPulley:
		return []string{"A larger driver pulls more band past in each turn, so the driven pulley turns faster, and weaker.", "Not so: a bigger pulley is slower. It is when it is driven; here it drives."}
	case NumberCells:
		return []string{"Each cell pushes harder: more cells, more volts, and the motor turns faster. The load and friction take the same, so the speed grows by more than the volts do."}
	case StageCount:
		return []string{"Each stage slows down what the one before has slowed: the ratios multiply."}
	case BandUse, OtherBand:
		return []string{"A tighter or heavier band pulls more on the bearings and slows the motor; a slacker one creeps and loses speed. The ratio hardly changes."}
	}
	return []string{"Motors differ in how fast they turn and in how much a load slows them."}
}

// HowToCount says how the three are counted or timed, for the adult.
func (t *Test) HowToCount() []string {
	fast := t.Drives[2].Working
	out := []string{}
	switch {
	case t.Timed():
		out = append(out, fmt.Sprintf("Mark %s m, time each three times, and take the middle one.", units.Decimals(t.Metres(), 1)))
	case fast.Speed.Likely > explain.ByTap:
		out = append(out, "The fastest is too fast to count: film the sticker in slow motion and count turns of real time.")
	case fast.Speed.Likely > explain.ByEye:
		out = append(out, "The fastest needs a sticker, a tap on the table at each turn, and a friend who counts the taps.")
	default:
		out = append(out, "All three can be counted by eye, with a sticker on the output.")
	}
	return append(out, "Use fresh cells, or change them between models: tired cells slow the last one tested.")
}

// Cautions are the usual ones of such a lesson (common practice).
func (t *Test) Cautions() []string {
	out := []string{"Switch off before a part is changed; an adult changes pulleys and bands.", "Stretched bands snap: eyes away, eye protection on. Rubber may be latex.",
		"Hair tied back, sleeves away, fingers out of moving bands.", "If the motor hums and stands, off within seconds and let it cool. Never short cells."}
	switch t.Base.Brief.Model {
	case brief.Lift:
		out = append(out, "Something soft under the load, hands and feet out from under.")
	case brief.Vehicle:
		out = append(out, "A barrier at the end of the run; no faces at floor level.")
	}
	return out
}

func (t *Test) youngThing() string {
	last := len(t.Base.Drive.Stages)
	switch {
	case t.Thing == DriverPulley && t.Stage == 1:
		return "pulley " + t.letter() + ", on the motor"
	case t.Thing == DrivenPulley && t.Stage == last:
		return "pulley " + t.letter() + ", which turns last"
	case t.letter() != "":
		return "pulley " + t.letter()
	}
	return young[t.Thing]
}

// letter is that of the pulley that is changed, as drawings have it; empty where another
// thing is changed, or where the number of stages is and letters move.
func (t *Test) letter() string {
	if t.Stage == 0 {
		return ""
	}
	driver, driven := views.Letters(t.Stage - 1)
	switch t.Thing {
	case DriverPulley:
		return driver
	case DrivenPulley:
		return driven
	}
	return ""
}

// lettered is the letter for a sentence.
func (t *Test) lettered() string {
	if t.letter() == "" {
		return ""
	}
	return ", " + t.letter() + " in the drawing"
}

func (t *Test) youngPart(v *Variant) string {
	if t.Thing == StageCount {
		if n := len(v.Working.Build.Drive.Stages); n > 1 {
			return fmt.Sprintf("%d pairs", n)
		}
		return "1 pair"
	}
	if v.Size == "" || t.Thing == OtherBand {
		return v.Part
	}
	return fmt.Sprintf("%s (%s)", v.Part, v.Size)
}

// youngSame is what stays, in few words.
func (t *Test) youngSame() []string {
	var out []string
	bands := "The bands"
	if t.Thing == StageCount {
		bands = "The bands that are left"
	}
	for _, s := range []struct {
		thing Thing
		words string
	}{{OtherMotor, "The motor"}, {NumberCells, "The cells"}, {OtherBand, bands}} {
		if s.thing != t.Thing {
			out = append(out, s.words)
		}
	}
	switch t.Thing {
	case DrivenPulley, DriverPulley:
		out = append(out, "The other pulleys")
	case StageCount:
		out = append(out, "The pulleys that are left")
	default:
		out = append(out, "The pulleys")
	}
	return append(out, "How far apart the rods are", "The load", "The way we count")
}

func (t *Test) youngHow() []string {
	switch {
	case t.Timed() && t.Base.Brief.Model == brief.Lift:
		return []string{"Put a soft mat below.", "Time it for 30 centimetres.", "Do it 3 times. Write each one down.", "Ring the middle one of the 3."}
	case t.Timed():
		return []string{"Mark a start line.", fmt.Sprintf("Mark a finish line %s m away.", units.Decimals(t.Metres(), 1)), "Time it. Do it 3 times.", "Ring the middle one of the 3."}
	}
	fast := t.Drives[2].Working.Speed.Likely
	count := fmt.Sprintf("Count its turns for %d seconds.", t.Seconds())
	switch {
	case fast > explain.ByTap:
		count = fmt.Sprintf("Film it. Count its turns in %d seconds.", t.Seconds())
	case fast > explain.ByEye:
		count = fmt.Sprintf("Tap at each turn. Count taps for %d seconds.", t.Seconds())
	}
	return []string{"Put a sticker on the part that turns last.", count, "Do it 3 times. Write each one down.", "Ring the middle one of the 3."}
}

// chart is an empty bar chart with a bar's width for each test.
func (t *Test) chart() sheet.Picture {
	size := drawing.Size{Width: 150, Height: 62}
	return sheet.Picture{Title: "A chart to draw in", Size: size,
		Description: "An empty chart to draw in: along the bottom test 1, test 2 and test 3; up the side squares to count.",
		Draw: func(c *drawing.Canvas, room drawing.Rect) {
			const left, low, step = 12, 10, 5
			x0, y1 := room.X0+left, room.Y1-low
			for y := y1; y >= room.Y0; y -= step {
				c.Line(drawing.Point{X: x0, Y: y}, drawing.Point{X: room.X1, Y: y}, drawing.Pen{Width: drawing.Narrow})
			}
			c.Line(drawing.Point{X: x0, Y: room.Y0}, drawing.Point{X: x0, Y: y1}, drawing.Pen{Width: drawing.Medium})
			c.Line(drawing.Point{X: x0, Y: y1}, drawing.Point{X: room.X1, Y: y1}, drawing.Pen{Width: drawing.Medium})
			wide := (room.X1 - x0) / 3
			for i := range 3 {
				c.Text(drawing.Point{X: x0 + (units.Millimetres(i)+0.5)*wide, Y: y1 + 1.5}, "Test "+number(i), drawing.Words(12).WithLevel(drawing.Below).WithAlign(drawing.Middle))
			}
		}}
}

// driveTable says what the drive is that is changed.
func (t *Test) driveTable() sheet.Table {
	out := sheet.Table{Caption: "The drive that is changed", Head: []string{"Stage", "Driver", "Driven", "Band", "Put on", "Axles apart mm"}, Right: []int{5}, Names: true}
	d := t.Base.Drive
	for i := range d.Stages {
		s := &d.Stages[i]
		how := s.Use.String()
		if s.Crossed {
			how += ", crossed"
		}
		driver, driven := views.Letters(i)
		out.Rows = append(out.Rows, []string{number(i), driver + ": " + s.Driver.Name, driven + ": " + s.Driven.Name, s.Band.Name, how, units.Decimals(float64(d.Centre(i)), 1)})
	}
	out.Note = fmt.Sprintf("Motor %s, cells %s.", d.Motor.Name, d.Holder.Name)
	return out
}

// holes are where the motor's shaft and the axles are, and measured from where.
func (t *Test) holes() (at []layout.Point, from string) {
	at, from = slices.Clone(t.Base.Drive.Positions), "from the motor's shaft, for the file does not say where in a frame it is"
	if m := t.Base.MotorAt; m != nil {
		from = "from the lower left inside corner of the frame"
		for i := range at {
			at[i] = layout.Point{X: at[i].X + m.X, Y: at[i].Y + m.Y}
		}
	}
	return at, from
}

// shaftName names a shaft by its number.
func shaftName(i int) string {
	if i == 0 {
		return "motor"
	}
	return fmt.Sprintf("axle %d", i)
}

// HoleWords say where the holes are, in one line.
func (t *Test) HoleWords() string {
	at, from := t.holes()
	var out []string
	for i, p := range at {
		out = append(out, fmt.Sprintf("%s (%s, %s)", shaftName(i), units.Decimals(float64(p.X), 1), units.Decimals(float64(p.Y), 1)))
	}
	return strings.Join(out, ", ") + " mm to the right and up, " + from
}

// holeTable says where the holes are: the same for all three.
func (t *Test) holeTable() sheet.Table {
	out := sheet.Table{Caption: "Holes, the same for all three", Head: []string{"Shaft", "To the right mm", "Up mm"}, Right: []int{1, 2}, Names: true}
	at, from := t.holes()
	for i, p := range at {
		out.Rows = append(out.Rows, []string{shaftName(i), units.Decimals(float64(p.X), 1), units.Decimals(float64(p.Y), 1)})
	}
	out.Note = "Measured " + from + "."
	return out
}
