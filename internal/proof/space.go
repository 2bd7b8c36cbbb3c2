package proof

import (
	"cmp"
	"math"
	"slices"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/score"
	"findrive/internal/units"
)

type (
	mm   = units.Millimetres
	span = units.Interval[float64]
	gap  = units.Interval[mm]

	points = score.Points
)

// space is every drive of a cupboard for a brief with one tackle. What is chosen,
// in this order:
//
//	stages, cells, motor and output part (the head)
//	pulleys, from the output back: driven, driver, driven, driver ...
//	whether the drive is to forgive holes out of place
//	for each axle, motor side first, the rod and the joints on it
//	for each stage, from the output back, the band and how it is put on
//	windows for the places of the axles, halved and halved again
//
// A head and its pulleys are an arrangement. The cheapest way to build one is what
// it costs; the ranking is of arrangements.
type space struct {
	cup   *parts.Cupboard
	brief *brief.Brief

	pulleys []kind[parts.Pulley]
	bands   []kind[parts.Band]
	motors  []kind[parts.Motor]
	holders []kind[parts.CellHolder]
	axles   []kind[parts.AxleStock]
	wheels  []kind[parts.Wheel]
	drums   []kind[parts.Drum]

	heads      []head
	onAxle     [][][]drive.Joint // [pulley][axle stock]
	axleLength mm
	mostOwn    float64           // N; the most that what turns with one axle weighs
	ways       map[[2]int][]*way // of a driver and a driven pulley
	answers    remembered
	queue      [][drive.MaxStages + 1]steps // room for placing.visit, used again each time
	plans      map[planKey][]plan
}

// head is the first choice.
type head struct {
	stages, motor, holder, output int // output: wheel or drum, -1 for neither
	model                         mechanics.Motor
	supply                        mechanics.Supply
	demand                        drive.Demand            // a vehicle's free axle left out
	freeAxle                      units.NewtonMillimetres // the most that it adds
	stall                         units.NewtonMillimetres
	free                          units.RPM
	fixed                         score.Points
	// shaft is how each pulley sits on the motor's shaft; nil if it does not.
	shaft []*drive.Joint
}

func newSpace(cup *parts.Cupboard, b *brief.Brief) *space {
	s := &space{
		cup: cup, brief: b, pulleys: pulleyKinds(cup.Pulleys), bands: bandKinds(cup.Bands), motors: motorKinds(cup.Motors),
		holders: holderKinds(cup.Holders), axles: axleKinds(cup.Axles), wheels: wheelKinds(cup.Wheels), drums: drumKinds(cup.Drums),
		ways: map[[2]int][]*way{}, plans: map[planKey][]plan{},
	}
	outputs := s.outputs()
	s.axleLength = s.cutLength(-1)
	for _, o := range outputs {
		s.axleLength = max(s.axleLength, s.cutLength(o))
	}
	s.onAxle = make([][][]drive.Joint, len(s.pulleys))
	for p := range s.pulleys {
		s.onAxle[p] = make([][]drive.Joint, len(s.axles))
		for a := range s.axles {
			if stock := &s.axles[a].part; constraints.HoleInStrip(b, stock) == nil {
				s.onAxle[p][a], _ = constraints.Joints(constraints.PulleyHub(&s.pulleys[p].part), stock.Diameter, cup.Sleeves, b.Making)
			}
		}
	}
	s.weigh()
	for stages := 1; stages <= min(b.MaxStages, drive.MaxStages); stages++ {
		for h := range s.holders {
			for m := range s.motors {
				for _, o := range outputs {
					if hd, ok := s.headOf(stages, m, h, o); ok {
						s.heads = append(s.heads, hd)
					}
				}
			}
		}
	}
	return s
}

// weigh finds the most that what turns with one axle can weigh.
func (s *space) weigh() {
	if s.brief.Model == brief.UprightRide {
		return
	}
	var pulley, rod, output units.Newtons
	for i := range s.pulleys {
		pulley = max(pulley, drive.PulleyWeight(&s.pulleys[i].part))
	}
	for i := range s.axles {
		rod = max(rod, drive.RodWeight(&s.axles[i].part, &s.brief.Frame))
	}
	for i := range s.wheels {
		output = max(output, drive.OutputWeight(&s.wheels[i].part, nil))
	}
	for i := range s.drums {
		output = max(output, drive.OutputWeight(nil, &s.drums[i].part))
	}
	s.mostOwn = float64(rod + pulley + max(pulley, output))
}

// outputs lists the wheels or drums that the brief allows; -1 if it takes neither.
func (s *space) outputs() []int {
	switch s.brief.Model {
	case brief.Vehicle:
		return named(s.wheels, s.brief.Load.Wheel)
	case brief.Lift:
		return named(s.drums, s.brief.Load.Drum)
	}
	return []int{-1}
}

func named[P any](kinds []kind[P], name string) []int {
	var out []int
	for i := range kinds {
		if name == "" || slices.Contains(kinds[i].names, name) {
			out = append(out, i)
		}
	}
	return out
}

// part gives the wheel or drum of an output.
func (s *space) part(output int) (*parts.Wheel, *parts.Drum) {
	switch {
	case output < 0:
		return nil, nil
	case s.brief.Model == brief.Vehicle:
		return &s.wheels[output].part, nil
	}
	return nil, &s.drums[output].part
}

// cutLength is what an output axle is cut to; the longest of them is what rods are
// reckoned in. An axle stands out 5 mm at each end; wheels sit outside the frame
// at both its ends and a drum at one, clear of the other axles' ends; a ride is
// pushed onto 15 mm.
func (s *space) cutLength(output int) mm {
	b := s.brief
	length := mm(math.Ceil(float64(b.Frame.Depth + 2*max(b.Frame.Strip, b.Frame.Sheet) + 10)))
	wheel, drum := s.part(output)
	switch {
	case wheel != nil:
		length += 2 * (b.Limits.Clearance + wheel.Width)
	case drum != nil:
		length += b.Limits.Clearance + drum.Width
	case b.Model == brief.UprightRide || b.Model == brief.LevelRide:
		length += 15
	}
	return mm(math.Ceil(float64(length)))
}

// headOf makes a head; false if the rules about its parts alone refuse it.
func (s *space) headOf(stages, m, h, o int) (head, bool) {
	b, motor, holder := s.brief, &s.motors[m].part, &s.holders[h].part
	wheel, drum := s.part(o)
	if len(b.Cells) > 0 && !slices.Contains(b.Cells, holder.Cells) || s.motors[m].count < b.Sets || s.holders[h].count < b.Sets ||
		wheel != nil && (s.wheels[o].count < 2*b.Sets || constraints.WheelsStand(b, wheel) != nil) || drum != nil && s.drums[o].count < b.Sets {
		return head{}, false
	}
	if constraints.Volts(motor, holder) != nil {
		return head{}, false
	}
	model, err := drive.MotorModel(motor, drive.Conditions{})
	if err != nil {
		return head{}, false
	}
	hd := head{stages: stages, motor: m, holder: h, output: o, model: model, supply: drive.SupplyOf(holder, drive.Conditions{}),
		demand: drive.DemandOf(b, wheel, drum, nil, drive.Likely)}
	for a := range s.axles {
		hd.freeAxle = max(hd.freeAxle, drive.DemandOf(b, wheel, drum, &s.axles[a].part, drive.Likely).Steady-hd.demand.Steady)
	}
	hd.stall, hd.free = model.StallTorque(hd.supply), model.FreeSpeed(hd.supply)
	traction := drive.TractionOf(b, wheel, hd.demand)
	if hd.stall <= 0 || hd.free <= 0 || constraints.WheelTraction(traction.Needed, traction.Holds) != nil {
		return head{}, false
	}
	hd.fixed = score.Stages(b.Weights, stages) + score.Cells(b.Weights, holder.Cells) + s.assumed(len(motor.Assumed)+len(holder.Assumed))
	if wheel != nil {
		hd.fixed += s.assumed(len(wheel.Assumed))
	}
	if drum != nil {
		hd.fixed += s.assumed(len(drum.Assumed))
	}
	hd.shaft = make([]*drive.Joint, len(s.pulleys))
	for p := range s.pulleys {
		pulley := &s.pulleys[p].part
		joints, _ := constraints.Joints(constraints.PulleyHub(pulley), motor.ShaftDiameter, s.cup.Sleeves, b.Making)
		if len(joints) > 0 && constraints.ShaftReaches(motor, pulley) == nil {
			hd.shaft[p] = &joints[0]
		}
	}
	return hd, true
}

func (s *space) assumed(n int) score.Points { return score.Assumptions(s.brief.Weights, n) }

// node is a head and some of its pulleys, from the output back.
type node struct {
	tackle, head int // indices, for the order of equals
	*space
	hd      *head
	pulleys []int
	fixed   score.Points // charged so far, each part's joints at their cheapest
	flows   [2]flow      // running and starting, back to the last driver chosen
	ok      bool         // a band can carry the load that far; else why
	why     reason
}

func (n *node) whole() bool { return len(n.pulleys) == 2*n.hd.stages }

// arrangements are the ways to choose the next pulley that the rules about parts
// alone allow.
func (n *node) next() []int {
	var out []int
	last := len(n.pulleys) == 2*n.hd.stages-1
	wheel, _ := n.part(n.hd.output)
	for p := range n.space.pulleys {
		k := &n.space.pulleys[p]
		use := 1
		for _, q := range n.pulleys {
			if q == p {
				use++
			}
		}
		switch {
		case use*n.brief.Sets > k.count,
			last && n.hd.shaft[p] == nil,
			!last && n.cheapestJoint(p) < 0,
			len(n.pulleys) == 0 && wheel != nil && constraints.ClearOfFloor(n.brief, wheel, &k.part) != nil:
			continue
		}
		out = append(out, p)
	}
	return out
}

// cheapestJoint is the least charged for a pulley on any rod; below 0 if it sits on
// none.
func (s *space) cheapestJoint(p int) score.Points {
	least := score.Points(-1)
	for _, joints := range s.onAxle[p] {
		for _, j := range joints {
			if c := score.Joint(s.brief.Weights, j.Kind); least < 0 || c < least {
				least = c
			}
		}
	}
	return least
}

// with is the node with one more pulley. It works out what the stages chosen so
// far do at the least, whatever bands they get within a budget.
func (n *node) with(p int, limit score.Points) *node {
	c := *n
	c.pulleys = append(slices.Clone(n.pulleys), p)
	c.fixed += n.assumed(len(n.space.pulleys[p].part.Assumed))
	if len(c.pulleys) == 2*n.hd.stages {
		c.fixed += score.Joint(n.brief.Weights, n.hd.shaft[p].Kind)
	} else {
		c.fixed += n.cheapestJoint(p)
	}
	if len(c.pulleys)%2 == 0 {
		c.flows, c.why, c.ok = n.throughAny(n.flows, c.stage(), p, n.pulleys[len(n.pulleys)-1], n.hd, limit-c.fixed)
	}
	return &c
}

// stage is the stage of the pulley chosen last, from 0 at the motor.
func (n *node) stage() int { return n.hd.stages - (len(n.pulleys)+1)/2 }

// driver and driven are the pulleys of a whole arrangement's stage i.
func (n *node) driver(i int) int { return n.pulleys[2*(n.hd.stages-1-i)+1] }
func (n *node) driven(i int) int { return n.pulleys[2*(n.hd.stages-1-i)] }

// key is the place of a node in the order of equals: tackle, head, pulleys; of driven
// pulleys the larger comes first, of drivers the smaller.
func (n *node) key() []int {
	out := []int{n.tackle, n.head}
	for i, p := range n.pulleys {
		if i%2 == 0 {
			p = -p
		}
		out = append(out, p)
	}
	return out
}

// mayPrecede reports whether some completion of a key comes before a whole one.
func mayPrecede(key, whole []int) bool {
	for i := range key {
		if c := cmp.Compare(key[i], whole[i]); c != 0 {
			return c < 0
		}
	}
	return len(key) < len(whole)
}

func speedAllowed(b *brief.Brief, target units.RPM) span {
	return span{Lo: float64(target) * (1 - b.Tolerance), Hi: float64(target) * (1 + b.Tolerance)}
}
