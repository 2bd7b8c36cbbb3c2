package design

import (
	"cmp"
	"math"
	"slices"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/units"
)

// The questions of this file are those of someone who stands before a drive that
// does not do what it should: what does another number of cells do, or the next
// band in the box, and what gives way first when there is too much to carry?

// FewerCells is the same drive on one cell less of the same sort.
type FewerCells struct {
	Cells  int
	Speed  units.RPM // likely; 0 if it does not turn
	Starts bool      // whether the motor's stall torque is above what starting needs
}

// NextBand is the nearest longer or shorter band of the cupboard on a stage, at
// the same holes.
type NextBand struct {
	Name    string
	Longer  bool
	Stretch float64   // at these holes; below 1 it hangs loose
	Speed   units.RPM // of the output, likely; 0 if it does not turn
	Refusal string    // the rule it breaks, in words; empty if it would do
}

// Overload says what gives way when the load grows.
type Overload struct {
	Of    string  // what grows: "mass_g", "out_of_balance_g" or "torque_mNm"
	Brief float64 // as the brief has it
	// Slips and Stalls are the loads at which a band slips and at which the motor
	// stands still while every band still holds; infinite beyond mostOverload
	// times the brief's.
	Slips, Stalls float64
	SlipsStage    int // which band slips first, from 1; 0 if none
}

// mostOverload is how many times the load of the brief is looked at.
const mostOverload = 100

// fewerCells works out the drive on one cell less; nil if it has only one.
func (t *task) fewerCells(d *drive.Drive) *FewerCells {
	if d.Holder.Cells < 2 {
		return nil
	}
	holder := *d.Holder
	holder.Cells--
	less := *d
	less.Holder = &holder
	f := &FewerCells{Cells: holder.Cells, Speed: t.speedUnder(&less, drive.Conditions{})}
	m, err := drive.Prepare(&less, t.brief, drive.Conditions{})
	if err != nil {
		return f
	}
	if g, err := drive.GeometryOf(&less, &m, 0); err == nil {
		flow := m.Carry(&g, m.Demand.Start)
		f.Starts = flow.Slips < 0 && m.Motor.StallTorque(m.Supply) > flow.MotorTorque
	}
	return f
}

// nextBands are the nearest longer and the nearest shorter band of the cupboard,
// used in the same way, on stage i. Of bands of one length the one most like the
// stage's own is taken.
func (t *task) nextBands(d *drive.Drive, i int) []NextBand {
	own := d.Stages[i].Band
	out := []NextBand{}
	for _, longer := range []bool{false, true} {
		best := -1
		for b := range t.bands {
			p := &t.bands[b].Part
			if p.FlatLength == own.FlatLength || p.FlatLength > own.FlatLength != longer {
				continue
			}
			nearer := func(x, y int) int {
				a, b := &t.bands[x].Part, &t.bands[y].Part
				off := func(l units.Millimetres) float64 { return math.Abs(float64(l - own.FlatLength)) }
				unlike := func(w, th units.Millimetres) float64 {
					return math.Abs(float64(w*th - own.Width*own.Thickness))
				}
				return cmp.Or(cmp.Compare(off(a.FlatLength), off(b.FlatLength)), cmp.Compare(unlike(a.Width, a.Thickness), unlike(b.Width, b.Thickness)))
			}
			if best < 0 || nearer(b, best) < 0 {
				best = b
			}
		}
		if best >= 0 {
			out = append(out, t.withBand(d, i, best, longer))
		}
	}
	return out
}

func (t *task) withBand(d *drive.Drive, i, band int, longer bool) NextBand {
	other := *d
	other.Stages = slices.Clone(d.Stages)
	s := &other.Stages[i]
	s.Band = &t.bands[band].Part
	n := NextBand{Name: s.Band.Name, Longer: longer}
	m, err := drive.Prepare(&other, t.brief, drive.Conditions{})
	if err != nil {
		n.Refusal = err.Error()
		return n
	}
	f, loose := m.Stages[i].Fit(other.Centre(i)) // filled in for a loose band too
	n.Stretch = f.Stretch
	if g, err := drive.GeometryOf(&other, &m, 0); err == nil {
		flow := m.Carry(&g, m.Demand.Steady)
		n.Speed = m.OutputSpeed(&g, &flow)
	}
	no := t.bandSuits(pair{t.classOf(s.Driver.Name), t.classOf(s.Driven.Name), s.Use, s.Crossed}, band)
	if no == nil && loose != nil {
		no = constraints.FittedStretch(t.brief.Limits, s.Band, f.Stretch)
	}
	if no == nil {
		_, no = checkPlaced(&other, t.brief, &m)
	}
	if no != nil {
		n.Refusal = no.Say()
	}
	return n
}

// overload finds the loads at which the first band slips and at which the motor
// stalls.
func (t *task) overload(d *drive.Drive) *Overload {
	o := &Overload{Slips: math.Inf(1), Stalls: math.Inf(1)}
	load := &t.brief.Load
	switch t.brief.Model {
	case brief.LevelRide:
		o.Of, o.Brief = "out_of_balance_g", float64(load.OutOfBalance)
	case brief.PlainShaft:
		o.Of, o.Brief = "torque_mNm", float64(load.Torque)
	default:
		o.Of, o.Brief = "mass_g", float64(load.Mass)
	}
	if o.Brief <= 0 {
		return nil
	}
	m, err := drive.Prepare(d, t.brief, drive.Conditions{})
	if err != nil {
		return nil
	}
	g, err := drive.GeometryOf(d, &m, 0)
	if err != nil {
		return nil
	}
	// The drive at a number of times the load.
	at := func(times float64) drive.Flow {
		b := *t.brief
		switch b.Model {
		case brief.LevelRide:
			b.Load.OutOfBalance *= units.Grams(times)
		case brief.PlainShaft:
			b.Load.Torque *= units.NewtonMillimetres(times)
		default:
			b.Load.Mass *= units.Grams(times)
		}
		m.Demand = d.DemandAt(&b, drive.Likely)
		return m.Carry(&g, m.Demand.Start)
	}
	var grips [drive.MaxStages]units.Newtons
	for i := range m.Count {
		grips[i], _ = m.Stages[i].Grip(g.Fits[i])
	}
	most := greatest(mostOverload, func(times float64) (room float64, holds bool) {
		flow := at(times)
		room = 1
		for i := range m.Count {
			room = min(room, 1-float64(flow.Stages[i].Effective/grips[i]))
		}
		return room, flow.Slips < 0
	})
	if most < mostOverload {
		o.Slips = o.Brief * most
		o.SlipsStage = at(math.Nextafter(most, mostOverload)*(1+1e-9)).Slips + 1
	}
	// Where it is the slipping that ends the turning, the motor turns at that load.
	stall := m.Motor.StallTorque(m.Supply)
	if times := greatest(most, func(times float64) (room float64, turns bool) {
		flow := at(times)
		return 1 - float64(flow.MotorTorque/stall), flow.Slips < 0 && stall > flow.MotorTorque
	}); times < most {
		o.Stalls = o.Brief * times
	}
	return o
}
