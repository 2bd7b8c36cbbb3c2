package drive

import (
	"math"

	"findrive/internal/mechanics"
	"findrive/internal/units"
)

// Extent is a drive whose axles have not all been placed: each centre distance
// is known only to lie in a window, and so is the angle at each axle between
// what pulls on it.
type Extent struct {
	Near, Far [MaxStages]*End // at the shortest and longest centre distance
	// Cos bounds, for the axle that carries stage i's driven pulley, the cosine
	// of the angle between the line of centres back to stage i's driver and
	// the other pull on the axle: the next stage's line of centres, or at the
	// output Demand.Weight.
	Cos [MaxStages]units.Interval[float64]
}

// Envelope bounds what every placement within an extent can do in which no band
// slips. The bounds are optimistic for rules and two-sided for speed.
type Envelope struct {
	Speed units.Interval[units.RPM]
	// LeastTorque is the least torque the motor can get away with.
	LeastTorque units.NewtonMillimetres
	// LeastEffective and LeastTight are the least each stage's band has to
	// carry, and the least running tight stretch.
	LeastEffective [MaxStages]units.Newtons
	LeastTight     [MaxStages]float64
	// LeastGreatest is the least each band must be able to carry before it slips,
	// as the rules about grip have it; who applies the rules fills it in.
	LeastGreatest [MaxStages]units.Newtons
	LeastShare    float64 // the least the output's speed can be of the motor's
	Holds         bool    // no band slips in any placement
}

// Why two ends are enough. Within the rules' limits (running stretch at most 2)
// a longer centre distance stretches the band further, and then everything goes
// one way: its pull and with it the friction of the axles rises, the creep at a
// given effective pull rises (the rubber's stiffness falls), and the velocity
// ratio of a reduction rises a little (the band gets thinner). The ratio also
// divides the torque, so for torque its more favourable end is taken, whichever
// that is. So the output is fastest with every centre distance at its shortest and every axle's pulls
// cancelling as far as they can, and slowest the other way round. What is left
// out of that argument (arcs and spans shift the shares of tight and slack band,
// and a step-up's ratio falls) is covered by envelopePad; the tests sample
// placements by the thousand, in wide and narrow windows, and hold the bounds to
// it.
const envelopePad = 0.004

// pads are the safety margins of an extent. What they cover comes of the windows
// being wide, so they shrink with them: an extent of a single placement is
// bounded by what that placement does, to within leastPad.
type pads struct {
	envelope, hub float64
	wide          bool    // the windows are too wide for one load to stand for all
	settling      int     // how often pull and friction are settled in a sweep
	sweep         float64 // what that leaves
}

// padWidth is the width of a window, as a share, from which on the margins stand
// in full.
const (
	padWidth = 0.05
	leastPad = 4e-4
)

func (m *Model) pads(x *Extent, first int) pads {
	width := 0.0
	for i := first; i < m.Count; i++ {
		width = max(width, float64(x.Far[i].Centre/x.Near[i].Centre)-1, x.Cos[i].Length()/2)
	}
	share := min(1, width/padWidth)
	p := pads{envelope: envelopePad*share + leastPad, hub: hubPad*share + leastPad, wide: share == 1, settling: sweepSettling, sweep: sweepPad}
	if p.wide {
		p.settling, p.sweep = p.settling-1, wideSweepPad
	}
	return p
}

// Tail bounds what the stages from one on to the output can do, whatever comes
// before them.
type Tail struct {
	// LeastTorque is the least torque on the driver of the tail's first stage.
	LeastTorque units.NewtonMillimetres
	// Share bounds the output's speed over that driver's.
	Share units.Interval[float64]
	// LeastEffective and LeastTight are the least each band has to carry, and
	// the least running tight stretch.
	LeastEffective [MaxStages]units.Newtons
	LeastTight     [MaxStages]float64
	// Holds tells that no band slips, however its axles are placed.
	Holds bool

	leastHub, mostHub units.Newtons // on the driver's shaft
	mostTorque        units.NewtonMillimetres
}

// Tail works out the stages from first on at an output torque.
func (m *Model) Tail(x *Extent, first int, output units.NewtonMillimetres) Tail {
	var t Tail
	pad := m.pads(x, first)
	most := m.sweep(&x.Far, x, first, output, nil, pad)
	least := m.sweep(&x.Near, x, first, output, &most, pad)
	t.mostTorque, t.mostHub = most.torque, most.stages[first].hub
	t.Share = units.Interval[float64]{Lo: 1 - pad.envelope, Hi: 1 + pad.envelope}
	t.Holds = true
	for i := first; i < m.Count; i++ {
		t.Share.Lo *= most.stages[i].loaded.share / max(x.Near[i].Ratio, x.Far[i].Ratio)
		t.Share.Hi *= least.stages[i].loaded.share / min(x.Near[i].Ratio, x.Far[i].Ratio)
		t.LeastEffective[i] = least.stages[i].effective * units.Newtons(1-pad.sweep)
		t.LeastTight[i] = least.stages[i].loaded.stretch * (1 - pad.sweep)
		t.Holds = t.Holds && most.stages[i].effective*units.Newtons(1+pad.hub) < x.Near[i].Greatest
	}
	t.LeastTorque, t.leastHub = least.torque*units.NewtonMillimetres(1-pad.sweep), least.stages[first].hub
	return t
}

// Bound works out the envelope at an output torque.
func (m *Model) Bound(x *Extent, output units.NewtonMillimetres) Envelope {
	t := m.Tail(x, 0, output)
	env := Envelope{LeastEffective: t.LeastEffective, LeastTight: t.LeastTight, LeastShare: t.Share.Lo, Holds: t.Holds}
	env.LeastTorque = t.LeastTorque + mechanics.BearingTorque(m.MotorMu, t.leastHub, m.ShaftRad)
	mostTorque := t.mostTorque + mechanics.BearingTorque(m.MotorMu, t.mostHub, m.ShaftRad)
	env.Speed.Lo = max(0, m.Motor.SpeedAt(m.Supply, mostTorque)) * units.RPM(t.Share.Lo)
	env.Speed.Hi = max(0, m.Motor.SpeedAt(m.Supply, env.LeastTorque)) * units.RPM(t.Share.Hi)
	return env
}

// sweepSettling is how often pull and friction are settled in a sweep; each time
// takes off another factor of ten or more, and sweepPad covers the rest. Wide
// windows, whose bounds are rough in any case, are settled once less.
const (
	sweepSettling = 3
	sweepPad      = 1e-4 + endPad
	wideSweepPad  = 1e-3 + endPad
)

// hubPad covers that a band's pull on its axles does not always grow with its
// load: it rises by some per cent and falls back a little close to slip.
const hubPad = 0.02

// loadedFall is the most by which load takes from a band's pull on its axles
// (measured over random drives up to slip: 0.004).
const loadedFall = 0.01

// sweepStage and sweepFlow are one end of an envelope.
type sweepStage struct {
	effective units.Newtons
	loaded    load
	hub       units.Newtons // bound of the size of the stage's pull on either axle
	low       units.Newtons // in the adding sweep, the bound from below
	tilt      lean          // bound of its lean from the line of centres
}

type sweepFlow struct {
	stages [MaxStages]sweepStage
	torque units.NewtonMillimetres // on the driver swept back to
}

// sweep carries the torque back to the driver of stage first with the axles' pulls
// adding up as far as they can (most == nil) or cancelling as far as they can (most
// is the other sweep, whose pulls are the upper ends). In the adding sweep no band
// carries more than it can at the longest centre distance, for where it does not
// slip it carries no more. One that would slip in the cancelling sweep, at the
// shortest, may hold at a longer one.
func (m *Model) sweep(ends *[MaxStages]*End, x *Extent, first int, output units.NewtonMillimetres, most *sweepFlow, pads pads) sweepFlow {
	var flow sweepFlow
	pad := units.Newtons(pads.hub)
	if most != nil {
		pad = -pad
	}
	torque := output
	load := m.Demand.Weight.Size()
	next := sweepStage{hub: load, low: load, tilt: upright} // what else pulls on the axle
	nextMost := next
	for i := m.Count - 1; i >= first; i-- {
		f := ends[i]
		own := &flow.stages[i]
		own.loaded, own.tilt = f.idle(), upright
		own.hub = f.idleHub * (1 + pad)
		own.low = x.leastHub(i, 0, pads)
		for range pads.settling {
			var bearing units.Newtons
			if most == nil {
				bearing = largestSum(own.low, own.hub, next.low, next.hub, spread(x.Cos[i], own.tilt.plus(next.tilt)))
			} else {
				upper := &most.stages[i]
				tilt := upper.tilt.plus(nextMost.tilt)
				bearing = smallestSum(min(own.hub, upper.low), max(own.hub, upper.hub), min(next.hub, nextMost.low), max(next.hub, nextMost.hub), spread(x.Cos[i], tilt))
			}
			// The weight of what sits on the axle, whichever way it comes.
			if most == nil {
				bearing += m.AxleWeight[i]
			} else {
				bearing = max(0, bearing-m.AxleWeight[i])
			}
			friction := mechanics.BearingTorque(m.AxleMu[i], bearing, m.AxleRadius[i])
			own.effective = units.Newtons(float64(torque+friction) / float64(f.DrivenPitch/2))
			if most == nil {
				own.effective = min(own.effective, f.Greatest)
			}
			loaded, carried := f.at(own.effective)
			if !carried {
				break
			}
			own.loaded = loaded
			own.hub = f.hub(loaded.tight, loaded.slack) * (1 + pad)
			own.tilt = x.tiltAt(i, own.effective, pads)
			if most == nil {
				own.low = x.leastHub(i, own.effective, pads)
			}
		}
		// The band's thickness, and with it the ratio, differs between the ends.
		ratio := max(x.Near[i].Ratio, x.Far[i].Ratio)
		if most == nil {
			ratio = min(x.Near[i].Ratio, x.Far[i].Ratio)
		}
		torque = units.NewtonMillimetres(float64(own.effective) * float64(f.DrivenPitch/2) / ratio)
		next = *own
		if most != nil {
			nextMost = most.stages[i]
		}
	}
	flow.torque = torque
	return flow
}

// lean is an angle of at most half a turn, by its cosine and sine.
type lean struct{ cos, sin float64 }

// upright is no lean at all.
var upright = lean{cos: 1}

// plus is both leans together, each of at most a right angle.
func (a lean) plus(b lean) lean {
	return lean{cos: a.cos*b.cos - a.sin*b.sin, sin: a.sin*b.cos + a.cos*b.sin}
}

// spread widens a range of cosines by an angle either way, without working the
// angles out: a range that reaches past none or half a turn ends there.
func spread(cos units.Interval[float64], by lean) units.Interval[float64] {
	if by.sin == 0 {
		return cos
	}
	turned := func(c, sin float64) float64 { return c*by.cos + sin*by.sin*math.Sqrt(max(0, 1-c*c)) }
	out := units.Interval[float64]{Lo: -1, Hi: 1}
	if cos.Lo > -by.cos {
		out.Lo = turned(cos.Lo, -1)
	}
	if cos.Hi < by.cos {
		out.Hi = turned(cos.Hi, 1)
	}
	return out
}

// leastHub bounds from below the pull of stage i's band on its axles at the
// shortest centre distance. Load changes the pull, up a little first and then
// down; in wide windows, where the load may be anything, that is covered by a
// flat share.
func (x *Extent) leastHub(i int, effective units.Newtons, pads pads) units.Newtons {
	f := x.Near[i]
	switch {
	case pads.wide:
		return f.idleHub * (1 - loadedFall)
	case effective == 0:
		return f.idleHub * units.Newtons(1-pads.hub)
	}
	loaded, ok := f.at(effective)
	if !ok {
		loaded = f.idle()
	}
	return f.hub(loaded.tight, loaded.slack) * units.Newtons(1-pads.hub)
}

// tiltAt bounds how far the pull of stage i can lean from the line of centres at
// an effective pull: the strands lean most, and pull least together, at the
// shortest centre distance.
func (x *Extent) tiltAt(i int, effective units.Newtons, pads pads) lean {
	f := x.Near[i]
	tan := float64(effective/(2*f.Pull)) / (1 - pads.hub) * f.tanLean
	cos := 1 / math.Sqrt(1+tan*tan)
	return lean{cos: cos, sin: tan * cos}
}

// largestSum is the greatest size of the sum of two pulls, one of size a0 to a1
// and the other b0 to b1. The squared size is convex, so over the rectangle it
// is greatest at a corner.
func largestSum(a0, a1, b0, b1 units.Newtons, cos units.Interval[float64]) units.Newtons {
	c := cos.Hi
	square := func(a, b units.Newtons) float64 { return float64(a*a+b*b) + 2*float64(a*b)*c }
	return units.Newtons(math.Sqrt(max(0, square(a1, b1), square(a0, b1), square(a1, b0))))
}

// smallestSum is the least size of the sum of two pulls, one of size a0 to a1
// and the other b0 to b1. The squared size is convex with its least value at
// nothing at all, so over the rectangle it is least on one of the two sides
// nearest to that.
func smallestSum(a0, a1, b0, b1 units.Newtons, cos units.Interval[float64]) units.Newtons {
	c := cos.Lo
	square := func(a, b float64) float64 { return a*a + b*b + 2*a*b*c }
	nearest := func(v, lo, hi units.Newtons) float64 { return float64(min(max(lo, v), hi)) }
	onA := square(float64(a0), nearest(units.Newtons(-c)*a0, b0, b1))
	onB := square(nearest(units.Newtons(-c)*b0, a0, a1), float64(b0))
	return units.Newtons(math.Sqrt(max(0, min(onA, onB))))
}
