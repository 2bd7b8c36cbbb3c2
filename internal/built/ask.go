package built

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/tomlfile"
	"findrive/internal/units"
)

// Question is what people ask about a drive on the table, in their words.
type Question string

// The questions.
const (
	WhichWay   Question = "which way will it turn"
	WhichCells Question = "one cell or two"
	HowLong    Question = "how long will the batteries last"
	TooTight   Question = "is the band too tight"
	HowHeavy   Question = "how heavy a load"
	Fastest    Question = "what is the fastest we are allowed"
	PartsFit   Question = "will the pulleys fit"
	FrameFit   Question = "does it fit the frame"
	Upright    Question = "motor level and ride upright"
	FatBands   Question = "only fat bands"
	JoinBands  Question = "can we join two bands"
)

// Questions lists every question.
func Questions() []Question {
	return []Question{WhichWay, WhichCells, HowLong, TooTight, HowHeavy, Fastest, PartsFit, FrameFit, Upright, FatBands, JoinBands}
}

// Reply answers a question: in one sentence first, then what stands behind it. All
// are sentences with their full stops.
type Reply struct {
	Question Question
	Short    string
	Faults   []string // of the frame, which the findings have too
	Says     []string
	Then     *Working // for Fastest, the drive that is so fast; nil if there is none
}

// Ask answers a question about a drive that was worked out.
func Ask(w *Working, q Question) *Reply {
	r := &Reply{Question: q}
	map[Question]func(*Reply, *Working){
		WhichWay: whichWay, WhichCells: whichCells, HowLong: howLong, TooTight: tooTightWords, HowHeavy: howHeavy, Fastest: fastest,
		PartsFit: partsFit, FrameFit: frameFit, Upright: upright, FatBands: fatBands, JoinBands: joinBands,
	}[q](r, w)
	if w.Build.Alone && slices.Contains([]Question{WhichCells, Fastest, FatBands, JoinBands, Upright}, q) {
		r.says(OwnParts)
	}
	return r
}

// OwnParts is said where an answer looks at what there is besides the drive, and no cupboard is
// known.
const OwnParts = "Only the drive's own parts are known here. To have all that there is looked at, name the cupboard with -c."

func (r *Reply) says(format string, args ...any) {
	r.Says = append(r.Says, fmt.Sprintf(format, args...))
}

// seenWords are a way of turning seen from the side the file names.
func (b *Build) seenWords(turns int) string {
	side := b.Brief.Direction.SeenFrom
	if side == "" {
		side = "front"
	}
	sense := brief.Clockwise
	if turns > 0 {
		sense = brief.Anticlockwise
	}
	sense = design.Seen(brief.Direction{Sense: sense, SeenFrom: side})
	if side == "above" || side == "below" {
		return fmt.Sprintf("%s seen from %s", sense, side)
	}
	return fmt.Sprintf("%s seen from the %s", sense, side)
}

func whichWay(r *Reply, w *Working) {
	b := w.Build
	crossed := b.Drive.Reversals()
	r.Short = fmt.Sprintf("The output turns %s when the motor turns %s.", b.seenWords(b.Drive.OutputTurns()), b.seenWords(b.Drive.MotorTurns))
	same := "the same way as"
	if crossed%2 == 1 {
		same = "the other way from"
	}
	r.says("Open bands keep the way of turning; each crossed band turns it round. Here %s crossed, so the output turns %s the motor.", are(crossed, "band"), same)
	if want := b.wanted(); want != 0 {
		if want == b.Drive.OutputTurns() {
			r.says("That is the way that was wanted.")
		} else {
			r.says("That is not the way that was wanted.")
		}
	}
	if b.Brief.Direction.MotorTurns == brief.Either {
		r.says("To turn it round: swap the two wires at the motor. That costs nothing and wears nothing.")
		return
	}
	if crossed > 0 {
		r.says("The file says that the motor's wires are not to be swapped. To turn it round, put a crossed band on open: its centre distance or its band will then have to change.")
		return
	}
	r.says("The file says that the motor's wires are not to be swapped. To turn it round, cross one band: it rubs where it crosses, so the slowest stage, the last, is the one.")
}

func are(n int, noun string) string {
	switch n {
	case 0:
		return "no " + noun + " is"
	case 1:
		return "1 " + noun + " is"
	}
	return fmt.Sprintf("%d %ss are", n, noun)
}

// speedIn is the speed of a worked drive in words.
func speedIn(w *Working) string {
	if w.Stops != Turns {
		return map[Stop]string{OffBand: "a band is off", BandSlips: "a band slips and it stands", Stalls: "the motor stalls", NoStart: "the motor cannot start"}[w.Stops]
	}
	if l := w.Linear; l != nil {
		return fmt.Sprintf("about %s cm a second (%s to %s)", figure(100*float64(l.Likely)), figure(100*float64(l.Low)), figure(100*float64(l.High)))
	}
	return fmt.Sprintf("about %s turns a minute (%s to %s)", figure(float64(w.Speed.Likely)), figure(float64(w.Speed.Low)), figure(float64(w.Speed.High)))
}

func minutesWords(m float64) string {
	if m < 90 {
		return figure(m) + " minutes"
	}
	return figure(m/60) + " hours"
}

func whichCells(r *Reply, w *Working) {
	b := w.Build
	holders := b.Cupboard.Holders
	var best *Working
	score := math.Inf(1)
	for i := range holders {
		other := b.copied()
		other.Drive.Holder = &holders[i]
		if no := constraints.Volts(b.Drive.Motor, &holders[i]); no != nil {
			r.Says = append(r.Says, fmt.Sprintf("Not %s (%s): %s.", cells(holders[i].Cells), holders[i].Name, no.Say()))
			continue
		}
		o, err := Work(other)
		if err != nil {
			continue
		}
		s := fmt.Sprintf("With %s (%s): %s", cells(holders[i].Cells), holders[i].Name, speedIn(o))
		if n := other.needs(drive.Conditions{}); n.ok {
			s += fmt.Sprintf("; the motor has %s times the pull that starting needs", figure(n.startMargin))
		}
		if o.Motor.Minutes > 0 {
			s += "; fresh cells last about " + minutesWords(o.Motor.Minutes)
		}
		if holders[i].Name == b.Drive.Holder.Name {
			s += " (as built)"
		}
		r.Says = append(r.Says, s+".")
		off := float64(o.Broken())
		if o.Stops != Turns {
			off += 100
		}
		if w.Target > 0 && o.Speed.Likely > 0 {
			off += math.Abs(math.Log(float64(o.Speed.Likely / w.Target)))
		} else {
			off += float64(holders[i].Cells) / 10 // fewer cells, fewer to buy
		}
		if off < score {
			score, best = off, o
		}
	}
	switch {
	case (best == nil || best.Stops != Turns) && b.Alone:
		r.Short = "With the holder that it has it does not turn. Ask --symptom \"hums and will not start\"."
	case best == nil || best.Stops != Turns:
		r.Short = "Neither: with no holder of this cupboard does it turn. Ask --symptom \"hums and will not start\"."
	case len(holders) == 1 && b.Alone:
		r.Short = fmt.Sprintf("That cannot be said: no holder but its own (%s) is known.", cells(holders[0].Cells))
	case len(holders) == 1:
		r.Short = "The cupboard has only one kind of holder."
	case w.Target > 0:
		r.Short = fmt.Sprintf("%s: that is nearest to the speed that was wanted.", sentenceCells(best.Build.Drive.Holder.Cells))
	default:
		r.Short = fmt.Sprintf("%s will do: no speed was asked for, and it turns.", sentenceCells(best.Build.Drive.Holder.Cells))
	}
	r.says("Half the volts give half the motor's own speed and pull; load and friction then take a larger part of it.")
}

func sentenceCells(n int) string {
	if n <= 4 {
		return []string{"No cell", "One cell", "Two cells", "Three cells", "Four cells"}[n]
	}
	return cells(n)
}

// lessonMinutes is how long a model runs in a lesson of testing (judgement).
const lessonMinutes = 10

func howLong(r *Reply, w *Working) {
	h := w.Build.Drive.Holder
	switch {
	case w.Stops != Turns:
		r.Short = "It does not turn as it is, so that cannot be said: a stalled motor empties cells in minutes and gets hot. Switch off."
		return
	case !(w.Motor.Minutes > 0):
		r.Short = "That is not known: the cupboard does not say how much the cells hold. Write for example capacity = \"900 mAh\" in the table of the cells."
	default:
		r.Short = fmt.Sprintf("About %s of running on fresh cells.", minutesWords(w.Motor.Minutes))
		r.says("A lesson of testing runs the model for about %d minutes (judgement): that is about %s lessons for one set of cells.", lessonMinutes, figure(math.Max(0, math.Floor(w.Motor.Minutes/lessonMinutes))))
	}
	r.says("It draws %s mA from %s. It slows as the cells tire: change them when one shows less than 1.2 V at work (common practice).", figure(1000*float64(w.Motor.Current)), cells(h.Cells))
	r.says("Keep one spare set for four groups (common practice). Never let a stalled motor stay switched on: it draws many times as much.")
}

func tooTightWords(r *Reply, w *Working) {
	b, lim := w.Build, w.Build.Brief.Limits
	worst := 0
	words := []string{"No: every band is comfortable.", "A little: a band is tighter than is comfortable, but will do.", "Yes: a band is tighter than it should be."}
	for i := range w.Stages {
		s, st := &w.Stages[i], &b.Drive.Stages[i]
		f := s.Fitted
		level := 0
		verdict := "comfortable"
		switch {
		case f.Stretch > constraints.FittedWindow(lim, st.Band).Hi:
			level, verdict = 2, "too tight"
		case f.Stretch > lim.ComfortStretchMax:
			level, verdict = 1, "tight"
		case f.Stretch <= 1:
			verdict = "hanging loose"
		case f.Stretch < lim.ComfortStretchMin:
			verdict = "limp"
		}
		worst = max(worst, level)
		r.says("Stage %d: band %s is stretched %s %%: %s (%s to %s %% is comfortable). Each run of it pulls %s N.", i+1, st.Band.Name, percent(max(0, f.Stretch-1)), verdict,
			percent(lim.ComfortStretchMin-1), percent(lim.ComfortStretchMax-1), figure(float64(f.Pull)))
	}
	r.Short = words[worst]
	if w.Stops != Turns {
		return
	}
	const gramsInNewton = 101.97
	load := float64(w.Motor.ShaftLoad)
	r.says("The motor's shaft is pulled sideways with %s N, as by %s g hung from it.", figure(load), figure(gramsInNewton*load))
	slack := b.copied()
	stronger(0.5)(&slack.Drive.Stages[0], slack)
	if o, err := Work(slack); err == nil {
		if o.Stops == Turns {
			r.says("The motor works at %s %% of its stall torque. With half that pull at stage 1 it would be %s %%: that is what the tightness costs.", percent(w.Motor.Share), percent(o.Motor.Share))
		} else {
			r.says("The motor works at %s %% of its stall torque. With half that pull at stage 1 the band would slip: it needs its tightness.", percent(w.Motor.Share))
		}
	}
}

func howHeavy(r *Reply, w *Working) {
	o := w.Overload
	unit := ""
	if o != nil {
		unit = map[string]string{"mass_g": "g", "out_of_balance_g": "g on one side", "torque_mNm": "mN·m"}[o.Of]
	}
	switch {
	case w.Stops != Turns:
		r.Short = "Less than now: it does not turn with the load the file names."
		return
	case o == nil:
		r.Short = "That is not known: the file names no load."
		return
	case math.IsInf(min(o.Slips, o.Stalls), 1):
		r.Short = fmt.Sprintf("More than a hundred times the %s %s of the file.", figure(o.Brief), unit)
		return
	}
	most := min(o.Slips, o.Stalls)
	r.Short = fmt.Sprintf("Up to about %s %s; plan for half of that.", figure(most), unit)
	gives := "the motor stalls"
	if o.Slips <= o.Stalls {
		gives = fmt.Sprintf("the band of stage %d slips", o.SlipsStage)
	}
	r.says("With more than that %s. Grip and small motors are only known to about a factor of two, so half is what to promise.", gives)
	r.says("With the %s %s of the file it goes %s.", figure(o.Brief), unit, speedIn(w))
	if w.Build.Brief.Model == brief.Lift {
		r.says("Never more than 1 kg in a classroom, something soft below, hands and feet out from under (common practice).")
	}
}

func partsFit(r *Reply, w *Working) {
	bad := 0
	for _, f := range w.Findings {
		if f.Rule != constraints.Fit {
			continue
		}
		if f.Broken {
			bad++
		}
		r.says("Stage %d: %s.", max(f.Stage, 1), f.Says)
		if f.Stage == 0 {
			r.Says[len(r.Says)-1] = sentence(f.Says) + "."
		}
	}
	r.Short = "Yes: every pulley goes on its shaft."
	if bad > 0 {
		r.Short = fmt.Sprintf("Not all: %d of %d fits will not do.", bad, len(r.Says))
	}
	r.says("Dowel is only good to 0.2 mm: try one before a class does. To ask about any other pair, write --fit \"PULLEY on AXLE\".")
}

// AskFit answers whether a part goes on a shaft: "axle-30 on dowel-4", where the first
// is a pulley, wheel or drum of the cupboard, the second an axle or a motor. The error
// says what was not understood.
func AskFit(b *Build, pair string) (*Reply, error) {
	part, on, ok := strings.Cut(pair, " on ")
	part, on = strings.TrimSpace(part), strings.TrimSpace(on)
	if !ok || part == "" || on == "" {
		return nil, fmt.Errorf("%s is not a pair: write for example \"axle-30 on dowel-5\"", units.Quoted(pair))
	}
	cup := b.Cupboard
	hubs, shafts := map[string]constraints.Hub{}, map[string]units.Millimetres{}
	for i := range cup.Drums {
		hubs[cup.Drums[i].Name] = constraints.DrumHub(&cup.Drums[i])
	}
	for i := range cup.Wheels {
		hubs[cup.Wheels[i].Name] = constraints.WheelHub(&cup.Wheels[i])
	}
	for i := range cup.Pulleys {
		hubs[cup.Pulleys[i].Name] = constraints.PulleyHub(&cup.Pulleys[i])
	}
	for i := range cup.Motors {
		shafts[cup.Motors[i].Name] = cup.Motors[i].ShaftDiameter
	}
	for i := range cup.Axles {
		shafts[cup.Axles[i].Name] = cup.Axles[i].Diameter
	}
	hub, isHub := hubs[part]
	shaft, isShaft := shafts[on]
	switch {
	case b.Alone && !(isHub && isShaft):
		return nil, fmt.Errorf("%s: only the drive's own parts are known here: name the cupboard with -c", units.Quoted(pair))
	case !isHub:
		return nil, fmt.Errorf("the cupboard has no pulley, wheel or drum %s%s", units.Quoted(part), meant(part, slices.Sorted(maps.Keys(hubs))))
	case !isShaft:
		return nil, fmt.Errorf("the cupboard has no axle or motor %s%s", units.Quoted(on), meant(on, slices.Sorted(maps.Keys(shafts))))
	}
	return fitReply(b, hub, shaft, on), nil
}

func meant(word string, names []string) string {
	if near := tomlfile.Nearest(word, names); near != "" {
		return fmt.Sprintf(", did you mean %q?", near)
	}
	return ""
}

func fitReply(b *Build, hub constraints.Hub, shaft units.Millimetres, shaftName string) *Reply {
	ways, no := constraints.Joints(hub, shaft, b.Cupboard.Sleeves, b.Brief.Making)
	r := &Reply{Question: Question(fmt.Sprintf("will %s fit on %s", hub.Name, shaftName))}
	if no != nil {
		r.Short = "No: " + no.Say() + "."
		return r
	}
	r.Short = map[drive.JointKind]string{
		drive.PushFit:    "Yes: push it on.",
		drive.Glued:      "Yes, with a drop of glue: the bore is a little large.",
		drive.Sleeved:    "Yes, packed out with a piece of tube.",
		drive.DrilledOut: "Yes, if an adult drills the bore out, the part held in a vice.",
	}[ways[0].Kind]
	r.says("%s has a %s mm bore; %s is %s mm thick.", hub.Name, units.Decimals(float64(hub.Bore), 2), shaftName, units.Decimals(float64(shaft), 2))
	for _, j := range ways {
		if j.Sleeve != nil {
			r.says("The tube for it: %s.", j.Sleeve.Name)
		}
	}
	r.says("Dowel is only good to 0.2 mm: try one before a class does.")
	return r
}
