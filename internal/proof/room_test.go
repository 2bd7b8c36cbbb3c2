package proof

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/drive"
	"findrive/internal/layout"
)

// TestRoomHolds finds holes for drawn designs, and goes up from each to the boxes that it
// lies in: what these ask of holes must be kept by the very holes of the design, and there
// must be said to be room for them, whatever was asked of other boxes of the row before.
func TestRoomHolds(t *testing.T) {
	t.Parallel()
	total := 0
	for name, s := range briefs(t) {
		f := &s.brief.Frame
		f.Pitch = 10
		length, height := f.Length, f.Height
		r := rand.New(rand.NewPCG(17, 31))
		placed := 0
		for try := 0; try < 1500 && placed < 14 && len(s.heads) > 0; try++ {
			// Now there is room and now there is hardly any.
			f.Length, f.Height = length*mm(0.7+0.3*r.Float64()), height*mm(0.8+0.2*r.Float64())
			h := r.IntN(len(s.heads))
			w := newWalk(context.Background(), &ranking{keep: 1}, nil)
			row := &row{space: s, walk: w, hd: &s.heads[h], head: h, level: s.levels[r.IntN(len(s.levels))], lies: s.heads[h].liesFor()}
			if _, one, _ := drawn(row, r); one != nil && row.requireRoom(t, name, one, r) {
				placed++
			}
		}
		t.Log(name, placed)
		total += placed
	}
	assert.Greater(t, total, 80)
}

// requireRoom holds the boxes that a design lies in to its holes; false if it has none.
func (r *row) requireRoom(t *testing.T, name string, one *box, from *rand.Rand) bool {
	t.Helper()
	for range 60 {
		a := r.boxOver(one, from)
		r.requireNested(t, name, a, r.boxOver(one, from))
		b, i := *a, from.IntN(r.hd.stages)
		b.bunch[i] = r.boxOver(r.boxIn(from), from).bunch[i]
		r.requireNested(t, name, a, &b)
	}
	r.plans, r.rooms = r.lanePlans(), map[roomKey]*memory{}
	plan, at := r.anyHoles(one)
	if at == nil {
		return false
	}
	if r.hd.stages > 1 {
		// One order of lanes for which there never is room before all others.
		r.plans = append([]layout.LanePlan{{Lane: make([]int, r.hd.stages), BodyLanes: []int{0}}}, r.plans...)
	}
	// A search for holes that was stopped says nothing.
	running := r.ctx
	stopped, stop := context.WithCancel(running)
	stop()
	r.ctx = stopped
	there, _ := r.roomFor(r.boxOver(one, from))
	require.True(t, there, "%s: stopped, and said to have no room", name)
	r.ctx = running
	rods, frames := r.rods, map[roomKey]string{} // what room is asked for, but for the windows
	for range 4 {
		other := r.boxOver(r.boxIn(from), from)
		_, err := r.roomFor(other)
		require.NoError(t, err)
		b := r.boxOver(one, from)
		there, err := r.roomFor(b)
		require.NoError(t, err)
		require.True(t, there, "%s: a box of a design with room is said to have none", name)
		if _, alike := r.thinnest(b); !alike {
			continue
		}
		for i := range r.hd.stages {
			real := one.bunch[i].states[0]
			require.True(t, r.thickness(r.states[i]) <= r.thickness(real) && r.states[i].crossed == real.crossed, "%s: a band stands for one that does not lie round it", name)
		}
		require.Empty(t, layout.Check(r.problem(r.assemble(), plan, r.windowsOf(b)), at), "%s: holes of a design break what a box of it asks", name)
		for _, any := range []*box{b, other} {
			for i := range r.hd.stages {
				ways := r.axleWays(i)
				r.rods[i] = ways[from.IntN(len(ways))]
			}
			if key, alike := r.thinnest(any); alike {
				p := r.problem(r.assemble(), plan, r.windowsOf(any))
				frame := fmt.Sprint(p.Shafts, p.Runs)
				if known, is := frames[key]; is {
					require.Equal(t, known, frame, "%s: the room of one drive is remembered for another", name)
				}
				frames[key] = frame
			}
			r.rods = rods
		}
	}
	return true
}

// anyHoles finds holes for a design, and for which order of lanes.
func (r *row) anyHoles(one *box) (*layout.LanePlan, []layout.Point) {
	for i := range r.hd.stages {
		r.states[i] = one.bunch[i].states[0]
	}
	for k := range r.plans {
		if at, got := layout.Place(r.problem(r.assemble(), &r.plans[k], r.windowsOf(one)), 3000); got == layout.Placed {
			return &r.plans[k], at
		}
	}
	return nil, nil
}

// requireNested makes sure that what lies within other windows asks no less of holes, by
// which a box is left out whose windows lie within such as there is no room for.
func (r *row) requireNested(t *testing.T, name string, inner, outer *box) {
	t.Helper()
	a, b := r.windowsOf(inner), r.windowsOf(outer)
	if !a.within(b, r.hd.stages) {
		return
	}
	gaps, rises := r.ask(a)
	outerGaps, outerRises := r.ask(b)
	for i, g := range gaps {
		require.True(t, g.Min >= outerGaps[i].Min-noise && g.Max <= outerGaps[i].Max+noise, "%s: %+v is not within %+v", name, a, b)
	}
	for i, g := range rises {
		require.True(t, g.Min >= outerRises[i].Min-noise && g.Max <= outerRises[i].Max+noise, "%s: %+v is not within %+v", name, a, b)
	}
}

// boxIn draws one design of a row.
func (r *row) boxIn(from *rand.Rand) *box {
	b := &box{lies: r.lies}
	for i := range r.hd.stages {
		for b.bunch[i] = r.bunch[i]; b.bunch[i].lower != nil; {
			b.bunch[i] = [2]*bunch{b.bunch[i].lower, b.bunch[i].upper}[from.IntN(2)]
		}
	}
	return b
}

// boxOver draws a box of a row that a design lies in.
func (r *row) boxOver(one *box, from *rand.Rand) *box {
	b := &box{lies: one.lies}
	between := func(a, b drive.Lie) drive.Lie { return a + drive.Lie(from.IntN(int(b-a)+1)) }
	b.innerBest, b.innerWorst = between(r.lies.innerBest, one.innerBest), between(one.innerWorst, r.lies.innerWorst)
	b.outputBest, b.outputWorst = between(r.lies.outputBest, one.outputBest), between(one.outputWorst, r.lies.outputWorst)
	for i := range r.hd.stages {
		depth := from.IntN(8)
		for b.bunch[i] = r.bunch[i]; b.bunch[i].lower != nil && depth > 0; depth-- {
			if c := b.bunch[i]; holdsState(c.lower, one.bunch[i].states[0]) {
				b.bunch[i] = c.lower
			} else {
				b.bunch[i] = c.upper
			}
		}
	}
	return b
}
