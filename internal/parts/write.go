package parts

import (
	"fmt"
	"slices"
	"strings"

	"findrive/internal/tomledit"
	"findrive/internal/units"
)

// Facts are the keys of a file that say what is in a cupboard, part by part in its
// order: each set to its value, or left out where nothing is to stand, as what was
// assumed. Read makes the same parts of them; but what was worked out of measurements,
// as how hard a band pulls, is left out.
func (c *Cupboard) Facts() []tomledit.Edit {
	var all []tomledit.Edit
	write := func(kind string, it *Item, own func(f *facts)) {
		f := &facts{kind: kind, it: it, all: &all}
		own(f)
		f.set("count", tomledit.Whole(it.Count))
		f.text("location", it.Location)
		price := ""
		if it.PricePence > 0 {
			price = fmt.Sprintf("%d.%02d", it.PricePence/100, it.PricePence%100)
		}
		f.text("price", price)
	}
	for i := range c.Pulleys {
		write("pulley", &c.Pulleys[i].Item, c.Pulleys[i].facts)
	}
	for i := range c.Bands {
		write("band", &c.Bands[i].Item, c.Bands[i].facts)
	}
	for i := range c.Motors {
		write("motor", &c.Motors[i].Item, c.Motors[i].facts)
	}
	for i := range c.Holders {
		write("cells", &c.Holders[i].Item, c.Holders[i].facts)
	}
	for i := range c.Axles {
		write("axle", &c.Axles[i].Item, c.Axles[i].facts)
	}
	for i := range c.Sleeves {
		write("sleeve", &c.Sleeves[i].Item, c.Sleeves[i].facts)
	}
	for i := range c.Spacers {
		write("spacer", &c.Spacers[i].Item, c.Spacers[i].facts)
	}
	for i := range c.Wheels {
		w := &c.Wheels[i]
		write("wheel", &w.Item, func(f *facts) { f.round(w.Diameter, w.Bore, w.Width, w.Material, w.CanDrill) })
	}
	for i := range c.Drums {
		d := &c.Drums[i]
		write("drum", &d.Item, func(f *facts) { f.round(d.Diameter, d.Bore, d.Width, d.Material, d.CanDrill) })
	}
	for i := range c.Blocks {
		write("block", &c.Blocks[i].Item, c.Blocks[i].facts)
	}
	for i := range c.Cords {
		write("cord", &c.Cords[i].Item, c.Cords[i].facts)
	}
	for i := range c.Sheets {
		write("sheet", &c.Sheets[i].Item, c.Sheets[i].facts)
	}
	for i := range c.Cutters {
		write("cutter", &c.Cutters[i].Item, c.Cutters[i].facts)
	}
	if c.Discs != nil {
		all = append(all, tomledit.Set(lengths(c.Discs.Bores), "discs", "bores"), tomledit.Set(tomledit.Whole(c.Discs.Most), "discs", "most"))
	}
	return all
}

// lengths is a list of lengths.
func lengths(list []units.Millimetres) tomledit.Value {
	var out []tomledit.Value
	for _, l := range list {
		out = append(out, tomledit.Text(units.Lengths.Exact(l)))
	}
	return tomledit.List(out...)
}

func (s *SheetStock) facts(f *facts) {
	f.text("kind", string(s.Kind))
	f.size("thickness", "", s.Thickness)
	f.size("length", "", s.Length)
	f.size("width", "", s.Width)
}

func (c *Cutter) facts(f *facts) {
	f.text("way", string(c.Way))
	f.given("smallest", "", c.Smallest)
	f.given("largest", "", c.Largest)
	f.given("step", "", c.Step)
	sizes := tomledit.Value{}
	if len(c.Sizes) > 0 {
		sizes = lengths(c.Sizes)
	}
	f.set("sizes", sizes)
	f.given("pilot", "", c.Pilot)
}

// facts are those of one part.
type facts struct {
	kind string
	it   *Item
	all  *[]tomledit.Edit
}

func (f *facts) set(key string, v tomledit.Value) {
	*f.all = append(*f.all, tomledit.Edit{Key: []string{f.kind, f.it.Name, key}, Value: v})
}

// text is a text, left out if it is empty.
func (f *facts) text(key, s string) {
	if s == "" {
		f.set(key, tomledit.Value{})
		return
	}
	f.set(key, tomledit.Text(s))
}

// said is a text, left out if it is what was assumed and noted as called.
func (f *facts) said(key, called, s string) {
	if called != "" && slices.ContainsFunc(f.it.Assumed, func(a string) bool { return strings.HasPrefix(a, called+" taken as ") }) {
		s = ""
	}
	f.text(key, s)
}

func (f *facts) size(key, called string, l units.Millimetres) {
	f.said(key, called, units.Lengths.Exact(l))
}

// canDrill is said only where it does not follow from the material.
func (f *facts) canDrill(m Material, can bool) {
	if can == drillable(m) {
		f.set("can_drill", tomledit.Value{})
		return
	}
	f.set("can_drill", tomledit.Yes(can))
}

func (f *facts) round(diameter, bore, width units.Millimetres, m Material, canDrill bool) {
	f.size("diameter", "", diameter)
	f.size("bore", "", bore)
	f.size("width", f.kind+" width", width)
	f.text("material", string(m))
	f.canDrill(m, canDrill)
}

func (p *Pulley) facts(f *facts) {
	f.size("outside", "", p.Outside)
	f.size("groove_floor", "groove floor", p.GrooveFloor)
	f.size("groove_width", "groove width", p.GrooveWidth)
	groove := ""
	if p.GrooveAngle > 0 {
		groove = units.Angles.Exact(p.GrooveAngle)
	}
	f.text("groove", groove)
	f.size("width", "width along the axle", p.Width)
	f.size("bore", "", p.Bore)
	f.text("material", string(p.Material))
	f.canDrill(p.Material, p.CanDrill)
}

func (b *Band) facts(f *facts) {
	f.text("size", b.Size)
	f.size("flat_length", "flat length", b.FlatLength)
	f.size("width", "band width", b.Width)
	f.size("thickness", "band thickness", b.Thickness)
	if b.StretchLimit > 0 {
		f.set("stretch_limit", tomledit.Number(b.StretchLimit))
	} else {
		f.set("stretch_limit", tomledit.Value{})
	}
}

func (m *Motor) facts(f *facts) {
	f.text("rated", units.Voltages.Exact(m.Rated))
	if m.VoltsMost > 0 {
		f.set("volts", tomledit.List(tomledit.Text(units.Voltages.Exact(m.VoltsLeast)), tomledit.Text(units.Voltages.Exact(m.VoltsMost))))
	} else {
		f.set("volts", tomledit.Value{})
	}
	speed := "free_speed"
	if m.Calibrated {
		speed = "counted_speed"
	}
	f.text(speed, units.Turnings.Exact(m.FreeSpeed))
	f.said("free_current", "free current", units.Currents.Exact(m.FreeCurrent))
	torque, current := "", ""
	if m.StallTorque > 0 {
		torque = units.Torques.Exact(m.StallTorque)
	}
	if m.StallCurrent > 0 {
		current = units.Currents.Exact(m.StallCurrent)
	}
	f.text("stall_torque", torque)
	f.said("stall_current", "stall current", current)
	f.size("shaft_diameter", "shaft diameter", m.ShaftDiameter)
	f.size("shaft_length", "shaft length", m.ShaftLength)
	for _, side := range []struct {
		key string
		is  units.Millimetres
	}{{"body_length", m.BodyLength}, {"body_width", m.BodyWidth}, {"body_height", m.BodyHeight}} {
		words := units.Lengths.Exact(side.is)
		assumed := strings.ReplaceAll(side.key, "_", " ") + " " + units.Lengths.Format(side.is)
		if slices.ContainsFunc(f.it.Assumed, func(a string) bool { return strings.HasPrefix(a, "taken as usual: ") && strings.Contains(a, assumed) }) {
			words = ""
		}
		f.text(side.key, words)
	}
	f.text("mass", units.Masses.Exact(m.Mass))
}

func (h *CellHolder) facts(f *facts) {
	f.set("cells", tomledit.Whole(h.Cells))
	f.said("chemistry", "chemistry", h.Chemistry)
	f.text("condition", string(h.Condition))
	volts := ""
	if h.Measured {
		volts = units.Voltages.Exact(h.OpenVoltage)
	}
	f.text("open_voltage", volts)
	f.said("resistance", "resistance of a cell", units.Resistances.Exact(h.CellResistance))
	capacity := ""
	if h.Capacity > 0 {
		capacity = units.Capacities.Exact(h.Capacity)
	}
	f.text("capacity", capacity)
}

func (b *Block) facts(f *facts) {
	f.set("sheaves", tomledit.Whole(b.Sheaves))
	f.size("sheave", "", b.Outside)
	f.size("groove_floor", "groove floor", b.GrooveFloor)
	f.size("groove_width", "groove width", b.GrooveWidth)
	f.size("sheave_width", "sheave width", b.Width)
	f.given("bore", "", b.Bore)
	f.given("axle", "", b.Axle)
	f.text("axle_material", string(b.AxleMaterial))
	made := "bought"
	if b.HomeMade {
		made = "home"
	}
	f.text("made", made)
	f.given("sheet", "", b.Sheet)
	f.text("sheet_kind", string(b.SheetKind))
	f.given("spacer", "spacer thickness", b.Spacer)
	f.given("drop", "axle to hook", b.Drop)
	f.given("nose", "axle to nose", b.Nose)
	f.said("mass", "mass", units.Masses.Exact(b.Mass))
}

// given is a length, left out at 0.
func (f *facts) given(key, called string, l units.Millimetres) {
	if l == 0 {
		f.set(key, tomledit.Value{})
		return
	}
	f.size(key, called, l)
}

func (a *AxleStock) facts(f *facts) {
	f.size("diameter", "", a.Diameter)
	f.size("length", "", a.Length)
	f.text("material", string(a.Material))
}

func (s *Sleeve) facts(f *facts) {
	f.size("inner", "", s.Inner)
	f.size("outer", "", s.Outer)
	f.size("length", "sleeve length", s.Length)
}

func (s *Spacer) facts(f *facts) {
	f.size("bore", "", s.Bore)
	f.size("outside", "", s.Outside)
	f.size("thickness", "", s.Thickness)
}

func (c *Cord) facts(f *facts) {
	f.size("diameter", "", c.Diameter)
	f.size("length", "", c.Length)
	strength := ""
	if c.Strength > 0 {
		strength = units.Forces.Exact(c.Strength)
	}
	f.text("strength", strength)
}
