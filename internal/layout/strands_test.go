package layout

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// Where a thing is said to stand in a strand's way, it does so wherever in the boxes the steps
// lie; and of boxes too large for a look from their middles it is said too.
func TestStrandClashIsTrueOfEveryStep(t *testing.T) {
	t.Parallel()
	clashes, large := 0, 0
	for seed := range uint64(500_000) {
		r := rand.New(rand.NewPCG(seed, 5))
		f := func(lo, hi float64) mm { return mm(lo + (hi-lo)*r.Float64()) }
		s := &search{p: &Problem{}, shafts: 3, pitch: f(0.5, 2), count: 3}
		for _, w := range [][2]int{{0, 1}, {0, 2}, {1, 2}} {
			*s.pairOf(w[0], w[1]) = pair{i: w[0], j: w[1], far: f(300, 900)}
		}
		require.True(t, s.chain())
		var b boxes
		for j := 1; j < s.shafts; j++ {
			x, y := r.IntN(301)-150, r.IntN(121)-60
			b[j] = span{x, x + r.IntN(60), y, y + r.IntN(20)}
		}
		run := Run{From: r.IntN(2), FromPitch: f(2, 25), ToPitch: f(2, 25)}
		run.To = 1 - run.From
		w := s.pairOf(0, 1)
		w.near = f(0, 150)
		w.far = w.near + f(1, 200)
		need := f(1, 14)
		if !s.strandClash(&b, &run, 2, need) {
			continue
		}
		clashes++
		if _, off := s.middle(&b, 0, 1); off > need {
			large++
		}
		for range 60 {
			var at [3]Point
			for j := 1; j < s.shafts; j++ {
				step := Point{mm(pick(r, b[j].x0, b[j].x1)) * s.pitch, mm(pick(r, b[j].y0, b[j].y1)) * s.pitch}
				from := at[s.parent[j]]
				at[j] = Point{from.X + step.X, from.Y + step.Y}
			}
			if d := distance(at[0], at[1]); d < w.near || d > w.far || d < run.leastCentre() {
				continue // the windows leave it out
			}
			loop := run.between(at[run.From], at[run.To])
			require.Less(t, loop.toPoint(at[2]), need+1e-9, "seed %d, at %v", seed, at)
		}
	}
	require.Greater(t, clashes, 500)
	require.Greater(t, large, 500)
}

// pick is a number of a range: often an end of it.
func pick(r *rand.Rand, lo, hi int) int {
	switch r.IntN(3) {
	case 0:
		return lo
	case 1:
		return hi
	}
	return lo + r.IntN(hi-lo+1)
}

// A strand of equal pulleys runs level at their radius: what is 4 mm off it is in the way of who
// needs more.
func TestStrandOfEqualPulleys(t *testing.T) {
	t.Parallel()
	s := &search{p: &Problem{}, shafts: 3, pitch: 1, count: 3}
	for _, w := range [][2]int{{0, 1}, {0, 2}, {1, 2}} {
		*s.pairOf(w[0], w[1]) = pair{i: w[0], j: w[1], far: far}
	}
	require.True(t, s.chain())
	run := Run{From: 0, To: 1, FromPitch: 10, ToPitch: 10}
	var b boxes
	b[1] = span{100, 140, 0, 0}
	b[2] = span{20, 80, 14, 14} // from the first shaft, or the second
	if s.parent[2] == 1 {
		b[2] = span{-60, -20, 14, 14}
	}
	require.True(t, s.strandClash(&b, &run, 2, 4.001))
	require.False(t, s.strandClash(&b, &run, 2, 3.999))
	run.Crossed = true
	require.False(t, s.strandClash(&b, &run, 2, 4.001), "its strands lean")
}
