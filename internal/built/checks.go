package built

import (
	"cmp"
	"slices"
	"strings"

	"findrive/internal/units"
)

// Check is a look or a touch of a minute, and what it tells.
type Check struct {
	Do string // what to do, a sentence without its full stop
	// Tells are the faults that it tells apart, the likeliest first: those that a count
	// leaves about as likely as each other.
	Tells []Tell
	Share float64 // how likely it is to find one of them, from 0 to 1, as Suspect.Share
}

// Tell is one thing that a check may show.
type Tell struct {
	Fault Fault
	Says  string // what is seen, and what that means: a sentence without its full stop
}

// Words are the check and what it tells, in short sentences, the last without its full stop.
func (c *Check) Words() string {
	words := c.Do
	for _, t := range c.Tells {
		if !strings.HasSuffix(words, "?") {
			words += "."
		}
		words += " " + units.Capital(t.Says)
	}
	return words
}

// switchOff comes before every check where something may get hot.
const switchOff = "switch off at once: a motor that hums and stands gets hot within seconds; take the cells out if anything is hot"

// Looks are the checks in words, the first to be done first. Where the drive's own numbers
// explain what is seen, there are two, and what no number shows of it.
func (d *Diagnosis) Looks() []string {
	var out []string
	if d.Hot {
		out = append(out, switchOff)
	}
	most := len(d.Checks)
	if len(d.Advised()) > 0 {
		most = min(most, 2)
	}
	for i := range d.Checks[:most] {
		out = append(out, d.Checks[i].Words())
	}
	for _, a := range d.Advised() {
		for _, u := range a.Unseen {
			if !slices.Contains(out, u) {
				out = append(out, u)
			}
		}
	}
	return out[:min(len(out), mostChecks)]
}

// check is a check as it is known: all the faults that it tells apart, each with what is seen.
type check struct {
	do    string
	tells []Tell
}

// checks are the checks of a minute that tell several faults apart (common practice). A fault
// that is in none has a look of its own; see faults.
var checks = []check{
	{"swap its cells for as many of a model that runs well, each knob to its mark +", []Tell{
		{CellsTired, "if it runs well now, its own are tired"},
		{CellReversed, "an own cell may have lain the wrong way round"},
		{CellsFew, "there may have been fewer than the file says"},
		{CellsMany, "there may have been more than the file says"},
		{MotorOther, "if nothing changes, compare the motor with the other model's"},
	}},
	{"let it run without its load, then take the bands off and flick each axle", []Tell{
		{LoadHeavy, "if it runs well without, the load is too heavy"},
		{AxleStiff, "one that stops within two turns is stiff"},
		{BandTight, "if all coast, a band is too tight"},
		{Rubbing, "look for what touches the frame"},
		{AxleBent, "one whose end goes round in a ring is bent"},
		{AxleLoose, "one that clatters has too much play"},
	}},
	{"measure the parts and compare them with the file", []Tell{
		{PulleyWrong, "a pulley may be of another size"},
		{PulleysSwapped, "two pulleys may have changed places"},
		{WheelWrong, "the wheels may be of another size"},
		{DrumWrong, "the drum, with its cord on, may be of another size"},
		{BandWrong, "a band, laid flat, may be of another size"},
	}},
	{"draw a pencil line over each pulley, axle and band. Let it run for some seconds", []Tell{
		{PulleyLoose, "if it parts at an axle, that pulley is loose"},
		{BandSlack, "if it parts at a band that gives way to a finger, that band is slack"},
		{GrooveSlippery, "if it parts at a band that is tight, its groove is slippery"},
		{WheelLoose, "do the same on the wheels"},
		{BandAged, "look for cracks in the bands"},
	}},
	{"look at what it moves", []Tell{
		{LoadLopsided, "if one side always ends below, that side is too heavy"},
		{GripFloor, "if its wheels turn well off the floor, they slip on it"},
		{CordSlipping, "if the drum turns and the cord does not come, the cord slips on it"},
	}},
	{"touch the motor's wires straight to the holder for a moment", []Tell{
		{CircuitOpen, "if it runs now, a switch, joint or contact is bad"},
		{ShortCircuit, "bare ends may touch each other: take the cells out at once"},
		{MotorOneWay, "do so the other way round too: is it much slower?"},
	}},
	{"look along each band while you turn it slowly by hand", []Tell{
		{OutOfLine, "it must run straight into both grooves"},
		{PulleyWobble, "no rim may sway"},
		{BandWide, "the band must lie in the groove all round"},
		{BandKnot, "it must have no knot"},
		{BandCrossed, "it must be open or crossed as the file has it"},
		{AxleAskew, "axles must be square to the frame"},
		{BandOff, "each band must be on"},
	}},
}

const (
	// mostChecks is how many checks are worth telling, and mostTold how many faults of one.
	mostChecks, mostTold = 10, 3
	// alike is how likely a fault must be beside the likeliest of its check for the count not
	// to tell them apart (judgement).
	alike = 0.2
	// worthIt is how likely a check must be to find anything (judgement).
	worthIt = 0.04
)

// checksFor are the checks by how likely each is to find what is wrong.
func checksFor(suspects []Suspect) []Check {
	all := make([]Check, len(checks))
	var alone []Check
	for i := range suspects {
		s := &suspects[i]
		k, tell := checkOf(s.Fault)
		if k < 0 {
			if s.Look != "" {
				alone = append(alone, Check{s.Look, []Tell{{s.Fault, "it may be that " + s.Says}}, s.Share})
			}
			continue
		}
		c := &all[k]
		c.Do, c.Share = checks[k].do, c.Share+s.Share
		if s.Way != "" && comparesParts(s.Fault) {
			tell.Says += " (" + s.Way + "?)"
		}
		if len(c.Tells) == 0 || len(c.Tells) < mostTold && s.Share >= alike*c.first(suspects) {
			c.Tells = append(c.Tells, tell)
		}
	}
	all = append(all, alone...)
	slices.SortStableFunc(all, func(a, b Check) int { return cmp.Compare(b.Share, a.Share) })
	all = slices.DeleteFunc(all, func(c Check) bool { return c.Share < worthIt })
	return all[:min(len(all), mostChecks)]
}

// comparesParts reports whether a fault is one part that is not the right one, of which its
// way tells which it may be.
func comparesParts(f Fault) bool {
	return slices.Contains([]Fault{PulleyWrong, WheelWrong, DrumWrong, BandWrong, MotorOther}, f)
}

// first is how likely the likeliest fault of a check is.
func (c *Check) first(suspects []Suspect) float64 {
	i := slices.IndexFunc(suspects, func(s Suspect) bool { return s.Fault == c.Tells[0].Fault })
	return suspects[i].Share
}

// checkOf is the check that tells a fault, and what it shows of it; -1 if it has none.
func checkOf(f Fault) (int, Tell) {
	for k := range checks {
		for _, t := range checks[k].tells {
			if t.Fault == f {
				return k, t
			}
		}
	}
	return -1, Tell{}
}
