package recheck

import "math"

// oneCellLess works the drive out on one cell less.
func (r *report) oneCellLess(c *certificate, p *proposal) {
	f := p.Fewer
	if f == nil {
		return
	}
	r.hold(f.Cells == p.Cells.Cells-1 && f.Cells > 0, "one cell less than %d is given as %d", p.Cells.Cells, f.Cells)
	less := *p
	less.Cells.Cells = p.Cells.Cells - 1
	m := c.machineOf(&less, day{})
	speed := 0.0
	if w, ok := m.carry(m.steady, 0); ok {
		speed = m.outputSpeed(&w, 0)
	}
	r.same("speed on one cell less", f.Speed, speed)
	w, ok := m.carry(m.heaviest(), 0)
	r.hold(f.Starts == (ok && m.stall() > w.torque), "whether it starts on one cell less is given as %v", f.Starts)
}

// edge is how far from a claimed load the drive must already be on one side and
// still on the other.
const edge = 1e-4

// overload holds each claimed load between one that is carried and one that is
// not.
func (r *report) overload(c *certificate, p *proposal) {
	o, load := p.Overload, &c.Brief.Load
	is := map[string]float64{"mass_g": load.Mass, "out_of_balance_g": load.OutOfBalance, "torque_mNm": load.Torque}
	grows := map[string]string{"ride on a level axle": "out_of_balance_g", "plain shaft": "torque_mNm"}[c.Brief.Model]
	if grows == "" {
		grows = "mass_g"
	}
	if o == nil {
		r.hold(is[grows] == 0, "what gives way under more load is left out")
		return
	}
	if o.Of != grows {
		r.fail("the load that grows is %s and given as %q", grows, o.Of)
		return
	}
	r.same("load of the brief", o.Brief, is[o.Of])
	at := func(load float64) (holds bool, turns bool, stage int) {
		d := *c
		switch o.Of {
		case "out_of_balance_g":
			d.Brief.Load.OutOfBalance = load
		case "torque_mNm":
			d.Brief.Load.Torque = load
		default:
			d.Brief.Load.Mass = load
		}
		m := d.machineOf(p, day{})
		w, ok := m.carry(m.heaviest(), 0)
		// Stages from the output that carried it have a pull.
		for i := range w.tight {
			if w.tight[i] == 0 {
				stage = i + 1
			}
		}
		return ok, ok && m.stall() > w.torque, stage
	}
	most := 100 * o.Brief
	if o.Slips != nil {
		below, _, _ := at(*o.Slips * (1 - edge))
		above, _, stage := at(*o.Slips * (1 + edge))
		r.hold(below && !above && *o.Slips <= most, "a band does not begin to slip at %.9g", *o.Slips)
		r.hold(o.Stage != nil && *o.Stage == stage, "the band that slips first is that of stage %d", stage)
	} else {
		holds, _, _ := at(most)
		r.hold(holds && o.Stage == nil, "a band slips below 100 times the load")
	}
	limit := math.Inf(1)
	if o.Slips != nil {
		limit = *o.Slips
	}
	if o.Stalls != nil {
		_, below, _ := at(*o.Stalls * (1 - edge))
		holds, above, _ := at(*o.Stalls * (1 + edge))
		r.hold(below && holds && !above && *o.Stalls <= math.Min(most, limit), "the motor does not stall at %.9g", *o.Stalls)
		return
	}
	_, turns, _ := at(math.Min(most, limit*(1-edge)))
	r.hold(turns, "the motor stalls before a band slips")
}
