package mechanics

import (
	"math"

	"findrive/internal/units"
)

// Belt is a band's path round two pulleys. Driver and Driven are pitch
// diameters, Centre the distance between the axles. The methods hold for
// pulleys that do not overlap, Centre >= (Driver + Driven)/2; see Overlaps.
//
// The formulas are the exact ones (Jindal, Machine Design, ch. 20). The usual
// approximation with (D-d)²/4C is 1.26 mm short for 8 and 100 mm pulleys at
// 70 mm, enough to pick the wrong band.
type Belt struct {
	Driver, Driven, Centre units.Millimetres
	Crossed                bool
}

// Overlaps reports whether the pitch circles cut each other, so that no such
// drive can be built. Touching circles do not overlap.
func (b Belt) Overlaps() bool { return 2*b.Centre < b.Driver+b.Driven }

// lean is the angle between a free strand and the line of centres, with sign:
// asin((driven-driver)/2C) for an open band, asin((driven+driver)/2C) for a
// crossed one. sine and cosine are its own, held within what an angle can have.
func (b Belt) lean() (angle, sine, cosine float64) {
	across := float64(b.Driven - b.Driver)
	if b.Crossed {
		across = float64(b.Driven + b.Driver)
	}
	sine = min(1, max(-1, across/(2*float64(b.Centre))))
	cosine = math.Sqrt(1 - sine*sine)
	return math.Atan(sine / cosine), sine, cosine // quicker than asin, which takes the root again
}

// Length is the length of the band's path.
//
//	open:    2C cos a + pi (D+d)/2 + a (D-d),  a = asin((D-d)/2C)
//	crossed: 2C cos b + (pi/2 + b)(D+d),       b = asin((D+d)/2C)
func (b Belt) Length() units.Millimetres {
	length, _, _, _ := b.measure()
	return length
}

// measure is the length of the path, the sum of the two arcs of contact, and sine
// and cosine of the lean.
func (b Belt) measure() (length units.Millimetres, arcs, sine, cosine float64) {
	angle, sine, cosine := b.lean()
	spans := 2 * float64(b.Centre) * cosine
	d1, d2 := float64(b.Driver), float64(b.Driven)
	if b.Crossed {
		return units.Millimetres(spans + (math.Pi/2+angle)*(d1+d2)), 2*math.Pi + 4*angle, sine, cosine
	}
	return units.Millimetres(spans + math.Pi/2*(d1+d2) + angle*(d2-d1)), 2 * math.Pi, sine, cosine
}

// Span is the length of one free strand, from pulley to pulley.
func (b Belt) Span() units.Millimetres {
	_, _, cosine := b.lean()
	return b.Centre * units.Millimetres(cosine)
}

// DriverArc is the arc of contact on the driver: pi - 2a on the smaller pulley
// of an open band and pi + 2a on the larger, pi + 2b on both of a crossed band.
func (b Belt) DriverArc() units.Radians {
	driver, _ := b.Arcs()
	return driver
}

// DrivenArc is the arc of contact on the driven pulley; see DriverArc.
func (b Belt) DrivenArc() units.Radians {
	_, driven := b.Arcs()
	return driven
}

// Arcs is DriverArc and DrivenArc together.
func (b Belt) Arcs() (driver, driven units.Radians) {
	angle, _, _ := b.lean()
	if b.Crossed {
		return units.Radians(math.Pi + 2*angle), units.Radians(math.Pi + 2*angle)
	}
	return units.Radians(math.Pi - 2*angle), units.Radians(math.Pi + 2*angle)
}

// CentreForLength is the centre distance at which a path round the two pitch
// diameters has the given length: the inverse of Belt.Length. It is false if
// the length is too short for any spacing without overlapping pitch circles.
func CentreForLength(driver, driven, length units.Millimetres, crossed bool) (units.Millimetres, bool) {
	touching := (driver + driven) / 2
	if !(touching > 0) || !(length > 0) || math.IsInf(float64(length), 1) {
		return 0, false
	}
	// The length is a convex, rising function of the centre distance, a little
	// more than 2C + pi (D+d)/2 + w²/4C, where w is the difference of the
	// diameters or, crossed, their sum. Newton's method from the distance which
	// that gives therefore comes down on the root without crossing it.
	across := driven - driver
	if crossed {
		across = driven + driver
	}
	spans := length - math.Pi*touching
	root := units.Millimetres(math.Sqrt(max(0, float64(spans*spans-2*across*across))))
	b := Belt{Driver: driver, Driven: driven, Centre: (spans + root) / 4, Crossed: crossed}
	for range 100 {
		if !(b.Centre > touching) {
			b.Centre = touching
			break
		}
		got, _, sine, cosine := b.measure()
		step := float64(got-length) / (2 * cosine) // dL/dC = 2 cos(lean)
		next := b.Centre - units.Millimetres(step)
		if !(step > 0) || next == b.Centre {
			break
		}
		b.Centre = next
		// What a step leaves: its square, times the curve of the length.
		if left := step / float64(next) * sine / cosine; left*left < 1e-14 {
			break
		}
	}
	if b.Centre <= touching*(1+nearTouching) {
		least := Belt{Driver: driver, Driven: driven, Centre: touching, Crossed: crossed}
		if !(length >= least.Length()) {
			return 0, false
		}
	}
	return max(b.Centre, touching), true
}

// nearTouching is the share of a centre distance from which on rounding cannot
// make pulleys overlap that only touch.
const nearTouching = 1e-6

// CentreForArc is the smallest centre distance of an open band with at least
// the given arc of contact on its smaller pulley: (D-d) / (2 cos(arc/2)). It is
// 0 if every spacing without overlap has it, and infinite if none has: an open
// band never has more than half a turn on its smaller pulley, and just half a
// turn only on equal pulleys.
func CentreForArc(driver, driven units.Millimetres, arc units.Radians) units.Millimetres {
	difference := math.Abs(float64(driven - driver))
	if arc > math.Pi || (arc == math.Pi && difference > 0) {
		return units.Millimetres(math.Inf(1))
	}
	if arc <= 0 || difference == 0 {
		return 0
	}
	centre := units.Millimetres(difference / (2 * math.Cos(float64(arc)/2)))
	if centre <= (driver+driven)/2 {
		return 0
	}
	return centre
}
