package proof

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/drive"
	"findrive/internal/units"
)

// Each bunch bounds its states, figure by figure, and its halves have them all.
func TestBunchBoundsItsStates(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(79, 83))
	held := 0
	var hold func(s *space, b *bunch)
	hold = func(s *space, b *bunch) {
		least, thin, far, crossed := never, mm(never), mm(never), map[bool]bool{}
		for _, st := range b.states {
			for _, of := range []struct {
				in span
				is float64
			}{
				{b.ratio, st.fit.Ratio}, {b.driver, float64(st.fit.DriverPitch) / 2}, {b.driven, float64(st.fit.DrivenPitch) / 2},
				{b.hub, st.hub.Lo}, {b.hub, st.hub.Hi}, {b.creep, st.creep.Lo}, {b.creep, st.creep.Hi},
				{b.greatest, st.greatest}, {b.growth, st.growth}, {b.exponent, st.exponent},
			} {
				require.True(t, of.in.Contains(of.is), "%v is not in %v", of.is, of.in)
				held++
			}
			require.True(t, b.cell.Lo <= st.cell.Lo && b.cell.Hi >= st.cell.Hi)
			least, thin, far, crossed[st.crossed] = min(least, st.cost), min(thin, s.thickness(st)), min(far, st.cell.Hi), true
		}
		require.Equal(t, least, b.cost)
		require.Equal(t, thin, s.thickness(b.thin))
		require.Equal(t, far, b.far)
		require.Equal(t, len(crossed) > 1, b.mixed)
		if len(b.states) > 1 {
			require.Equal(t, b.states, append(append([]*state{}, b.lower.states...), b.upper.states...))
			hold(s, b.lower)
			hold(s, b.upper)
		}
	}
	for range 40 {
		s := newSpace(smallCase(r))
		for _, level := range s.levels {
			for driven := range s.pulleys {
				for driver := range s.pulleys {
					p := pair{driven, driver}
					b := s.bunchOf(p, level).all
					marks := 0
					for _, w := range s.waysOf(p).all {
						marks += len(s.marks(w, level))
					}
					require.Equal(t, marks == 0, b == nil)
					if b != nil {
						require.Len(t, b.states, marks)
						hold(s, b)
					}
				}
			}
		}
	}
	assert.Greater(t, held, 10_000)
}

// The lies of a head are those that its axles and its weight leave.
func TestLiesFor(t *testing.T) {
	t.Parallel()
	pull := func(x, y units.Newtons) drive.Demand {
		var d drive.Demand
		d.Weight.X, d.Weight.Y = x, y
		return d
	}
	for _, c := range []struct {
		head head
		want lies
	}{
		{head{stages: 1}, lies{}},
		{head{stages: 2}, lies{innerWorst: drive.Folded}},
		{head{stages: 1, demand: pull(0, -1)}, lies{outputWorst: drive.Folded}},
		{head{stages: 1, demand: pull(0, 1)}, lies{outputWorst: drive.Folded}},
		{head{stages: 3, demand: pull(0, 1)}, lies{innerWorst: drive.Folded, outputWorst: drive.Folded}},
		{head{stages: 1, demand: pull(-1, 0)}, lies{outputBest: drive.Folded, outputWorst: drive.Folded}},
		{head{stages: 2, demand: pull(1, 0)}, lies{innerWorst: drive.Folded, outputBest: drive.Folded, outputWorst: drive.Folded}},
	} {
		assert.Equal(t, c.want, c.head.liesFor(), "%+v", c.head)
	}
	f := (&head{demand: pull(3, 4)}).outset(span{Lo: 1, Hi: 2})
	assert.Equal(t, flow{ratio: span{Lo: 1, Hi: 1}, friction: span{Lo: 1, Hi: 2}, pull: span{Lo: 5, Hi: 5}}, f)
}

// TestTogether holds what two forces come to at most and at least to many within their bounds.
func TestTogether(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(89, 97))
	const steps = 40
	for range 2000 {
		within := func() span {
			lo := 5 * r.Float64() * float64(r.IntN(2))
			return span{Lo: lo, Hi: lo + 5*r.Float64()*float64(r.IntN(3))}
		}
		a, b, cos := within(), within(), 2*r.Float64()-1
		if lie := r.IntN(6); lie < len(drive.Lies()) {
			cos = drive.Lies()[lie].CosWorked()
		}
		least, most := leastTogether(a, b, cos), mostTogether(a, b, cos)
		low, high := 1e9, 0.0
		for i := range steps + 1 {
			for j := range steps + 1 {
				of := together(a.Lo+(a.Hi-a.Lo)*float64(i)/steps, b.Lo+(b.Hi-b.Lo)*float64(j)/steps, cos)
				low, high = min(low, of), max(high, of)
			}
		}
		require.LessOrEqual(t, least, low+1e-7, "%v, %v, %v", a, b, cos)
		require.GreaterOrEqual(t, most, high-1e-7, "%v, %v, %v", a, b, cos)
		require.InDelta(t, low, least, 0.5, "%v, %v, %v", a, b, cos)
		require.InDelta(t, high, most, 1e-7, "%v, %v, %v", a, b, cos)
	}
}
