package proof

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/design"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// oneStage draws a cupboard of two pulleys and a band, and a brief for a plain shaft that
// they turn, open or crossed.
func oneStage(r *rand.Rand) (*parts.Cupboard, *brief.Brief) {
	within := func(lo, hi float64) mm { return mm(math.Round(10*(lo+(hi-lo)*r.Float64())) / 10) }
	item := func(name string) parts.Item { return parts.Item{Name: name, Count: 4} }
	pulley := func(name string, floor, bore mm) parts.Pulley {
		return parts.Pulley{Item: item(name), GrooveFloor: floor, Outside: floor + 3, GrooveWidth: 4, Width: 6, Bore: bore, Material: parts.Plastic, CanDrill: true}
	}
	small, large := within(5, 14), within(20, 70)
	cup := &parts.Cupboard{
		Pulleys: []parts.Pulley{pulley("large", large, 5), pulley("small", small, 2)},
		Bands:   []parts.Band{{Item: item("band"), FlatLength: mm(math.Round(60 + 100*r.Float64())), Width: 1.5, Thickness: within(0.8, 1.8), PullFactor: 1}},
		Motors: []parts.Motor{{Item: item("motor"), Rated: 3, FreeSpeed: 4000, FreeCurrent: 0.1, StallTorque: 3,
			ShaftDiameter: 2, ShaftLength: 9, BodyLength: 25, BodyWidth: 12, BodyHeight: 10}},
		Holders: []parts.CellHolder{{Item: item("cells"), Cells: 2, OpenVoltage: 1.5, CellResistance: 0.3}},
		Axles:   []parts.AxleStock{{Item: item("dowel"), Diameter: 5, Length: 300, Material: parts.Wood}},
	}
	b := &brief.Brief{
		Model: brief.PlainShaft, Tolerance: 0.8, Sets: 1, MaxStages: 1,
		Speed:     brief.Speed{Turning: 3000 * units.RPM(small/large)},
		Direction: brief.Direction{Sense: brief.Clockwise, MotorTurns: []brief.Sense{brief.Clockwise, brief.Anticlockwise}[r.IntN(2)], SeenFrom: "front"},
		Load:      brief.Load{Torque: 0.5, TackleParts: 1, TackleEfficiency: 1},
		Frame:     brief.Frame{Length: within(90, 260), Height: within(90, 260), Depth: 60, Pitch: 1, Sheet: 4, Overhang: 20},
		Making:    brief.Making{DrillFrame: true},
		Limits:    brief.DefaultLimits(), Weights: brief.DefaultWeights(),
	}
	b.Limits.HoleError = 0
	b.Frame.MotorZone = brief.Rect{X1: b.Frame.Length, Y1: b.Frame.Height}
	b.Frame.OutputZone = b.Frame.MotorZone
	return cup, b
}

// TestWindowsAreThoseOfTheSearch holds the spacings that a band allows to those that the
// search found its own way, to the last bit: a design at the very end of them must cost the
// same for both, and have the same holes.
func TestWindowsAreThoseOfTheSearch(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(19, 23))
	arc, crossed, atEnd := 0, 0, 0
	for range 250 {
		cup, b := oneStage(r)
		found, err := design.Find(context.Background(), cup, b, design.Options{Keep: 1, Threads: 1})
		require.NoError(t, err)
		if len(found.Proposals) == 0 {
			_, err = Record(context.Background(), cup, b, 1, nil)
			require.NoError(t, err, "%+v", b)
			continue
		}
		p := &found.Proposals[0]
		s, st := newSpace(cup, b), &p.Drive.Stages[0]
		for _, w := range s.waysOf(pair{parts.Find(s.pulleys, st.Driven.Name), parts.Find(s.pulleys, st.Driver.Name)}).all {
			if w.use != st.Use || w.crossed != st.Crossed {
				continue
			}
			require.Equal(t, p.Stages[0].CentreAllowed, w.whole, "%+v", st)
			f, err := w.stage.Fit(w.whole.Lo)
			require.NoError(t, err)
			switch {
			case !st.Crossed && float64(min(f.DriverArc, f.DrivenArc)-b.Limits.ArcMin) < 1e-6:
				arc++
			case st.Crossed && float64(w.whole.Lo-constraints.CrossedCentreMin(f.DriverPitch, f.DrivenPitch)) < 1e-5:
				crossed++
			}
			if p.Drive.Spacings[0] == w.whole.Lo {
				atEnd++
			}
		}
		l, err := ListedOf(p.Drive, p.Total, p.Bears, 0)
		require.NoError(t, err)
		_, err = Record(context.Background(), cup, b, 1, []Listed{l})
		require.NoError(t, err)
	}
	t.Log(arc, crossed, atEnd)
	assert.Greater(t, arc, 10)
	assert.Greater(t, crossed, 10)
	assert.Greater(t, atEnd, 5)
}
