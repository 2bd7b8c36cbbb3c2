package design

import (
	"cmp"
	"math"
	"slices"
	"sync"
	"sync/atomic"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/forecast"
	"findrive/internal/making"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/score"
	"findrive/internal/search"
	"findrive/internal/units"
)

// task is a cupboard and a brief made ready for searching. What the drives must have is
// set once, before it is searched (taskFor). While nodes are looked at nothing in it
// changes except the caches and the tally, which are guarded; what a search has come to
// (early, dived, toShow), and many, change between rounds and while no node is looked at.
type task struct {
	given   *parts.Cupboard // what is there
	cup     *parts.Cupboard // and what may be made of it
	brief   *brief.Brief
	mostOwn units.Newtons // the most that what turns with one axle weighs
	// early is the first drive of the list, if it has been told before the others were settled.
	early  *candidate
	dived  []search.Found[node, *candidate] // what a dive came to
	toShow *search.Found[node, *candidate]  // some drive, if one was come by; else nil
	// forRooms is the penalty for a drive that works in so many of the classrooms.
	forRooms [forecast.Rooms + 1]score.Points

	pulleys []parts.Kind[parts.Pulley]
	bands   []parts.Kind[parts.Band]
	motors  []parts.Kind[parts.Motor]
	holders []parts.Kind[parts.CellHolder]
	axles   []parts.Kind[parts.AxleStock]
	wheels  []parts.Kind[parts.Wheel]
	drums   []parts.Kind[parts.Drum]
	sleeves []parts.Kind[parts.Sleeve]

	heads []head
	// Where each pulley may be, and where with every hole out of place by the brief's
	// hole error.
	seats, forgivingSeats seats

	onAxle       [][][]drive.Joint                   // [pulley][axle]: ways to sit on it
	axlePulleys  []int                               // pulleys that sit on some axle
	axleCost     []score.Points                      // [pulley]: least joint penalty on any axle
	axleDrag     []units.Interval[units.Millimetres] // [pulley]: friction torque for each newton, on any axle it sits on
	leastOwn     []units.Newtons                     // [pulley]: what it weighs with the lightest axle it sits on; 0 where axles stand
	leastOwnDrag units.NewtonMillimetres             // friction torque from that, with the pulley of which it is least
	onMotor      [][][]drive.Joint                   // [motor][pulley]: ways to sit on the shaft, the easiest first
	stageReach   units.Interval[float64]             // ln velocity ratio of any stage between axles
	motorReach   []units.Interval[float64]           // [motor]: of any first stage
	// The smallest and the largest driver, for narrowing a reach.
	axleDriverEnds  [2]int
	motorDriverEnds [][2]int
	mostCut         float64                           // by what share the worst pulley cut of discs puts a velocity ratio out
	thickness       units.Interval[units.Millimetres] // of any band, stretched as far as it may be
	used            [len(uses)][]asUsed               // [use][band]
	sections        [len(uses)][]section              // [use]: of bands enough for all sets
	suits           [len(uses)][][]bool               // [use][pulley][band]: it lies in the groove

	hanging     hanging
	cut         cuttings
	halfStep    units.Millimetres   // half of the ruler's longest step
	bearable    []units.Millimetres // how far holes may be out of place, the most first
	tally       *tally
	pins        *Pins
	extra       Extra
	mustForgive bool
	anyWillDo   bool // one drive is as good as another
	large       bool // cupboard: see largeFrom
	many        bool // nodes have been looked at: see manyNodes
	// stopped tells whether the search is to end, for what takes long in one piece.
	stopped func() bool

	mu       sync.Mutex
	pairs    map[pair]*pairOptions
	listings map[pairAt]*listing
	rows     map[rowKey]*row
	// How many options of pairs, and ends of those, are kept.
	keptOptions, keptEnds atomic.Int64
	mostOptions, mostEnds int64
}

// head is the part of a design that is chosen first: how many stages, the motor
// and cells, and what sits on the output axle.
type head struct {
	stages, motor, holder int
	output                int // wheel or drum, -1 if the model has none
	motorModel            mechanics.Motor
	class                 *forecast.Class
	weighed               *forecast.Class // of drives whose bands have all been weighed; nil if no band has
	supply                mechanics.Supply
	demand                drive.Demand
	weighs                units.Newtons           // what the output axle carries for the model
	most                  units.NewtonMillimetres // steady torque on the axle that rubs most
	free, slowest         units.RPM               // motor speed: unloaded, and at the running rule's limit
	stall                 units.NewtonMillimetres
	bears                 units.NewtonMillimetres // up to which nothing is charged for it
	fixed                 score.Points
	// leastRatio is the ln velocity ratio below which the motor cannot start.
	leastRatio float64
}

// node is a partly chosen arrangement: a head, then pulleys from the output back
// to the motor (driven, driver, driven, driver ...).
type node struct {
	head    int16 // -1 at the root
	chosen  int8
	pulleys [2 * drive.MaxStages]int16
	flow    partFlow
	fixed   score.Points // penalty certain so far
	bound   search.Cost
}

func (n *node) whole(t *task) bool {
	return n.head >= 0 && int(n.chosen) == 2*t.heads[n.head].stages
}

// nextShaft is the shaft, counted from the motor's, that the next pulley goes on.
func (n *node) nextShaft(h *head) int { return h.stages - int(n.chosen+1)/2 }

// newTask prepares a search. It refuses nothing: a cupboard with no motor simply
// leads to a search with nothing in it.
func newTask(cup *parts.Cupboard, b *brief.Brief) *task {
	given := cup.InStock()
	cup = making.Offer(given, b)
	t := &task{
		given: given, cup: cup, brief: b,
		pulleys: parts.PulleyKinds(cup.Pulleys), bands: parts.BandKinds(cup.Bands), motors: parts.MotorKinds(cup.Motors),
		holders: parts.HolderKinds(cup.Holders), axles: parts.AxleKinds(cup.Axles),
		wheels: parts.WheelKinds(cup.Wheels), drums: parts.DrumKinds(cup.Drums), sleeves: parts.SleeveKinds(cup.Sleeves),
		tally: newTally(), pairs: map[pair]*pairOptions{}, listings: map[pairAt]*listing{}, rows: map[rowKey]*row{}, extra: noExtra{}, stopped: func() bool { return false },
		mostOptions: mostOptions, mostEnds: mostEnds, bearable: bearable(b.Limits.HoleError),
	}
	t.large = len(t.pulleys) >= largeFrom
	for works := range t.forRooms {
		t.forRooms[works] = score.Classrooms(b.Weights, works, forecast.Rooms)
	}
	for i := range t.bands {
		t.halfStep = max(t.halfStep, rulerStep(2*t.bands[i].Part.FlatLength)/2)
	}
	t.jointsOnAxles()
	t.jointsOnMotors()
	t.reaches()
	t.useBands()
	t.suitBands()
	t.mostOwn = drive.HeaviestAxle(cup, b)
	t.buildHeads()
	t.findHanging()
	t.seats, t.forgivingSeats = t.findSeats(0), t.findSeats(b.Limits.HoleError)
	return t
}

func (t *task) jointsOnAxles() {
	t.onAxle = make([][][]drive.Joint, len(t.pulleys))
	t.axleCost = make([]score.Points, len(t.pulleys))
	t.axleDrag = make([]units.Interval[units.Millimetres], len(t.pulleys))
	t.leastOwn = make([]units.Newtons, len(t.pulleys))
	held := make([]bool, len(t.axles))
	for a := range t.axles {
		no := constraints.HoleInStrip(t.brief, &t.axles[a].Part)
		if held[a] = no == nil; no != nil {
			t.tally.add(no)
		}
	}
	for p := range t.pulleys {
		t.onAxle[p] = make([][]drive.Joint, len(t.axles))
		least := score.Points(math.MaxInt64)
		drag := &t.axleDrag[p]
		drag.Lo = units.Millimetres(math.Inf(1))
		rod := units.Newtons(math.Inf(1))
		var why *constraints.Refusal
		for a := range t.axles {
			if !held[a] {
				continue
			}
			joints, no := constraints.Joints(constraints.PulleyHub(&t.pulleys[p].Part), t.axles[a].Part.Diameter, t.cup.Sleeves, t.brief.Making)
			t.onAxle[p][a] = joints
			why = no
			if len(joints) > 0 {
				stock := &t.axles[a].Part
				d := units.Millimetres(mechanics.BearingTorque(drive.BearingFriction(stock.Material).Likely, 1, stock.Diameter/2))
				drag.Lo, drag.Hi = min(drag.Lo, d), max(drag.Hi, d)
				rod = min(rod, drive.RodWeight(stock, &t.brief.Frame))
			}
			for _, j := range joints {
				least = min(least, score.Joint(t.brief.Weights, j.Kind))
			}
		}
		if t.leastOwn[p] = t.weightOn(p) + rod; t.brief.Model == brief.UprightRide {
			t.leastOwn[p] = 0
		}
		if least == math.MaxInt64 {
			if why != nil {
				t.tally.add(why)
			}
			continue
		}
		ownDrag := units.NewtonMillimetres(float64(drag.Lo) * float64(t.leastOwn[p]))
		if t.axleCost[p] = least; len(t.axlePulleys) == 0 || ownDrag < t.leastOwnDrag {
			t.leastOwnDrag = ownDrag
		}
		t.axlePulleys = append(t.axlePulleys, p)
	}
}

// weightOn is the weight of a pulley on a level axle; 0 where axles stand.
func (t *task) weightOn(pulley int) units.Newtons {
	if t.brief.Model == brief.UprightRide {
		return 0
	}
	return drive.PulleyWeight(&t.pulleys[pulley].Part)
}

func (t *task) jointsOnMotors() {
	t.onMotor = make([][][]drive.Joint, len(t.motors))
	for m := range t.motors {
		t.onMotor[m] = make([][]drive.Joint, len(t.pulleys))
		motor := &t.motors[m].Part
		for p := range t.pulleys {
			pulley := &t.pulleys[p].Part
			joints, no := constraints.Joints(constraints.PulleyHub(pulley), motor.ShaftDiameter, t.cup.Sleeves, t.brief.Making)
			if no == nil {
				no = cmp.Or(constraints.MadeOnMotor(pulley), constraints.ShaftReaches(motor, pulley))
			}
			if no != nil {
				t.tally.add(no)
				continue
			}
			// The cheaper first, which depends on the brief's weights.
			slices.SortStableFunc(joints, func(a, b drive.Joint) int {
				return cmp.Compare(score.Joint(t.brief.Weights, a.Kind), score.Joint(t.brief.Weights, b.Kind))
			})
			t.onMotor[m][p] = joints
		}
	}
}

// reaches bounds the velocity ratio that any one stage can have.
func (t *task) reaches() {
	for i := range t.pulleys {
		t.mostCut = max(t.mostCut, drive.RatioUncertainty(&t.pulleys[i].Part))
	}
	t.thickness = units.Interval[units.Millimetres]{Lo: math.MaxFloat64, Hi: 0}
	for i := range t.bands {
		b := &t.bands[i].Part
		loop := drive.LoopOf(b, drive.Single)
		t.thickness.Lo = min(t.thickness.Lo, loop.ThicknessAt(t.brief.Limits.FittedStretchMax))
		t.thickness.Hi = max(t.thickness.Hi, loop.ThicknessAt(t.brief.Limits.FittedStretchMin))
	}
	t.stageReach = t.reachFrom(t.axlePulleys)
	t.axleDriverEnds = t.ends(t.axlePulleys)
	t.motorReach = make([]units.Interval[float64], len(t.motors))
	t.motorDriverEnds = make([][2]int, len(t.motors))
	for m := range t.motors {
		var drivers []int
		for p, j := range t.onMotor[m] {
			if j != nil {
				drivers = append(drivers, p)
			}
		}
		t.motorReach[m] = t.reachFrom(drivers)
		t.motorDriverEnds[m] = t.ends(drivers)
	}
}

// reachFrom is from the largest driver and the smallest driven pulley to the smallest and the
// largest.
func (t *task) reachFrom(drivers []int) units.Interval[float64] {
	if len(drivers) == 0 || len(t.axlePulleys) == 0 {
		return units.Interval[float64]{Lo: math.Inf(1), Hi: math.Inf(-1)}
	}
	driver, driven := t.ends(drivers), t.ends(t.axlePulleys)
	return units.Interval[float64]{Lo: t.pairRatio(driver[1], driven[0]).Lo, Hi: t.pairRatio(driver[0], driven[1]).Hi}
}

// pairRatio bounds ln of the velocity ratio of driver a and driven b over every
// band in the cupboard: (D+t)/(d+t) moves towards 1 as the band gets thicker.
func (t *task) pairRatio(a, b int) units.Interval[float64] {
	d, D := t.pulleys[a].Part.GrooveFloor, t.pulleys[b].Part.GrooveFloor
	thin := math.Log(float64((D + t.thickness.Lo) / (d + t.thickness.Lo)))
	thick := math.Log(float64((D + t.thickness.Hi) / (d + t.thickness.Hi)))
	return units.Interval[float64]{Lo: min(thin, thick), Hi: max(thin, thick)}
}

// buildHeads lists the heads in the order of the tie rule: fewer stages, fewer
// cells and then the order of the kinds of holder, then motor and output part in class order.
func (t *task) buildHeads() {
	outputs := []int{-1}
	switch t.brief.Model {
	case brief.Vehicle:
		outputs = parts.Asked(t.wheels, t.brief.Load.Wheel)
	case brief.Lift:
		outputs = parts.Asked(t.drums, t.brief.Load.Drum)
	}
	for stages := 1; stages <= min(t.brief.MaxStages, drive.MaxStages); stages++ {
		for h := range t.holders {
			for m := range t.motors {
				for _, o := range outputs {
					head, ok := t.newHead(stages, m, h, o)
					if !ok {
						continue
					}
					for i := range t.heads {
						head.shareClass(&t.heads[i])
					}
					t.heads = append(t.heads, head)
				}
			}
		}
	}
}

// shareClass takes a head's classrooms if they are the same, so that what is found out of them
// serves both.
func (h *head) shareClass(with *head) {
	if h.motor == with.motor && h.holder == with.holder && h.output == with.output {
		h.class, h.weighed = with.class, with.weighed
	}
}

func (t *task) newHead(stages, m, h, o int) (head, bool) {
	motor, holder := &t.motors[m].Part, &t.holders[h].Part
	if !cellsAllowed(t.brief.Cells, holder.Cells) {
		return head{}, false
	}
	for _, no := range []*constraints.Refusal{
		constraints.EnoughStock(motor.Name, t.motors[m].Count, 1, t.brief.Sets),
		constraints.EnoughStock(holder.Name, t.holders[h].Count, 1, t.brief.Sets),
		t.enoughOutputs(o),
		constraints.Volts(motor, holder),
	} {
		if no != nil {
			t.tally.add(no)
			return head{}, false
		}
	}
	if wheel, _ := t.outputParts(o); wheel != nil {
		if no := constraints.WheelsStand(t.brief, wheel); no != nil {
			t.tally.add(no)
			return head{}, false
		}
	}
	model, err := drive.MotorModel(motor, drive.Conditions{})
	if err != nil {
		return head{}, false // the cupboard's reader has refused such motors
	}
	hd := head{stages: stages, motor: m, holder: h, output: o, motorModel: model, supply: drive.SupplyOf(holder, drive.Conditions{})}
	wheel, drum := t.outputParts(o)
	hd.demand, hd.weighs = drive.DemandOf(t.brief, wheel, drum, nil, drive.Likely), drive.OutputWeight(wheel, drum)
	for a := range t.axles {
		hd.most = max(hd.most, drive.DemandOf(t.brief, wheel, drum, &t.axles[a].Part, drive.Likely).Steady)
	}
	traction := drive.TractionOf(t.brief, wheel, hd.demand)
	if no := constraints.WheelTraction(traction.Needed, traction.Holds); no != nil {
		t.tally.add(no)
		return head{}, false
	}
	hd.stall = model.StallTorque(hd.supply)
	hd.bears = hd.stall * units.NewtonMillimetres(t.brief.Limits.ContinuousShare)
	hd.free = model.FreeSpeed(hd.supply)
	hd.slowest = model.SpeedAt(hd.supply, hd.stall/units.NewtonMillimetres(t.brief.Limits.RunMin))
	if hd.demand.Swing > 0 {
		// The mean over a turn is not below the speed at its heaviest moment.
		hd.slowest = min(hd.slowest, model.SpeedAt(hd.supply, hd.stall/units.NewtonMillimetres(t.brief.Limits.StartMin)))
	}
	if hd.stall <= 0 || hd.free <= 0 {
		return head{}, false
	}
	if hd.class, err = forecast.NewClass(t.brief, motor, holder, wheel, drum, forecast.Known{}); err != nil {
		return head{}, false
	}
	if slices.ContainsFunc(t.bands, func(c parts.Kind[parts.Band]) bool { return c.Part.Calibrated }) {
		if hd.weighed, err = forecast.NewClass(t.brief, motor, holder, wheel, drum, forecast.Known{Bands: true}); err != nil {
			return head{}, false
		}
	}
	hd.leastRatio = math.Log(max(1e-9, float64(hd.demand.Start)*t.brief.Limits.StartMin/float64(hd.stall)))
	w := t.brief.Weights
	assumed := len(motor.Assumed) + len(holder.Assumed)
	if wheel != nil {
		assumed += len(wheel.Assumed)
	}
	if drum != nil {
		assumed += len(drum.Assumed)
	}
	hd.fixed = score.Stages(w, stages) + score.Cells(w, holder.Cells) + score.Assumptions(w, assumed)
	return hd, true
}

func cellsAllowed(allowed []int, cells int) bool {
	for _, c := range allowed {
		if c == cells {
			return true
		}
	}
	return len(allowed) == 0
}

func (t *task) outputParts(o int) (*parts.Wheel, *parts.Drum) {
	switch {
	case o < 0:
		return nil, nil
	case t.brief.Model == brief.Vehicle:
		return &t.wheels[o].Part, nil
	}
	return nil, &t.drums[o].Part
}

func (t *task) enoughOutputs(o int) *constraints.Refusal {
	wheel, drum := t.outputParts(o)
	switch {
	case wheel != nil:
		return constraints.EnoughStock(wheel.Name, t.wheels[o].Count, drive.VehicleWheels, t.brief.Sets)
	case drum != nil:
		return constraints.EnoughStock(drum.Name, t.drums[o].Count, 1, t.brief.Sets)
	}
	return nil
}
