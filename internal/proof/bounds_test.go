package proof

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/drive"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// TestPairBoundsHold draws stages, windows and loads, and holds what lies between to
// the bounds made of the ends. Stretches are those the rules allow.
func TestPairBoundsHold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		st := drive.Stage{
			Driver: &parts.Pulley{GrooveFloor: mm(draw("driver", 5, 60))}, Driven: &parts.Pulley{GrooveFloor: mm(draw("driven", 5, 90))},
			Band:    &parts.Band{FlatLength: mm(draw("flat", 40, 200)), Width: mm(draw("width", 1, 4)), Thickness: mm(draw("thickness", 0.7, 1.2)), PullFactor: 1},
			Use:     drive.Use(rapid.IntRange(0, 2).Draw(t, "use")),
			Crossed: rapid.Bool().Draw(t, "crossed"),
		}
		w := &way{stage: st.Mechanics(mechanics.BandGrip().Likely), crossed: st.Crossed, part: st.Band, ends: map[mm]*end{}, answers: &remembered{}}
		least, okLo := w.stage.CentreAtStretch(1.05)
		most, okHi := w.stage.CentreAtStretch(1.5)
		if !okHi {
			return
		}
		if touching := mm(float64(st.Driver.GrooveFloor+st.Driven.GrooveFloor)/2 + 3); !okLo || least < touching {
			least = touching
		}
		if least >= most {
			return
		}
		lo := least + mm(draw("from", 0, 1))*(most-least)
		hi := lo + mm(draw("to", 0, 1))*(most-lo)
		p := pair{w.at(lo), w.at(hi)}
		if p.near == nil || p.far == nil || math.Min(float64(p.near.DriverArc), float64(p.near.DrivenArc)) < 2*math.Pi/3 {
			return // the arc rule forbids it
		}
		if st.Crossed && p.near.Centre < p.near.DriverPitch+p.near.DrivenPitch {
			return // so does the rule about crossed bands
		}
		load := span{Lo: draw("least load", 0, 0.83)}
		load.Hi = load.Lo + draw("more", 0, 1)*(0.83-load.Lo)
		load.Lo, load.Hi = load.Lo*p.grip(), load.Hi*p.grip()
		e := w.at(lo + mm(draw("at", 0, 1))*(hi-lo))
		require.LessOrEqual(t, e.grip, p.grip())
		pull := load.Lo + draw("load", 0, 1)*load.Length()
		loaded, ok := e.stage.Load(e.Fitted, units.Newtons(pull))
		if !ok || pull > e.grip/1.2 {
			return // it slips, or breaks the grip rule
		}
		b, a := p.bounds(load), e.carrying(pull)
		in := func(what string, v float64, r span) {
			require.True(t, r.Grow(1e-9).Contains(v), "%s: %.6g is not in %.6g to %.6g", what, v, r.Lo, r.Hi)
		}
		in("ratio", e.Ratio, p.ratio())
		in("driven radius", float64(e.DrivenPitch/2), p.drivenRadius())
		in("driver radius", float64(e.DriverPitch/2), p.driverRadius())
		in("share", loaded.SpeedFactor, b.share)
		in("stretch", loaded.TightStretch, b.stretch)
		in("hub", a.hub, b.hub)
		require.LessOrEqual(t, a.tilt, b.tilt+1e-9)
	})
}

// TestTogether holds the bounds of a sum of two pulls to sums drawn between them.
func TestTogether(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := func(name string, lo, hi float64) (span, float64) {
			a, b := rapid.Float64Range(lo, hi).Draw(t, name), rapid.Float64Range(lo, hi).Draw(t, name)
			r := hull(a, b)
			return r, r.Lo + rapid.Float64Range(0, 1).Draw(t, name)*r.Length()
		}
		a, x := in("a", 0, 10)
		b, y := in("b", 0, 10)
		cos, c := in("cos", -1, 1)
		size := math.Sqrt(math.Max(0, x*x+y*y+2*x*y*c))
		require.True(t, together(a, b, cos).Grow(1e-6).Contains(size))
	})
}

// TestThirdSide does the same for the third side of a triangle.
func TestThirdSide(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := func(name string, hi float64) (span, float64) {
			r := hull(rapid.Float64Range(0, hi).Draw(t, name), rapid.Float64Range(0, hi).Draw(t, name))
			return r, r.Lo + rapid.Float64Range(0, 1).Draw(t, name)*r.Length()
		}
		a, x := in("a", 200)
		b, y := in("b", 200)
		angle, turn := in("angle", math.Pi)
		side := math.Sqrt(math.Max(0, x*x+y*y-2*x*y*math.Cos(turn)))
		got := thirdSide(gap{Lo: mm(a.Lo), Hi: mm(a.Hi)}, gap{Lo: mm(b.Lo), Hi: mm(b.Hi)}, angle)
		require.True(t, got.Grow(1e-5).Contains(mm(side)))
	})
}
