package drive

import (
	"math"

	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// What differs from one model of a class to the next, and by how much. Ranges of
// coefficients of friction and of rolling are in package mechanics, beside their
// sources: mechanics.BandGrip, BearingFriction, mechanics.MotorBearing and
// mechanics.RollingResistance.

// Relative uncertainties of what is read from sheets.
const (
	// MotorUncertainty is the maker's own tolerance on a published 130-size
	// data set (free speed 9100 ± 1800 rpm).
	MotorUncertainty = 0.20
	// CountedUncertainty is what a count of turns leaves open (judgement).
	CountedUncertainty = 0.05
	// BandUncertainty is the scatter of stationery bands (judgement; a
	// procurement standard allows 17 % on width alone, MIL-R-1832D).
	BandUncertainty = 0.30
	// WeighedBandUncertainty is what hanging a known mass leaves open
	// (judgement).
	WeighedBandUncertainty = 0.10
	// CellUncertainty spans new to part-used cells about their stated
	// resistance (judgement).
	CellUncertainty = 0.5
	// MeasuredCellUncertainty is what the open voltage of a cell that has been
	// measured leaves open until the lesson (judgement).
	MeasuredCellUncertainty = 0.02
	// FreeCurrentUncertainty is that of a motor's current without load (judgement: it
	// is brush and bearing friction, which differ from motor to motor).
	FreeCurrentUncertainty = 0.25
	// LoadUncertainty is that of what is carried (judgement: what children make is a
	// tenth heavier or lighter than planned).
	LoadUncertainty = 0.10
	// MagnetCorrelation is the rank correlation of a motor's free speed and stall
	// torque: a stronger magnet trades one for the other (judgement).
	MagnetCorrelation = -0.5
)

// about is a range of factors round 1.
func about(u float64) mechanics.Range { return mechanics.Range{Low: 1 - u, Likely: 1, High: 1 + u} }

// FreeSpeedSpread is the factor on a motor's free speed.
func FreeSpeedSpread(m *parts.Motor) mechanics.Range {
	if m.Calibrated {
		return about(CountedUncertainty)
	}
	if m.SpeedKnown > 0 {
		return about(m.SpeedKnown)
	}
	return about(MotorUncertainty)
}

// StallTorqueSpread is the factor on a motor's stall torque, and on its stall current.
func StallTorqueSpread() mechanics.Range { return about(MotorUncertainty) }

// FreeCurrentSpread is the factor on a motor's free current.
func FreeCurrentSpread() mechanics.Range { return about(FreeCurrentUncertainty) }

// BandPullSpread is the factor on a band's pull.
func BandPullSpread(b *parts.Band) mechanics.Range {
	if b.Calibrated {
		return about(WeighedBandUncertainty)
	}
	return about(BandUncertainty)
}

// CellResistanceSpread is the factor on the resistance of a cell.
func CellResistanceSpread() mechanics.Range { return about(CellUncertainty) }

// LoadSpread is the factor on mass, out-of-balance mass and torque of the load.
func LoadSpread() mechanics.Range { return about(LoadUncertainty) }

// The open voltage of a cell of 1.5 V, zinc-carbon, zinc-chloride or alkaline: seven
// fresh AA cells measured 1.58 to 1.60 V, a used one 1.3 V. The likely values are
// judgement, the middle of what a classroom's tin holds.
var (
	primaryCell      = mechanics.Range{Low: 1.3, Likely: 1.45, High: 1.6}
	freshPrimaryCell = mechanics.Range{Low: 1.5, Likely: 1.55, High: 1.6}
	usedPrimaryCell  = mechanics.Range{Low: 1.2, Likely: 1.35, High: 1.45}
	// nickelCell is a nickel-metal hydride cell of 1.2 V, flat to just charged (common
	// practice). The reader of cupboards refuses them for pupils' models.
	nickelCell = mechanics.Range{Low: 1.15, Likely: 1.2, High: 1.35}
)

// What a cell's voltage is called after.
const (
	nominalPrimary = 1.5
	nominalNickel  = 1.2
)

// SpacingSpread is by how many mm the centre distance of two holes is out, each of them
// anywhere within the given error of its place: a triangle that reaches the square root of
// three times the error either way scatters as much as two discs do.
func SpacingSpread(holeError units.Millimetres) mechanics.Range {
	most := math.Sqrt(3) * float64(holeError)
	return mechanics.Range{Low: -most, High: most}
}

// CellVoltage is the open voltage of one cell, in volts: by its chemistry, by whether
// the cupboard says that it is fresh or used, or about what was measured.
func CellVoltage(h *parts.CellHolder) mechanics.Range {
	stated := float64(h.OpenVoltage)
	if h.Measured {
		r := about(MeasuredCellUncertainty)
		return mechanics.Range{Low: stated * r.Low, Likely: stated, High: stated * r.High}
	}
	r, nominal := primaryCell, nominalPrimary
	switch {
	case h.Chemistry == "nimh":
		r, nominal = nickelCell, nominalNickel
	case h.Condition == parts.Fresh:
		r = freshPrimaryCell
	case h.Condition == parts.Used:
		r = usedPrimaryCell
	}
	// A cell of another nominal voltage keeps the same shares of it.
	k := stated / nominal
	return mechanics.Range{Low: r.Low * k, Likely: r.Likely * k, High: r.High * k}
}
