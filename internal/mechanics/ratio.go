package mechanics

import "findrive/internal/units"

// VelocityRatio is driven pitch diameter / driver pitch diameter: how often the
// driver turns for one turn of the driven pulley, before any slip or creep.
// This is the British school convention; many texts use the reciprocal.
//
// Worked example: a 1 mm band, drawn to a stretch of 1.2, is 0.91 mm thick. On
// a 4 mm sleeve driving a 50 mm groove the pitch diameters are 4.91 and
// 50.91 mm and the ratio is 50.91/4.91 = 10.4: the motor turns 10.4 times for
// one turn of the wheel, not 12.5 times as the bare diameters suggest.
//
// Along a train the ratios of the stages multiply.
func VelocityRatio(driver, driven units.Millimetres) float64 { return float64(driven / driver) }

// TurnsAtWork is how often the motor turns for one turn of the output at work: what the pulleys
// give, and for each stage what its band loses to creep. A band that slips (creep 1) is left
// out, for then there is no such figure.
func TurnsAtWork(pulleys float64, creeps []float64) float64 {
	for _, creep := range creeps {
		if creep < 1 {
			pulleys /= 1 - creep
		}
	}
	return pulleys
}

// PitchDiameter is the diameter at which a band of the given thickness (as
// stretched, see Loop.ThicknessAt) runs on a pulley of the given groove-floor
// diameter: floor + thickness, because the line in the band that is neither
// bent longer nor shorter lies at half its thickness (Sarkar, Theory of
// Machines, ch. 2, illustration 1).
//
// On a small sleeve the rule is a little off: with a 1 mm band by about 2 % on
// 8 mm and 4 % on 4 mm.
func PitchDiameter(floor, thickness units.Millimetres) units.Millimetres { return floor + thickness }
