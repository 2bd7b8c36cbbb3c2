package layout

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// bendOf is the cosine of the angle by which the way bends at b.
func bendOf(a, b, c Point) float64 {
	u, v := b.from(a), c.from(b)
	return float64(u.X*v.X+u.Y*v.Y) / float64(distance(a, b)*distance(b, c))
}

// What turns say of the ends of a way is true of every way that keeps them: of ways drawn at
// random, whose turns are just allowed and whose windows are as wide as they happen to be.
func TestWaysThatTurnAreSoFarAtLeast(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 4))
	tight := 0
	for range 200_000 {
		var at [4]Point
		heading := 2 * math.Pi * r.Float64()
		side := 1.0
		for i := 1; i < len(at); i++ {
			if r.IntN(3) == 0 {
				side = -side
			}
			heading += side * math.Pi / 2 * r.Float64()
			length := 10 + 90*r.Float64()
			at[i] = Point{at[i-1].X + mm(length*math.Cos(heading)), at[i-1].Y + mm(length*math.Sin(heading))}
		}
		s := search{p: &Problem{}, shafts: len(at)}
		for k := 1; k+1 < len(at); k++ {
			s.p.Turns = append(s.p.Turns, Turn{k - 1, k, k + 1, max(0, bendOf(at[k-1], at[k], at[k+1]))})
		}
		for j := range at {
			for i := range j {
				d := distance(at[i], at[j])
				*s.pairOf(i, j) = pair{i: i, j: j, near: -1, far: d + mm(20*r.Float64()*float64(r.IntN(2)))}
				if j == i+1 {
					s.pairOf(i, j).near = d - mm(20*r.Float64()*float64(r.IntN(2)))
				} else if j == i+2 && r.IntN(2) == 0 {
					s.pairOf(i, j).near = d
				}
			}
		}
		s.apartByTurns()
		for j := range at {
			for i := range j {
				least, d := s.pairOf(i, j).near, distance(at[i], at[j])
				require.LessOrEqual(t, least, d, "%v", at)
				if j == i+3 && least > d*0.999 {
					tight++
				}
			}
		}
	}
	require.Greater(t, tight, 1000, "how near it comes")
}

// A box keeps every step that turns from some step of another by no more than is allowed.
func TestBoxesKeepWhatTurnsLittle(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 5))
	kept, all := 0, 0
	box := func() span {
		x, y := r.IntN(81)-40, r.IntN(81)-40
		return span{x, x + r.IntN(30), y, y + r.IntN(30)}
	}
	for range 3000 {
		o, b := box(), box()
		cos := float64(r.IntN(11)) / 10
		within := b
		some := within.turnFrom(o, cos)
		for x := b.x0; x <= b.x1; x++ {
			for y := b.y0; y <= b.y1; y++ {
				inside := some && x >= within.x0 && x <= within.x1 && y >= within.y0 && y <= within.y1
				all++
				if inside {
					kept++
					continue
				}
				v := Point{mm(x), mm(y)}
				for _, u := range []Point{{mm(o.x0), mm(o.y0)}, {mm(o.x0), mm(o.y1)}, {mm(o.x1), mm(o.y0)}, {mm(o.x1), mm(o.y1)}, {mm(o.x0+o.x1) / 2, mm(o.y0+o.y1) / 2}} {
					turn := Turn{0, 1, 2, cos + 1e-9}
					require.False(t, turn.holdsOf(u, v), "from %v in %v to %v in %v, cos %v", u, o, v, b, cos)
				}
			}
		}
	}
	require.Less(t, float64(kept)/float64(all), 0.85, "it leaves something out")
}

// holdsOf is Holds without its noise, of two steps that lead somewhere.
func (t *Turn) holdsOf(u, v Point) bool {
	return u != Point{} && v != Point{} && bendOf(Point{}, u, Point{u.X + v.X, u.Y + v.Y}) >= t.Cos
}
