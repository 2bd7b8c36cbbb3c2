// Package assemblytest draws whole drives at random, cheaply and without a search,
// for tests of what is printed about them. They have everything that matters for
// putting them together: parts, places, lanes and joints; their speeds and forces
// are not worked out.
package assemblytest

import (
	"fmt"
	"math"
	"math/rand/v2"

	"findrive/internal/certificate"
	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/units"
)

// Models as certificates name them.
var Models = []string{"ride on an upright axle", "ride on a level axle", "vehicle", "lift", "plain shaft"}

// Drive is a brief with a drive for it, one to four stages, in every kind of frame,
// with bands of every kind and parts held in every way. The same seed gives the same
// drive.
func Drive(seed uint64) (*certificate.Brief, *certificate.Proposal) {
	g := generator{rand.New(rand.NewPCG(seed, 0xa55e))}
	for {
		b, p := g.brief(), &certificate.Proposal{Rank: 1}
		if g.drive(b, p) {
			return b, p
		}
	}
}

type generator struct{ *rand.Rand }

type number = certificate.Number

func (g generator) whole(lo, hi int) number   { return number(lo + g.IntN(hi-lo+1)) }
func (g generator) chance(share float64) bool { return g.Float64() < share }

func (g generator) brief() *certificate.Brief {
	b := &certificate.Brief{Name: "A drive drawn at random", Model: Models[g.IntN(len(Models))], Sets: 1 + g.IntN(8), MaxStages: 4}
	b.Limits.Clearance, b.Limits.LaneGap, b.Limits.HoleWall, b.Limits.RunningFit = g.whole(1, 4), g.whole(0, 4), 2, 0.5
	b.Frame = certificate.Frame{Length: g.whole(60, 400), Height: g.whole(40, 200), Depth: g.whole(40, 200), Pitch: 1, Overhang: g.whole(0, 10)}
	b.Making.DrillFrame = g.chance(0.8)
	b.Making.DrillOut, b.Making.Glue = g.chance(0.7), g.chance(0.6)
	if g.chance(0.4) {
		b.Frame.Strip = g.whole(8, 12)
		b.Frame.Rails = []number{number(math.Round(float64(b.Frame.Height) / 4)), number(math.Round(float64(b.Frame.Height) * 3 / 4))}
	} else {
		b.Frame.Sheet = g.whole(3, 6)
	}
	return b
}

// drive draws a drive into the brief's frame; false if it has no room.
func (g generator) drive(b *certificate.Brief, p *certificate.Proposal) bool {
	stages := 1 + g.IntN(4)
	p.Motor = certificate.Motor{Name: "motor-3v", Rated: 3, ShaftDiameter: 2, ShaftLength: g.whole(8, 12), BodyLength: g.whole(20, 30), BodyWidth: 20, BodyHeight: 15, Turns: "clockwise"}
	p.Cells = certificate.Cells{Name: "holder", Cells: 1 + g.IntN(2), Chemistry: "zinc-carbon"}
	p.OutputTurns, p.Speed, p.Ratio = "clockwise", certificate.Range{Low: 20, Likely: 30, High: 40}, 10
	rods := make([]number, stages+1)
	rods[0] = p.Motor.ShaftDiameter
	for i := 1; i <= stages; i++ {
		rods[i] = number([]float64{4, 5, 6}[g.IntN(3)])
	}
	var widths []units.Millimetres
	for i := range stages {
		st := certificate.Stage{
			Driver: g.pulley(b, 9, 30, rods[i]), Driven: g.pulley(b, 12, 90, rods[i+1]),
			Crossed: g.chance(0.25), Strands: 1, Stretch: 1.2, Ratio: 3,
			Use: []string{"single", "single", "looped twice", "two side by side"}[g.IntN(4)],
		}
		flat := g.whole(40, 180)
		st.Band = certificate.Band{Name: fmt.Sprintf("band-%g", float64(flat)), FlatLength: flat, Width: 1.5, Thickness: 1}
		if st.Use == "two side by side" {
			st.Strands = 2
		}
		p.Stages = append(p.Stages, st)
		widths = append(widths, units.Millimetres(max(st.Driver.Width, st.Driven.Width)))
	}
	on := &p.Stages[0].Driver
	motor := layout.MotorAlong{Body: units.Millimetres(p.Motor.BodyLength), Shaft: units.Millimetres(p.Motor.ShaftLength), Seat: units.Millimetres(min(on.GrooveWidth, on.Width) / 2)}
	plans := layout.LanePlans(stages, widths, motor, units.Millimetres(b.Limits.LaneGap), units.Millimetres(b.Frame.Depth))
	if len(plans) == 0 {
		return false
	}
	plan := plans[g.IntN(len(plans))]
	p.Lanes = certificate.Lanes{Lane: plan.Lane, BodyLanes: plan.BodyLanes, ShaftLanes: plan.ShaftLanes, BodyFront: number(plan.BodyFront), Depth: number(plan.Depth)}
	for i := range p.Stages {
		p.Stages[i].Lane = number(plan.Centre[i])
		p.Lanes.Centre = append(p.Lanes.Centre, number(plan.Centre[i]))
	}
	return g.places(b, p) && g.axles(b, p, rods) && g.output(b, p)
}

func (g generator) pulley(b *certificate.Brief, least, most int, rod number) certificate.Pulley {
	outside := g.whole(least, most)
	q := certificate.Pulley{Name: fmt.Sprintf("disc-%g", float64(outside)), Outside: outside, GrooveFloor: outside - 3, Pitch: outside - 2, Width: g.whole(4, 10), GrooveWidth: 3, Turns: "clockwise"}
	q.Bore, q.Joint = rod-0.1, g.joint(b, rod)
	return q
}

func (g generator) joint(b *certificate.Brief, rod number) certificate.Joint {
	kinds := []string{"push fit", "push fit", "sleeve"}
	if b.Making.DrillOut {
		kinds = append(kinds, "drill out")
	}
	if b.Making.Glue {
		kinds = append(kinds, "drop of glue")
	}
	j := certificate.Joint{Kind: kinds[g.IntN(len(kinds))], Bore: rod, Shaft: rod}
	if j.Kind == "sleeve" {
		j.Bore = rod + 2
		j.Sleeve = &certificate.Sleeve{Name: fmt.Sprintf("tube-%g", float64(rod)), Inner: rod, Outer: rod + 2, Length: 20}
	}
	return j
}

// places draws where the shafts are: inside, and the two pulleys of each stage clear
// of each other.
func (g generator) places(b *certificate.Brief, p *certificate.Proposal) bool {
	p.Positions = nil
	for i := range len(p.Stages) + 1 {
		name := "motor"
		if i > 0 {
			name = fmt.Sprintf("axle %d", i)
		}
		placed := false
		for range 200 {
			at := certificate.Hole{Shaft: name, X: g.whole(5, int(b.Frame.Length)-5), Y: g.whole(5, int(b.Frame.Height)-5)}
			if i > 0 && len(b.Frame.Rails) > 0 {
				at.Y = b.Frame.Rails[g.IntN(len(b.Frame.Rails))]
			}
			good := true
			for k, o := range p.Positions {
				far, need := math.Hypot(float64(at.X-o.X), float64(at.Y-o.Y)), 12.0
				if k == i-1 {
					st := &p.Stages[k]
					need = float64(st.Driver.Outside+st.Driven.Outside)/2 + 2
					st.Centre = number(far)
				}
				good = good && far >= need
			}
			if placed = good; placed {
				p.Positions = append(p.Positions, at)
				break
			}
		}
		if !placed {
			return false
		}
	}
	return true
}

func (g generator) axles(b *certificate.Brief, p *certificate.Proposal, rods []number) bool {
	side := max(b.Frame.Strip, b.Frame.Sheet)
	for i := 1; i < len(rods); i++ {
		a := certificate.Axle{Stock: fmt.Sprintf("dowel-%g", float64(rods[i])), Diameter: rods[i], Material: "wood", RodSize: 600, Length: b.Frame.Depth + 2*side + 10}
		if b.Making.DrillFrame {
			hole := rods[i] + b.Limits.RunningFit
			a.Hole = &hole
		}
		p.Axles = append(p.Axles, a)
	}
	return true
}

// output draws what the model drives, and lists what is used.
func (g generator) output(b *certificate.Brief, p *certificate.Proposal) bool {
	last := &p.Axles[len(p.Axles)-1]
	round := func(name string, most int) *certificate.Round {
		j := g.joint(b, last.Diameter)
		p.OutputJoint = &j
		return &certificate.Round{Name: name, Diameter: g.whole(20, most), Width: g.whole(6, 12), Bore: last.Diameter}
	}
	switch b.Model {
	case "vehicle":
		p.Wheel = round("wheel", 70)
		last.Length += 2 * (b.Limits.Clearance + p.Wheel.Width)
		if !g.freeAxle(b, p) {
			return false
		}
	case "lift":
		p.Drum = round("spool", 30)
		last.Length += b.Limits.Clearance + p.Drum.Width
		p.Tackle = &certificate.Winch{Parts: 1 + g.IntN(4), Efficiency: 0.8, Pull: 2}
	case "ride on an upright axle", "ride on a level axle":
		last.Length += 15
	}
	last.Length = number(math.Ceil(float64(last.Length)))
	uses(b, p)
	return true
}

// freeAxle draws where a vehicle's second axle is: as high as the driven one, wheels clear of
// wheels, and the rod of all pulleys and of what lies between two of a stage. False if there is
// no room.
func (g generator) freeAxle(b *certificate.Brief, p *certificate.Proposal) bool {
	output := p.Positions[len(p.Stages)]
	for range 50 {
		at := certificate.Hole{Shaft: "free axle", X: g.whole(5, int(b.Frame.Length)-5), Y: output.Y}
		good := math.Abs(float64(at.X-output.X)) >= float64(p.Wheel.Diameter+b.Limits.Clearance)
		for i := range p.Stages {
			from, to, s := p.Positions[i], p.Positions[i+1], &p.Stages[i]
			for t := number(0); t <= 1; t += 0.01 {
				x, y := from.X+t*(to.X-from.X), from.Y+t*(to.Y-from.Y)
				rim := (s.Driver.Outside + t*(s.Driven.Outside-s.Driver.Outside)) / 2
				good = good && math.Hypot(float64(at.X-x), float64(at.Y-y)) >= float64(rim)+5
			}
		}
		if good {
			p.FreeAxle = &at
			return true
		}
	}
	return false
}

// uses counts what one set takes.
func uses(b *certificate.Brief, p *certificate.Proposal) {
	add := func(kind, name string, n int) {
		for i := range p.Uses {
			if u := &p.Uses[i]; u.Kind == kind && u.Name == name {
				u.Each += n
				u.Total += n * b.Sets
				return
			}
		}
		p.Uses = append(p.Uses, certificate.Use{Kind: kind, Name: name, Each: n, Sets: b.Sets, Total: n * b.Sets, Have: 500, Places: []certificate.Place{{Name: name, Location: "a drawer", Count: 500}}})
	}
	add("motor", p.Motor.Name, 1)
	add("cells", p.Cells.Name, 1)
	sleeve := func(j *certificate.Joint, n int) {
		if j != nil && j.Sleeve != nil {
			add("sleeve", j.Sleeve.Name, n)
		}
	}
	for i := range p.Stages {
		st := &p.Stages[i]
		for _, q := range []*certificate.Pulley{&st.Driver, &st.Driven} {
			add("pulley", q.Name, 1)
			sleeve(&q.Joint, 1)
		}
		n := 1
		if st.Use == "two side by side" {
			n = 2
		}
		add("band", st.Band.Name, n)
		add("axle", p.Axles[i].Stock, 1)
	}
	if p.Wheel != nil {
		add("wheel", p.Wheel.Name, drive.VehicleWheels)
		sleeve(p.OutputJoint, drive.VehicleWheels)
		add("axle", p.Axles[len(p.Axles)-1].Stock, 1) // the free one
	}
	if p.Drum != nil {
		add("drum", p.Drum.Name, 1)
		sleeve(p.OutputJoint, 1)
	}
}
