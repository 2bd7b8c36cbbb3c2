package built

import (
	"fmt"
	"math"
	"slices"

	"findrive/internal/brief"
	"findrive/internal/drive"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// tampering is one way in which a fault may be in a drive, and how to work it out.
type tampering struct {
	fault  Fault
	stage  int     // from 1; 0 for the whole drive
	weight float64 // among the ways of the fault; they add up to 1
	says   string  // which way it is; empty where the fault says all
	do     func(b *Build)
	tweak  func(m *drive.Model)
	slip   float64 // share of the turns that are lost; 1: none arrive
	travel float64 // way for each turn, over what it should be; 0 stands for 1
	dead   bool    // no current flows
}

// How a drive is, with a fault in it.
type condition int

const (
	runs condition = iota
	stands
	startsOnly // runs on once it is pushed
	bandGives  // the motor runs, a band slips or has nothing to hold
	motorAlone // the motor runs, and its turns are lost unseen
	lifeless
)

// tampered is a drive worked out with a fault in it.
type tampered struct {
	tampering
	is     condition
	turns  units.RPM // of the output
	travel float64   // over the way that is due for each turn
	build  *Build    // with the fault in it, but for the tweak
	days   *daily    // worked out where it is asked for
}

// tamper works every way of every fault out that numbers can tell.
func (b *Build) tamper() []tampered {
	var out []tampered
	for _, t := range b.tamperings() {
		x := tampered{tampering: t, travel: max(t.travel, 0)}
		if x.travel == 0 {
			x.travel = 1
		}
		o := b
		if t.do != nil {
			o = b.copied()
			t.do(o)
		}
		x.build = o
		s, err := o.atWith(drive.Conditions{}, t.tweak)
		switch {
		case t.dead || err != nil:
			x.is = lifeless
		case t.slip >= 1:
			x.is = motorAlone
		case s.stop == OffBand || s.stop == BandSlips:
			x.is = bandGives
		case s.stop == Stalls:
			x.is = stands
		case s.stop == NoStart:
			x.is = startsOnly
		default:
			x.turns = s.speed * units.RPM(1-t.slip)
		}
		out = append(out, x)
	}
	return out
}

// tamperings are the ways of every fault in this drive; the weights of each fault's ways
// add up to 1.
func (b *Build) tamperings() []tampering {
	var out []tampering
	add := func(list ...tampering) {
		sum := 0.0
		for _, t := range list {
			sum += t.weight
		}
		for _, t := range list {
			if t.weight > 0 {
				t.weight /= sum
				out = append(out, t)
			}
		}
	}
	add(b.cellWays()...)
	add(b.reversedWays()...)
	add(b.countWays()...)
	add(b.fewWays()...)
	add(b.stiffWays(AxleStiff)...)
	add(b.stiffWays(Rubbing)...)
	add(b.stiffWays(AxleBent)...)
	add(b.lopsidedWays()...)
	add(b.swappedWays()...)
	add(b.wrongPulleyWays()...)
	add(b.wrongRoundWays()...)
	add(b.motorWays()...)
	add(b.bandWays()...)
	add(b.tightWays()...)
	add(b.lossWays(BandSlack)...)
	add(b.lossWays(PulleyLoose)...)
	add(b.loadWays()...)
	return out
}

// even are so many figures between two, by even steps of a factor, that the range of a
// speed is wider than the step.
func even(least, most float64) []float64 {
	const steps = 20
	var out []float64
	for i := range steps + 1 {
		out = append(out, least*math.Pow(most/least, float64(i)/steps))
	}
	return out
}

// cellWays: tired cells give from nine tenths to a third of what new ones give under load
// (judgement: a 1.5 V cell under 1.2 V at work counts as flat, common practice).
func (b *Build) cellWays() []tampering {
	var out []tampering
	for _, share := range even(0.35, 0.92) {
		out = append(out, tampering{fault: CellsTired, weight: 1, tweak: func(m *drive.Model) { m.Supply.Open *= units.Volts(share) }})
	}
	return out
}

// reversedWays: a cell that is the wrong way round takes its own voltage and that of
// another away. One cell alone then turns the motor backwards, two do nothing.
func (b *Build) reversedWays() []tampering {
	n := b.Drive.Holder.Cells
	switch {
	case n < 2:
		return nil
	case n == 2:
		return []tampering{{fault: CellReversed, weight: 1, says: "with one of 2 cells the wrong way round no voltage is left", dead: true}}
	}
	left := float64(n-2) / float64(n)
	return []tampering{{fault: CellReversed, weight: 1, says: fmt.Sprintf("of %d cells the voltage of %d is left", n, n-2), tweak: func(m *drive.Model) { m.Supply.Open *= units.Volts(left) }}}
}

func (b *Build) withCells(f Fault, n int, weight float64) tampering {
	return tampering{fault: f, weight: weight, says: fmt.Sprintf("%s in place of %d", cells(n), b.Drive.Holder.Cells), do: func(b *Build) {
		h := *b.Drive.Holder
		h.Cells = n
		b.Drive.Holder = &h
	}}
}

func (b *Build) countWays() []tampering {
	var out []tampering
	for n := b.Drive.Holder.Cells + 1; n <= 2*b.Drive.Holder.Cells+1 && n <= 8; n++ {
		weight := unknownSize
		if slices.ContainsFunc(b.Cupboard.Holders, func(h parts.CellHolder) bool { return h.Cells == n }) {
			weight = 1
		}
		out = append(out, b.withCells(CellsMany, n, weight))
	}
	return out
}

func (b *Build) fewWays() []tampering {
	if n := b.Drive.Holder.Cells; n > 1 {
		return []tampering{b.withCells(CellsFew, n-1, 1)}
	}
	return nil
}

// stiffWays: what the output takes to turn, over what is right: by even steps of a factor
// from half as much again to three times what the drive can bear, past which it stands
// (judgement: an axle may bind by any amount).
func (b *Build) stiffWays(f Fault) []tampering {
	const least, beyond = 1.5, 3
	most := beyond * max(b.bears(), least)
	var out []tampering
	for _, times := range even(least, most) {
		out = append(out, tampering{fault: f, weight: 1, tweak: harder(times)})
	}
	return out
}

// lopsidedWays: a ride on a level axle whose one side is heavier by up to half its mass.
func (b *Build) lopsidedWays() []tampering {
	if b.Brief.Model != brief.LevelRide {
		return nil
	}
	var out []tampering
	for _, share := range even(0.05, 0.5) {
		more := b.Brief.Load.OutOfBalance + units.Grams(share)*b.Brief.Load.Mass
		out = append(out, tampering{fault: LoadLopsided, weight: 1, do: func(b *Build) {
			r := *b.Brief
			r.Load.OutOfBalance = more
			b.Brief = &r
		}})
	}
	return out
}

// bears is how many times what the output takes to turn the drive can bear, a thousand at
// most.
func (b *Build) bears() float64 {
	const most = 1000
	lo, hi := 1.0, float64(most)
	turns := func(times float64) bool {
		s, err := b.atWith(drive.Conditions{}, harder(times))
		return err == nil && s.stop == Turns
	}
	if !turns(lo) {
		return lo
	}
	for range 12 {
		if mid := math.Sqrt(lo * hi); turns(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// leastTurning is the least that any output takes to turn: where a brief has next to no
// load, friction is a multiple of this (judgement).
const leastTurning units.NewtonMillimetres = 0.5

// harder has the output take so many times as much to turn.
func harder(times float64) func(*drive.Model) {
	return func(m *drive.Model) {
		more := units.NewtonMillimetres(times-1) * max(m.Demand.Steady, leastTurning)
		m.Demand.Steady += more
		m.Demand.Start += more
	}
}

// tightWays: a band pulls harder than the file makes of it.
func (b *Build) tightWays() []tampering {
	var out []tampering
	for i := range b.Drive.Stages {
		for _, times := range even(1.3, 8) {
			out = append(out, tampering{fault: BandTight, stage: i + 1, weight: 1, do: func(b *Build) { stronger(times)(&b.Drive.Stages[i], b) }})
		}
	}
	return out
}

// lossWays: turns are lost between a pulley and its band or its axle; mostly all of them.
func (b *Build) lossWays(f Fault) []tampering {
	var out []tampering
	ways := even(0.1, 0.9)
	for _, arrive := range ways {
		out = append(out, tampering{fault: f, weight: 1, slip: 1 - arrive})
	}
	return append(out, tampering{fault: f, weight: float64(len(ways)), slip: 1})
}

// loadWays: more to move than the brief says.
func (b *Build) loadWays() []tampering {
	var out []tampering
	for _, times := range even(1.3, max(4, 1.3*b.bears())) {
		out = append(out, tampering{fault: LoadHeavy, weight: 1, says: fmt.Sprintf("about %s times what the file says", figure(times)), do: func(b *Build) { b.loaded(times) }})
	}
	return out
}

// loaded has the drive move so many times as much.
func (b *Build) loaded(times float64) {
	r := *b.Brief
	r.Load.Mass *= units.Grams(times)
	r.Load.OutOfBalance *= units.Grams(times)
	r.Load.Torque *= units.NewtonMillimetres(times)
	b.Brief = &r
}
