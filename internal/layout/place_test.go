package layout

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// invent makes a small placement problem on a coarse grid, with every kind of
// rule in it now and then.
func invent(seed uint64) Problem {
	r := rand.New(rand.NewPCG(seed, 3))
	f := func(lo, hi float64) mm { return mm(lo + (hi-lo)*r.Float64()) }
	one := func(in int) bool { return r.IntN(in) == 0 }
	shafts := 2 + r.IntN(3)
	pitch := mm(5 + r.IntN(6))
	p := Problem{
		Outline: Rect{X1: f(40, 100), Y1: f(25, 60)}, Grid: Grid{Pitch: pitch},
		Clearance: f(0, 2), Overhang: f(0, 10),
	}
	if shafts == 4 {
		p.Grid.Pitch, p.Outline.X1 = 10, f(40, 80)
	}
	if one(3) {
		for range 1 + r.IntN(3) {
			p.Grid.Heights = append(p.Grid.Heights, f(5, 55))
		}
	}
	if one(3) {
		p.Slack = f(0, 1.5)
	}
	if one(4) {
		g := f(-5, 5)
		p.Ground = &g
	}
	lanes := 1 + r.IntN(shafts) // fewer than stages: some are shared
	laneOf := func(stage int) int { return stage % max(2, lanes) }
	body := r.IntN(3) + 1
	for i := range shafts {
		s := Shaft{Radius: f(1, 3), Zone: Rect{2, 2, p.Outline.X1 - 2, p.Outline.Y1 - 2}, Lanes: []int{0, 1, 2, 3, 4}}
		if i == 0 {
			s.Lanes = []int{0}
		} else {
			s.Discs = append(s.Discs, Disc{f(4, 14), laneOf(i - 1)})
		}
		if i < shafts-1 {
			s.Discs = append(s.Discs, Disc{f(3, 8), laneOf(i)})
		}
		if one(6) {
			s.Zone.X0 = f(0, 40)
		}
		p.Shafts = append(p.Shafts, s)
		if i == 0 {
			continue
		}
		p.Runs = append(p.Runs, Run{From: i - 1, To: i, FromPitch: f(2, 6), ToPitch: f(3, 11), Crossed: one(4), Lane: laneOf(i - 1), HalfBand: f(0.3, 1)})
		lo := f(10, 40)
		width := f(2, 20)
		if one(3) {
			width = f(0.1, 1)
		}
		p.Gaps = append(p.Gaps, Gap{A: i - 1, B: i, Min: lo, Max: lo + width, Prefer: f(10, 50) * mm(r.IntN(2))})
	}
	if one(3) && shafts > 2 {
		lo := f(0, 60)
		p.Gaps = append(p.Gaps, Gap{A: 2, B: 0, Min: lo, Max: lo + f(1, 30)})
	}
	if one(5) {
		p.Gaps = p.Gaps[1:] // two shafts with no window
	}
	if !one(4) {
		p.Bodies = []Box{{Shaft: 0, HalfWidth: f(3, 10), HalfHeight: f(3, 8), Lanes: []int{4, body}}}
	}
	if one(3) {
		a, b := shafts-2, shafts-1
		if one(2) {
			a, b = b, a
		}
		p.Rises = []Rise{{From: a, To: b, Min: f(-20, 5), Max: f(5, 20)}}
	}
	for i := range shafts - 2 {
		if one(2) {
			p.Turns = append(p.Turns, Turn{i, i + 1, i + 2, []float64{0, 0.5, 0.94}[r.IntN(3)]})
		}
	}
	if one(4) {
		a, b := shafts-2, shafts-1
		if one(2) {
			a, b = b, a
		}
		p.Steeps = []Steep{{a, b, []float64{0, 0.5, 0.94}[r.IntN(3)]}}
	}
	p.Any = one(2)
	return p
}

// part is the problem of the first n shafts alone.
func part(p Problem, n int) Problem {
	p.Shafts = p.Shafts[:n]
	p.Runs = among(p.Runs, n, func(r Run) int { return max(r.From, r.To) })
	p.Bodies = among(p.Bodies, n, func(b Box) int { return b.Shaft })
	p.Gaps = among(p.Gaps, n, func(g Gap) int { return max(g.A, g.B) })
	p.Rises = among(p.Rises, n, func(r Rise) int { return max(r.From, r.To) })
	p.Turns = among(p.Turns, n, func(t Turn) int { return t.C })
	p.Steeps = among(p.Steeps, n, func(t Steep) int { return max(t.From, t.To) })
	return p
}

// among are the rules about the first n shafts, of which last is the last that one is about.
func among[T any](rules []T, n int, last func(T) int) []T {
	return slices.DeleteFunc(slices.Clone(rules), func(rule T) bool { return last(rule) >= n })
}

// possible tries every point of the grid for every shaft, and goes on from those
// that Check passes for the shafts so far.
func possible(p Problem) bool { return possibleIf(p, func([]Point) bool { return true }) }

// possibleIf is the same of places that are good besides.
func possibleIf(p Problem, good func([]Point) bool) bool {
	var points []Point
	for x := -20; x <= 40; x++ {
		if len(p.Grid.Heights) > 0 {
			for _, y := range p.Grid.Heights {
				points = append(points, Point{mm(x) * p.Grid.Pitch, y})
			}
			continue
		}
		for y := -20; y <= 40; y++ {
			points = append(points, Point{mm(x) * p.Grid.Pitch, mm(y) * p.Grid.Pitch})
		}
	}
	parts := make([]Problem, len(p.Shafts)+1)
	for n := range parts {
		parts[n] = part(p, n)
	}
	var extend func(at []Point) bool
	extend = func(at []Point) bool {
		if len(at) == len(p.Shafts) {
			return good(at)
		}
		zone := p.Shafts[len(at)].Zone
		for _, c := range points {
			if c.X < zone.X0-1 || c.X > zone.X1+1 || c.Y < zone.Y0-1 || c.Y > zone.Y1+1 {
				continue // well outside its zone: only to save time
			}
			longer := append(at[:len(at):len(at)], c)
			if len(Check(parts[len(longer)], longer)) == 0 && extend(longer) {
				return true
			}
		}
		return false
	}
	return extend(nil)
}

// TestPlaceFindsWhatThereIs holds the search to trying every point: it finds a
// placement exactly where there is one.
func TestPlaceFindsWhatThereIs(t *testing.T) {
	var placed, impossible [5]int
	for seed := range uint64(600) {
		p := invent(seed)
		at, got := Place(p, 2_000_000)
		switch got {
		case Placed:
			s := search{p: &p}
			require.True(t, s.findDomains())
			for i := range at {
				for j := range at {
					require.LessOrEqual(t, distance(at[i], at[j]), s.farthest(i, j))
					most, least := s.rises(i, j)
					rise := at[j].Y - at[i].Y
					require.True(t, least-noise <= rise && rise <= most+noise)
				}
			}
			placed[len(at)]++
			require.Empty(t, Check(p, at), "seed %d", seed)
		case Impossible:
			impossible[len(p.Shafts)]++
			require.False(t, possible(p), "seed %d: brute force found a placement", seed)
		default:
			t.Fatalf("seed %d: gave up", seed)
		}
		again, same := Place(p, 2_000_000)
		require.Equal(t, got, same, "seed %d", seed)
		require.Equal(t, at, again, "seed %d: the same problem, another answer", seed)
	}
	for n := 2; n <= 4; n++ {
		require.Greater(t, placed[n], 5, "%d shafts", n)
		require.Greater(t, impossible[n], 30, "%d shafts", n)
	}
}

// TestPlaceHandMade has problems small enough to see the answer.
func TestPlaceHandMade(t *testing.T) {
	frame := func(w, h mm) Problem {
		return Problem{Outline: Rect{X1: w, Y1: h}, Grid: Grid{Pitch: 1}, Clearance: 2}
	}
	shaft := func(p *Problem, lanes []int, discs ...Disc) {
		p.Shafts = append(p.Shafts, Shaft{Radius: 2, Zone: p.Outline, Lanes: lanes, Discs: discs})
	}
	tests := []struct {
		name string
		make func() Problem
		want Outcome
		at   []Point // nil: any
	}{
		{"nothing to place", func() Problem { return frame(10, 10) }, Placed, []Point{}},
		{"one shaft, in the middle", func() Problem {
			p := frame(40, 20)
			shaft(&p, []int{0}, Disc{5, 0})
			return p
		}, Placed, []Point{{20, 10}}},
		{"two shafts, level at the preferred distance", func() Problem {
			p := frame(100, 40)
			shaft(&p, []int{0}, Disc{5, 0})
			shaft(&p, []int{0}, Disc{15, 0})
			p.Gaps = []Gap{{0, 1, 30, 60, 40}}
			return p
		}, Placed, []Point{{25, 20}, {65, 20}}},
		{"pulleys of 10 and 15 with 2 between just fit in 52 wide", func() Problem {
			p := frame(52, 30)
			shaft(&p, nil, Disc{10, 0})
			shaft(&p, nil, Disc{15, 0})
			return p
		}, Placed, []Point{{10, 15}, {37, 15}}},
		{"but not in 51", func() Problem {
			p := frame(51, 30)
			shaft(&p, nil, Disc{10, 0})
			shaft(&p, nil, Disc{15, 0})
			return p
		}, Impossible, nil},
		{"slack of 0.5 takes 1 between the pulleys and 0.5 at each end", func() Problem {
			p := frame(52, 30)
			p.Slack = 0.5
			shaft(&p, nil, Disc{9.5, 0})
			shaft(&p, nil, Disc{14.5, 0})
			return p
		}, Placed, []Point{{10, 15}, {37, 15}}},
		{"slack of 0.6 then needs the next holes", func() Problem {
			p := frame(52, 30.2)
			p.Slack = 0.6
			shaft(&p, nil, Disc{9.5, 0})
			shaft(&p, nil, Disc{14.5, 0})
			return p
		}, Impossible, nil},
		{"a motor shaft that does not reach the lane may be behind the pulley", func() Problem {
			p := frame(30, 30)
			shaft(&p, []int{0})
			shaft(&p, []int{1}, Disc{15, 1})
			return p
		}, Placed, nil},
		{"an axle that runs through it may not", func() Problem {
			p := frame(30, 30)
			shaft(&p, []int{0, 1})
			p.Shafts[0].Zone = Rect{4, 4, 26, 26}
			shaft(&p, []int{1}, Disc{15, 1})
			return p
		}, Impossible, nil},
		{"three in a row", func() Problem {
			p := frame(120, 30)
			shaft(&p, []int{0}, Disc{5, 0})
			shaft(&p, []int{0, 1}, Disc{10, 0}, Disc{5, 1})
			shaft(&p, []int{0, 1}, Disc{10, 1})
			p.Runs = []Run{{0, 1, 4, 9, false, 0, 0.5}, {1, 2, 4, 9, true, 1, 0.5}}
			p.Gaps = []Gap{{0, 1, 30, 50, 40}, {1, 2, 30, 50, 45}}
			return p
		}, Placed, []Point{{15, 15}, {55, 15}, {100, 15}}},
		{"an axle between the strands of a wide band", func() Problem {
			p := frame(90, 30)
			shaft(&p, []int{0}, Disc{12, 0})
			shaft(&p, []int{0}, Disc{12, 0})
			shaft(&p, []int{0})
			p.Runs = []Run{{0, 1, 11, 11, false, 0, 0.5}}
			p.Gaps = []Gap{{0, 1, 60, 60, 0}, {0, 2, 30, 30, 0}, {1, 2, 30, 30, 0}}
			return p
		}, Placed, []Point{{15, 15}, {75, 15}, {45, 15}}},
		{"but not of a narrow one", func() Problem {
			p := frame(90, 30)
			shaft(&p, []int{0}, Disc{12, 0})
			shaft(&p, []int{0}, Disc{12, 0})
			shaft(&p, []int{0})
			p.Runs = []Run{{0, 1, 4, 4, false, 0, 0.5}} // 4 - 0.5 - 2 from the middle
			p.Gaps = []Gap{{0, 1, 60, 60, 0}, {0, 2, 30, 30, 0}, {1, 2, 30, 30, 0}}
			return p
		}, Impossible, nil},
		{"nor where a wide one is crossed", func() Problem {
			p := frame(90, 30)
			shaft(&p, []int{0}, Disc{12, 0})
			shaft(&p, []int{0}, Disc{12, 0})
			shaft(&p, []int{0})
			p.Runs = []Run{{0, 1, 11, 11, true, 0, 0.5}}
			p.Gaps = []Gap{{0, 1, 60, 60, 0}, {0, 2, 30, 30, 0}, {1, 2, 30, 30, 0}}
			return p
		}, Impossible, nil},
		{"two bands on one shaft in one lane", func() Problem {
			p := frame(200, 200)
			for range 3 {
				shaft(&p, []int{0})
			}
			p.Runs = []Run{{0, 1, 4, 4, false, 0, 0.5}, {1, 2, 4, 4, false, 0, 0.5}}
			return p
		}, Impossible, nil},
		{"the far shafts cannot be further apart than both windows", func() Problem {
			p := frame(200, 200)
			for range 3 {
				shaft(&p, []int{0})
			}
			p.Gaps = []Gap{{0, 1, 30, 50, 0}, {1, 2, 30, 50, 0}, {0, 2, 101, 150, 0}}
			return p
		}, Impossible, nil},
		{"a cross gap makes a right angle: 3, 4, 5", func() Problem {
			p := frame(100, 100)
			for range 3 {
				shaft(&p, []int{0})
			}
			p.Gaps = []Gap{{0, 1, 30, 30, 0}, {1, 2, 40, 40, 0}, {2, 0, 50, 50, 0}}
			return p
		}, Placed, nil},
		{"no distance between holes is the square root of 3", func() Problem {
			p := frame(100, 100)
			p.Clearance = 0
			shaft(&p, []int{0})
			shaft(&p, []int{1})
			p.Gaps = []Gap{{0, 1, 1.73, 1.74, 0}}
			return p
		}, Impossible, nil},
		{"on the rail nearest the middle", func() Problem {
			p := frame(100, 60)
			p.Grid.Heights = []mm{50, 10, 25}
			shaft(&p, []int{0}, Disc{5, 0})
			shaft(&p, []int{0}, Disc{5, 0})
			p.Gaps = []Gap{{0, 1, 30, 40, 30}}
			return p
		}, Placed, []Point{{35, 25}, {65, 25}}},
		{"on two rails where one is too short", func() Problem {
			p := frame(30, 60)
			p.Grid.Heights = []mm{50, 10}
			shaft(&p, []int{0}, Disc{5, 0})
			shaft(&p, []int{0}, Disc{5, 0})
			p.Gaps = []Gap{{0, 1, 40, 42, 40}}
			return p
		}, Placed, []Point{{15, 50}, {15, 10}}},
		{"a pulley over the ground", func() Problem {
			p := frame(30, 30)
			p.Outline.Y0, p.Overhang = -10, 10
			ground := mm(0)
			p.Ground = &ground
			shaft(&p, nil, Disc{10, 0})
			p.Shafts[0].Zone = Rect{0, 0, 30, 11.9}
			return p
		}, Impossible, nil},
		{"any places, where the second shaft can only be below and to the left", func() Problem {
			p := frame(60, 60)
			p.Any = true
			shaft(&p, []int{0})
			shaft(&p, []int{1})
			p.Shafts[0].Zone, p.Shafts[1].Zone = Rect{40, 40, 60, 60}, Rect{0, 0, 20, 20}
			return p
		}, Placed, nil},
		{"any places, one above the other by a rule", func() Problem {
			p := frame(60, 60)
			p.Any = true
			shaft(&p, []int{0})
			shaft(&p, []int{1})
			p.Rises = []Rise{{0, 1, -40, -30}}
			return p
		}, Placed, nil},
		{"no pitch, no holes", func() Problem {
			p := frame(30, 30)
			p.Grid.Pitch = 0
			shaft(&p, nil)
			return p
		}, Impossible, nil},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			p := test.make()
			at, got := Place(p, 100_000)
			require.Equal(t, test.want, got)
			if got == Placed {
				assert.Empty(t, Check(p, at))
			}
			if test.at != nil {
				assert.Equal(t, test.at, at)
			}
		})
	}
}

// TestPlaceGivesUpHonestly: with too little work allowed it says so, and never
// that there is no placement where there is one.
func TestPlaceGivesUpHonestly(t *testing.T) {
	gaveUp := 0
	for seed := range uint64(300) {
		p := invent(seed)
		_, want := Place(p, 2_000_000)
		for _, budget := range []int{0, 1, 3, 10, 30} {
			at, got := Place(p, budget)
			if got == GaveUp {
				gaveUp++
				continue
			}
			require.Equal(t, want, got, "seed %d budget %d", seed, budget)
			if got == Placed {
				require.Empty(t, Check(p, at))
			}
		}
	}
	require.Greater(t, gaveUp, 50)
	many := Problem{Grid: Grid{Pitch: 1}, Shafts: make([]Shaft, MaxShafts+1)}
	_, got := Place(many, 1000)
	require.Equal(t, GaveUp, got)
}

// TestPlaceOnAFineGrid: problems of the size of real frames end within the work
// that a caller can allow.
func TestPlaceOnAFineGrid(t *testing.T) {
	for stages := 1; stages <= 4; stages++ {
		for _, length := range []mm{80, 110, 140, 200, 400} {
			t.Run(fmt.Sprint(stages, " stages in ", length), func(t *testing.T) {
				p := driveProblem(stages, length, 100)
				at, got := Place(p, 200_000)
				require.NotEqual(t, GaveUp, got)
				if got == Placed {
					require.Empty(t, Check(p, at))
				}
			})
		}
	}
}

// Three long bands to and fro in a flat frame, where there is no room: halved across as soon as up,
// it takes nearly a million boxes to tell.
func TestToAndFroInAFlatFrame(t *testing.T) {
	inside, all := Rect{X0: 4.75, Y0: 4.75, X1: 295.25, Y1: 75.25}, []int{0, 1, 2, 3}
	p := Problem{
		Outline: Rect{X1: 300, Y1: 80}, Grid: Grid{Pitch: 1}, Clearance: 2, Slack: 2, Any: true,
		Shafts: []Shaft{
			{Radius: 1, Zone: Rect{X1: 300, Y1: 80}, Discs: []Disc{{Radius: 5}}, Lanes: []int{0}},
			{Radius: 2.5, Zone: inside, Discs: []Disc{{Radius: 32}, {Radius: 8, Lane: 1}}, Lanes: all},
			{Radius: 2.5, Zone: inside, Discs: []Disc{{Radius: 17, Lane: 1}, {Radius: 8, Lane: 2}}, Lanes: all},
			{Radius: 2.5, Zone: inside, Discs: []Disc{{Radius: 32, Lane: 2}}, Lanes: all},
		},
		Runs: []Run{
			{From: 0, To: 1, FromPitch: 3.45, ToPitch: 30.45, HalfBand: 0.45},
			{From: 1, To: 2, FromPitch: 6.45, ToPitch: 15.45, Lane: 1, HalfBand: 0.45},
			{From: 2, To: 3, FromPitch: 6.45, ToPitch: 30.45, Lane: 2, HalfBand: 0.45},
		},
		Bodies: []Box{{HalfWidth: 10, HalfHeight: 7.5, Lanes: []int{3}}},
		Gaps: []Gap{
			{A: 0, B: 1, Min: 166, Max: 194, Prefer: 180}, {A: 1, B: 2, Min: 186, Max: 214, Prefer: 200}, {A: 2, B: 3, Min: 148, Max: 172, Prefer: 160},
			{A: 0, B: 2, Min: -4, Max: 287.196}, {A: 1, B: 3, Min: -4, Max: 272.931},
		},
		Rises: []Rise{{From: 2, To: 3, Min: -96.361}},
	}
	_, got := Place(p, 60_000)
	require.Equal(t, Impossible, got)
}

// Three stages of long bands folded into a low frame: level steps first takes twenty thousand boxes
// and more, steep ones after a while few.
func TestFoldedInALowFrame(t *testing.T) {
	inside, all := Rect{X0: 4.75, Y0: 4.75, X1: 245.25, Y1: 95.25}, []int{0, 1, 2, 3}
	p := Problem{
		Outline: Rect{X1: 250, Y1: 100}, Grid: Grid{Pitch: 1}, Clearance: 2, Slack: 2, Any: true,
		Shafts: []Shaft{
			{Radius: 1, Zone: Rect{X1: 250, Y1: 100}, Discs: []Disc{{Radius: 5.5}}, Lanes: []int{0}},
			{Radius: 2.5, Zone: inside, Discs: []Disc{{Radius: 42}, {Radius: 8, Lane: 1}}, Lanes: all},
			{Radius: 2.5, Zone: inside, Discs: []Disc{{Radius: 12, Lane: 1}, {Radius: 12, Lane: 2}}, Lanes: all},
			{Radius: 2.5, Zone: inside, Discs: []Disc{{Radius: 42, Lane: 2}}, Lanes: all},
		},
		Runs: []Run{
			{From: 0, To: 1, FromPitch: 3.95, ToPitch: 40.45, HalfBand: 0.45},
			{From: 1, To: 2, FromPitch: 6.45, ToPitch: 10.45, Lane: 1, HalfBand: 0.45},
			{From: 2, To: 3, FromPitch: 10.45, ToPitch: 40.45, Lane: 2, HalfBand: 0.45},
		},
		Bodies: []Box{{HalfWidth: 10, HalfHeight: 7.5, Lanes: []int{3}}},
		Gaps: []Gap{
			{A: 0, B: 1, Min: 132, Max: 156, Prefer: 144}, {A: 1, B: 2, Min: 134, Max: 154, Prefer: 144}, {A: 2, B: 3, Min: 60, Max: 70, Prefer: 64},
			{A: 0, B: 2, Max: 217}, {A: 1, B: 3, Max: 167},
		},
		Rises: []Rise{{From: 2, To: 3, Max: 66}},
	}
	at, got := Place(p, 3000)
	require.Equal(t, Placed, got)
	require.Empty(t, Check(p, at))
}
