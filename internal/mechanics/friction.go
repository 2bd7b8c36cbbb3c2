package mechanics

import "findrive/internal/units"

// Range is a value known only roughly.
type Range struct{ Low, Likely, High float64 }

// DowelInWood is the friction of a wooden axle in holes in wood or card.
// A formula bank gives 0.3-0.5 for dry wood on wood, sliding (Lust CDA3000
// Engineering Guide, table 7.21); 0.25 is allowed for waxed dowel (judgement).
func DowelInWood() Range { return Range{0.25, 0.35, 0.5} }

// SteelInPlastic is the friction of a steel axle in plastic holes or tubes:
// 0.18-0.35 dry, sliding (Lust CDA3000 Engineering Guide, table 7.21).
func SteelInPlastic() Range { return Range{0.15, 0.25, 0.35} }

// MotorBearing is the friction of a motor's own plain bearings (judgement).
func MotorBearing() Range { return Range{0.10, 0.15, 0.25} }

// BandGrip is the friction of a rubber band in a groove of wood, card or
// plastic: 0.5-0.95 on dry wood, 0.3 on polished or dusty surfaces (engineering
// tables, from memory); the likely value is judgement. The 0.25 of industrial
// belt tables is for cotton-backed belts.
func BandGrip() Range { return Range{0.3, 0.5, 0.8} }

// BearingTorque is the friction torque of an axle: coefficient x load on the
// bearings x axle radius. The load is the size of the vector sum of all pulls
// and weights on the axle; how it is shared between two bearings makes no
// difference.
func BearingTorque(mu float64, load units.Newtons, radius units.Millimetres) units.NewtonMillimetres {
	return units.NewtonMillimetres(mu * float64(load) * float64(radius))
}
