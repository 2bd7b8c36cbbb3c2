package proof

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/drive"
	"findrive/internal/units"
)

// TestThroughHoldsEachStage draws what is known of a stage and of those after it, and stages
// that lie within it, mostly at its ends: each is worked out by itself and must lie within
// what is said of all.
func TestThroughHoldsEachStage(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(107, 109))
	held, tight := 0, map[string]int{}
	for range 15_000 {
		known := func(lo, hi float64) span {
			at := lo + (hi-lo)*r.Float64()
			return span{Lo: at, Hi: at + (hi-at)*r.Float64()*float64(r.IntN(2))}
		}
		one := func(s span) float64 {
			return []float64{s.Lo, s.Hi, s.Lo + (s.Hi-s.Lo)*r.Float64()}[r.IntN(3)]
		}
		f := flow{ratio: known(1, 4), friction: known(0, 3), pull: known(0, 4), creep: known(-0.2, 0), heavy: known(-0.4, -0.2)}
		b := &bunch{ratio: known(0.5, 8), driven: known(5, 40), hub: known(0.5, 5), creep: known(0.001, 0.05), greatest: known(0.5, 6),
			growth: known(0, 0.1), exponent: known(0.5, 3)}
		at := &axleAt{drag: known(0.2, 1.5), weight: known(0, 0.5)}
		at.best = drive.Lie(r.IntN(4))
		at.worst = at.best + drive.Lie(r.IntN(4-int(at.best)))
		l := brief.DefaultLimits()
		s := &space{brief: &brief.Brief{Limits: l}}
		h := &head{stages: 1}
		h.demand.Steady = units.NewtonMillimetres(20 * r.Float64())
		h.demand.Start = h.demand.Steady + units.NewtonMillimetres(20*r.Float64())
		out, no := s.through(h, &f, b, at)
		for range 4 {
			lie := at.best + drive.Lie(r.IntN(int(at.worst-at.best)+1))
			hub, ratio, own, driven, greatest := one(b.hub), one(f.ratio), one(b.ratio), one(b.driven), one(b.greatest)
			rub := one(f.friction) + one(at.drag)*(together(hub, one(f.pull), lie.CosWorked())+one(at.weight))
			run, start := (float64(h.demand.Steady)/ratio+rub)/driven, (float64(h.demand.Start)/ratio+rub)/driven
			if run > greatest/l.GripMin || start > greatest/l.GripStartMin {
				continue
			}
			require.Empty(t, string(no), "%+v, %+v, %+v", f, b, at)
			for _, of := range []struct {
				what string
				in   span
				is   float64
			}{
				{"ratio", out.ratio, ratio * own},
				{"friction", out.friction, rub / own},
				{"pull", out.pull, hub},
				{"creep", out.creep, one(f.creep) - one(b.creep)*run},
				{"heavy", out.heavy, one(f.heavy) - one(b.creep)*start},
				{"margin", span{Hi: out.grips[0].margin}, greatest / start},
			} {
				slack := 1e-7 * math.Abs(of.is)
				require.True(t, of.is >= of.in.Lo-slack && of.is <= of.in.Hi+slack, "%s: %v is not in %v: %+v, %+v, %+v", of.what, of.is, of.in, f, b, at)
				if of.is-of.in.Lo < 0.01*of.is || of.in.Hi-of.is < 0.01*of.is {
					tight[of.what]++
				}
			}
			require.Equal(t, grip{margin: out.grips[0].margin, growth: b.growth, exponent: b.exponent}, out.grips[0])
			require.Equal(t, 1, out.count)
			held++
		}
	}
	t.Log(held, tight)
	assert.Greater(t, held, 10_000)
	assert.Greater(t, tight["friction"], 1000)
}
