package built

import (
	"cmp"
	"math"
	"slices"

	"findrive/internal/drive"
	"findrive/internal/units"
)

// Suspect is a fault that may be behind what was seen and counted.
type Suspect struct {
	Fault Fault
	Stage int    // from 1; 0 for the whole drive
	Says  string // what is wrong, a sentence without its full stop
	Way   string // in which way, if that is known
	Look  string // how to see it within a minute; empty where only sizes are compared
	Mend  string
	Costs bool // the cure takes a new part
	// Share is how likely it is among all suspects, from 0 to 1: a rough figure, for it
	// rests on judgement of how common faults are.
	Share float64
	// Would is the output's speed with the fault in its likeliest way, as it would be
	// counted; 0 where it stands, and below 0 where numbers do not tell.
	Would units.RPM
}

func (e *evidence) suspects() []Suspect {
	ways := map[Fault][]tampered{}
	for _, t := range e.b.tamper() {
		ways[t.fault] = append(ways[t.fault], t)
		e.fastest = max(e.fastest, units.RPM(e.would(&t)))
	}
	var out []Suspect
	total := 0.0
	e.usual = e.usually(ways)
	for i := range faults {
		a := &faults[i]
		if !e.canHave(a) {
			continue
		}
		s := Suspect{Fault: a.fault, Says: a.says, Look: a.look, Mend: a.mend, Costs: a.costs, Would: -1}
		of := ways[a.fault]
		p := a.prior
		if len(of) > 0 {
			p *= e.best(of, &s)
		} else {
			p *= e.shown(a.fault, nil) * e.otherwiseCounted(a.fault)
		}
		p *= e.byWords(a.fault)
		if s.Share = p; p > 0 {
			total += p
			out = append(out, s)
		}
	}
	slices.SortStableFunc(out, func(a, b Suspect) int { return cmp.Compare(b.Share, a.Share) })
	for i := range out {
		out[i].Share /= total
	}
	return out
}

// leads is how many suspects stand for all that was told.
const leads = 4

// apart are the signs that none of the suspects that lead shows by, and what each comes from.
// Those that the drive's numbers tell are left to the numbers.
func (e *evidence) apart(lead []Suspect) []Apart {
	if len(e.signs) < 2 {
		return nil
	}
	var out []Apart
	for i, sign := range e.signs {
		shownBy := func(s Suspect) bool { return shows[sign][s.Fault] > background }
		if worked(sign) || slices.ContainsFunc(lead, shownBy) {
			continue
		}
		alone := evidence{b: e.b, signs: e.signs[i : i+1], told: e.told[i : i+1], unsure: e.unsure[i : i+1], ruledOut: e.ruledOut, sigma: e.sigma, due: e.due, wanted: e.wanted}
		all := slices.DeleteFunc(alone.suspects(), func(s Suspect) bool { return !shownBy(s) })
		if all = leading(all, leads/2); len(all) > 0 {
			out = append(out, Apart{sign, all})
		}
	}
	return out
}

// usually is how likely each thing that was told is with any fault, each as common as it is.
func (e *evidence) usually(ways map[Fault][]tampered) []float64 {
	out, all := make([]float64, len(e.told)), 0.0
	for k := range faults {
		a := &faults[k]
		if !e.canHave(a) {
			continue
		}
		all += a.prior
		for i := range out {
			of := ways[a.fault]
			if len(of) == 0 {
				out[i] += a.prior * e.thing(i, a.fault, nil)
			}
			for w := range of {
				out[i] += a.prior * of[w].weight * e.thing(i, a.fault, &of[w])
			}
		}
	}
	for i := range out {
		out[i] /= all
	}
	return out
}

// canHave reports whether the model can have a fault.
func (e *evidence) canHave(a *about) bool {
	return (len(a.on) == 0 || slices.Contains(a.on, e.b.Brief.Model)) && e.b.possible(a.fault)
}

// byWords is how many times as likely a fault is for what was told of it, or ruled out.
func (e *evidence) byWords(f Fault) float64 {
	worth := 1.0
	for _, n := range e.tells {
		if n.Fault == f {
			worth *= math.Pow(otherwise+(1-otherwise)*n.Worth, trusted)
		}
	}
	switch {
	case slices.Contains(e.cells, f):
		return worth * byName * byCounting
	case slices.Contains(e.names, f):
		return worth * byName
	case slices.Contains(e.ruledOut, f):
		return seenTo
	}
	return worth
}

// asLikely is how many times as likely a way with more cells must be than one with fewer
// to be named in place of it (judgement).
const asLikely = 1.1

// best weighs the ways of a fault, and writes into s the likeliest; of those that are about as
// likely the one that comes nearest to what was counted, and of numbers of cells the smallest.
func (e *evidence) best(of []tampered, s *Suspect) float64 {
	sum, most := 0.0, -1.0
	each := make([]float64, len(of))
	for i := range of {
		t := &of[i]
		each[i] = t.weight * e.counted(t) * e.moves(t) * e.shown(s.Fault, t)
		sum, most = sum+each[i], max(most, each[i])
	}
	chosen, least := -1, math.Inf(1)
	for i := range of {
		near := 0.0
		switch {
		case s.Fault == CellsMany && each[i] < most/asLikely, each[i] < most/2:
			continue
		case s.Fault == CellsMany: // the smallest comes first
		case len(e.counts) > 0 && of[i].turns > 0:
			near = math.Abs(math.Log(float64(e.counts[0].Turns) / e.would(&of[i])))
		case each[i] < most:
			continue
		}
		if near < least {
			chosen, least = i, near
		}
	}
	if chosen >= 0 {
		t := &of[chosen]
		s.Stage, s.Way, s.Would = t.stage, t.says, units.RPM(e.would(t))
	}
	// A way that is only one of many that are as likely is not said.
	if most < 0.25*sum && s.Fault != CellsMany {
		s.Way = ""
		if s.Fault == PulleyWrong || s.Fault == BandWrong || s.Fault == BandTight {
			s.Stage = 0
		}
	}
	return sum
}

// would is how many turns a drive that does as t does would be counted at on the likely day.
func (e *evidence) would(t *tampered) float64 {
	if len(e.counts) > 0 && e.counts[0].Timed {
		return float64(t.turns) * t.travel
	}
	return float64(t.turns)
}

// possible reports whether a drive can have a fault at all.
func (b *Build) possible(f Fault) bool {
	switch f {
	case CellsFew, CellReversed: // one cell alone the wrong way round only turns the motor round
		return b.Drive.Holder.Cells > 1
	case PulleysSwapped:
		return slices.ContainsFunc(b.Drive.Stages, func(s drive.Stage) bool { return s.Driver.Name != s.Driven.Name })
	}
	return true
}
