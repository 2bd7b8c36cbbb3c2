package design

import (
	"cmp"
	"math"
	"slices"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/parts"
	"findrive/internal/score"
)

// bruteForce lists every arrangement that can be built with its least penalty,
// by trying everything: each head, wheel or drum, pulley, axle, joint, band and hole. It knows
// the rules only through the plain re-check of a finished drive, and nothing of
// bounds, windows or order.
func bruteForce(cup *parts.Cupboard, b *brief.Brief) []bruteFound {
	t := newTask(cup, b)
	best := map[[2 + 2*drive.MaxStages]int]score.Points{}
	for stages := 1; stages <= b.MaxStages; stages++ {
		for m := range t.motors {
			for h := range t.holders {
				for _, o := range t.bruteOutputs() {
					if !cellsAllowed(b.Cells, t.holders[h].Part.Cells) {
						continue
					}
					d := &drive.Drive{Motor: &t.motors[m].Part, Holder: &t.holders[h].Part, Stages: make([]drive.Stage, stages), Axles: make([]*parts.AxleStock, stages)}
					d.Wheel, d.Drum = t.outputParts(o)
					key := [2 + 2*drive.MaxStages]int{stages, (h*100+m)*100 + o}
					t.brutePulleys(d, 0, func(pulleys []int) {
						copy(key[2:], pulleys)
						for i := len(pulleys) + 2; i < len(key); i++ {
							key[i] = -1
						}
						if cost, ok := t.bruteSettle(d); ok {
							if was, seen := best[key]; !seen || cost < was {
								best[key] = cost
							}
						}
					})
				}
			}
		}
	}
	var out []bruteFound
	for key, cost := range best {
		out = append(out, bruteFound{key, cost})
	}
	slices.SortFunc(out, func(a, b bruteFound) int {
		return cmp.Or(cmp.Compare(a.cost, b.cost), slices.Compare(a.key[:], b.key[:]))
	})
	return out
}

// bruteOutputs are the wheels or drums that may be at the output: those the car
// can stand on and drive on.
func (t *task) bruteOutputs() []int {
	switch t.brief.Model {
	case brief.Vehicle:
		return slices.DeleteFunc(named(t.wheels, t.brief.Load.Wheel), func(o int) bool {
			wheel := &t.wheels[o].Part
			traction := drive.TractionOf(t.brief, wheel, drive.DemandOf(t.brief, wheel, nil, nil, drive.Likely))
			return constraints.WheelsStand(t.brief, wheel) != nil || constraints.WheelTraction(traction.Needed, traction.Holds) != nil
		})
	case brief.Lift:
		return named(t.drums, t.brief.Load.Drum)
	}
	return []int{-1}
}

type bruteFound struct {
	key  [2 + 2*drive.MaxStages]int // stages, head, then pulley classes from the output back
	cost score.Points
}

// brutePulleys tries every pulley in every place.
func (t *task) brutePulleys(d *drive.Drive, place int, each func(fromOutput []int)) {
	if place == 2*len(d.Stages) {
		var list []int
		for i := len(d.Stages) - 1; i >= 0; i-- {
			list = append(list, t.classOf(d.Stages[i].Driven.Name), t.classOf(d.Stages[i].Driver.Name))
		}
		each(list)
		return
	}
	for p := range t.pulleys {
		s := &d.Stages[place/2]
		if place%2 == 0 {
			s.Driver = &t.pulleys[p].Part
		} else {
			s.Driven = &t.pulleys[p].Part
		}
		t.brutePulleys(d, place+1, each)
	}
}

// bruteSettle tries every axle, joint, band, use, crossing and hole.
func (t *task) bruteSettle(d *drive.Drive) (score.Points, bool) {
	least, found := score.Points(math.MaxInt64), false
	t.bruteJoints(d, 0, func() {
		t.bruteBands(d, 0, func() {
			if cost, ok := t.bruteHoles(d); ok {
				least, found = min(least, cost), true
			}
		})
	})
	return least, found
}

func (t *task) bruteJoints(d *drive.Drive, stage int, each func()) {
	if stage == len(d.Stages) {
		each() // stock is counted once the bands are chosen too
		return
	}
	joints := func(p *parts.Pulley, shaft float64) []drive.Joint {
		ways, _ := constraints.Joints(constraints.PulleyHub(p), shaftOf(shaft), t.cup.Sleeves, t.brief.Making)
		return ways
	}
	s := &d.Stages[stage]
	shaft := float64(d.Motor.ShaftDiameter)
	if stage > 0 {
		shaft = float64(d.Axles[stage-1].Diameter)
	} else if constraints.ShaftReaches(d.Motor, s.Driver) != nil {
		return
	}
	for a := range t.axles {
		d.Axles[stage] = &t.axles[a].Part
		for _, driver := range joints(s.Driver, shaft) {
			for _, driven := range joints(s.Driven, float64(d.Axles[stage].Diameter)) {
				s.DriverJoint, s.DrivenJoint = driver, driven
				if stage < len(d.Stages)-1 || d.Wheel == nil && d.Drum == nil {
					t.bruteJoints(d, stage+1, each)
					continue
				}
				hub := constraints.Hub{}
				if d.Wheel != nil {
					hub = constraints.WheelHub(d.Wheel)
				} else {
					hub = constraints.DrumHub(d.Drum)
				}
				ways, _ := constraints.Joints(hub, d.Axles[stage].Diameter, t.cup.Sleeves, t.brief.Making)
				for _, d.OutputJoint = range ways {
					t.bruteJoints(d, stage+1, each)
				}
			}
		}
	}
}

func (t *task) bruteBands(d *drive.Drive, stage int, each func()) {
	if stage == len(d.Stages) {
		if !t.bandsShort(d) {
			each()
		}
		return
	}
	s := &d.Stages[stage]
	for b := range t.bands {
		for _, use := range []drive.Use{drive.Single, drive.LoopedTwice, drive.Paired} {
			for _, crossed := range []bool{false, true} {
				if t.bandSuits(pair{t.classOf(s.Driver.Name), t.classOf(s.Driven.Name), use, crossed}, b) != nil {
					continue
				}
				s.Band, s.Use, s.Crossed = &t.bands[b].Part, use, crossed
				t.bruteBands(d, stage+1, each)
			}
		}
	}
}

// bruteHoles tries every point of the grid for every shaft under every lane plan.
func (t *task) bruteHoles(d *drive.Drive) (score.Points, bool) {
	if constraints.TurnsRight(t.brief.Direction, d.Reversals()) != nil {
		return 0, false
	}
	d.MotorTurns = motorTurns(t.brief.Direction, d.Reversals())
	model, err := drive.Prepare(d, t.brief, drive.Conditions{})
	if err != nil {
		return 0, false
	}
	widths := make([]mm, len(d.Stages))
	for i := range d.Stages {
		widths[i] = max(d.Stages[i].Driver.Width, d.Stages[i].Driven.Width)
	}
	least, found := score.Points(math.MaxInt64), false
	// Only to save time: a band that does not fit rules out whatever else is chosen.
	known := map[[2]float64]bool{}
	fits := func(stage int, centre mm) bool {
		key := [2]float64{float64(stage), float64(centre)}
		fits, asked := known[key]
		if !asked {
			f, err := model.Stages[stage].Fit(centre)
			fits = err == nil && constraints.FittedStretch(t.brief.Limits, d.Stages[stage].Band, f.Stretch) == nil
			known[key] = fits
		}
		return fits
	}
	d.Positions = make([]layout.Point, len(d.Stages)+1)
	for _, plan := range layout.LanePlans(len(d.Stages), widths, d.Motor.BodyLength, t.brief.Limits.LaneGap, t.brief.Frame.Depth) {
		d.Lanes = plan
		room := LayoutProblem(d, t.brief, plan, 0)
		t.bruteShaft(d, fits, 0, func() {
			// The first only to save time: it is part of the second.
			if len(layout.Check(room, d.Positions)) > 0 || t.recheck(d, &model, 0) != nil {
				return
			}
			g, err := drive.GeometryOf(d, &model, 0)
			if err != nil {
				return
			}
			flow := model.Carry(&g, model.Demand.Steady)
			forgives := t.recheck(d, &model, t.brief.Limits.HoleError) == nil
			_, cost := t.penalty(d, &g, model.OutputSpeed(&g, &flow), model.Demand.Target, float64(flow.MotorTorque/model.Motor.StallTorque(model.Supply)), forgives)
			least, found = min(least, cost), true
		})
	}
	return least, found
}

func (t *task) bruteShaft(d *drive.Drive, fits func(stage int, centre mm) bool, shaft int, each func()) {
	if shaft == len(d.Positions) {
		each()
		return
	}
	f := t.brief.Frame
	for x := mm(0); x <= f.Length; x += f.Pitch {
		for y := mm(0); y <= f.Height; y += f.Pitch {
			d.Positions[shaft] = layout.Point{X: x, Y: y}
			if shaft == 0 || fits(shaft-1, drive.Distance(d.Positions[shaft-1], d.Positions[shaft])) {
				t.bruteShaft(d, fits, shaft+1, each)
			}
		}
	}
}
