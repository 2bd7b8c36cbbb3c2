package built

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/units"
)

// Count is what was counted or timed on the model, as evidence of what is wrong.
type Count struct {
	Words string
	// Turns are the output's, as they were counted, or as the way that was timed means them
	// with the wheel or drum of the file; Timed says which.
	Turns units.RPM
	Timed bool
	Sigma float64 // how well it was counted: standard deviation of the logarithm
}

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

// Diagnosis is what may be wrong with a built drive, by all that was seen and counted.
type Diagnosis struct {
	Heard  []Hearing
	Counts []Count
	// Due is the range that the drive's own numbers foretell, of the output.
	Due design.SpeedRange
	// Fits reports whether every count is within what motors, cells and bands differ by,
	// so that by the counts nothing need be wrong. True without counts.
	Fits     bool
	Suspects []Suspect // the likeliest first
	// Runs reports that it was counted turning where by its file it should stand. Suspects
	// are then only those with which it would turn, and may be none.
	Runs bool
	Look []string // what to look at first, within a minute: no number shows it
	// Advice answers the signs that the drive's own numbers show: it is built as its file
	// says, and cannot do better.
	Advice []*Advice
}

// Advised are the causes in the drive's own numbers that lead, before the suspects; none
// where the counts speak against the file.
func (d *Diagnosis) Advised() []*Advice {
	if !d.Fits {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(d.Advice), func(a *Advice) bool { return !a.Shows() })
}

// Diagnose weighs every fault by all that was seen, heard and counted: how common it is,
// how often it shows so, and what the drive, worked out with that fault in it, would do.
// The context ends the search of changes early. The error is that of Work.
func Diagnose(ctx context.Context, b *Build, heard []Hearing, counts []Count) (*Diagnosis, error) {
	w, err := Work(b)
	if err != nil {
		return nil, err
	}
	d := &Diagnosis{Heard: heard, Counts: counts, Due: w.Speed, Fits: true}
	e := evidence{b: b, counts: counts, sigma: spread(w.Speed), due: w.Speed.Likely, wanted: w.Target}
	for _, h := range heard {
		e.signs = append(e.signs, h.Sign)
		e.names, e.ruledOut = append(e.names, h.Names...), append(e.ruledOut, h.RulesOut...)
		e.told = append(e.told, append([]Maybe{{h.Sign, h.Sure}}, h.Maybe...))
	}
	for i := range counts {
		d.Fits = d.Fits && e.within(&counts[i])
	}
	d.Suspects = e.suspects()
	if d.Runs = len(counts) > 0 && !(d.Due.Likely > 0); d.Runs {
		d.Suspects = slices.DeleteFunc(d.Suspects, func(s Suspect) bool { return !(s.Would > 0) })
	}
	for _, s := range e.signs {
		if !s.Measured() || s == TooFast && !(w.Target > 0) {
			continue
		}
		a, err := Advise(ctx, b, s)
		if err != nil {
			return nil, err
		}
		d.Advice = append(d.Advice, a)
	}
	most := mostLooks
	if len(d.Advised()) > 0 {
		most = 2 // its own numbers explain it
	}
	if d.Runs {
		most = min(most, len(d.Suspects))
	}
	d.Look = looks(e.signs, d.Suspects, most)
	return d, nil
}

// leastSpread is what a motor that was counted, new cells and measured bands still differ
// by: the standard deviation of the logarithm (judgement).
const leastSpread = 0.03

// spread is the standard deviation of the logarithm of a speed that is known to a range,
// which is taken as two of them either way.
func spread(r design.SpeedRange) float64 {
	if !(r.Low > 0) || !(r.Likely > 0) {
		return max(leastSpread, drive.MotorUncertainty/2)
	}
	return max(leastSpread, math.Log(float64(r.High/r.Low))/4)
}

// evidence is what is known of a drive.
type evidence struct {
	b           *Build
	signs       []Symptom
	told        [][]Maybe // of each thing that was told, what it may mean
	counts      []Count
	names       []Fault // what was named outright
	ruledOut    []Fault // what was seen to already
	sigma       float64
	due, wanted units.RPM
}

// farOff is how many standard deviations a count may be from what is due.
const farOff = 2.2

func (e *evidence) within(c *Count) bool {
	if !(e.due > 0) {
		return false
	}
	return math.Abs(math.Log(float64(c.Turns/e.due))) <= farOff*math.Hypot(e.sigma, c.Sigma)
}

// notable is how far off a speed must be for people to call it too fast or too slow: a
// seventh (judgement).
const notable = 0.15

// seen is how likely a sign is with a drive that does as t does. Signs that say nothing of
// turning say nothing here.
func (e *evidence) seen(s Symptom, t *tampered) float64 {
	ratio := math.Inf(-1)
	if t.is == runs && t.turns > 0 && e.due > 0 {
		ratio = math.Log(float64(t.turns) * t.travel / float64(e.due))
	}
	by := map[condition]float64{}
	switch s {
	case TooFast:
		if t.is == runs {
			return max(background, normal((ratio-notable)/e.sigma))
		}
		return background
	case TooSlow, Odd:
		if t.is == runs {
			return max(background, normal((-ratio-notable)/e.sigma))
		}
		by = map[condition]float64{stands: 0.1, startsOnly: 0.3, bandGives: 0.1, motorAlone: background, lifeless: background}
	case NoGo:
		by = map[condition]float64{runs: background, stands: 1, startsOnly: 0.7, bandGives: 0.1, motorAlone: 0.05, lifeless: 0.05}
	case NeedsPush:
		by = map[condition]float64{runs: 0.1, stands: 0.3, startsOnly: 1, bandGives: 0.2, motorAlone: 0.05, lifeless: background}
	case Nothing:
		by = map[condition]float64{runs: background, stands: 0.15, startsOnly: 0.15, bandGives: 0.1, motorAlone: 0.1, lifeless: 1}
	case MotorOnly:
		by = map[condition]float64{runs: background, stands: 0.05, startsOnly: 0.05, bandGives: 0.4, motorAlone: 1, lifeless: background}
	case Slips: // a drive that runs, worked out with a fault, may slip a little all the same
		by = map[condition]float64{runs: 0.3, stands: 0.2, startsOnly: 0.5, bandGives: 1, motorAlone: 0.3, lifeless: background}
	case Fades, Jerks, Slower:
		by = map[condition]float64{runs: 1, stands: 0.4, startsOnly: 0.5, bandGives: 1, motorAlone: 0.5, lifeless: background}
	default:
		return 1
	}
	return by[t.is]
}

// normal is the standard normal distribution.
func normal(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }

// leastLikely is how likely any count is, whatever the fault: people miscount (judgement).
const leastLikely = 1e-4

// jointly is how likely counts are that are off by so much in the logarithm: each by its
// own counting, and all together by what is uncertain about the drive, which they share.
func (e *evidence) jointly(off func(c *Count) float64) float64 {
	if len(e.counts) == 0 {
		return 1
	}
	density, a, b, c := 1.0, 0.0, 0.0, 0.0
	for i := range e.counts {
		r, s := off(&e.counts[i]), max(e.counts[i].Sigma, leastSpread)
		density /= s
		a, b, c = a+1/(s*s), b+r/(s*s), c+r*r/(s*s)
	}
	shared := e.sigma * e.sigma
	density *= math.Exp(-(c-b*b*shared/(1+shared*a))/2) / math.Sqrt(1+shared*a)
	return leastLikely + density
}

// counted is how likely the counts are with a drive that does as t does.
func (e *evidence) counted(t *tampered) float64 {
	if len(e.counts) > 0 && !(t.turns > 0) {
		return leastLikely
	}
	return e.jointly(func(c *Count) float64 {
		turns := float64(t.turns)
		if c.Timed {
			turns *= t.travel
		}
		return math.Log(float64(c.Turns) / turns)
	})
}

// otherwiseCounted is how likely the counts are with a fault that numbers do not tell: it
// changes nothing about the speed, or, for one that slows the drive, half the time slows it
// by any amount, and less often where it seldom shows so (judgement).
func (e *evidence) otherwiseCounted(f Fault) float64 {
	by := func(times float64) float64 {
		return e.jointly(func(c *Count) float64 {
			return math.Log(float64(c.Turns) / (times * math.Max(float64(e.due), 1e-9)))
		})
	}
	as := by(1)
	if len(e.counts) == 0 || !slows(f) {
		return as
	}
	ways, sum := even(0.15, 0.9), 0.0
	for _, times := range ways {
		sum += by(times)
	}
	often := 0.5
	if p := shows[TooSlow][f]; p > 0 {
		often = min(often, p)
	}
	return (1-often)*as + often*sum/float64(len(ways))
}

// slows reports whether a fault that numbers do not tell slows a drive.
func slows(f Fault) bool {
	switch f {
	case OutOfLine, BandAged, GrooveSlippery, PulleyWobble, BandCrossed, BandWide, MotorOneWay, LoadLopsided, GripFloor, AxleAskew, WheelLoose, MotorLoose, CordSlipping, BandKnot, CircuitOpen:
		return true
	}
	return false
}

// worked reports whether what a drive does is sign enough, so that a fault that numbers
// tell needs no judgement of how often it shows so.
func worked(s Symptom) bool {
	switch s {
	case TooFast, TooSlow, NoGo, NeedsPush, Nothing, MotorOnly:
		return true
	}
	return false
}

// shown is how likely all that was told is with a fault, in a drive that does as t does; t
// is nil for a fault that numbers do not tell. Of what may be meant, each is weighed by how
// likely it is.
func (e *evidence) shown(f Fault, t *tampered) float64 {
	p := 1.0
	for _, maybe := range e.told {
		sum, shares := 0.0, 0.0
		for _, m := range maybe {
			sum += m.Share * e.one(m.Sign, f, t)
			shares += m.Share
		}
		sum += background * max(0, 1-shares)
		if slices.Contains(e.names, f) {
			sum = max(sum, named)
		}
		p *= sum
	}
	return p
}

// one is how likely one sign is: by the judgement of how often the fault shows so, and by
// what the drive worked out with it does; where that is sign enough, by that alone. What a
// count says better is left to it.
func (e *evidence) one(s Symptom, f Fault, t *tampered) float64 {
	byCount := (s == TooFast || s == TooSlow) && len(e.counts) > 0
	switch {
	case t == nil && byCount && shows[s][f] > 0:
		return 1
	case t == nil:
		return max(background, shows[s][f])
	case byCount:
		return 1
	case worked(s):
		return e.seen(s, t)
	}
	return max(background, shows[s][f]) * e.seen(s, t)
}

func (e *evidence) suspects() []Suspect {
	ways := map[Fault][]tampered{}
	for _, t := range e.b.tamper() {
		ways[t.fault] = append(ways[t.fault], t)
	}
	var out []Suspect
	total := 0.0
	for i := range faults {
		a := &faults[i]
		if len(a.on) > 0 && !slices.Contains(a.on, e.b.Brief.Model) || !e.b.possible(a.fault) {
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
		p *= e.byName(a.fault)
		s.Share = p
		total += p
		out = append(out, s)
	}
	slices.SortStableFunc(out, func(a, b Suspect) int { return cmp.Compare(b.Share, a.Share) })
	for i := range out {
		out[i].Share /= total
	}
	return out
}

// byName is how many times as likely a fault is for having been named, or ruled out.
func (e *evidence) byName(f Fault) float64 {
	switch {
	case slices.Contains(e.names, f):
		return byName
	case slices.Contains(e.ruledOut, f):
		return seenTo
	}
	return 1
}

// asLikely is how many times as likely a way with more cells must be than one with fewer
// to be named in place of it (judgement).
const asLikely = 1.1

// best weighs the ways of a fault, and writes the likeliest into s. Of numbers of cells
// that are about as likely the smallest is written.
func (e *evidence) best(of []tampered, s *Suspect) float64 {
	sum, most := 0.0, -1.0
	for i := range of {
		t := &of[i]
		p := t.weight * e.counted(t) * e.shown(s.Fault, t)
		sum += p
		than := most
		if s.Fault == CellsMany && than > 0 {
			than *= asLikely
		}
		if p > than {
			most = p
			s.Stage, s.Way, s.Would = t.stage, t.says, t.turns
			if len(e.counts) > 0 && e.counts[0].Timed {
				s.Would *= units.RPM(t.travel)
			}
		}
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

// mostLooks is how many things can be looked at within a minute (judgement).
const mostLooks = 4

// looks is what to look at first: for a motor that stands, switching off; then how each of
// the likeliest suspects is seen, what costs nothing before what costs.
func looks(signs []Symptom, suspects []Suspect, most int) []string {
	var out []string
	if slices.ContainsFunc(signs, func(s Symptom) bool { return s == NoGo || s == NeedsPush || s == Hot || s == CellsHot }) {
		out = append(out, "switch off at once: a motor that hums and stands gets hot within seconds; take the cells out if anything is hot")
	}
	for _, costs := range []bool{false, true} {
		for i := range suspects[:min(len(suspects), most)] {
			s := &suspects[i]
			if s.Costs == costs && s.Look != "" && s.Share > 0.04 {
				look := s.Look
				if !strings.HasSuffix(look, "?") {
					look += "."
				}
				out = append(out, fmt.Sprintf("%s It may be that %s", look, s.Says))
			}
		}
	}
	for _, s := range signs {
		for _, u := range unseen[s] {
			if len(out) > most {
				return out
			}
			if !slices.Contains(out, u) {
				out = append(out, u)
			}
		}
	}
	return out
}
