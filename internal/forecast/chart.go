package forecast

import (
	"math"
	"sync/atomic"

	"findrive/internal/units"
)

// A chart is the classrooms in small steps of what drives do on the likely day: of velocity
// ratio, friction, creep, and creep at the heaviest moment. It says of each step in how many of
// the rooms some drive of it may work. Of drives within wide bounds AtMost takes another in
// each room: the slow ones where cells are fresh, and the fast ones where they are tired.
// Within a step this is much less so, and a step is looked at for many drives. How well bands
// hold is left to AtMost, and so is a velocity ratio that may be out.
//
// A chart is made strip by strip, as it is looked at; several may do so at once, and make one
// twice, alike.

// How fine a chart is. All is tried out (scripts/performance ordinary): nothing depends on it
// but time.
const (
	ratioStep     = 0.02 // of ln of the velocity ratio
	ratioSteps    = 700
	leastRatio    = -2.0 // where they begin
	frictionSteps = 64   // up to the stall torque of the middle room
	creepStep     = 0.01
	// CreepSteps is in how many steps creep is: the first where there is least.
	CreepSteps = 48
	heavyStep  = 0.1
	heavySteps = 10
	// farBeyond is how many times as far as the last step ends anything may lie, which then
	// counts as in that.
	farBeyond = 1e6
)

// A class has charts of several scales, the finest first.
const (
	fine = iota
	coarse
	coarsest
)

// scales are how many times as large their steps are, but for those of creep, and up to how many
// strips a part is looked at in each.
var scales = [...]struct{ coarse, strips int }{fine: {1, 24}, coarse: {2, 150}, coarsest: {4, math.MaxInt}}

// Strip is what a chart says of a velocity ratio, a friction and a creep at the heaviest
// moment, for each step of creep.
type Strip struct {
	works  [creepWords]uint64 // in how many rooms some drive may work: a byte for each step
	Stands uint8              // in how many rooms every drive stands
}

// Rooms are at most 100, so that eight of them fit into a word with a bit to spare, and are
// compared at once.
const (
	inWord     = 8
	creepWords = CreepSteps / inWord
	spareBits  = 0x8080808080808080
)

// Works is in how many rooms some drive of a step of creep may work.
func (s *Strip) Works(creep int) int {
	return int(uint8(s.works[creep/inWord] >> (creep % inWord * 8)))
}

// Most is in how many rooms at the most some drive of some steps of creep may work.
func (s *Strip) Most(creeps Steps) int {
	var all uint64
	for k := creeps.First / inWord; k <= creeps.Last/inWord; k++ {
		word := s.works[k]
		if k == creeps.First/inWord {
			word &= math.MaxUint64 << (creeps.First % inWord * 8)
		}
		if k == creeps.Last/inWord {
			word &= upTo(creeps.Last)
		}
		all = largerOfEach(all, word)
	}
	all = largerOfEach(all, all>>32)
	all = largerOfEach(all, all>>16)
	return int(uint8(largerOfEach(all, all>>8)))
}

// upTo are the bytes of a word up to that of a step.
func upTo(creep int) uint64 { return math.MaxUint64 >> (8 * (inWord - 1 - creep%inWord)) }

// Join takes in what another strip says of more drives.
func (s *Strip) Join(o *Strip) {
	for k := range s.works {
		s.works[k] = largerOfEach(s.works[k], o.works[k])
	}
	s.Stands = min(s.Stands, o.Stands)
}

// joinUpTo is Join of some steps of creep, and perhaps some of those before.
func (s *Strip) joinUpTo(o *Strip, creeps Steps) {
	first, last := creeps.First/inWord, creeps.Last/inWord
	for k := first; k < last; k++ {
		s.works[k] = largerOfEach(s.works[k], o.works[k])
	}
	s.works[last] = largerOfEach(s.works[last], o.works[last]&upTo(creeps.Last))
	s.Stands = min(s.Stands, o.Stands)
}

// largerOfEach is the larger of each byte of two words, none of which has its highest bit set.
func largerOfEach(a, b uint64) uint64 {
	notLess := ((a | spareBits) - b) & spareBits // the highest bit of each byte of a that is
	ofA := notLess - notLess>>7 | notLess
	return a&ofA | b&^ofA
}

// chart is what has been made of it.
type chart struct {
	coarse    int       // how many times as large its steps are, but for those of creep
	frictions int       // steps
	friction  float64   // one of them, in N·mm
	edges     []float64 // velocity ratios between steps
	ratios    []atomic.Pointer[sheet]
}

// charted is the chart of a class at a scale, begun if it has not been.
func (c *Class) charted(scale int) *chart {
	at := &c.charts[scale]
	if at.Load() == nil {
		at.CompareAndSwap(nil, newChart(c.rooms[Rooms-1].stall, scales[scale].coarse))
	}
	return at.Load()
}

// sheet is the strips of a velocity ratio, and pile those of a friction too.
type (
	sheet [frictionSteps]atomic.Pointer[pile]
	pile  [heavySteps]atomic.Pointer[Strip]
)

// newChart is an empty chart with steps so many times as large as the finest.
func newChart(stall float64, times int) *chart {
	on := &chart{coarse: times, frictions: frictionSteps / times}
	steps := ratioSteps / times
	on.edges, on.ratios = make([]float64, steps+1), make([]atomic.Pointer[sheet], steps)
	on.friction = max(1e-9, stall/float64(on.frictions))
	for k := range on.edges {
		on.edges[k] = math.Exp(leastRatio + on.ratioStep()*float64(k))
	}
	on.edges[0] /= farBeyond
	on.edges[steps] *= farBeyond
	return on
}

func (on *chart) ratioStep() float64 { return ratioStep * float64(on.coarse) }

func (on *chart) heavyStep() float64 { return heavyStep * float64(on.coarse) }

// Steps are the first and the last of some steps of a chart.
type Steps struct{ First, Last int }

// NoSteps is none of them.
func NoSteps() Steps { return Steps{math.MaxInt, -1} }

// And is some steps and one more.
func (s Steps) And(step int) Steps { return Steps{min(s.First, step), max(s.Last, step)} }

func (s Steps) count() int { return s.Last - s.First + 1 }

// Empty tells whether there are none.
func (s Steps) Empty() bool { return s.Last < s.First }

// Part is the part of a chart in which the drives of an extent lie.
type Part struct {
	class             *Class
	chart             *chart
	torque, friction  units.Interval[units.NewtonMillimetres]
	ratio, creep      units.Interval[float64]
	Frictions, Creeps Steps
	ratios, heavies   Steps
}

// PartOf is the part of drives that do what an extent says and ask the motor for a torque
// within bounds, running: of the finest chart that has not too many strips there.
func (c *Class) PartOf(x *Extent, torque units.Interval[units.NewtonMillimetres]) Part {
	scale := fine
	p := c.partOn(c.charted(scale), x, torque)
	for p.Strips() > scales[scale].strips {
		scale++
		p = c.partOn(c.charted(scale), x, torque)
	}
	return p
}

func (c *Class) partOn(on *chart, x *Extent, torque units.Interval[units.NewtonMillimetres]) Part {
	p := Part{class: c, chart: on, torque: torque, friction: x.Friction, ratio: x.Ratio, creep: x.Creep}
	p.Creeps = creepsOf(x.Creep, creepStep, CreepSteps)
	p.Frictions = Steps{on.frictionAt(x.Friction.Lo), on.frictionAt(x.Friction.Hi)}
	p.ratios = Steps{on.ratioAt(x.Ratio.Lo), on.ratioAt(x.Ratio.Hi)}
	if c.swing > 0 {
		p.heavies = creepsOf(x.Heavy, on.heavyStep(), heavySteps)
	}
	return p
}

// Strips is how many strips of the chart a part has.
func (p *Part) Strips() int {
	return p.Frictions.count() * p.ratios.count() * p.heavies.count()
}

func (on *chart) frictionAt(f units.NewtonMillimetres) int {
	return int(min(float64(f)/on.friction, float64(on.frictions-1)))
}

func (on *chart) ratioAt(r float64) int {
	return int(min(max((math.Log(r)-leastRatio)/on.ratioStep(), 0), float64(len(on.ratios)-1)))
}

func creepsOf(creep units.Interval[float64], step float64, steps int) Steps {
	at := func(c float64) int { return int(min(max(-c, 0)/step, float64(steps-1))) }
	return Steps{at(creep.Hi), at(creep.Lo)}
}

// Friction is that of a step, as far as it lies in the part.
func (p *Part) Friction(step int) units.Interval[units.NewtonMillimetres] {
	return p.chart.frictionOf(step).Meet(p.friction)
}

func (on *chart) frictionOf(step int) units.Interval[units.NewtonMillimetres] {
	lo, hi := on.friction*float64(step), on.friction*float64(step+1)
	if step == on.frictions-1 {
		hi *= farBeyond
	}
	return units.Interval[units.NewtonMillimetres]{Lo: units.NewtonMillimetres(lo), Hi: units.NewtonMillimetres(hi)}
}

// Creep is that of a step, as far as it lies in the part.
func (p *Part) Creep(step int) units.Interval[float64] {
	return creepOf(step, creepStep, CreepSteps).Meet(p.creep)
}

func creepOf(step int, by float64, steps int) units.Interval[float64] {
	out := units.Interval[float64]{Lo: -by * float64(step+1), Hi: -by * float64(step)}
	if step == steps-1 {
		out.Lo = math.Inf(-1)
	}
	return out
}

// Strip is what the chart says of a step of friction of a part, whatever the velocity ratio and
// the creep at the heaviest moment; false if no drive of the part is there. It is filled in for
// the creeps of the part alone.
func (p *Part) Strip(friction int, out *Strip) bool {
	c := p.class
	within := p.Friction(friction)
	some := false
	for k := p.ratios.First; k <= p.ratios.Last; k++ {
		slow, fast := max(p.ratio.Lo, p.chart.edges[k]), min(p.ratio.Hi, p.chart.edges[k+1])
		least, most := within.Lo+c.demand/units.NewtonMillimetres(fast), within.Hi+c.demand/units.NewtonMillimetres(slow)
		if least > p.torque.Hi*(1+chartNoise) || most < p.torque.Lo*(1-chartNoise) {
			continue
		}
		for heavy := p.heavies.First; heavy <= p.heavies.Last; heavy++ {
			last := p.Creeps.Last
			if c.swing > 0 { // a band creeps no less at the heaviest moment
				last = min(last, heavyStep/creepStep*p.chart.coarse*(heavy+1))
			}
			s := c.strip(p.chart, k, friction, heavy)
			if !some {
				some, *out = true, Strip{Stands: Rooms}
			}
			if p.Creeps.First <= last {
				out.joinUpTo(s, Steps{p.Creeps.First, last})
			} else {
				out.Stands = min(out.Stands, s.Stands)
			}
		}
	}
	return some
}

// strip is a strip, made if it has not been.
func (c *Class) strip(on *chart, ratio, friction, heavy int) *Strip {
	of := made(&made(&on.ratios[ratio])[friction])
	s := of[heavy].Load()
	if s == nil {
		s = c.makeStrip(on, ratio, friction, heavy)
		of[heavy].Store(s)
	}
	return s
}

// made is what a pointer points to, which is made if it points to nothing.
func made[T any](at *atomic.Pointer[T]) *T {
	if at.Load() == nil {
		at.CompareAndSwap(nil, new(T))
	}
	return at.Load()
}

func (c *Class) makeStrip(on *chart, ratio, friction, heavy int) *Strip {
	e := c.edgesOf(&Extent{
		Ratio:  units.Interval[float64]{Lo: on.edges[ratio], Hi: on.edges[ratio+1]},
		Demand: c.demand, Swing: c.swing, Friction: on.frictionOf(friction), Heavy: creepOf(heavy, on.heavyStep(), heavySteps),
	})
	var change [CreepSteps + 1]int // of the rooms, from the step before
	out := &Strip{}
	for i := range c.rooms {
		first, last, turns := e.creepsThatWork(&c.rooms[i])
		if !turns {
			out.Stands++
		}
		if first <= last {
			change[first]++
			change[last+1]--
		}
	}
	rooms := 0
	for k := range CreepSteps {
		rooms += change[k]
		out.works[k/inWord] |= uint64(rooms) << (k % inWord * 8)
	}
	return out
}

// creepsThatWork are the first and the last step of creep with which some of the drives may
// work in a room, whatever their own creep; none if the last comes before the first. turns
// tells whether any may turn.
func (e *edges) creepsThatWork(o *member) (first, last int, turns bool) {
	load, turn := e.load*o.steady, e.turn*o.swing
	spare := o.free - o.slope*e.slight*o.rub
	if spare <= o.slope*(load+turn)*e.least {
		return 0, -1, false // it stalls, or does not start
	}
	// The speeds that are wanted at the mean torque: over a turn it is less.
	least, most := e.low, e.high
	if turn > 0 {
		begun, heaviest := over(o.steady+(o.swing-o.steady)*e.swung, o.rub, e.starting)
		if h := fastestOf(spare, o.slope*(load+turn), e.least, e.most) * expAtMost(e.Heavy.Hi*begun*o.perPull); h < e.low {
			least = meanFor(e.low, h)
		}
		if h := o.slowest(load+turn, e.heavy, e.least, e.most) * expAtLeast(e.Heavy.Lo*heaviest*o.perPull); h < e.high {
			most = meanFor(e.high, h)
		}
	}
	fast := fastestOf(spare, o.slope*load, e.least, e.most)
	if fast < least {
		return 0, -1, true
	}
	mild, strong := over(o.steady, o.rub, e.running) // how many times the likely torque is asked
	first, last = 0, CreepSteps-1
	if slow := o.slowest(load, e.heavy, e.least, e.most); slow > most {
		enough := logAbout(slow/most) / (strong * o.perPull)
		first = int(smaller(larger(0, enough/creepStep-logNoise), CreepSteps-1))
	}
	if room := logAbout(fast/least) / (mild * o.perPull); room < creepStep*(CreepSteps-1) {
		last = int(room/creepStep + logNoise)
	}
	return first, last, true
}

// meanFor is the speed at the mean torque with which the mean over a turn is so much, where the
// speed at the heaviest moment is heavy, which is less; without end if that is 0.
func meanFor(overTurn, heavy float64) float64 { return (overTurn*overTurn/heavy + heavy) / 2 }

// logAbout is ln of a number from 1 on, off by less than 1e-8, quickly: what is left beside a power
// of two is near 1, where ln x = 2 artanh((x-1)/(x+1)).
func logAbout(x float64) float64 {
	const fraction = 1<<52 - 1
	bits := math.Float64bits(x)
	twos := float64(int(bits>>52) - 1023)
	x = math.Float64frombits(bits&fraction | 1023<<52) // from 1 to 2
	if x > math.Sqrt2 {
		twos, x = twos+1, x/2
	}
	y := (x - 1) / (x + 1)
	return twos*math.Ln2 + 2*y*(1+y*y*(1.0/3+y*y*(1.0/5+y*y*(1.0/7+y*y*(1.0/9)))))
}

// logNoise is more than logAbout is off, in steps of creep.
const logNoise = 1e-5

// chartNoise covers rounding.
const chartNoise = 1e-9
