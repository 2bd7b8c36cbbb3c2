package drive

import "findrive/internal/units"

// loadedPullPad covers that a band's pull on its axles under load does not grow
// with stretch in quite the same measure as its pull at rest.
const loadedPullPad = 0.1

// Tightened bounds from below the motor torque of a placement once every centre
// distance is longer by the same amount, given its torque as drawn: loose and
// tight are the extents of the windows before and after.
//
// Longer centres stretch every band, so every pull on an axle grows, by at least
// the least growth of any band; and what is friction in the motor's torque grows
// with the pulls. Only where two pulls on an axle nearly cancel and one grows more
// than the other can their sum grow less, by at most the difference in growth of
// the smaller of the two. This ties the torque to the one it grew from, where two
// separate envelopes would forget that a placement which needs much as drawn needs
// more when tightened.
func (m *Model) Tightened(loose, tight *Extent, torque, output units.NewtonMillimetres) units.NewtonMillimetres {
	least, most := 1e9, 0.0
	lossless, losslessTight := float64(output), float64(output)
	slip := 1.0 // by which thinner bands may reduce torques on their way to the motor
	for i := range m.Count {
		near := float64(tight.Near[i].Pull / loose.Near[i].Pull)
		far := float64(tight.Far[i].Pull / loose.Far[i].Pull)
		least, most = min(least, near, far), max(most, near, far)
		lossless /= min(loose.Near[i].Ratio, loose.Far[i].Ratio)
		losslessTight /= max(tight.Near[i].Ratio, tight.Far[i].Ratio)
		slip *= min(loose.Near[i].Ratio/tight.Near[i].Ratio, loose.Far[i].Ratio/tight.Far[i].Ratio, 1)
	}
	if m.Demand.Weight.Size() > 0 || m.AxleWeight != [MaxStages]units.Newtons{} {
		least = min(least, 1) // weights do not grow
	}
	least, most = least*(1-loadedPullPad), most*(1+loadedPullPad)

	cancelled, before := 0.0, 1.0
	for i := range m.Count {
		before *= min(loose.Near[i].Ratio, loose.Far[i].Ratio, tight.Near[i].Ratio, tight.Far[i].Ratio)
		smaller := loose.Far[i].idleHub * (1 + hubPad)
		switch {
		case i < m.Count-1:
			smaller = min(smaller, loose.Far[i+1].idleHub*(1+hubPad))
		default:
			smaller = min(smaller, m.Demand.Weight.Size())
		}
		smaller += m.AxleWeight[i]
		cancelled += m.AxleMu[i] * float64(m.AxleRadius[i]) * (most - least) * float64(smaller) / before
	}
	friction := max(0, float64(torque)-lossless)
	return units.NewtonMillimetres(max(0, losslessTight+least*slip*friction-cancelled))
}
