package proof

import (
	"math"
	"slices"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/forecast"
	"findrive/internal/making"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/score"
	"findrive/internal/units"
)

type (
	mm     = units.Millimetres
	points = score.Points
	span   = units.Interval[float64]
	gap    = units.Interval[mm]
)

// never is what is charged for what the rules refuse.
const never points = math.MaxInt64 / 4

// space is every design of a cupboard for a brief with one tackle. What is chosen, in
// this order:
//
//	stages, cells, motor and output part (the head)
//	how far holes may be out of place (the level)
//	pairs of pulleys, from the output back (the row)
//	the joint on the motor's shaft; rod and joints of each axle
//	for each stage the band, its use and its mark; the lies
//
// The cheapest design of a row is what the row costs; rows of the same pairs are one
// drive.
type space struct {
	cup   *parts.Cupboard
	brief *brief.Brief

	pulleys []parts.Kind[parts.Pulley]
	bands   []parts.Kind[parts.Band]
	motors  []parts.Kind[parts.Motor]
	holders []parts.Kind[parts.CellHolder]
	axles   []parts.Kind[parts.AxleStock]
	wheels  []parts.Kind[parts.Wheel]
	drums   []parts.Kind[parts.Drum]
	sleeves []parts.Kind[parts.Sleeve]
	mostCut float64 // by what share the worst pulley cut of discs puts a velocity ratio out

	heads      []head
	levels     []mm              // how far holes may be out of place
	onAxle     [][][]drive.Joint // [pulley][rod]
	leastJoint []points          // [pulley]: on any rod; never if it sits on none
	drag       []span            // [pulley]: friction torque for each newton on its axle, in mm, on any rod
	sawn       map[sawing]bool   // whether rods are enough for all sets
	mostOwn    float64           // N; the most that what turns with one axle weighs
	thickest   float64           // mm; of any band

	dearest points                  // of a way to band a stage that is worth looking at
	ways    map[[2]int]waysAt       // of a driven and a driver pulley
	shafts  map[int][][]drive.Joint // how each pulley sits on a motor's shaft
	bunches map[pairAt]bunchAt
	dropped bool // a way or a state just now, as dearer than dearest
}

// head is the first choice.
type head struct {
	stages, motor, holder, output int // output: wheel or drum, -1 for neither
	supply                        mechanics.Supply
	demand                        drive.Demand // a vehicle's free axle left out
	freeAxle                      span         // what that adds, in N·mm
	stall, free                   float64      // of the motor, in N·mm and rpm
	shaftDrag                     float64      // friction torque for each newton on its shaft, in mm
	fixed                         points
	onShaft                       [][]drive.Joint // [pulley]: on the motor's shaft
	classes                       []*forecast.Class
	rooms                         [][forecast.Rooms]forecast.Room // of each class
	ratios                        span                            // turns of the motor for one of the output that may do
}

// spaces makes the space of each tackle.
func spaces(cup *parts.Cupboard, b *brief.Brief) []*space {
	if len(b.Load.Tackles) < 2 {
		return []*space{newSpace(cup, b)}
	}
	var out []*space
	for _, t := range b.Load.Tackles {
		out = append(out, newSpace(cup, b.With(t)))
	}
	return out
}

func newSpace(cup *parts.Cupboard, b *brief.Brief) *space {
	cup = making.Offer(cup.InStock(), b)
	s := &space{
		cup: cup, brief: b, pulleys: parts.PulleyKinds(cup.Pulleys), bands: parts.BandKinds(cup.Bands), motors: parts.MotorKinds(cup.Motors),
		holders: parts.HolderKinds(cup.Holders), axles: parts.AxleKinds(cup.Axles), wheels: parts.WheelKinds(cup.Wheels), drums: parts.DrumKinds(cup.Drums), sleeves: parts.SleeveKinds(cup.Sleeves),
		ways: map[[2]int]waysAt{}, bunches: map[pairAt]bunchAt{}, shafts: map[int][][]drive.Joint{}, dearest: never, sawn: map[sawing]bool{},
	}
	e := b.Limits.HoleError
	s.levels = []mm{e}
	if e > score.Edge {
		s.levels = append(s.levels, score.Edge)
	}
	if e > 0 {
		s.levels = append(s.levels, 0)
	}
	for i := range s.pulleys {
		s.mostCut = max(s.mostCut, drive.RatioUncertainty(&s.pulleys[i].Part))
	}
	for i := range s.bands {
		s.thickest = max(s.thickest, float64(s.bands[i].Part.Thickness))
	}
	s.seatPulleys()
	s.mostOwn = float64(drive.HeaviestAxle(cup, b))
	outputs := s.outputs()
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

// outputs lists the wheels or drums that the brief allows; -1 if it takes neither.
func (s *space) outputs() []int {
	switch s.brief.Model {
	case brief.Vehicle:
		return parts.Asked(s.wheels, s.brief.Load.Wheel)
	case brief.Lift:
		return parts.Asked(s.drums, s.brief.Load.Drum)
	}
	return []int{-1}
}

// part gives the wheel or drum of an output.
func (s *space) part(output int) (*parts.Wheel, *parts.Drum) {
	switch {
	case output < 0:
		return nil, nil
	case s.brief.Model == brief.Vehicle:
		return &s.wheels[output].Part, nil
	}
	return nil, &s.drums[output].Part
}

// headOf makes a head; false if the rules about its parts alone refuse it.
func (s *space) headOf(stages, m, h, o int) (head, bool) {
	b, motor, holder := s.brief, &s.motors[m].Part, &s.holders[h].Part
	wheel, drum := s.part(o)
	if len(b.Cells) > 0 && !slices.Contains(b.Cells, holder.Cells) || s.motors[m].Count < b.Sets || s.holders[h].Count < b.Sets ||
		wheel != nil && (s.wheels[o].Count < drive.VehicleWheels*b.Sets || constraints.WheelsStand(b, wheel) != nil) || drum != nil && s.drums[o].Count < b.Sets {
		return head{}, false
	}
	if constraints.Volts(motor, holder) != nil {
		return head{}, false
	}
	model, err := drive.MotorModel(motor, drive.Conditions{})
	if err != nil {
		return head{}, false
	}
	hd := head{stages: stages, motor: m, holder: h, output: o, supply: drive.SupplyOf(holder, drive.Conditions{}),
		demand: drive.DemandOf(b, wheel, drum, nil, drive.Likely), freeAxle: span{Lo: math.Inf(1)},
		shaftDrag: mechanics.MotorBearing().Likely * float64(motor.ShaftDiameter) / 2}
	for a := range s.axles {
		free := float64(drive.DemandOf(b, wheel, drum, &s.axles[a].Part, drive.Likely).Steady - hd.demand.Steady)
		hd.freeAxle = span{Lo: min(hd.freeAxle.Lo, free), Hi: max(hd.freeAxle.Hi, free)}
	}
	hd.stall, hd.free = float64(model.StallTorque(hd.supply)), float64(model.FreeSpeed(hd.supply))
	traction := drive.TractionOf(b, wheel, hd.demand)
	if hd.stall <= 0 || hd.free <= 0 || constraints.WheelTraction(traction.Needed, traction.Holds) != nil {
		return head{}, false
	}
	for _, known := range []bool{false, true} {
		if known && !slices.ContainsFunc(s.bands, func(k parts.Kind[parts.Band]) bool { return k.Part.Calibrated }) {
			break
		}
		class, err := forecast.NewClass(b, motor, holder, wheel, drum, forecast.Known{Bands: known})
		if err != nil {
			return head{}, false
		}
		hd.classes, hd.rooms = append(hd.classes, class), append(hd.rooms, class.Each())
	}
	facts := len(motor.Assumed) + len(holder.Assumed)
	if wheel != nil {
		facts += len(wheel.Assumed)
	}
	if drum != nil {
		facts += len(drum.Assumed)
	}
	hd.fixed = score.Stages(b.Weights, stages) + score.Cells(b.Weights, holder.Cells) + score.Assumptions(b.Weights, facts)
	hd.onShaft = s.shaftOf(m)
	hd.ratios = s.ratiosFor(&hd)
	return hd, true
}

// ratiosFor bounds the velocity ratio of a whole drive. The motor turns no faster than
// unloaded, bands only lose speed, and the rule about what is held back asks for a share
// of what is left of it.
func (s *space) ratiosFor(h *head) span {
	const noise = 1e-6
	target, tolerance, l := float64(h.demand.Target), s.brief.Tolerance, s.brief.Limits
	return span{
		Lo: max(l.KeptSpeedMin*h.free/(target*(1+tolerance)), float64(h.demand.Start)*l.StartMin/h.stall) * (1 - noise),
		Hi: h.free / (target * (1 - tolerance)) * (1 + noise),
	}
}

// pair is a driven pulley and the driver before it.
type pair struct{ driven, driver int }

// pairsAt lists the pairs that the rules about parts alone allow for a stage, counted
// from the motor's, in the order of equals: the larger driven and the smaller driver
// first.
func (s *space) pairsAt(h *head, stage int) []pair {
	var out []pair
	wheel, _ := s.part(h.output)
	for n := len(s.pulleys) - 1; n >= 0; n-- {
		if s.leastJoint[n] == never || stage == h.stages-1 && wheel != nil && constraints.ClearOfFloor(s.brief, wheel, &s.pulleys[n].Part) != nil {
			continue
		}
		for r := range s.pulleys {
			if stage == 0 && len(h.onShaft[r]) > 0 || stage > 0 && s.leastJoint[r] != never {
				out = append(out, pair{n, r})
			}
		}
	}
	return out
}

// pairCost is what the pulleys of a stage are charged at least.
func (s *space) pairCost(h *head, stage int, p pair) points {
	w, driven, driver := s.brief.Weights, &s.pulleys[p.driven].Part, &s.pulleys[p.driver].Part
	cost := score.Assumptions(w, len(driven.Assumed)+len(driver.Assumed)) + s.leastJoint[p.driven]
	if driven.GrooveFloor == driver.GrooveFloor {
		cost += score.Idle(w, 1)
	}
	if stage > 0 {
		return cost + s.leastJoint[p.driver]
	}
	return cost + s.leastOf(h.onShaft[p.driver])
}

// roughRatio bounds a pair's velocity ratio whatever its band: the thicker that is, the
// nearer the ratio to 1.
func (s *space) roughRatio(p pair) span {
	big, small := float64(s.pulleys[p.driven].Part.GrooveFloor), float64(s.pulleys[p.driver].Part.GrooveFloor)
	thin, thick := big/small, (big+s.thickest)/(small+s.thickest)
	return span{Lo: min(thin, thick), Hi: max(thin, thick)}
}
