package mechanics

import (
	"errors"
	"math"

	"findrive/internal/units"
)

// Stage is a driver and a driven pulley with the band between them.
type Stage struct {
	// DriverFloor and DrivenFloor are the diameters of the groove floors.
	DriverFloor, DrivenFloor units.Millimetres
	// DriverGroove and DrivenGroove are the full included angles of V grooves;
	// 0 for a flat or round floor, which does not wedge.
	DriverGroove, DrivenGroove units.Radians
	// Friction is the coefficient between band and groove; see BandGrip.
	Friction float64
	Band     Loop
	Crossed  bool
}

// Fitted is a stage with its band put on, at rest.
type Fitted struct {
	Centre                   units.Millimetres
	DriverPitch, DrivenPitch units.Millimetres // pitch diameters
	Length, Span             units.Millimetres // of the path, and of one free strand
	Stretch                  float64
	DriverArc, DrivenArc     units.Radians
	Pull                     units.Newtons // of one run, idle
	Ratio                    float64       // VelocityRatio of the pitch diameters
}

// Errors of Stage.Fit.
var (
	ErrOverlap = errors.New("the pulleys overlap at this centre distance")
	ErrLoose   = errors.New("the band is longer than the path round the pulleys")
	ErrNoStage = errors.New("groove floors and the band's rest length must be above 0 mm")
)

// Fit puts the band on at a centre distance. The more the band is stretched the
// thinner it is, the smaller the pitch diameters, and the shorter its path: the
// three are solved together.
//
// With ErrOverlap or ErrLoose the geometry is still filled in, so that a caller
// can say by how much; the pull of a loose band is 0. With ErrNoStage it is not.
func (s Stage) Fit(centre units.Millimetres) (Fitted, error) {
	if !(s.DriverFloor > 0) || !(s.DrivenFloor > 0) || !(s.Band.Rest > 0) || !(centre > 0) {
		return Fitted{}, ErrNoStage
	}
	rest := float64(s.Band.Rest)
	b := s.belt(centre, 1)
	length, arcs, _, _ := b.measure()
	stretch, thick := float64(length)/rest, s.Band.Thickness // the path's thickness, so far
	for range 50 {
		// The path grows by half the arcs per unit of thickness, and thickness
		// falls by half its share per share of stretch.
		thickness := s.Band.ThicknessAt(stretch)
		over := float64(length) + arcs/2*float64(thickness-thick) - stretch*rest
		rate := rest + arcs*float64(thickness)/(4*stretch)
		next := max(stretch+over/rate, stretch/2)
		step := math.Abs(next - stretch)
		stretch = next
		if step <= 1e-7*stretch { // which leaves some 1e-14
			break
		}
		if s.Crossed { // the arcs of an open band stay as they are
			b = s.belt(centre, stretch)
			length, arcs, _, _ = b.measure()
			thick = b.Driver - s.DriverFloor
		}
	}
	return s.fitted(centre, stretch)
}

// belt is the path at a centre distance with the band as thick as it is at a
// stretch.
func (s *Stage) belt(centre units.Millimetres, stretch float64) Belt {
	t := s.Band.ThicknessAt(stretch)
	return Belt{Driver: PitchDiameter(s.DriverFloor, t), Driven: PitchDiameter(s.DrivenFloor, t), Centre: centre, Crossed: s.Crossed}
}

// fitted fills in everything that follows from centre distance and stretch.
func (s *Stage) fitted(centre units.Millimetres, stretch float64) (Fitted, error) {
	b := s.belt(centre, stretch)
	angle, _, cosine := b.lean()
	f := Fitted{
		Centre: centre, DriverPitch: b.Driver, DrivenPitch: b.Driven,
		Length: s.Band.Rest * units.Millimetres(stretch), Span: centre * units.Millimetres(cosine),
		Stretch: stretch, Ratio: VelocityRatio(b.Driver, b.Driven),
		DriverArc: units.Radians(math.Pi - 2*angle), DrivenArc: units.Radians(math.Pi + 2*angle),
	}
	if s.Crossed {
		f.DriverArc = f.DrivenArc
	}
	if b.Overlaps() {
		return f, ErrOverlap
	}
	if !(stretch > 1) {
		return f, ErrLoose
	}
	f.Pull = s.Band.Pull(stretch)
	return f, nil
}

// CentreAtStretch is the centre distance at which the band is fitted with the
// given stretch: the inverse of Fit. It is false if the pulleys would overlap.
func (s Stage) CentreAtStretch(stretch float64) (units.Millimetres, bool) {
	if !(stretch > 0) {
		return 0, false
	}
	b := s.belt(0, stretch)
	return CentreForLength(b.Driver, b.Driven, s.Band.Rest*units.Millimetres(stretch), s.Crossed)
}

// Belt is the path of the fitted band.
func (s Stage) Belt(f Fitted) Belt {
	return Belt{Driver: f.DriverPitch, Driven: f.DrivenPitch, Centre: f.Centre, Crossed: s.Crossed}
}

// FrictionExponents are m theta for the driver and the driven pulley: friction
// over the sine of half the groove angle, times groove-floor radius over pitch
// radius (friction acts on the inside of the band, the pull at its middle),
// times arc of contact. Where the smaller of the two is used up the band slips:
// the smaller product, which need not be the smaller arc.
func (s Stage) FrictionExponents(f Fitted) (driver, driven float64) {
	m1, m2 := s.wedged(f)
	return m1 * float64(f.DriverArc), m2 * float64(f.DrivenArc)
}

// PullGrowth is by what share of itself the band's pull at rest grows for each mm that
// the pulleys are further apart. The path grows by the cosine of the lean on each side,
//
//	d ln P / dc = 2 cos(lean) P'(s) / (P(s) L)
//
// with s the stretch, P the stress and L the band's rest length; that the band gets
// thinner, and its path shorter by that, is left out.
func (s Stage) PullGrowth(f Fitted) float64 {
	stress, slope := s.Band.Rubber.tension(f.Stretch - 1)
	return 2 * float64(f.Span/f.Centre) * slope / (stress * float64(s.Band.Rest))
}

// wedged is the effective friction m on the driver and the driven pulley.
func (s Stage) wedged(f Fitted) (driver, driven float64) {
	driver = s.Friction * float64(s.DriverFloor/f.DriverPitch)
	driven = s.Friction * float64(s.DrivenFloor/f.DrivenPitch)
	if s.DriverGroove > 0 {
		driver /= math.Sin(float64(s.DriverGroove) / 2)
	}
	if s.DrivenGroove > 0 {
		driven /= math.Sin(float64(s.DrivenGroove) / 2)
	}
	return driver, driven
}
