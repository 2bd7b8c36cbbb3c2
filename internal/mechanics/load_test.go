package mechanics

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"findrive/internal/units"
)

func TestOutputLoads(t *testing.T) {
	assert.InDelta(t, 15.7, float64(OutOfBalanceTorque(20, 80)), 0.05, "20 g at 80 mm")
	assert.InDelta(t, 0.3*9.80665*4, float64(PivotTorque(0.3, 1000, 4)), 1e-9)
	assert.InDelta(t, 0.35*2*3, float64(BearingTorque(0.35, 2, 3)), 1e-12)
	assert.InDelta(t, 0.02*9.80665*0.3*25, float64(RollingTorque(0.02, 300, 0, 25)), 1e-9)
	assert.InDelta(t, 0.3*9.80665*0.5*25, float64(SlopeTorque(300, units.Degrees(30), 25)), 1e-9)
	assert.Less(t, SlopeTorque(300, units.Degrees(-5), 25), units.NewtonMillimetres(0))
	assert.InDelta(t, 0.6*0.5*0.3*9.80665*math.Cos(math.Pi/6)*25, float64(TractionTorque(0.6, 300, 0.5, units.Degrees(30), 25)), 1e-9)
	assert.InDelta(t, 0.2*9.80665*(10+0.5), float64(LiftTorque(200, 20, 1, 1, 1)), 1e-9)
	// Velocity ratio 4 at 90 %: 300 N need 83.33 N (worked question, Meritnation).
	assert.InEpsilon(t, 83.33, float64(LiftPull(units.Grams(300/units.StandardGravity*1000), 4, 0.9)), 1e-4)
}

// Observed pulls of full-size tackles (Workshop Receipts, 5th series, Spon).
func TestLiftPullOfObservedTackles(t *testing.T) {
	for _, c := range []struct {
		parts            int
		efficiency, pull float64
	}{{2, 0.81, 0.62}, {3, 0.75, 0.45}, {4, 0.68, 0.37}, {5, 0.615, 0.32}, {6, 0.59, 0.28}} {
		got := LiftPull(1000, c.parts, c.efficiency) / units.Grams(1000).Weight()
		assert.InEpsilon(t, c.pull, float64(got), 0.02)
	}
}

func TestRangesAreInOrder(t *testing.T) {
	for _, r := range []Range{DowelInWood(), SteelInPlastic(), MotorBearing(), BandGrip(), RollingResistance("table"), RollingResistance("carpet")} {
		assert.Less(t, 0.0, r.Low)
		assert.Less(t, r.Low, r.Likely)
		assert.Less(t, r.Likely, r.High)
	}
}

func TestVelocityRatioOfWorkedExample(t *testing.T) {
	band := Loop{Width: 1, Thickness: 1, Strands: 1}
	thickness := band.ThicknessAt(1.2)
	assert.InDelta(t, 10.4, VelocityRatio(PitchDiameter(4, thickness), PitchDiameter(50, thickness)), 0.05)
}
