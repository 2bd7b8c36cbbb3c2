package built

import (
	"slices"
	"strings"

	"findrive/internal/brief"
)

// naming is a way in which people name a fault outright, or rule it out: meanings that
// must all stand in a sentence, in words apart, and those that must not. What is named is
// not only a sign of something: a knot that is seen is a knot.
type naming struct {
	fault Fault
	sign  Symptom // what is seen of it, where nothing else was said
	all   string
	none  string
}

// namings are what is named, and ruledOut what somebody has looked at already.
var namings = []naming{
	{BandKnot, Jerks, "band knot", ""},
	{BandKnot, Jerks, "knot jerk", "cord"},
	{GrooveSlippery, Slips, "oily slip", "floor wheelsp cord"},
	{GrooveSlippery, Slips, "oily band", "floor axle"},
	{GrooveSlippery, Slips, "oily pulley", "floor axle stiff"},
	{CircuitOpen, CutsOut, "wire faulty", "knot hot bare"},
	{ShortCircuit, CellsHot, "bare bare", "band pulley axle wheel floor"},
	{AxleLoose, Rattles, "axle play", "pulley wheel band not"},
	{AxleLoose, Rattles, "play hole", "pulley wheel band"},
	{AxleLoose, Rattles, "hole wide", "pulley wheel band"},
	{AxleBent, Wobbles, "axle bend", "band pulled"},
	{AxleAskew, Curves, "axle askew", "hole"},
	{AxleAskew, Curves, "axle not square", ""},
	{BandAged, Snaps, "band aged", "slack tired"},
	{BandOff, MotorOnly, "band lying", ""},
	{CellsMany, TooFast, "battery more", ""},
	{CellsMany, TooFast, "battery instead", "fresh"},
	{CellsFew, TooSlow, "battery instead", "fresh"},
	{CellsFew, TooSlow, "battery fewer", ""},
	{WheelLoose, MotorOnly, "oneway wheel other", "pulley"},
	{WheelLoose, MotorOnly, "oneway wheel not", "pulley straight"},
	{WheelLoose, MotorOnly, "wheel axle spin not", "pulley motor"},
	{WheelLoose, MotorOnly, "wheel slip axle", "pulley"},
	{WheelLoose, MotorOnly, "wheel slack", "band pulley"},
	{OutOfLine, JumpsOff, "pulley not line", "curve"},
	{OutOfLine, JumpsOff, "band not line", "curve"},
	{LoadLopsided, Uneven, "same side down", "band cord"},
	{LoadLopsided, Uneven, "oneway side heavy", ""},
	{LoadHeavy, LoadStops, "load heavy", "side oneway"},
	{BandWide, Climbs, "band wide", "byhand"},
	{WheelWrong, TooSlow, "wheel size wrong", "way move2"},
	{CellReversed, TooSlow, "battery upside way", "motor"},
	{PulleysSwapped, TooFast, "pulley swapped", "size"},
	{MotorOther, TooFast, "motor other", "way group2 wheel side"},
}

// ruledOut are faults that somebody has seen to already.
var ruledOut = []naming{
	{fault: CellsTired, all: "battery fresh", none: "not"},
	{fault: BandAged, all: "band fresh", none: "not"},
}

// What is heard in words was not meant so so often, and what is chosen from what is offered so
// often. What words tell of faults is so often no more than chance, and counts by that power
// (judgement, and by hearing lists that were not learned by).
const (
	mishearing  = 0.4
	misspeaking = 0.05
	otherwise   = 0.03
	trusted     = 1
)

// What a name is worth against the other faults: people who name a thing are mostly right
// (judgement).
const (
	byName = 8
	// Of another number of cells that was counted, so many times more: it is seen at a glance.
	byCounting = 20
	seenTo     = 0.1
	named      = 0.5 // how likely whatever else is told is with what is named
	nameShare  = 0.6 // of a sign that is taken from a name alone
)

// Named are the faults that a text names outright, and those that it rules out.
func Named(text string, model brief.Model) (named, out []Fault) {
	for _, part := range append(clauses(strings.ToLower(text)), tokens(text)) {
		of, _ := lexicon(part)
		named = append(named, namedIn(of, namings, model)...)
		named = append(named, statesNamed(part, model)...)
		if !says(of, []string{"battery", "band"}) {
			out = append(out, namedIn(of, ruledOut, model)...) // else either may be the fresh one
		}
	}
	plain := strings.ToLower(text)
	named = distinctFaults(append(named, phrased(plain, model)...))
	out = append(out, cleared(plain)...)
	if unchanged.MatchString(plain) {
		out = slices.DeleteFunc(out, func(f Fault) bool { return f == CellsTired })
	}
	if slices.Contains(out, CellsTired) {
		named = slices.DeleteFunc(named, func(f Fault) bool { return f == CellsTired })
	}
	if slices.Contains(named, BandTight) && slices.Contains(named, BandSlack) {
		// Now tight, now loose: what is wrong is what it runs on.
		named = slices.DeleteFunc(named, func(f Fault) bool { return f == BandTight || f == BandSlack })
		if !slices.Contains(named, PulleyWobble) {
			named = append(named, PulleyWobble)
		}
	}
	return named, distinctFaults(out)
}

func namedIn(of [][]string, list []naming, model brief.Model) []Fault {
	var out []Fault
	for i := range list {
		n := &list[i]
		if n.in(of, model) {
			out = append(out, n.fault)
		}
	}
	return out
}

func (n *naming) in(of [][]string, model brief.Model) bool {
	a := aboutFault(n.fault)
	if len(a.on) > 0 && !seenOnModels(a.on, model) || !says(of, strings.Fields(n.all)) {
		return false
	}
	for _, m := range strings.Fields(n.none) {
		if says(of, []string{m}) {
			return false
		}
	}
	return true
}

func seenOnModels(on []brief.Model, model brief.Model) bool {
	for _, m := range on {
		if m == model {
			return true
		}
	}
	return false
}

func distinctFaults(list []Fault) []Fault {
	var out []Fault
	seen := map[Fault]bool{}
	for _, f := range list {
		if !seen[f] {
			seen[f] = true
			out = append(out, f)
		}
	}
	return out
}
