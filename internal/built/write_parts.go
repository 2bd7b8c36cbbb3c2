package built

import (
	"fmt"
	"slices"
	"strings"

	"findrive/internal/drive"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// writeParts writes each part of the drive once.
func (b *Build) writeParts(w *writer) {
	d := b.Drive
	var said []string
	first := func(kind string, it *parts.Item) bool {
		id := kind + "\x00" + it.Name
		if slices.Contains(said, id) {
			return false
		}
		said = append(said, id)
		w.table(kind, it.Name)
		if len(it.Assumed) > 0 {
			var facts []string
			for _, a := range it.Assumed[:min(len(it.Assumed), parts.MostAssumed)] {
				facts = append(facts, quoted(a))
			}
			w.line("assumed = [" + strings.Join(facts, ", ") + "]")
		}
		return true
	}
	if first("motor", &d.Motor.Item) {
		writeMotor(w, d.Motor)
	}
	if first("cells", &d.Holder.Item) {
		h := d.Holder
		w.line(fmt.Sprintf("cells = %d", h.Cells))
		w.text("chemistry", h.Chemistry)
		if h.Condition != "" {
			w.text("condition", string(h.Condition))
		}
		w.put("open_voltage", float64(h.OpenVoltage), "V")
		w.put("resistance", float64(h.CellResistance), "ohm")
		if h.Capacity > 0 {
			w.put("capacity", float64(h.Capacity), "mAh")
		}
	}
	for i := range d.Stages {
		s := &d.Stages[i]
		for _, p := range []*parts.Pulley{s.Driver, s.Driven} {
			if first("pulley", &p.Item) {
				writePulley(w, p)
			}
		}
		if first("band", &s.Band.Item) {
			writeBand(w, s.Band)
		}
		if first("axle", &d.Axles[i].Item) {
			a := d.Axles[i]
			w.length("diameter", a.Diameter)
			w.length("length", max(a.Length, 10))
			w.text("material", string(a.Material))
		}
	}
	for _, j := range b.sleeves() {
		if first("sleeve", &j.Item) {
			w.length("inner", j.Inner)
			w.length("outer", j.Outer)
			w.length("length", j.Length)
		}
	}
	round := func(diameter, width, bore units.Millimetres, m parts.Material, drill bool) {
		w.length("diameter", diameter)
		w.length("width", width)
		w.length("bore", bore)
		w.text("material", string(m))
		w.line(fmt.Sprintf("can_drill = %v", drill))
	}
	if p := d.Wheel; p != nil && first("wheel", &p.Item) {
		round(p.Diameter, p.Width, p.Bore, p.Material, p.CanDrill)
	}
	if p := d.Drum; p != nil && first("drum", &p.Item) {
		round(p.Diameter, p.Width, p.Bore, p.Material, p.CanDrill)
	}
}

// sleeves are those that the joints of the drive need.
func (b *Build) sleeves() []*parts.Sleeve {
	var out []*parts.Sleeve
	for i := range b.Drive.Stages {
		for _, j := range []*drive.Joint{&b.Drive.Stages[i].DriverJoint, &b.Drive.Stages[i].DrivenJoint} {
			if j.Sleeve != nil {
				out = append(out, j.Sleeve)
			}
		}
	}
	if s := b.Drive.OutputJoint.Sleeve; s != nil {
		out = append(out, s)
	}
	return out
}

func writeMotor(w *writer, m *parts.Motor) {
	w.put("rated", float64(m.Rated), "V")
	if m.VoltsMost > 0 {
		w.line(fmt.Sprintf("volts = [%s, %s]", quoted(exact(float64(m.VoltsLeast))+" V"), quoted(exact(float64(m.VoltsMost))+" V")))
	}
	speed := "free_speed"
	if m.Calibrated {
		speed = "counted_speed"
	}
	w.put(speed, float64(m.FreeSpeed), "rpm")
	if m.SpeedKnown > 0 && !m.Calibrated {
		w.put("speed_known_to", 100*m.SpeedKnown, "%")
	}
	w.put("free_current", 1000*float64(m.FreeCurrent), "mA")
	if m.StallTorque > 0 {
		w.put("stall_torque", float64(m.StallTorque), "mN.m")
	}
	if m.StallCurrent > 0 {
		w.put("stall_current", 1000*float64(m.StallCurrent), "mA")
	}
	w.length("shaft_diameter", m.ShaftDiameter)
	w.length("shaft_length", m.ShaftLength)
	w.length("body_length", m.BodyLength)
	w.length("body_width", m.BodyWidth)
	w.length("body_height", m.BodyHeight)
	if m.Mass >= 1 {
		w.put("mass", float64(m.Mass), "g")
	}
}

func writePulley(w *writer, p *parts.Pulley) {
	w.length("outside", p.Outside)
	w.length("groove_floor", p.GrooveFloor)
	w.length("groove_width", p.GrooveWidth)
	if p.GrooveAngle > 0 {
		w.put("groove", p.GrooveAngle.Degrees(), "deg")
	}
	w.length("width", p.Width)
	w.length("bore", p.Bore)
	w.text("material", string(p.Material))
	w.line(fmt.Sprintf("can_drill = %v", p.CanDrill))
}

// hungStretch is the stretch at which a band's pull is written down as a hung mass.
const hungStretch = 1.5

func writeBand(w *writer, p *parts.Band) {
	if p.Size != "" {
		w.text("size", p.Size)
	}
	w.length("flat_length", p.FlatLength)
	w.length("width", p.Width)
	w.length("thickness", p.Thickness)
	if p.StretchLimit > 0 {
		w.line("stretch_limit = " + exact(p.StretchLimit))
	}
	if p.Calibrated {
		l := drive.LoopOf(p, drive.Single)
		w.put("hung_mass", 2000*float64(l.Pull(hungStretch))/units.StandardGravity, "g")
		w.put("reached", hungStretch*float64(p.FlatLength), "mm")
	}
}
