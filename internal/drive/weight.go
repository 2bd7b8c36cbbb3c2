package drive

import (
	"math"

	"findrive/internal/brief"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// Density is that of a material in kg/m³ (common practice: pine, poplar and birch ply
// 450 to 700, card 700, ABS and nylon 1050 to 1150, rubber 1100 to 1200; metals from
// any table of materials). A part of no stated material is taken for wood.
func Density(m parts.Material) float64 {
	switch m {
	case parts.Card:
		return 700
	case parts.Plastic:
		return 1100
	case parts.Rubber:
		return 1200
	case parts.Steel:
		return 7850
	case parts.Brass:
		return 8500
	case parts.Alloy:
		return 2700
	}
	return 600
}

// discWeight is the weight of a solid disc or rod: of the outside size throughout, for
// what bore and groove take away is little beside what nobody knows of the material.
func discWeight(m parts.Material, diameter, length units.Millimetres) units.Newtons {
	volume := math.Pi / 4 * float64(diameter*diameter*length) // mm³
	return units.Grams(volume * 1e-6 * Density(m)).Weight()
}

// PulleyWeight is the weight of a pulley as a solid disc.
func PulleyWeight(p *parts.Pulley) units.Newtons { return discWeight(p.Material, p.Outside, p.Width) }

// RodWeight is the weight of an axle cut from stock, as long as the frame is over its
// sides; the ends that stick out are left out.
func RodWeight(a *parts.AxleStock, f *brief.Frame) units.Newtons {
	return discWeight(a.Material, a.Diameter, f.OverSides())
}

// OutputWeight is the weight of what the last axle carries for the model: a vehicle's
// two wheels or a lift's drum, nil where it has none.
func OutputWeight(wheel *parts.Wheel, drum *parts.Drum) units.Newtons {
	var w units.Newtons
	if wheel != nil {
		w += 2 * discWeight(wheel.Material, wheel.Diameter, wheel.Width)
	}
	if drum != nil {
		w += discWeight(drum.Material, drum.Diameter, drum.Width)
	}
	return w
}

// AxleWeight is the weight of the axle that carries stage i's driven pulley and of all
// that sits on it. It pulls straight down on a level axle; an upright one stands on
// its end, and it is 0.
func AxleWeight(d *Drive, b *brief.Brief, i int) units.Newtons {
	if b.Model == brief.UprightRide {
		return 0
	}
	w := PulleyWeight(d.Stages[i].Driven)
	if d.Axles[i] != nil {
		w += RodWeight(d.Axles[i], &b.Frame)
	}
	if i+1 < len(d.Stages) {
		return w + PulleyWeight(d.Stages[i+1].Driver)
	}
	return w + OutputWeight(d.Wheel, d.Drum)
}

// HeaviestAxle is the most that what turns with one axle can weigh, in a drive for a brief of
// the parts in a cupboard: a rod, and two pulleys or a pulley and what the output turns. 0
// where the axles stand and their weight presses on no bearing from above.
func HeaviestAxle(cup *parts.Cupboard, b *brief.Brief) units.Newtons {
	if b.Model == brief.UprightRide {
		return 0
	}
	var pulley, rod, output units.Newtons
	for i := range cup.Pulleys {
		pulley = max(pulley, PulleyWeight(&cup.Pulleys[i]))
	}
	for i := range cup.Axles {
		rod = max(rod, RodWeight(&cup.Axles[i], &b.Frame))
	}
	for i := range cup.Wheels {
		output = max(output, OutputWeight(&cup.Wheels[i], nil))
	}
	for i := range cup.Drums {
		output = max(output, OutputWeight(nil, &cup.Drums[i]))
	}
	return rod + pulley + max(pulley, output)
}
