package proof

import (
	"context"
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
	total, apart := 0, 0
	for name, s := range briefs(t) {
		s.brief.Frame.Pitch = 10
		r := rand.New(rand.NewPCG(17, 31))
		placed := 0
		for try := 0; try < 1500 && placed < 25 && len(s.heads) > 0; try++ {
			h := r.IntN(len(s.heads))
			w := newWalk(context.Background(), &ranking{keep: 1}, nil)
			row := &row{space: s, walk: w, hd: &s.heads[h], head: h, level: s.levels[r.IntN(len(s.levels))], lies: s.heads[h].liesFor()}
			_, one, _ := drawn(row, r)
			if one == nil {
				continue
			}
			for range 12 {
				row.requireNested(t, name, row.boxOver(one, r), row.boxOver(one, r))
			}
			row.plans, row.rooms = row.lanePlans(), map[roomKey]*memory{}
			for k := range row.plans {
				row.chooseOne(one)
				p := row.problem(row.assemble(), &row.plans[k], row.windowsOf(one))
				at, got := layout.Place(p, 3000)
				if got != layout.Placed {
					continue
				}
				placed++
				for range 4 {
					other := row.boxOver(row.boxIn(r), r)
					_, err := row.roomFor(other)
					require.NoError(t, err)
					apart++
				}
				for range 4 {
					b := row.boxOver(one, r)
					there, err := row.roomFor(b)
					require.NoError(t, err)
					require.True(t, there, "%s: a box of a design with room is said to have none", name)
					if thin := row.thinnest(b); thin {
						p := row.problem(row.assemble(), &row.plans[k], row.windowsOf(b))
						require.Empty(t, layout.Check(p, at), "%s: holes of a design break what a box of it asks", name)
					}
				}
				break
			}
		}
		t.Log(name, placed)
		total += placed
	}
	t.Log(total, apart)
	assert.Greater(t, total, 150)
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

// chooseOne chooses the states of a box with one design.
func (r *row) chooseOne(one *box) {
	for i := range r.hd.stages {
		r.states[i] = one.bunch[i].states[0]
	}
}

// thinnest chooses the thinnest bands of a box, as roomFor does; false where some are
// crossed and some are not.
func (r *row) thinnest(b *box) bool {
	for i := range r.hd.stages {
		if b.bunch[i].mixed {
			return false
		}
		r.states[i] = b.bunch[i].thin
	}
	return true
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
