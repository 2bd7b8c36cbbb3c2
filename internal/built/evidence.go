package built

import (
	"math"
	"slices"

	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/units"
)

// leastSpread is what a motor that was counted, new cells and measured bands still differ
// by: the standard deviation of the logarithm (judgement).
const leastSpread = 0.03

// withinRange is how many standard deviations a forecast's range reaches: it holds nine models
// of ten, and of a normal law that are 1.645 either way.
const withinRange = 2 * 1.645

// spread is the standard deviation of the logarithm of a speed that is known to a range.
func spread(r design.SpeedRange) float64 {
	if !(r.Low > 0) || !(r.Likely > 0) {
		return max(leastSpread, drive.MotorUncertainty/2)
	}
	return max(leastSpread, math.Log(float64(r.High/r.Low))/withinRange)
}

// evidence is what is known of a drive.
type evidence struct {
	b           *Build
	signs       []Symptom
	told        [][]Maybe // of each thing that was told, what it may mean
	counts      []Count
	names       []Fault // what was named outright
	cells       []Fault // of those, what follows of cells that were counted
	ruledOut    []Fault // what was seen to already
	tells       []Naming
	sigma       float64
	unsure      []float64 // how likely each was not meant so
	usual       []float64 // how likely each thing that was told is, whatever the fault
	due, wanted units.RPM
	sound       daily     // the drive as its file says, where something was counted
	fastest     units.RPM // that it would be counted at with any one fault
}

// beyondAll is how many times as fast as with any one fault a model must be counted for something
// else to have been counted (judgement).
const beyondAll = 2

// beyond reports whether every count is faster than any one fault explains.
func (e *evidence) beyond() bool {
	return len(e.counts) > 0 && e.due > 0 && !slices.ContainsFunc(e.counts, func(c Count) bool { return c.Turns < beyondAll*max(e.due, e.fastest) })
}

// farOff is how many standard deviations a count may be from what is due.
const farOff = 1.8

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
	var by map[condition]float64
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
	case Strains:
		by = map[condition]float64{runs: 1, stands: 0.5, startsOnly: 0.5, bandGives: 0.1, motorAlone: background, lifeless: background}
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
const leastLikely = 2e-3

// jointly is how likely counts are that are off by so much in the logarithm: each by its
// own counting, and all together by what is uncertain about the drive, sigma, which they share.
func (e *evidence) jointly(sigma float64, off func(c *Count) float64) float64 {
	if len(e.counts) == 0 {
		return 1
	}
	density, a, b, c := 1.0, 0.0, 0.0, 0.0
	for i := range e.counts {
		r, s := off(&e.counts[i]), max(e.counts[i].Sigma, leastSpread)
		density /= s
		a, b, c = a+1/(s*s), b+r/(s*s), c+r*r/(s*s)
	}
	shared := sigma * sigma
	density *= math.Exp(-(c-b*b*shared/(1+shared*a))/2) / math.Sqrt(1+shared*a)
	return leastLikely + density
}

// counted is how likely the counts are with a drive that does as t does, from day to day.
func (e *evidence) counted(t *tampered) float64 {
	if len(e.counts) == 0 {
		return 1
	}
	never := leastLikely
	if e.ran() {
		never = 0
	}
	if t.is == lifeless || t.is == motorAlone || !(t.turns > 0) && !(e.sound.sd > 0) {
		return never
	}
	share, mean, sigma := 1.0, math.Log(float64(t.turns)), e.sigma
	if e.sound.sd > 0 && !(t.turns > 0 && e.farFrom(t)) {
		if t.days == nil {
			d := t.build.onDays(t.tweak, float64(t.turns)/(1-t.slip))
			t.days = &d
		}
		if t.days.share == 0 {
			return never
		}
		share, mean = t.days.share, t.days.mean+math.Log(1-t.slip)
		sigma *= min(mostWider, max(1/mostWider, t.days.sd/e.sound.sd))
	}
	return leastLikely + share*e.jointly(sigma, func(c *Count) float64 {
		off := math.Log(float64(c.Turns)) - mean
		if c.Timed {
			off -= math.Log(t.travel)
		}
		return off
	})
}

// moves is how well a drive that does as t does tells why what was said to be too slow or too fast
// was counted so, or what was counted far from what is due: not at all where it would do about as the sound one does, whatever the count, and
// wholly where it makes up for half of the way (judgement).
func (e *evidence) moves(t *tampered) float64 {
	slow, fast := slices.Contains(e.signs, TooSlow), slices.Contains(e.signs, TooFast)
	if len(e.signs) == 0 && len(e.counts) > 0 && !e.within(&e.counts[0]) {
		slow = e.counts[0].Turns < e.due
		fast = !slow
	}
	if len(e.counts) == 0 || slow == fast || t.is != runs || !(t.turns > 0) || !(e.due > 0) {
		return 1
	}
	way := math.Log(float64(e.counts[0].Turns / e.due))
	if slow != (way < 0) || math.Abs(way) < leastSpread {
		return 1
	}
	gone := math.Log(e.would(t) / float64(e.due))
	return background + (1-background)*max(0, min(1, (gone/way-0.15)/0.25))
}

// mostWider is how many times as wide at most the speeds of a drive with a fault are spread as
// those of the sound one: few days say no more (judgement).
const mostWider = 4

// farFrom reports whether a drive that does as t does on the likely day is so far from every
// count that no day is likely to make up for it.
func (e *evidence) farFrom(t *tampered) bool {
	for i := range e.counts {
		turns := float64(t.turns)
		if e.counts[i].Timed {
			turns *= t.travel
		}
		if math.Abs(math.Log(float64(e.counts[i].Turns)/turns)) <= max(farWay, 6*e.sigma) {
			return false
		}
	}
	return true
}

// farWay is a factor of three, in the logarithm (judgement).
const farWay = 1.1

// otherwiseCounted is how likely the counts are with a fault that numbers do not tell: it
// changes nothing about the speed, or, for one that slows the drive, half the time slows it
// by any amount, and less often where it seldom shows so (judgement). Where it is said to be
// too slow or too fast, or nothing is said besides the count, a fault that changes nothing about the speed is seldom behind it.
func (e *evidence) otherwiseCounted(f Fault) float64 {
	if standing(f) && e.ran() && !e.speaksOf(f) {
		return 0
	}
	by := func(times float64) float64 {
		return e.jointly(e.sigma, func(c *Count) float64 {
			return math.Log(float64(c.Turns) / (times * math.Max(float64(e.due), 1e-9)))
		})
	}
	as := by(1)
	if len(e.counts) == 0 {
		return as
	}
	if len(e.signs) == 0 || slices.Contains(e.signs, TooSlow) || slices.Contains(e.signs, TooFast) {
		as *= background
	}
	if !slows(f) {
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

// standing reports whether a model with a fault that numbers do not tell stands: whoever counted
// its turns had a closed circuit and every band on.
func standing(f Fault) bool { return f == CircuitOpen || f == ShortCircuit || f == BandOff }

// ran reports whether the model was counted turning, and nothing is told of it that stands or
// stops.
func (e *evidence) ran() bool {
	return len(e.counts) > 0 && !slices.ContainsFunc(e.counts, func(c Count) bool { return !(c.Turns > 0) }) &&
		!slices.ContainsFunc(e.signs, func(s Symptom) bool {
			return slices.Contains([]Symptom{Nothing, NoGo, NeedsPush, MotorOnly, CutsOut, LoadStops}, s)
		})
}

// speaksOf reports whether what was told names a fault or shows it otherwise than in the speed.
func (e *evidence) speaksOf(f Fault) bool {
	return slices.Contains(e.names, f) || slices.ContainsFunc(e.signs, func(s Symptom) bool { return s != TooSlow && shows[s][f] > background })
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
	for i, usual := range e.usual {
		p *= (1-e.unsure[i])*e.thing(i, f, t) + e.unsure[i]*usual
	}
	return p
}

// thing is how likely one of the things that were told is.
func (e *evidence) thing(i int, f Fault, t *tampered) float64 {
	sum, shares := 0.0, 0.0
	for _, m := range e.told[i] {
		sum += m.Share * e.one(m.Sign, f, t)
		shares += m.Share
	}
	sum += background * max(0, 1-shares)
	if slices.Contains(e.names, f) {
		sum = max(sum, named)
	}
	return sum
}

// one is how likely one sign is: by the judgement of how often the fault shows so, and by
// what the drive worked out with it does; where that is sign enough, by that alone. What a
// count says better is left to it.
func (e *evidence) one(s Symptom, f Fault, t *tampered) float64 {
	byCount := (s == TooFast || s == TooSlow) && len(e.counts) > 0
	switch {
	case t == nil && byCount: // see otherwiseCounted
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
