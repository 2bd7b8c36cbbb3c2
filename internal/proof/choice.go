package proof

import (
	"fmt"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/parts"
	"findrive/internal/score"
	"findrive/internal/units"
)

// choice is an arrangement with everything chosen but the places of its axles; or,
// while it is being made, some of that.
type choice struct {
	n       *node // whole
	forgive bool
	axles   [drive.MaxStages]*axleWay // of each stage's driven pulley
	ways    [drive.MaxStages]*way
	cost    score.Points // all but speed and motor load
	made    *drive.Drive // once all bands are chosen
	model   drive.Model
}

// axleWay is one way to make an axle: the rod, and the joints of the driven pulley
// and of what else sits on it.
type axleWay struct {
	stock        int
	driven, next drive.Joint
	cost         score.Points
}

// start is the choice of whether the drive is to forgive, charged with all that
// the arrangement has been charged except its joints on axles.
func (n *node) start(forgive bool) *choice {
	c := &choice{n: n, forgive: forgive, cost: n.fixed + score.Forgiveness(n.brief.Weights, 0, n.brief.Limits.HoleError)}
	for i := range n.hd.stages {
		c.cost -= n.cheapestJoint(n.driven(i))
		if i > 0 {
			c.cost -= n.cheapestJoint(n.driver(i))
		}
	}
	return c
}

// axleWays lists the ways to make the axle of stage i's driven pulley.
func (n *node) axleWays(i int) []*axleWay {
	var out []*axleWay
	w := n.brief.Weights
	for a := range n.space.axles {
		stock := &n.space.axles[a].part
		for _, driven := range n.onAxle[n.driven(i)][a] {
			for _, next := range n.nextOn(i, a) {
				out = append(out, &axleWay{stock: a, driven: driven, next: next,
					cost: score.Joint(w, driven.Kind) + score.Joint(w, next.Kind) + n.assumed(len(stock.Assumed))})
			}
		}
	}
	return out
}

// nextOn lists the joints of what else sits on that axle: the next driver, or the
// wheel or drum; one that is nothing where there is neither.
func (n *node) nextOn(i, stock int) []drive.Joint {
	if i < n.hd.stages-1 {
		return n.onAxle[n.driver(i+1)][stock]
	}
	var hub constraints.Hub
	switch wheel, drum := n.part(n.hd.output); {
	case wheel != nil:
		hub = constraints.WheelHub(wheel)
	case drum != nil:
		hub = constraints.DrumHub(drum)
	default:
		return []drive.Joint{{}}
	}
	joints, _ := constraints.Joints(hub, n.space.axles[stock].part.Diameter, n.cup.Sleeves, n.brief.Making)
	return joints
}

// enoughRod reports whether the stock of rods and sleeves reaches for the axles
// chosen.
func (c *choice) enoughRod() bool {
	n := c.n
	rods, sleeves := map[int]int{}, map[string]int{}
	sleeved := func(j *drive.Joint) {
		if j.Sleeve != nil {
			sleeves[j.Sleeve.Name] += n.brief.Sets
		}
	}
	sleeved(n.hd.shaft[n.driver(0)])
	for _, a := range c.axles[:n.hd.stages] {
		rods[a.stock] += n.brief.Sets
		sleeved(&a.driven)
		sleeved(&a.next)
	}
	for stock, need := range rods {
		k := &n.space.axles[stock]
		if need > k.count*constraints.Pieces(k.part.Length, n.axleLength) {
			return false
		}
	}
	for i := range n.cup.Sleeves {
		if s := &n.cup.Sleeves[i]; sleeves[s.Name] > s.Count {
			return false
		}
	}
	return true
}

// enoughBands reports whether the stock of bands reaches for all stages.
func (c *choice) enoughBands() bool {
	need := map[int]int{}
	for _, w := range c.ways[:c.n.hd.stages] {
		need[w.band] += w.use.BandsTaken() * c.n.brief.Sets
	}
	for b, count := range need {
		if count > c.n.space.bands[b].count {
			return false
		}
	}
	return true
}

// reversals is how many bands are crossed.
func (c *choice) reversals() int {
	n := 0
	for _, w := range c.ways[:c.n.hd.stages] {
		if w.crossed {
			n++
		}
	}
	return n
}

// finish makes the drive of the whole choice, not yet placed.
func (c *choice) finish() error {
	n := c.n
	k := n.hd.stages
	d := &drive.Drive{
		Motor: &n.space.motors[n.hd.motor].part, Holder: &n.space.holders[n.hd.holder].part,
		Stages: make([]drive.Stage, k), Axles: make([]*parts.AxleStock, k), MotorTurns: motorTurns(n.brief.Direction, c.reversals()),
	}
	d.Wheel, d.Drum = n.part(n.hd.output)
	for i := range k {
		st := &d.Stages[i]
		*st = drive.Stage{
			Driver: &n.space.pulleys[n.driver(i)].part, Driven: &n.space.pulleys[n.driven(i)].part,
			DriverJoint: *n.hd.shaft[n.driver(0)], DrivenJoint: c.axles[i].driven,
			Band: c.ways[i].part, Use: c.ways[i].use, Crossed: c.ways[i].crossed,
		}
		if i > 0 {
			st.DriverJoint = c.axles[i-1].next
		}
		d.Axles[i] = &n.space.axles[c.axles[i].stock].part
	}
	if d.Wheel != nil || d.Drum != nil {
		d.OutputJoint = c.axles[k-1].next
	}
	c.made = d
	var err error
	c.model, err = drive.Prepare(d, n.brief, drive.Conditions{})
	return err
}

// placed is the drive at places and in lanes.
func (c *choice) placed(at []layout.Point, lanes plan) *drive.Drive {
	d := *c.made
	d.Positions, d.Lanes = at, layout.LanePlan{Lane: lanes.lane, BodyLanes: lanes.beside}
	return &d
}

// motorTurns is the way the motor turns, seen from the front: +1 anticlockwise. If
// its own way is fixed it is that; else the way that gives the output the wanted
// one, clockwise if either will do. Seen from behind or from below, clockwise looks
// anticlockwise.
func motorTurns(d brief.Direction, reversals int) int {
	flip := 1
	if d.SeenFrom == "back" || d.SeenFrom == "below" {
		flip = -1
	}
	way := func(s brief.Sense) int {
		switch s {
		case brief.Anticlockwise:
			return flip
		case brief.Clockwise:
			return -flip
		}
		return -1
	}
	if d.MotorTurns != brief.Either {
		return way(d.MotorTurns)
	}
	if reversals%2 == 1 {
		return -way(d.Sense)
	}
	return way(d.Sense)
}

// works works a placed drive out by the plain route, all centre distances longer by
// off. It gives the speed and the motor's torque, or the first rule that is broken.
func (c *choice) works(d *drive.Drive, off mm) (units.RPM, units.NewtonMillimetres, reason) {
	b, l := c.n.brief, c.n.brief.Limits
	broken := func(r *constraints.Refusal) reason { return reason{rule: string(r.Rule)} }
	g, err := drive.GeometryOf(d, &c.model, off)
	if err != nil {
		return 0, 0, reason{rule: string(constraints.Stretch)}
	}
	if t := drive.TractionOf(b, d.Wheel, c.model.Demand); b.Model == brief.Vehicle {
		if no := constraints.WheelTraction(t.Needed, t.Holds); no != nil {
			return 0, 0, broken(no)
		}
	}
	run, start := c.model.Carry(&g, c.model.Demand.Steady), c.model.Carry(&g, c.model.Demand.Start)
	for i := len(d.Stages) - 1; i >= 0; i-- {
		s, f := &d.Stages[i], &g.Fits[i]
		if no := constraints.FittedStretch(l, s.Band, f.Stretch); no != nil {
			return 0, 0, broken(no)
		}
		if no := constraints.ArcOfContact(l, f); no != nil {
			return 0, 0, broken(no)
		}
		if s.Crossed {
			if no := constraints.CrossedBandSpacing(f.DriverPitch, f.DrivenPitch, f.Centre); no != nil {
				return 0, 0, broken(no)
			}
		}
		if run.Slips >= i {
			return 0, 0, reason{rule: string(constraints.Grip)}
		}
		if start.Slips >= i {
			return 0, 0, reason{rule: string(constraints.GripStart)}
		}
		greatest, _ := c.model.Stages[i].Grip(*f)
		if no := constraints.GripRunning(l, s.Band, i, constraints.GripMargin(greatest, run.Stages[i].Effective)); no != nil {
			return 0, 0, broken(no)
		}
		if no := constraints.GripStarting(l, s.Band, i, constraints.GripMargin(greatest, start.Stages[i].Effective)); no != nil {
			return 0, 0, broken(no)
		}
		tight := run.Stages[i].Loaded.TightStretch
		if c.model.Demand.Swing > 0 {
			tight = max(tight, start.Stages[i].Loaded.TightStretch)
		}
		if no := constraints.RunningTight(l, s.Band, tight); no != nil {
			return 0, 0, broken(no)
		}
	}
	stall := c.model.Motor.StallTorque(c.model.Supply)
	if no := constraints.MotorStart(l, d.Motor.Name, stall, start.MotorTorque); no != nil {
		return 0, 0, broken(no)
	}
	if no := constraints.MotorRun(l, d.Motor.Name, stall, run.MotorTorque); no != nil {
		return 0, 0, broken(no)
	}
	speed := c.model.OutputSpeed(&g, &run)
	if no := constraints.SpeedWithin(speed, c.model.Demand.Target, b.Tolerance); no != nil {
		return 0, 0, broken(no)
	}
	return speed, run.MotorTorque, reason{}
}

// costs is what a placed drive costs, or the rule it breaks, with its holes as
// drawn or, if it is to forgive, out of place. Its places are not looked at.
func (c *choice) costs(d *drive.Drive) (score.Points, reason) {
	speed, torque, no := c.works(d, 0)
	if no.rule != "" {
		return 0, no
	}
	w := c.n.brief.Weights
	stall := c.model.Motor.StallTorque(c.model.Supply)
	cost := c.cost + score.MotorLoad(c.n.brief.Limits, w, float64(torque/stall)) + score.Speed(w, speed, speed, c.model.Demand.Target)
	if c.forgive {
		for _, off := range []mm{-2 * c.n.brief.Limits.HoleError, 2 * c.n.brief.Limits.HoleError} {
			if _, _, no := c.works(d, off); no.rule != "" {
				return 0, no
			}
		}
	}
	return cost, reason{}
}

// describe says in a few words which drive a choice is.
func (c *choice) describe(cost score.Points) string {
	words := fmt.Sprintf("motor %s, cells %s", c.made.Motor.Name, c.made.Holder.Name)
	for i := range c.made.Stages {
		st := &c.made.Stages[i]
		words += fmt.Sprintf(", %s to %s by %s", st.Driver.Name, st.Driven.Name, st.Band.Name)
		if st.Use != drive.Single {
			words += " " + st.Use.String()
		}
		if st.Crossed {
			words += " crossed"
		}
	}
	return fmt.Sprintf("%s, at %s points", words, inPoints(cost))
}
