package cutting

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
	"pgregory.net/rapid"

	"findrive/internal/units"
)

func TestCutsByHand(t *testing.T) {
	tests := []struct {
		name    string
		pieces  []Piece
		stock   []Stock
		kerf    units.Millimetres
		used    units.Millimetres
		largest units.Millimetres
	}{
		// 2 x 108 with a kerf each leave 82 of 300; a third piece does not fit.
		{"two to a rod", []Piece{{"axle 1", 108, 8}}, []Stock{{Name: "dowel", Length: 300, Count: 24}}, 1, 1200, 82},
		{"kerf counts between pieces only", []Piece{{"a", 100, 3}}, []Stock{{Name: "rod", Length: 302, Count: 1}}, 1, 302, 0},
		{"one kerf short", []Piece{{"a", 100, 3}}, []Stock{{Name: "rod", Length: 301, Count: 2}}, 1, 602, 200},
		// First fit takes 40 40, 30 30 30 and a third bar for the last 30.
		{"better than first fit", []Piece{{"a", 40, 2}, {"b", 30, 4}}, []Stock{{Name: "bar", Length: 100, Count: 5}}, 0, 200, 0},
		{"offcuts before a new rod", []Piece{{"a", 110, 2}}, []Stock{{Name: "rod", Length: 300, Count: 9}, {Name: "offcut", Length: 115, Count: 2, Offcut: true}}, 1, 230, 4},
		{"offcuts at the same length in all", []Piece{{"a", 140, 4}}, []Stock{{Name: "rod", Length: 300, Count: 9}, {Name: "offcut", Length: 150, Count: 2, Offcut: true}}, 1, 600, 18},
		{"one remainder rather than two", []Piece{{"a", 40, 1}, {"b", 30, 1}, {"c", 50, 1}}, []Stock{{Name: "bar", Length: 100, Count: 2}}, 0, 200, 70},
		{"inches are rounded away from waste", []Piece{{"a", 25.4, 3}}, []Stock{{Name: "bar", Length: 3 * 25.4, Count: 1}}, 0, 76.2, 0},
		{"nothing to cut", nil, []Stock{{Name: "bar", Length: 100, Count: 1}}, 1, 0, 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p, err := Cuts(tt.pieces, tt.stock, tt.kerf)
			require.NoError(t, err)
			sound(t, tt.pieces, tt.stock, tt.kerf, p)
			assert.InDelta(t, float64(tt.used), float64(p.Used), 1e-9)
			assert.InDelta(t, float64(tt.largest), float64(p.Largest), 1e-9)
			assert.True(t, p.Proved)
		})
	}
}

func TestCutsRefuses(t *testing.T) {
	tests := []struct {
		name   string
		pieces []Piece
		stock  []Stock
		kerf   units.Millimetres
		says   string
	}{
		{"too little", []Piece{{"axle", 108, 5}}, []Stock{{Name: "rod", Length: 300, Count: 2}}, 1, "axle, 108 mm, is left over"},
		{"too short", []Piece{{"axle", 301, 1}}, []Stock{{Name: "rod", Length: 300, Count: 2}}, 1, "axle, 301 mm, is left over"},
		{"no stock", []Piece{{"axle", 10, 1}}, nil, 1, "is left over"},
		{"a piece of nothing", []Piece{{"axle", 0, 1}}, []Stock{{Name: "rod", Length: 300, Count: 2}}, 1, "no sense"},
		{"stock of no length", []Piece{{"axle", 5, 1}}, []Stock{{Name: "rod", Length: units.Millimetres(math.NaN()), Count: 2}}, 1, "no sense"},
		{"a rod out of this world", []Piece{{"axle", 5, 1}}, []Stock{{Name: "rod", Length: 1e300, Count: 2}}, 1, "no sense"},
		{"a piece as long", []Piece{{"axle", 1e300, 1}}, []Stock{{Name: "rod", Length: 300, Count: 2}}, 1, "no sense"},
		{"a saw that adds", []Piece{{"axle", 5, 1}}, []Stock{{Name: "rod", Length: 10, Count: 2}}, -1, "no sense"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := Cuts(tt.pieces, tt.stock, tt.kerf)
			assert.ErrorContains(t, err, tt.says)
		})
	}
}

// sound checks a plan as someone with a ruler would.
func sound(t require.TestingT, pieces []Piece, stock []Stock, kerf units.Millimetres, p Plan) {
	want, have := map[Cut]int{}, map[Stock]int{}
	for _, c := range pieces {
		want[Cut{c.Mark, c.Length}] += c.Count
	}
	for _, s := range stock {
		have[Stock{Name: s.Name, Length: s.Length, Offcut: s.Offcut}] += s.Count
	}
	var used, largest units.Millimetres
	for _, b := range p.Bars {
		have[Stock{Name: b.Stock, Length: b.Length, Offcut: b.Offcut}]--
		sum := -kerf
		for _, c := range b.Cuts {
			want[c]--
			sum += c.Length + kerf
		}
		require.LessOrEqual(t, float64(sum), float64(b.Length)+1e-9, "cut from more than there is")
		require.InDelta(t, math.Max(0, float64(b.Length-sum-kerf)), float64(b.Left), 1e-6)
		used += b.Length
		largest = max(largest, b.Left)
	}
	for c, n := range want {
		require.Zero(t, n, "%v", c)
	}
	for s, n := range have {
		require.GreaterOrEqual(t, n, 0, "%v", s)
	}
	require.InDelta(t, float64(used), float64(p.Used), 1e-9)
	require.InDelta(t, float64(largest), float64(p.Largest), 1e-9)
	require.LessOrEqual(t, float64(p.Bound), float64(p.Used)+1e-2)
}

// bruteForce puts piece by piece into every bar in turn.
func bruteForce(pieces, bars []int, offcut []bool, kerf int) (used, largest int, ok bool) {
	left := slices.Clone(bars)
	begun := make([]bool, len(bars))
	used = math.MaxInt
	var put func(i int)
	put = func(i int) {
		if i == len(pieces) {
			sum, longest := 0, 0
			for b := range bars {
				if begun[b] { // twice the cost, so that halves stay whole
					sum += 2 * bars[b]
					if offcut[b] {
						sum -= bars[b]
					}
					longest = max(longest, left[b])
				}
			}
			if sum < used || sum == used && longest > largest {
				used, largest, ok = sum, longest, true
			}
			return
		}
		for b := range bars {
			if left[b] < pieces[i] {
				continue
			}
			was, wasBegun := left[b], begun[b]
			left[b], begun[b] = left[b]-pieces[i]-kerf, true
			put(i + 1)
			left[b], begun[b] = was, wasBegun
		}
	}
	put(0)
	return used, largest, ok
}

// Every small question has the answer that trying everything gives.
func TestCutsAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sizes := rapid.SliceOfN(rapid.IntRange(5, 60), 1, 6).Draw(t, "pieces")
		bars := rapid.SliceOfN(rapid.SampledFrom([]int{30, 47, 60, 100}), 1, 5).Draw(t, "bars")
		kerf := rapid.IntRange(0, 3).Draw(t, "kerf")
		var offcut []bool
		for range bars {
			offcut = append(offcut, rapid.Bool().Draw(t, "offcut"))
		}
		used, largest, ok := bruteForce(sizes, bars, offcut, kerf)
		var pieces []Piece
		for _, s := range sizes {
			pieces = append(pieces, Piece{"p", units.Millimetres(s), 1})
		}
		var stock []Stock
		for i, b := range bars {
			stock = append(stock, Stock{Name: "b", Length: units.Millimetres(b), Count: 1, Offcut: offcut[i]})
		}
		p, err := Cuts(pieces, stock, units.Millimetres(kerf))
		if !ok {
			var short *ShortError
			require.ErrorAs(t, err, &short)
			return
		}
		require.NoError(t, err)
		require.True(t, p.Proved)
		sound(t, pieces, stock, units.Millimetres(kerf), p)
		cost := units.Millimetres(0)
		for _, b := range p.Bars {
			cost += 2 * b.Length
			if b.Offcut {
				cost -= b.Length
			}
		}
		require.EqualValues(t, used, cost)
		require.EqualValues(t, max(0, largest), p.Largest)
	})
}

// A question on which a simplex program that may change columns without end did so:
// bars of two lengths count as much for each length of pieces.
func TestRelaxationEnds(t *testing.T) {
	q := question{kerf: 100}
	for _, size := range []int{5000, 4900, 3100, 2500, 1800, 900, 800} {
		q.want(size, 1)
	}
	q.have(kind{size: 10100, count: 1, half: true})
	q.have(kind{size: 6100, count: 1, half: true})
	q.have(kind{size: 3100, count: 1})
	worth := q.relaxedWorth()
	require.Len(t, worth, 7)
	for i := range q.stock {
		_, most := mostOf(q.pieces, worth, q.stock[i].size)
		require.LessOrEqual(t, float64(most), float64(q.cost(i))*worthScale*(1+1e-6), "no bar holds more than it costs")
	}
	all := 0
	for _, w := range worth {
		all += w
	}
	require.Greater(t, float64(all), 19000.0/6100*3000*worthScale, "a better bound than that by length, in the cheapest bar for its length")
}

// A class's worth of pieces begins as little stock as can be, and no plan beats
// the linear relaxation over all cutting patterns (Gilmore and Gomory 1961), solved
// by an independent simplex program. The questions are drawn with a fixed seed, for
// a few in ten thousand are too large to be proved.
func TestCutsOfAClass(t *testing.T) {
	draw := rand.New(rand.NewPCG(4, 2))
	proved := 0
	const questions = 150
	for range questions {
		sets := 1 + draw.IntN(15)
		var pieces []Piece
		for range 1 + draw.IntN(4) {
			pieces = append(pieces, Piece{"p", units.Millimetres(60 + draw.IntN(221)), sets * (1 + draw.IntN(4))})
		}
		rod := []units.Millimetres{300, 600, 1000}[draw.IntN(3)]
		stock := []Stock{{Name: "rod", Length: rod, Count: 500}}
		p, err := Cuts(pieces, stock, 1)
		require.NoError(t, err)
		sound(t, pieces, stock, 1, p)
		require.True(t, p.Least, "%v from %v", pieces, rod)
		if p.Proved {
			proved++
		}
		relaxed := relaxation(t, pieces, rod, 1)
		q := question{kerf: up(1)}
		for _, c := range pieces {
			q.want(up(c.Length+1), c.Count)
		}
		q.have(kind{size: up(rod + 1), count: 500})
		worth := 0
		for i, w := range q.relaxedWorth() {
			worth += w * q.pieces[i].count
		}
		require.GreaterOrEqual(t, float64(worth)/worthScale/float64(q.cost(0)), relaxed-1e-3, "our own relaxation gets as far")
		bars := float64(len(p.Bars))
		require.GreaterOrEqual(t, bars, math.Ceil(relaxed-1e-6))
		// Scheithauer and Terno's conjecture that rounding up costs at most one
		// bar more (1995) has no known counterexample.
		require.LessOrEqual(t, bars, math.Ceil(relaxed-1e-6)+1)
	}
	require.GreaterOrEqual(t, proved, questions-1)
}

func relaxation(t require.TestingT, pieces []Piece, rod, kerf units.Millimetres) float64 {
	q := question{}
	for _, p := range pieces {
		q.want(up(p.Length+kerf), p.Count)
	}
	var patterns []pattern
	many := make([]int, len(q.pieces))
	for i := range many {
		many[i] = 1000
	}
	for first := range q.pieces {
		fillings(q.pieces, many, up(rod+kerf), first, true, func(p pattern) bool {
			patterns = append(patterns, p)
			return true
		})
	}
	// Bars of each pattern less surplus pieces are what is wanted.
	n, m := len(q.pieces), len(patterns)
	a := mat.NewDense(n, m+n, nil)
	c, b := make([]float64, m+n), make([]float64, n)
	for k, p := range patterns {
		c[k] = 1
		for i := range p {
			a.Set(i, k, float64(p[i]))
		}
	}
	for i := range n {
		a.Set(i, m+i, -1)
		b[i] = float64(q.pieces[i].count)
	}
	f, _, err := lp.Simplex(c, a, b, 1e-10, nil)
	require.NoError(t, err)
	return f
}

// The order in which equal questions are asked does not matter to the lengths,
// and the same question has the same answer.
func TestCutsIsDetermined(t *testing.T) {
	pieces := []Piece{{"axle 1", 108, 8}, {"axle 2", 124, 8}, {"rail", 108, 4}}
	stock := []Stock{{Name: "dowel", Length: 300, Count: 24}, {Name: "offcut", Length: 130, Count: 3, Offcut: true}, {Name: "offcut", Length: 250, Count: 1, Offcut: true}}
	first, err := Cuts(pieces, stock, 1)
	require.NoError(t, err)
	again, err := Cuts(pieces, stock, 1)
	require.NoError(t, err)
	assert.Equal(t, first, again)
	slices.Reverse(pieces)
	slices.Reverse(stock)
	turned, err := Cuts(pieces, stock, 1)
	require.NoError(t, err)
	assert.Equal(t, first.Used, turned.Used)
	assert.Equal(t, first.Largest, turned.Largest)
}
