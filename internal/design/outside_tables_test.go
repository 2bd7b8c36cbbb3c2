package design_test

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/forecast"
	"findrive/internal/layout"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/score"
	"findrive/internal/units"
)

type mm = units.Millimetres

// tables are a small cupboard and brief as the outside solver is given them. They are made
// from the formulas, the rules and the page docs/model.md, with every stage tried at every
// mark and every combination worked out, and nothing left out early.
type tables struct {
	cup      *parts.Cupboard
	all      *parts.Cupboard // with every rod, of whatever length
	brief    *brief.Brief
	outputs  []output
	stages   []marked
	ways     []joined
	works    [][8]int
	perStage score.Points
}

// output is what sits on the output axle.
type output struct {
	item  *parts.Item
	wheel *parts.Wheel
	drum  *parts.Drum
}

// marked is a stage at a mark of the ruler for one hole error.
type marked struct {
	drive.Stage
	driver, driven, band int // from 0
	bears                mm
	fitted               mechanics.Fitted
	cell                 units.Interval[mm]
}

// joined is a way to hold a hub on a shaft.
type joined struct{ hub, shaft, cost, sleeve int }

// tabulate makes the tables of a case with one tackle and up to two stages.
func tabulate(cup *parts.Cupboard, b *brief.Brief) *tables {
	t := &tables{cup: merged(cup), all: cup, brief: b, perStage: score.Stages(b.Weights, 2)}
	switch b.Model {
	case brief.Vehicle:
		for i := range t.cup.Wheels {
			if w := &t.cup.Wheels[i]; b.Load.Wheel == "" || b.Load.Wheel == w.Name {
				t.outputs = append(t.outputs, output{item: &w.Item, wheel: w})
			}
		}
	case brief.Lift:
		for i := range t.cup.Drums {
			t.outputs = append(t.outputs, output{item: &t.cup.Drums[i].Item, drum: &t.cup.Drums[i]})
		}
	}
	t.tabulateWays()
	t.tabulateStages()
	t.tabulateWorks()
	return t
}

// merged is a cupboard with parts that are alike in one tub.
func merged(cup *parts.Cupboard) *parts.Cupboard {
	out := *oneMore(cup)
	eachItem(&out, func(it *parts.Item) { it.Count-- })
	drop := map[string]bool{}
	for _, a := range design.AlikeParts(&out) {
		for _, name := range a.Names[1:] {
			out.Item(a.Kind, a.Names[0]).Count += out.Item(a.Kind, name).Count
			drop[name] = true
		}
	}
	out.Pulleys = slices.DeleteFunc(out.Pulleys, func(p parts.Pulley) bool { return drop[p.Name] })
	out.Bands = slices.DeleteFunc(out.Bands, func(p parts.Band) bool { return drop[p.Name] })
	out.Motors = slices.DeleteFunc(out.Motors, func(p parts.Motor) bool { return drop[p.Name] })
	out.Holders = slices.DeleteFunc(out.Holders, func(p parts.CellHolder) bool { return drop[p.Name] })
	out.Axles = slices.DeleteFunc(out.Axles, func(p parts.AxleStock) bool { return drop[p.Name] })
	out.Sleeves = slices.DeleteFunc(out.Sleeves, func(p parts.Sleeve) bool { return drop[p.Name] })
	out.Wheels = slices.DeleteFunc(out.Wheels, func(p parts.Wheel) bool { return drop[p.Name] })
	out.Drums = slices.DeleteFunc(out.Drums, func(p parts.Drum) bool { return drop[p.Name] })
	return &out
}

// tabulateWays lists the ways to hold every hub on every shaft, with every sleeve.
func (t *tables) tabulateWays() {
	var hubs []constraints.Hub
	for i := range t.cup.Pulleys {
		hubs = append(hubs, constraints.PulleyHub(&t.cup.Pulleys[i]))
	}
	for _, o := range t.outputs {
		if o.wheel != nil {
			hubs = append(hubs, constraints.WheelHub(o.wheel))
		} else {
			hubs = append(hubs, constraints.DrumHub(o.drum))
		}
	}
	var shafts []mm
	for i := range t.cup.Motors {
		shafts = append(shafts, t.cup.Motors[i].ShaftDiameter)
	}
	for i := range t.cup.Axles {
		shafts = append(shafts, t.cup.Axles[i].Diameter)
	}
	t.ways = []joined{{}}
	for h, hub := range hubs {
		for s, shaft := range shafts {
			for k := -1; k < len(t.cup.Sleeves); k++ {
				var sleeves []parts.Sleeve
				if k >= 0 {
					sleeves = t.cup.Sleeves[k : k+1]
				}
				ways, _ := constraints.Joints(hub, shaft, sleeves, t.brief.Making)
				for _, j := range ways {
					if sleeved := j.Kind == drive.Sleeved; sleeved == (k >= 0) {
						t.ways = append(t.ways, joined{h + 1, s + 1, int(score.Joint(t.brief.Weights, j.Kind)), k + 1})
					}
				}
			}
		}
	}
}

func (t *tables) held(hub, shaft int) bool {
	return slices.ContainsFunc(t.ways, func(j joined) bool { return j.hub == hub+1 && j.shaft == shaft+1 })
}

// tabulateStages lists every pair of pulleys with every band at every mark, for every hole
// error that may do.
func (t *tables) tabulateStages() {
	t.stages = []marked{{}}
	l := t.brief.Limits
	levels := []mm{l.HoleError}
	for _, less := range []mm{1, 0} {
		if less < levels[len(levels)-1] {
			levels = append(levels, less)
		}
	}
	for driver := range t.cup.Pulleys {
		for driven := range t.cup.Pulleys {
			for band := range t.cup.Bands {
				for _, use := range []drive.Use{drive.Single, drive.LoopedTwice, drive.Paired} {
					for _, crossed := range []bool{false, true} {
						s := marked{driver: driver, driven: driven, band: band}
						s.Stage = drive.Stage{Driver: &t.cup.Pulleys[driver], Driven: &t.cup.Pulleys[driven], Band: &t.cup.Bands[band], Use: use, Crossed: crossed}
						if !s.liesIn(l, s.Driver) || !s.liesIn(l, s.Driven) {
							continue
						}
						for _, s.bears = range levels {
							t.tabulateMarks(s)
						}
					}
				}
			}
		}
	}
}

func (s *marked) liesIn(l brief.Limits, p *parts.Pulley) bool {
	return constraints.BandInGroove(p, s.Band, s.Use) == nil && constraints.BigEnoughGroove(l, p, s.Band) == nil
}

// tabulateMarks adds a stage at each of its marks.
func (t *tables) tabulateMarks(s marked) {
	l := t.brief.Limits
	m := s.Mechanics(mechanics.BandGrip().Likely)
	tight := func(c mm) bool { // the band is not loose, and lies as it should
		f, err := m.Fit(c)
		if err != nil || f.Stretch < constraints.FittedWindow(l, s.Band).Lo {
			return false
		}
		if s.Crossed {
			return constraints.CrossedBandSpacing(f.DriverPitch, f.DrivenPitch, c) == nil
		}
		return constraints.ArcOfContact(l, &f) == nil
	}
	loose := func(c mm) bool { // and not too tight
		f, err := m.Fit(c)
		return err != nil || f.Stretch <= constraints.FittedWindow(l, s.Band).Hi
	}
	least, most := (s.Driver.Outside+s.Driven.Outside)/2+l.Clearance, mm(1000)
	if !loose(least) || !tight(most) {
		return
	}
	w := units.Interval[mm]{Lo: least, Hi: halving(least, most, loose)}
	if !tight(least) {
		w.Lo = halving(most, least, tight)
	}
	if w = w.Grow(-2 * s.bears); w.Empty() {
		return
	}
	step := 4 * mm(max(1, math.Round(float64(m.Band.Rest)/20/4)))
	for k := math.Floor(float64(w.Lo/step) + 0.5); k <= math.Floor(float64(w.Hi/step)+0.5); k++ {
		mark := s
		mark.cell = w.Meet(units.Interval[mm]{Lo: step * mm(k-0.5), Hi: step * mm(k+0.5)})
		f, err := m.Fit(w.Clamp(step * mm(k)))
		if err != nil {
			continue
		}
		mark.fitted = f
		t.stages = append(t.stages, mark)
	}
}

// halving is the furthest from good towards bad that still does.
func halving(good, bad mm, does func(mm) bool) mm {
	for range 60 {
		if mid := (good + bad) / 2; does(mid) {
			good = mid
		} else {
			bad = mid
		}
	}
	return good
}

// minizinc writes the tables as data of the model.
func (t *tables) minizinc() []byte {
	var out bytes.Buffer
	w := t.brief.Weights
	put := func(name string, v any) { fmt.Fprintf(&out, "%s = %v;\n", name, v) }
	list := func(name string, from int, v []int) {
		put(name, fmt.Sprintf("array1d(%d..%d, %s)", from, from+len(v)-1, strings.ReplaceAll(fmt.Sprint(v), " ", ", ")))
	}
	facts := func(it *parts.Item) int { return int(score.Assumptions(w, len(it.Assumed))) }
	put("sets", t.brief.Sets)
	put("stage_cost", t.perStage)
	put("turns_right", fmt.Sprintf("array1d(0..2, [%t, %t, %t])", t.turnsRight(0), t.turnsRight(1), t.turnsRight(2)))
	put("pulleys", len(t.cup.Pulleys))
	list("pulley_have", 1, of(t.cup.Pulleys, func(p *parts.Pulley) int { return p.Count }))
	list("pulley_cost", 1, of(t.cup.Pulleys, func(p *parts.Pulley) int { return facts(&p.Item) }))
	put("bands", len(t.cup.Bands))
	list("band_have", 1, of(t.cup.Bands, func(p *parts.Band) int { return p.Count }))
	put("motors", len(t.cup.Motors))
	list("motor_have", 1, of(t.cup.Motors, func(p *parts.Motor) int { return p.Count }))
	list("motor_cost", 1, of(t.cup.Motors, func(p *parts.Motor) int { return facts(&p.Item) }))
	put("holders", len(t.cup.Holders))
	list("holder_have", 1, of(t.cup.Holders, func(p *parts.CellHolder) int { return p.Count }))
	list("holder_cost", 1, of(t.cup.Holders, func(p *parts.CellHolder) int { return facts(&p.Item) + int(score.Cells(w, p.Cells)) }))
	put("outputs", len(t.outputs))
	list("output_have", 0, append([]int{0}, of(t.outputs, func(o *output) int { return o.item.Count })...))
	list("output_cost", 0, append([]int{0}, of(t.outputs, func(o *output) int { return facts(o.item) })...))
	put("output_taken", map[brief.Model]int{brief.Vehicle: 4, brief.Lift: 1}[t.brief.Model])
	put("rods", len(t.cup.Axles))
	// Lengths in hundredths of a millimetre; a saw takes 1 mm for each piece but, where it
	// ends with the rod, the last, so that pieces and rods are 1 mm longer.
	sawn := func(l mm) int { return int(math.Ceil(100*float64(l+1) - 1e-6)) }
	var bars, sizes []int
	for i := range t.all.Axles {
		a := &t.all.Axles[i]
		kind := slices.IndexFunc(t.cup.Axles, func(o parts.AxleStock) bool {
			return o.Diameter == a.Diameter && o.Material == a.Material && len(o.Assumed) == len(a.Assumed)
		})
		for range a.Count {
			bars, sizes = append(bars, kind+1), append(sizes, int(math.Floor(100*float64(a.Length+1)+1e-6)))
		}
	}
	put("bars", len(bars))
	list("bar_kind", 1, bars)
	list("bar_size", 1, sizes)
	put("inner_size", sawn(drive.AxleLength(t.brief)))
	ends := []int{sawn(drive.OutputAxleLength(t.brief, nil, nil))}
	for _, o := range t.outputs {
		ends = append(ends, sawn(drive.OutputAxleLength(t.brief, o.wheel, o.drum)))
	}
	list("output_size", 0, ends)
	put("output_axles", map[bool]int{false: 1, true: 2}[t.brief.Model == brief.Vehicle])
	list("rod_cost", 1, of(t.cup.Axles, func(p *parts.AxleStock) int { return facts(&p.Item) }))
	put("sleeves", len(t.cup.Sleeves))
	list("sleeve_have", 0, append([]int{0}, of(t.cup.Sleeves, func(p *parts.Sleeve) int { return p.Count })...))
	put("stages", len(t.stages)-1)
	column := func(name string, f func(s *marked) int) {
		list(name, 0, append([]int{0}, of(t.stages[1:], f)...))
	}
	column("driver", func(s *marked) int { return s.driver + 1 })
	column("driven", func(s *marked) int { return s.driven + 1 })
	column("band", func(s *marked) int { return s.band + 1 })
	column("taken", func(s *marked) int { return s.Use.BandsTaken() })
	column("crossed", func(s *marked) int { return map[bool]int{true: 1}[s.Crossed] })
	column("band_cost", func(s *marked) int {
		return facts(&s.Band.Item) + int(score.BandFit(t.brief.Limits, w, s.fitted.Stretch)+score.BandUse(w, s.Use, s.Crossed))
	})
	column("idle_cost", func(s *marked) int {
		if s.Driver.GrooveFloor != s.Driven.GrooveFloor {
			return 0
		}
		return int(score.Idle(w, 1))
	})
	column("bears_cost", func(s *marked) int { return int(score.Forgiveness(w, s.bears, t.brief.Limits.HoleError)) })
	put("ways", len(t.ways)-1)
	list("way_hub", 0, of(t.ways, func(j *joined) int { return j.hub }))
	list("way_shaft", 0, of(t.ways, func(j *joined) int { return j.shaft }))
	list("way_cost", 0, of(t.ways, func(j *joined) int { return j.cost }))
	list("way_sleeve", 0, of(t.ways, func(j *joined) int { return j.sleeve }))
	put("works", len(t.works))
	out.WriteString("work = [")
	for _, row := range t.works {
		out.WriteString("| " + strings.Trim(strings.ReplaceAll(fmt.Sprint(row), " ", ", "), "[]") + "\n")
	}
	out.WriteString("|];\n")
	return out.Bytes()
}

func (t *tables) turnsRight(crossed int) bool {
	return constraints.TurnsRight(t.brief.Direction, crossed) == nil
}

func of[P any](list []P, f func(*P) int) []int {
	out := make([]int, len(list))
	for i := range list {
		out[i] = f(&list[i])
	}
	return out
}

// tabulateWorks works out every combination of motor, cells, output, stages and rods, and
// keeps those that keep the rules at work and have holes.
func (t *tables) tabulateWorks() {
	b := t.brief
	outputs := t.outputs
	if len(outputs) == 0 && (b.Model != brief.Vehicle && b.Model != brief.Lift) {
		outputs = []output{{}}
	}
	for m := range t.cup.Motors {
		for h := range t.cup.Holders {
			motor, holder := &t.cup.Motors[m], &t.cup.Holders[h]
			if constraints.Volts(motor, holder) != nil || len(b.Cells) > 0 && !slices.Contains(b.Cells, holder.Cells) {
				continue
			}
			for o, out := range outputs {
				if out.item == nil {
					o = -1
				} else if out.wheel != nil && constraints.WheelsStand(b, out.wheel) != nil {
					continue
				}
				c := combination{tables: t, motor: m, holder: h, output: o, out: out}
				for _, known := range []bool{false, true} {
					class, err := forecast.NewClass(b, motor, holder, out.wheel, out.drum, forecast.Known{Bands: known})
					if err != nil {
						continue
					}
					c.class = append(c.class, class)
				}
				if len(c.class) == 2 {
					c.eachStage()
				}
			}
		}
	}
}

// combination is what the works of a table have in common.
type combination struct {
	*tables
	motor, holder, output int
	out                   output
	class                 []*forecast.Class // bands not weighed, and weighed
}

func (c *combination) eachStage() {
	for i := 1; i < len(c.stages); i++ {
		first := &c.stages[i]
		if !c.held(first.driver, c.motor) || constraints.ShaftReaches(&c.cup.Motors[c.motor], first.Driver) != nil {
			continue
		}
		for r1 := range c.cup.Axles {
			rod1 := len(c.cup.Motors) + r1
			if !c.held(first.driven, rod1) {
				continue
			}
			c.add([]int{i}, []int{r1})
			if c.brief.MaxStages < 2 {
				continue
			}
			for k := 1; k < len(c.stages); k++ {
				second := &c.stages[k]
				if second.bears != first.bears || !c.held(second.driver, rod1) {
					continue
				}
				for r2 := range c.cup.Axles {
					if c.held(second.driven, len(c.cup.Motors)+r2) {
						c.add([]int{i, k}, []int{r1, r2})
					}
				}
			}
		}
	}
}

// add works one combination out, with the lies that charge it least.
func (c *combination) add(stages, rods []int) {
	last := len(stages) - 1
	if c.out.item != nil && !c.held(len(c.cup.Pulleys)+c.output, len(c.cup.Motors)+rods[last]) {
		return
	}
	d := &drive.Drive{Motor: &c.cup.Motors[c.motor], Holder: &c.cup.Holders[c.holder], Wheel: c.out.wheel, Drum: c.out.drum, MotorTurns: 1}
	var fits [drive.MaxStages]mechanics.Fitted
	crossed := 0
	for i, s := range stages {
		d.Stages, d.Axles, fits[i] = append(d.Stages, c.stages[s].Stage), append(d.Axles, &c.cup.Axles[rods[i]]), c.stages[s].fitted
		if c.stages[s].Crossed {
			crossed++
		}
		if constraints.HoleInStrip(c.brief, d.Axles[i]) != nil {
			return
		}
	}
	if !c.turnsRight(crossed) || c.out.wheel != nil && constraints.ClearOfFloor(c.brief, c.out.wheel, d.Stages[last].Driven) != nil {
		return
	}
	model, err := drive.Prepare(d, c.brief, drive.Conditions{})
	if err != nil {
		return
	}
	at := placing{c, d, stages}
	least, found := 0, false
	for _, inner := range drive.Lies()[:max(1, 4*last)] {
		for _, output := range drive.Lies() {
			switch weight := model.Demand.Weight; {
			case weight.Size() == 0 && output != drive.InLine, weight.X != 0 && output != drive.Folded:
				continue
			}
			lies := [drive.MaxStages]drive.Lie{inner, output}
			if last == 0 {
				lies[0] = output
			}
			g := drive.GeometryAt(&fits, &lies)
			if cost, ok := c.charge(d, &model, &g); ok && (!found || cost < least) && at.hasHoles(inner, output, model.Demand.Weight) {
				least, found = cost, true
			}
		}
	}
	if found {
		row := [8]int{c.motor + 1, c.holder + 1, c.output + 1, stages[0], rods[0] + 1, 0, 0, least}
		if last > 0 {
			row[5], row[6] = stages[1], rods[1]+1
		}
		c.works = append(c.works, row)
	}
}

// charge is what the classrooms and the motor's load charge a design; false if it breaks a
// rule at work.
func (c *combination) charge(d *drive.Drive, m *drive.Model, g *drive.Geometry) (int, bool) {
	l, w := c.brief.Limits, c.brief.Weights
	running, starting := m.Carry(g, m.Demand.Steady), m.Carry(g, m.Demand.Start)
	ratio, known := 1.0, 1
	for i := range d.Stages {
		band := d.Stages[i].Band
		greatest, _ := m.Stages[i].Grip(g.Fits[i])
		if running.Slips >= 0 || starting.Slips >= 0 ||
			constraints.GripRunning(l, band, i, constraints.GripMargin(greatest, running.Stages[i].Effective)) != nil ||
			constraints.GripStarting(l, band, i, constraints.GripMargin(greatest, starting.Stages[i].Effective)) != nil {
			return 0, false
		}
		tight := running.Stages[i].Loaded.TightStretch
		if m.Demand.Swing > 0 {
			tight = max(tight, starting.Stages[i].Loaded.TightStretch)
		}
		if constraints.RunningTight(l, band, tight) != nil {
			return 0, false
		}
		ratio *= g.Fits[i].Ratio
		if !band.Calibrated {
			known = 0
		}
	}
	stall, target := m.Motor.StallTorque(m.Supply), m.Demand.Target
	speed := m.OutputSpeed(g, &running)
	traction := drive.TractionOf(c.brief, d.Wheel, drive.DemandOf(c.brief, d.Wheel, d.Drum, nil, drive.Likely))
	if constraints.MotorStart(l, "", stall, starting.MotorTorque) != nil || constraints.MotorRun(l, "", stall, running.MotorTorque) != nil ||
		constraints.SpeedKept(l, float64(speed)*ratio/float64(m.Motor.FreeSpeed(m.Supply))) != nil ||
		constraints.SpeedWithin(speed, target, c.brief.Tolerance) != nil ||
		d.Wheel != nil && constraints.WheelTraction(traction.Needed, traction.Holds) != nil {
		return 0, false
	}
	work := c.class[known].WorkOf(m, g, &running, &starting)
	f := c.class[known].Of(&work)
	return int(score.Classrooms(w, f.Works, forecast.Rooms) + score.MayStand(w, f.Stands, forecast.Rooms) + score.Speed(w, f.Low, f.High, target) +
		score.MotorLoad(l, w, float64(running.MotorTorque/stall))), true
}

// placing asks for holes for a combination.
type placing struct {
	*combination
	d      *drive.Drive
	stages []int
}

// hasHoles tells whether there are holes for the lies: spacings within the cells of their
// marks, and the shafts on either side of an axle, or the output axle and its weight, so far
// apart as the lie has it with the spacings at the far ends.
func (p *placing) hasHoles(inner, output drive.Lie, weight mechanics.Force) bool {
	var widths []mm
	for i := range p.d.Stages {
		widths = append(widths, max(p.d.Stages[i].Driver.Width, p.d.Stages[i].Driven.Width))
	}
	cell := func(i int) units.Interval[mm] { return p.tables.stages[p.stages[i]].cell }
	last, slack := len(p.stages)-1, p.tables.stages[p.stages[0]].bears
	for _, plan := range layout.LanePlans(len(p.stages), widths, constraints.MotorAlong(p.d.Motor, p.d.Stages[0].Driver), p.brief.Limits.LaneGap, p.brief.Frame.Depth) {
		room := design.LayoutProblem(p.d, p.brief, plan, slack)
		for i := range p.stages {
			room.Gaps = append(room.Gaps, layout.Gap{A: i, B: i + 1, Min: cell(i).Lo - 2*slack, Max: cell(i).Hi + 2*slack, Prefer: cell(i).Lo})
		}
		if last > 0 {
			a, b := float64(cell(0).Hi), float64(cell(1).Hi)
			apart := func(angle units.Radians) mm { return mm(math.Sqrt(a*a + b*b - 2*a*b*math.Cos(float64(angle)))) }
			nearest := apart(inner.Apart())
			if inner == drive.Folded {
				nearest = 0 // they may stand anywhere
			}
			room.Gaps = append(room.Gaps, layout.Gap{A: 0, B: 2, Min: nearest - 2*slack, Max: apart(inner.Below()) + 2*slack})
		}
		if weight.Y != 0 && weight.X == 0 {
			beyond := func(angle units.Radians) mm { return -mm(math.Cos(float64(angle))) * cell(last).Hi }
			rise := layout.Rise{From: last, To: last + 1, Min: beyond(output.Apart()), Max: beyond(output.Below())}
			if weight.Y < 0 {
				rise.Min, rise.Max = -rise.Max, -rise.Min
			}
			room.Rises = append(room.Rises, rise)
		}
		if _, got := layout.Place(room, 1_000_000); got == layout.Placed {
			return true
		}
	}
	return false
}
