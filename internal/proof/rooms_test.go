package proof

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/forecast"
	"findrive/internal/units"
)

// speedIn is the speed of a drive in a classroom by the formulas of docs/model.md; 0 if it
// stands.
func speedIn(o *forecast.Room, w *forecast.Work) float64 {
	q := 1 + w.Cut*o.Cut
	load, swing, friction := float64(w.Demand)/w.Ratio, float64(w.Swing)/w.Ratio, float64(w.Friction)
	torque := load*o.Load/q + friction*o.Rub
	start := torque + swing*o.Swing/q
	if start > o.Stall {
		return 0
	}
	for k, g := range w.Grips[:w.Count] {
		if g.Margin*o.Pull*max(0, 1+g.Growth*o.Off[k])*math.Tanh(g.Exponent*o.Grip/2) < math.Tanh(g.Exponent/2)*start/(load+swing+friction) {
			return 0
		}
	}
	at := func(torque, creep, likely float64) float64 {
		return (o.Free - torque*o.Free/o.Stall) * math.Exp(creep*torque/likely/o.Pull) / (w.Ratio * q)
	}
	v := at(torque, w.Creep, load+friction)
	if swing > 0 {
		h := min(v, at(start, w.Heavy, load+swing+friction))
		return math.Sqrt(max(0, h*(2*v-h)))
	}
	return v
}

// TestRoomsByTheFormula draws what a drive does, bounds round it and a classroom, in which the
// drive is only just as asked or only just turns: the bounds may not say otherwise. Where
// they lie close together they must tell what is far off.
func TestRoomsByTheFormula(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(37, 41))
	u := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	turning, standing, told := 0, 0, 0
	for range 60_000 {
		stall := u(1, 4)
		real := forecast.Work{Ratio: u(1, 40), Friction: 1, Creep: -u(0, 0.2), Count: 1 + r.IntN(2)}
		real.Friction *= units.NewtonMillimetres(u(0.02, 0.4) * stall)
		real.Demand = units.NewtonMillimetres(u(0, 0.4) * stall * real.Ratio * float64(r.IntN(2)))
		real.Heavy = real.Creep - u(0, 0.2)
		if r.IntN(2) == 0 {
			real.Swing = units.NewtonMillimetres(u(0, 0.4) * stall * real.Ratio)
		} else {
			real.Heavy = real.Creep
		}
		if r.IntN(2) == 0 {
			real.Cut = u(0, 0.1)
		}
		o := forecast.Room{Free: u(1000, 6000), Stall: stall * u(0.8, 1.2), Load: u(0.5, 1.6), Swing: u(0.5, 1.6), Rub: u(0.5, 2), Pull: u(0.6, 1.4), Grip: u(0.6, 1.3), Cut: u(-1, 1)}
		for k := range real.Count {
			real.Grips[k], o.Off[k] = forecast.Grip{Margin: u(0.8, 4), Growth: u(0.01, 0.1), Exponent: u(0.3, 4)}, u(-3, 3)
		}
		wide := []float64{0, 0, 0.01, 0.3}[r.IntN(4)]
		round := func(v float64) span {
			lo, hi := wide*r.Float64()*float64(r.IntN(2)), wide*r.Float64()*float64(r.IntN(2)) // often at one end, or both
			return span{Lo: v - lo*math.Abs(v), Hi: v + hi*math.Abs(v)}
		}
		w := work{by: round(1 / real.Ratio), friction: round(float64(real.Friction)), creep: round(real.Creep), heavy: round(real.Heavy),
			demand: float64(real.Demand), swing: float64(real.Swing), cut: real.Cut}
		var f flow
		for k := real.Count - 1; k >= 0; k-- {
			g := &real.Grips[k]
			f.grips[f.count] = grip{margin: g.Margin * (1 + wide*r.Float64()), growth: round(g.Growth), exponent: round(g.Exponent), stage: k}
			f.count++
		}
		// It just turns: the motor has all but nothing to spare, or a band.
		if r.IntN(3) == 0 {
			o.Stall = stallFor(&o, &real)
		} else if r.IntN(2) == 0 {
			hold(&o, &real, &f)
		}
		speed, tolerance := speedIn(&o, &real), u(0.1, 0.8)
		s := &space{brief: &brief.Brief{Tolerance: tolerance}}
		asked := func(target float64) (may, turns bool) {
			w.target = target
			low, high := s.readied(&w)
			return w.inCut(&o, &f, low, high)
		}
		if speed <= 0 {
			standing++
			continue
		}
		turning++
		const just = 1e-7
		for _, target := range []float64{speed / (1 - tolerance) * (1 - just), speed / (1 + tolerance) * (1 + just), speed} {
			may, turns := asked(target)
			require.True(t, turns, "%+v turns at %v rpm in %+v: %+v, %+v", real, speed, o, w, f)
			require.True(t, may, "%+v turns at %v rpm, and %v is asked, in %+v: %+v, %+v", real, speed, target, o, w, f)
		}
		if wide == 0 && real.Cut == 0 {
			for _, target := range []float64{speed * 1.4 / (1 - tolerance), speed / 1.4 / (1 + tolerance)} {
				if may, _ := asked(target); !may {
					told++
				}
			}
		}
	}
	t.Log(turning, standing, told)
	assert.Greater(t, turning, 20_000)
	assert.Greater(t, told, 8_000, "bounds that hold of everything tell nothing")
}

// stallFor is the least stall torque with which a drive turns in a classroom.
func stallFor(o *forecast.Room, w *forecast.Work) float64 {
	q := 1 + w.Cut*o.Cut
	return ((float64(w.Demand)*o.Load+float64(w.Swing)*o.Swing)/w.Ratio/q + float64(w.Friction)*o.Rub) * (1 + 1e-6)
}

// hold makes a drive's bands hold only just in a classroom, and the bounds of their margins
// with them.
func hold(o *forecast.Room, w *forecast.Work, f *flow) {
	q := 1 + w.Cut*o.Cut
	likely := (float64(w.Demand)+float64(w.Swing))/w.Ratio + float64(w.Friction)
	start := (float64(w.Demand)*o.Load+float64(w.Swing)*o.Swing)/w.Ratio/q + float64(w.Friction)*o.Rub
	for i := range f.grips[:f.count] {
		g := &w.Grips[f.grips[i].stage]
		slack := max(0.1, 1+g.Growth*o.Off[f.grips[i].stage])
		g.Margin = start / likely * math.Tanh(g.Exponent/2) / math.Tanh(g.Exponent*o.Grip/2) / (o.Pull * slack) * (1 + 1e-7)
		f.grips[i].margin = g.Margin
	}
}
