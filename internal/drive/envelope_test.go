package drive

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/layout"
	"findrive/internal/mechanics"
	"findrive/internal/units"
)

type mm = units.Millimetres

// drawModel makes a drive of one to three stages with bands that can be fitted.
func drawModel(t *rapid.T) Model {
	m := Model{Count: rapid.IntRange(1, 3).Draw(t, "stages"), ShaftRad: 1, MotorMu: 0.15}
	for i := range m.Count {
		m.Stages[i] = mechanics.Stage{
			DriverFloor: mm(rapid.Float64Range(4, 20).Draw(t, "driver")), DrivenFloor: mm(rapid.Float64Range(20, 60).Draw(t, "driven")),
			Friction: 0.5, Crossed: rapid.Bool().Draw(t, "crossed"),
			Band: mechanics.Loop{Width: mm(rapid.SampledFrom([]float64{1.5, 3}).Draw(t, "width")), Thickness: 0.9, Strands: 1, PullFactor: 1, Rubber: mechanics.DefaultRubber()},
		}
		s := &m.Stages[i]
		touching := (s.DriverFloor+s.DrivenFloor)/2 + 4
		if s.Crossed {
			touching *= 2 // the crossed-spacing rule; the bounds promise nothing closer in
		}
		b := mechanics.Belt{Driver: s.DriverFloor + 1, Driven: s.DrivenFloor + 1, Centre: touching * mm(rapid.Float64Range(1.1, 2.5).Draw(t, "spacing")), Crossed: s.Crossed}
		s.Band.Rest = b.Length() / 1.2
		m.AxleRadius[i], m.AxleMu[i] = 2.5, 0.35
	}
	m.Motor, _ = mechanics.NewMotor(3, 6000, 0.1, units.NewtonMillimetres(rapid.Float64Range(1, 4).Draw(t, "stall")), 0)
	m.Supply = mechanics.CellsInSeries(2, 1.5, 0.3)
	m.Demand.Steady = units.NewtonMillimetres(rapid.Float64Range(0, 4).Draw(t, "torque"))
	m.Demand.Start = m.Demand.Steady
	if rapid.Bool().Draw(t, "weighted") {
		way := rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "way")
		weight := rapid.Float64Range(0.1, 3).Draw(t, "weight")
		m.Demand.Weight = mechanics.Force{X: units.Newtons(weight * math.Cos(way)), Y: units.Newtons(weight * math.Sin(way))}
	}
	if rapid.Bool().Draw(t, "level") {
		for i := range m.Count {
			m.AxleWeight[i] = units.Newtons(rapid.Float64Range(0, 0.6).Draw(t, "own"))
		}
	}
	return m
}

// TestEnvelopeHoldsEveryPlacement is what makes the search's pruning right: no
// placement within the windows does better than the envelope says.
func TestEnvelopeHoldsEveryPlacement(t *testing.T) {
	carried := 0
	rapid.Check(t, func(t *rapid.T) {
		m := drawModel(t)
		// Windows from full width down to a ten-thousandth, so that the margins
		// that shrink with them are tried too.
		scale := math.Pow(10, -rapid.Float64Range(0, 4).Draw(t, "scale"))
		var x Extent
		var lo, hi [MaxStages]mm
		for i := range m.Count {
			least, ok := m.Stages[i].CentreAtStretch(rapid.Float64Range(1.05, 1.49).Draw(t, "near"))
			if s := &m.Stages[i]; s.Crossed {
				least = max(least, s.DriverFloor+s.DrivenFloor+2*s.Band.Thickness)
			}
			if !ok {
				t.Skip("the pulleys would overlap")
			}
			most, ok := m.Stages[i].CentreAtStretch(1.5)
			if !ok || most < least {
				t.Skip("the pulleys would overlap or the crossed band be too close")
			}
			lo[i], hi[i] = least, least+(most-least)*mm(scale*rapid.Float64Range(0, 1).Draw(t, "width"))
			var err error
			x.Near[i], err = NewEnd(&m.Stages[i], lo[i])
			require.NoError(t, err)
			x.Far[i], err = NewEnd(&m.Stages[i], hi[i])
			require.NoError(t, err)
			x.Cos[i] = units.Interval[float64]{Lo: 1, Hi: -1}
		}
		// Draw placements first, then let the angle windows be what they span.
		type placed struct{ g Geometry }
		var all []placed
		var heading [MaxStages]float64
		for i := range heading {
			heading[i] = rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "heading")
		}
		for range 12 {
			d := &Drive{Stages: make([]Stage, m.Count), Positions: []layout.Point{{}}, MotorTurns: 1 - 2*rapid.IntRange(0, 1).Draw(t, "turns")}
			for i := range m.Count {
				c := lo[i] + (hi[i]-lo[i])*mm(rapid.Float64Range(0, 1).Draw(t, "at"))
				s, k := math.Sincos(heading[i] + scale*rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "along"))
				p := d.Positions[i]
				d.Positions = append(d.Positions, layout.Point{X: p.X + c*mm(k), Y: p.Y + c*mm(s)})
			}
			g, err := GeometryOf(d, &m, 0)
			require.NoError(t, err)
			for i := range m.Count {
				var cos float64
				if i < m.Count-1 {
					cos = -math.Cos(float64(g.Along[i+1] - g.Along[i])) // back along i against on along i+1
				} else {
					w, along := m.Demand.Weight, float64(g.Along[i]) // towards the driver against the weight
					cos = -(float64(w.X)*math.Cos(along) + float64(w.Y)*math.Sin(along)) / max(1e-9, float64(w.Size()))
				}
				x.Cos[i] = units.Interval[float64]{Lo: min(x.Cos[i].Lo, cos), Hi: max(x.Cos[i].Hi, cos)}
			}
			all = append(all, placed{g})
		}
		env := m.Bound(&x, m.Demand.Steady)
		for _, p := range all {
			flow := m.Carry(&p.g, m.Demand.Steady)
			if flow.Slips >= 0 {
				continue
			}
			for i := range m.Count {
				if flow.Stages[i].Loaded.TightStretch > 2 {
					t.Skip("beyond the running-stretch rule, where the bounds make no promise")
				}
			}
			carried++
			n := m.OutputSpeed(&p.g, &flow)
			if n > 0 {
				require.LessOrEqual(t, n, env.Speed.Hi)
				require.GreaterOrEqual(t, n, env.Speed.Lo)
			}
			require.GreaterOrEqual(t, float64(flow.MotorTorque), float64(env.LeastTorque)*(1-1e-9))
			for i := range m.Count {
				require.GreaterOrEqual(t, float64(flow.Stages[i].Effective), float64(env.LeastEffective[i])*(1-1e-9))
				require.GreaterOrEqual(t, flow.Stages[i].Loaded.TightStretch, env.LeastTight[i]*(1-1e-9))
			}
		}
	})
	require.Greater(t, carried, 100, "the cases must be worth testing")
}

// TestTightenedNeverPromisesTooMuch draws placements, stretches every centre
// distance, and holds the torque to the bound.
func TestTightenedNeverPromisesTooMuch(t *testing.T) {
	tried, useful := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		m := drawModel(t)
		off := mm(rapid.Float64Range(0.5, 8).Draw(t, "off"))
		scale := math.Pow(10, -rapid.Float64Range(0, 3).Draw(t, "scale"))
		var loose, tight Extent
		d := &Drive{Stages: make([]Stage, m.Count), Positions: []layout.Point{{}}, MotorTurns: 1}
		for i := range m.Count {
			near, ok := m.Stages[i].CentreAtStretch(rapid.Float64Range(1.05, 1.45).Draw(t, "near"))
			if s := &m.Stages[i]; s.Crossed {
				near = max(near, s.DriverFloor+s.DrivenFloor+2*s.Band.Thickness)
			}
			most, okMost := m.Stages[i].CentreAtStretch(1.5)
			if !ok || !okMost || most-off < near {
				t.Skip("no room to stretch")
			}
			far := near + (most-off-near)*mm(scale)
			loose.Near[i], _ = NewEnd(&m.Stages[i], near)
			loose.Far[i], _ = NewEnd(&m.Stages[i], far)
			tight.Near[i], _ = NewEnd(&m.Stages[i], near+off)
			tight.Far[i], _ = NewEnd(&m.Stages[i], far+off)
			c := near + (far-near)*mm(rapid.Float64Range(0, 1).Draw(t, "at"))
			s, k := math.Sincos(rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "along"))
			d.Positions = append(d.Positions, layout.Point{X: d.Positions[i].X + c*mm(k), Y: d.Positions[i].Y + c*mm(s)})
		}
		as, err := GeometryOf(d, &m, 0)
		require.NoError(t, err)
		off1, err := GeometryOf(d, &m, off)
		require.NoError(t, err)
		drawn, stretched := m.Carry(&as, m.Demand.Steady), m.Carry(&off1, m.Demand.Steady)
		if drawn.Slips >= 0 || stretched.Slips >= 0 {
			t.Skip("slips")
		}
		for i := range m.Count {
			if stretched.Stages[i].Loaded.TightStretch > 2 {
				t.Skip("beyond the running-stretch rule")
			}
		}
		tried++
		bound := m.Tightened(&loose, &tight, drawn.MotorTorque, m.Demand.Steady)
		if bound > drawn.MotorTorque {
			useful++
		}
		require.LessOrEqual(t, bound, stretched.MotorTorque)
	})
	require.Greater(t, tried, 10)
	_ = useful
}

// TestLoadTakesLittleFromTheHubPull measures loadedFall.
func TestLoadTakesLittleFromTheHubPull(t *testing.T) {
	worst := 0.0
	rapid.Check(t, func(t *rapid.T) {
		m := drawModel(t)
		s := &m.Stages[0]
		c, ok := s.CentreAtStretch(rapid.Float64Range(1.03, 1.6).Draw(t, "stretch"))
		if !ok {
			t.Skip("the pulleys would overlap")
		}
		f, err := s.Fit(c)
		require.NoError(t, err)
		grip, tight := s.Grip(f)
		if tight > 2 {
			t.Skip("beyond the running-stretch rule")
		}
		loaded, ok := s.Load(f, grip*units.Newtons(rapid.Float64Range(0, 0.9999).Draw(t, "share")))
		require.True(t, ok)
		size := func(tight, slack units.Newtons) float64 {
			return float64(hubOf(&f, s.Crossed, 1, 0).pull(tight, slack).Size())
		}
		fall := 1 - size(loaded.Tight, loaded.Slack)/size(f.Pull, f.Pull)
		worst = max(worst, fall)
		require.Less(t, fall, loadedFall)
	})
	t.Logf("worst fall %.3f", worst)
}

// TestEndAnswersAsLoadDoes measures endPad.
func TestEndAnswersAsLoadDoes(t *testing.T) {
	worst := 0.0
	rapid.Check(t, func(t *rapid.T) {
		m := drawModel(t)
		s := m.Stages[0]
		c, ok := s.CentreAtStretch(rapid.Float64Range(1.05, 1.5).Draw(t, "stretch"))
		if !ok {
			t.Skip("the pulleys would overlap")
		}
		e, err := NewEnd(&s, c)
		require.NoError(t, err)
		te := e.Greatest * units.Newtons(rapid.Float64Range(0, 0.999).Draw(t, "share"))
		want, ok := s.Load(e.Fitted, te)
		require.True(t, ok)
		got, ok := e.at(te)
		require.True(t, ok)
		off := max(math.Abs(float64(got.tight/want.Tight)-1), math.Abs(got.share/want.SpeedFactor-1), math.Abs(got.stretch/want.TightStretch-1))
		worst = max(worst, off)
		require.Less(t, off, endPad)
		require.InEpsilon(t, float64(hubOf(&e.Fitted, s.Crossed, 1, 0).pull(want.Tight, want.Slack).Size()), float64(e.hub(want.Tight, want.Slack)), 1e-12)
	})
	t.Logf("worst %.2g", worst)
}
