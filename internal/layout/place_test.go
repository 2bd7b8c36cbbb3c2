package layout

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// randomProblem is a small invented placement problem on a coarse grid.
func randomProblem(seed uint64) Problem {
	r := rand.New(rand.NewPCG(seed, 3))
	f := func(lo, hi float64) mm { return mm(lo + (hi-lo)*r.Float64()) }
	shafts := 2 + r.IntN(3)
	p := Problem{Outline: Rect{X1: f(40, 90), Y1: f(30, 50)}, Grid: Grid{Pitch: 10}, Clearance: 2, Overhang: f(0, 10)}
	if r.IntN(3) == 0 {
		p.Grid.Heights = []mm{10, 25}
	}
	if r.IntN(3) == 0 {
		p.Slack = 1
	}
	for i := range shafts {
		s := Shaft{Radius: 2.5, Zone: p.Outline, Lanes: []int{0, 1, 2, 3}}
		if i == 0 {
			s.Lanes = []int{0}
		} else {
			s.Discs = append(s.Discs, Disc{f(4, 14), i - 1})
		}
		if i < shafts-1 {
			s.Discs = append(s.Discs, Disc{f(3, 8), i})
		}
		p.Shafts = append(p.Shafts, s)
		if i > 0 {
			p.Runs = append(p.Runs, Run{From: i - 1, To: i, FromPitch: 3, ToPitch: 8, Crossed: r.IntN(4) == 0, Lane: i - 1, HalfBand: 0.5})
			lo := f(10, 40)
			p.Gaps = append(p.Gaps, Gap{A: i - 1, B: i, Min: lo, Max: lo + f(2, 20)})
		}
	}
	p.Bodies = []Box{{Shaft: 0, HalfWidth: 6, HalfHeight: 5, Lanes: []int{3}}}
	if r.IntN(3) == 0 {
		p.Rises = []Rise{{From: shafts - 2, To: shafts - 1, Min: -10, Max: f(0, 20)}}
	}
	return p
}

// possible tries every point of the grid for every shaft.
func possible(p Problem, at []Point) bool {
	if len(at) == len(p.Shafts) {
		return len(Check(p, at)) == 0
	}
	heights := p.Grid.Heights
	if len(heights) == 0 {
		for y := mm(0); y <= p.Outline.Y1; y += p.Grid.Pitch {
			heights = append(heights, y)
		}
	}
	for x := mm(0); x <= p.Outline.X1; x += p.Grid.Pitch {
		for _, y := range heights {
			if possible(p, append(at[:len(at):len(at)], Point{x, y})) {
				return true
			}
		}
	}
	return false
}

// TestPlaceFindsWhatThereIs holds the search to trying every point.
func TestPlaceFindsWhatThereIs(t *testing.T) {
	placed, impossible := 0, 0
	for seed := range uint64(120) {
		p := randomProblem(seed)
		if len(p.Shafts) == 4 && seed%4 != 0 {
			continue // the slow ones, now and then
		}
		at, got := Place(p, 1_000_000)
		switch got {
		case Placed:
			placed++
			require.Empty(t, Check(p, at), "seed %d", seed)
		case Impossible:
			impossible++
			require.False(t, possible(p, nil), "seed %d: brute force found a placement", seed)
		default:
			t.Fatalf("seed %d: gave up", seed)
		}
	}
	require.Greater(t, placed, 20)
	require.Greater(t, impossible, 20)
}

func TestLanePlansKeepNeighboursApart(t *testing.T) {
	plans := LanePlans(3, []mm{6, 7, 8}, 25, 2, 60)
	require.NotEmpty(t, plans)
	for _, plan := range plans {
		require.LessOrEqual(t, plan.Depth, mm(60))
		for i := 1; i < 3; i++ {
			require.NotEqual(t, plan.Lane[i-1], plan.Lane[i])
		}
	}
	require.Empty(t, LanePlans(2, []mm{6, 7}, 25, 2, 30), "too shallow")
}

func TestPlaceGivesUpHonestly(t *testing.T) {
	_, got := Place(randomProblem(1), 1)
	require.Equal(t, GaveUp, got)
}
