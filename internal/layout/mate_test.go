package layout

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// mated gives an invented problem a mate.
func mated(seed uint64) Problem {
	p := invent(seed)
	r := rand.New(rand.NewPCG(seed, 29))
	f := func(lo, hi float64) mm { return mm(lo + (hi-lo)*r.Float64()) }
	p.Mate = &Mate{Radius: f(1, 3), Apart: f(8, 45), Zone: Rect{X0: f(0, 8), Y0: f(0, 8), X1: p.Outline.X1 - f(0, 8), Y1: p.Outline.Y1 - f(0, 8)}}
	return p
}

// asShaft is the same problem with the mate a shaft like the others, which all the other rules are
// about: the plain way to say what a mate is.
func asShaft(p Problem) Problem {
	m, last := p.Mate, len(p.Shafts)-1
	p.Mate = nil
	p.Shafts = append(p.Shafts[:last+1:last+1], Shaft{Radius: m.Radius, Zone: m.Zone, Lanes: []int{0, 1, 2, 3, 4}})
	p.Gaps = append(p.Gaps[:len(p.Gaps):len(p.Gaps)], Gap{A: last, B: last + 1, Min: m.Apart, Max: mm(math.Inf(1))})
	p.Rises = append(p.Rises[:len(p.Rises):len(p.Rises)], Rise{From: last, To: last + 1})
	return p
}

// roundNone reports whether no band goes round the mate, the last of some places. What is inside a
// loop is in one of the circles that grow evenly from one pulley to the other, or shrink to none
// where a band crosses itself and grow again.
func roundNone(p Problem, at []Point) bool {
	c := at[len(at)-1]
	for _, r := range p.Runs {
		for t := mm(0); t <= 1; t += 0.002 {
			a, b := at[r.From], at[r.To]
			radius := r.FromPitch + t*(r.ToPitch-r.FromPitch)
			if r.Crossed {
				radius = mm(math.Abs(float64(r.FromPitch - t*(r.FromPitch+r.ToPitch))))
			}
			if distance(c, Point{a.X + t*(b.X-a.X), a.Y + t*(b.Y-a.Y)}) < radius {
				return false
			}
		}
	}
	return true
}

// TestMateFindsWhatThereIs holds the search for shafts with a mate to trying every point for a
// shaft more, and the holes that are left for the mate to every one that is on the grid.
func TestMateFindsWhatThereIs(t *testing.T) {
	var placed, decided, round int
	for seed := range uint64(1500) {
		p := mated(seed)
		whole := asShaft(p)
		at, got := Place(p, 2_000_000)
		switch got {
		case Placed:
			placed++
			require.Empty(t, Check(p, at), "seed %d", seed)
			last := at[len(at)-1]
			var free []Point
			for x := -20; x <= 40; x++ {
				c := Point{mm(x) * p.Grid.Pitch, last.Y}
				switch all := append(at[:len(at):len(at)], c); {
				case len(Check(whole, all)) > 0:
				case roundNone(whole, all):
					free = append(free, c)
				default:
					round++
				}
			}
			mates := Mates(&p, at)
			require.ElementsMatch(t, free, mates, "seed %d", seed)
			for i := range mates[1:] {
				require.GreaterOrEqual(t, distance(mates[i], last), distance(mates[i+1], last)-slop, "seed %d", seed)
			}
		case Impossible:
			alone := p
			alone.Mate = nil
			if at, got := Place(alone, 2_000_000); got == Placed { // without, TestPlaceFindsWhatThereIs tries all
				decided++
				require.False(t, possibleIf(whole, func(at []Point) bool { return roundNone(whole, at) }), "seed %d: brute force found a placement", seed)
				require.Contains(t, Check(p, at), Violation{RuleMate, [2]int{len(at) - 1, len(at) - 1}, 0}, "seed %d", seed)
			}
		default:
			t.Fatalf("seed %d: gave up", seed)
		}
	}
	t.Log(placed, decided, round)
	require.Positive(t, round, "no band ever goes round a mate")
	require.Greater(t, placed, 200)
	require.Greater(t, decided, 40, "the mate hardly ever decides")
}

// TestMateStandsBack: the mate has its hole where the tidiest shape of the others leaves one, which
// is moved for it along the frame no further than it must be, and bent if no move will do.
func TestMateStandsBack(t *testing.T) {
	row := func(long, apart mm) Problem {
		p := Problem{Outline: Rect{X1: long, Y1: 60}, Grid: Grid{Pitch: 1}, Clearance: 2}
		for _, r := range []mm{5, 15} {
			p.Shafts = append(p.Shafts, Shaft{Radius: 2, Zone: p.Outline, Lanes: []int{0}, Discs: []Disc{{r, 0}}})
		}
		p.Gaps = []Gap{{0, 1, 30, 60, 40}}
		p.Mate = &Mate{Radius: 2, Apart: apart, Zone: Rect{5, 5, long - 5, 55}}
		return p
	}
	for _, c := range []struct {
		name        string
		long, apart mm
		at, mates   []Point // of mates the first ones
	}{
		{"in the middle, and room beside it", 160, 52, []Point{{55, 30}, {95, 30}}, []Point{{5, 30}, {6, 30}}},
		{"no further than it must", 80, 52, []Point{{17, 30}, {57, 30}}, []Point{{5, 30}}},
		{"not level", 60, 38, []Point{{43, 5}, {43, 45}}, []Point{{5, 45}}},
	} {
		p := row(c.long, c.apart)
		at, got := Place(p, 1000)
		require.Equal(t, Placed, got, c.name)
		require.Equal(t, c.at, at, c.name)
		mates := Mates(&p, at)
		require.GreaterOrEqual(t, len(mates), len(c.mates), c.name)
		require.Equal(t, c.mates, mates[:len(c.mates)], c.name)
	}
	_, got := Place(row(71, 52), 1000)
	require.Equal(t, Impossible, got)
}
