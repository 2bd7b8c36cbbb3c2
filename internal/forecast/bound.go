package forecast

import (
	"math"
	"math/bits"

	"findrive/internal/drive"
	"findrive/internal/units"
)

// Extent is what several drives before one load do on the likely day, within bounds. Its
// fields are those of Work.
type Extent struct {
	Ratio    units.Interval[float64] // above 0
	Demand   units.NewtonMillimetres // of every one
	Swing    units.NewtonMillimetres
	Friction units.Interval[units.NewtonMillimetres]
	Creep    units.Interval[float64]
	Heavy    units.Interval[float64] // only for a Swing
	Cut      float64                 // the most of any
	Count    int                     // of stages of whose grip something is known
	Margin   [drive.MaxStages]float64
	Growth   [drive.MaxStages]units.Interval[float64]
	Exponent [drive.MaxStages]units.Interval[float64]
}

// Told is what is known already of some drives in the classrooms: a bit for each room, in
// the order of the class. Of fewer drives it holds too.
type Told struct{ fails, stands [(Rooms + 63) / 64]uint64 }

// ManyStand is from how many rooms on in which a drive stands it makes no difference how
// many there are.
const ManyStand = beyond + 1

// AtMost bounds from above in how many of the classrooms any of the drives works, and
// from below in how many it stands, up to ManyStand. It stops as soon as fewer than need
// can work, and then both are only a bound in the sense of that. What it finds out of
// these drives it adds to what was told of them.
//
// In a room a drive is the faster the less friction and creep there is; by the velocity
// ratio, once the motor carries less than half of its stall torque, the faster the less
// it reduces, and else it has one fastest ratio and is slower to both sides of it.
func (c *Class) AtMost(x *Extent, need int, told *Told) (works, stands int) {
	if works, stands = told.Works(), told.Stands(); works < need {
		return works, stands
	}
	e := c.edgesOf(x)
	e.doubt(c)
	for i := range c.rooms {
		at, bit := i/64, uint64(1)<<(i%64)
		switch {
		case told.fails[at]&bit == 0:
			can, turns := e.mayWorkCut(&c.rooms[i])
			if !turns {
				told.stands[at] |= bit
				stands++
			}
			if !can {
				told.fails[at] |= bit
				if works--; works < need {
					return works, stands
				}
			}
		case stands < ManyStand && told.stands[at]&bit == 0:
			if e.mustStandCut(&c.rooms[i]) {
				told.stands[at] |= bit
				stands++
			}
		}
	}
	return works, stands
}

// Works is in how many rooms drives may work of which so much is told.
func (t *Told) Works() int {
	works := Rooms
	for _, fails := range t.fails {
		works -= bits.OnesCount64(fails)
	}
	return works
}

// Stands is likewise in how many they are known to stand.
func (t *Told) Stands() int {
	stands := 0
	for _, s := range t.stands {
		stands += bits.OnesCount64(s)
	}
	return stands
}

// edges are an extent in bare numbers.
type edges struct {
	*Extent
	most, least   float64 // turns of the output for one of the motor
	load, turn    float64 // demand and swing
	slight, heavy float64 // friction
	low, high     float64 // speeds within the tolerance
	// Of the torque at the motor on the likely day, what friction is of it, running and
	// starting; and of what the output asks at starting, what the swing is.
	running, starting units.Interval[float64]
	swung             float64
	// The stages whose band does not hold for certain in every room.
	doubtful  [drive.MaxStages]int
	doubtfuls int
}

func (c *Class) edgesOf(x *Extent) edges {
	e := edges{Extent: x, most: 1 / x.Ratio.Lo, least: 1 / x.Ratio.Hi, load: float64(x.Demand), turn: float64(x.Swing),
		slight: float64(x.Friction.Lo), heavy: float64(x.Friction.Hi),
		low: max(0, float64(c.Target)*(1-c.tolerance-2*toleranceNoise)), high: float64(c.Target) * (1 + c.tolerance + 2*toleranceNoise)}
	e.running = e.shares(e.load)
	e.starting = e.shares(e.load + e.turn)
	if all := e.load + e.turn; all > 0 {
		e.swung = e.turn / all
	}
	return e
}

// doubt notes which bands may slip in some room.
func (e *edges) doubt(c *Class) {
	most := max(c.asksMost/(1-e.Cut), c.rubsMost)
	for k := range e.Count {
		held := e.Margin[k] * c.pullsLeast * max(0, 1-c.offMost*max(e.Growth[k].Hi, -e.Growth[k].Lo))
		if held < sureToGrip*most {
			e.doubtful[e.doubtfuls] = k
			e.doubtfuls++
		}
	}
}

// shares bounds what friction is of the torque at the motor, for what the output asks.
func (e *edges) shares(asked float64) units.Interval[float64] {
	share := func(friction, asked float64) float64 {
		if friction+asked <= 0 {
			return 0
		}
		return friction / (friction + asked)
	}
	return units.Interval[float64]{Lo: share(e.slight, asked*e.most), Hi: share(e.heavy, asked*e.least)}
}

// over bounds how many times the likely torque a room's is, by the room's factor of what
// the output asks and that of friction, and by the share that friction has.
func over(asked, rub float64, share units.Interval[float64]) (least, most float64) {
	more := rub - asked
	if more < 0 {
		share.Lo, share.Hi = share.Hi, share.Lo
	}
	return asked + more*share.Lo, asked + more*share.Hi
}

// cut is a room where the velocity ratio is out by what makes the least of what the output
// asks, and one where it makes the most.
func (e *edges) cut(o *member) (least, most member) {
	least, most = *o, *o
	if off := e.Cut * math.Abs(o.cut); off > 0 {
		least.steady, least.swing = o.steady/(1+off), o.swing/(1+off)
		most.steady, most.swing = o.steady/(1-off), o.swing/(1-off)
	}
	return least, most
}

// mayWorkCut is mayWork where the velocity ratio may be out: fast enough it may be with the
// least of what is asked, and slow enough with the most.
func (e *edges) mayWorkCut(o *member) (works, turns bool) {
	if e.Cut == 0 {
		return e.mayWork(o)
	}
	off := e.Cut * math.Abs(o.cut)
	least, most := e.cut(o)
	fast, slow := *e, *e
	fast.low, fast.high = e.low*(1-off), math.Inf(1)
	slow.low, slow.high = 0, e.high*(1+off)
	if works, turns = fast.mayWork(&least); !works {
		return works, turns
	}
	slowly, stays := slow.mayWork(&most)
	return slowly || !stays, turns
}

// mayWork tells whether any of the drives may work in a room, and whether any may turn.
func (e *edges) mayWork(o *member) (works, turns bool) {
	load, turn := e.load*o.steady, e.turn*o.swing
	spare := o.free - o.slope*e.slight*o.rub
	begun, heaviest := over(o.steady+(o.swing-o.steady)*e.swung, o.rub, e.starting)
	if spare <= o.slope*(load+turn)*e.least || e.mustSlip(o, begun*(1-1e-9)) {
		return false, false // it stalls, does not start, or slips
	}
	least, most := over(o.steady, o.rub, e.running)
	fastest := fastestOf(spare, o.slope*load, e.least, e.most) * expAtMost(e.Creep.Hi*least*o.perPull)
	if fastest < e.low {
		return false, true
	}
	slowest := o.slowest(load, e.heavy, e.least, e.most) * expAtLeast(e.Creep.Lo*most*o.perPull)
	if turn > 0 {
		slow := fastestOf(spare, o.slope*(load+turn), e.least, e.most) * expAtMost(e.Heavy.Hi*begun*o.perPull)
		if overTurnSquared(fastest, slow) < e.low*e.low {
			return false, true
		}
		slow = o.slowest(load+turn, e.heavy, e.least, e.most) * expAtLeast(e.Heavy.Lo*heaviest*o.perPull)
		return overTurnSquared(slowest, slow) <= e.high*e.high, true
	}
	return slowest <= e.high, true
}

// mustStandCut is mustStand where the velocity ratio may be out.
func (e *edges) mustStandCut(o *member) bool {
	if e.Cut == 0 {
		return e.mustStand(o)
	}
	least, _ := e.cut(o)
	return e.mustStand(&least)
}

// mustStand tells whether in a room every one of the drives stalls, does not start, or slips.
func (e *edges) mustStand(o *member) bool {
	if o.free-o.slope*e.slight*o.rub <= o.slope*(e.load*o.steady+e.turn*o.swing)*e.least {
		return true
	}
	begun, _ := over(o.steady+(o.swing-o.steady)*e.swung, o.rub, e.starting)
	return e.mustSlip(o, begun*(1-1e-9))
}

// fastestOf is the fastest that the output turns, for a motor with so much speed to spare
// of which an output torque takes so much, with so many turns of the output for one of
// its own: a parabola in these.
func fastestOf(spare, takes, least, most float64) float64 {
	at := most
	if 2*takes*most > spare {
		at = larger(least, spare/(2*takes))
	}
	return (spare - takes*at) * at
}

// slowest is the slowest that the output turns at a load and friction, with so many turns of
// the output for one of the motor: a parabola in these, and slowest at an end.
func (o *member) slowest(load, friction, least, most float64) float64 {
	spare := o.free - o.slope*friction*o.rub
	return larger(0, smaller((spare-o.slope*load*least)*least, (spare-o.slope*load*most)*most))
}

// mustSlip tells whether in a room a band of every one of the drives slips, where starting
// asks at least so many times what it asks on the likely day.
func (e *edges) mustSlip(o *member, asked float64) bool {
	for _, k := range e.doubtful[:e.doubtfuls] {
		growth := e.Growth[k].Hi
		if o.off[k] < 0 {
			growth = e.Growth[k].Lo
		}
		if held := e.Margin[k] * o.pull * o.slack(k, growth); held < sureToGrip*asked && slips(held/asked, o.grip, e.Exponent[k]) {
			return true
		}
	}
	return false
}

// slips tells whether a band slips that holds so many times what is asked of it, but for
// the grip in its groove, at every exponent within bounds. tanh(x g/2)/tanh(x/2) lies
// between 1 and g, which mostly tells.
func slips(holds, grip float64, exponent units.Interval[float64]) bool {
	if holds*smaller(1, grip) >= 1 {
		return false
	}
	if holds*larger(1, grip) < 1-1e-9 {
		return true
	}
	x := exponent.Lo
	if grip < 1 {
		x = exponent.Hi // the larger the exponent, the less is lost with grip
	}
	return holds*math.Tanh(x*grip/2) < math.Tanh(x/2)*(1-1e-9)
}

// expAtMost and expAtLeast bound exp(x) for x at most 0, quickly.
func expAtMost(x float64) float64 { return smaller(1, 1+x*(1+x*(0.5+x*(1.0/6+x*(1.0/24))))) }

func expAtLeast(x float64) float64 { return larger(0, 1+x*(1+x*(0.5+x/6))) }

// larger and smaller are the builtin max and min of numbers that are numbers: those take care
// of what is none, by a call of a function in a browser, where this is half of the work.
func larger(a, b float64) float64 {
	if a > b {
		return a
	}
	return b
}

func smaller(a, b float64) float64 {
	if a < b {
		return a
	}
	return b
}
