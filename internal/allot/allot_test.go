package allot_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/allot"
)

// brute tries every plan.
func brute(p *allot.Problem) (served int, cost int64) {
	left := append([]int{}, p.Stock...)
	served, cost = -1, 0
	var try func(i, n, different int, sum int64)
	try = func(i, n, different int, sum int64) {
		if i == len(p.Choices) {
			total := sum + p.Another*int64(max(0, different-1))
			if p.Different > 0 && different > p.Different {
				return
			}
			if n > served || n == served && total < cost {
				served, cost = n, total
			}
			return
		}
		c := p.Choices[i]
		k := 0
		for ; n+k <= p.Groups; k++ {
			d := different
			if k > 0 {
				d++
			}
			try(i+1, n+k, d, sum+int64(k)*c.Cost)
			fits := true
			for part, t := range c.Takes {
				left[part] -= t
				fits = fits && left[part] >= 0
			}
			if !fits {
				k++
				break
			}
		}
		for part, t := range c.Takes {
			left[part] += k * t
		}
	}
	try(0, 0, 0, 0)
	return served, cost
}

func draw(seed uint64) *allot.Problem {
	rnd := rand.New(rand.NewPCG(seed, 11))
	p := &allot.Problem{Groups: rnd.IntN(8), Stock: make([]int, 1+rnd.IntN(5)), Choices: make([]allot.Choice, rnd.IntN(6)), Another: int64(rnd.IntN(3) * 4), Different: rnd.IntN(4)}
	for i := range p.Stock {
		p.Stock[i] = rnd.IntN(9)
	}
	for i := range p.Choices {
		p.Choices[i] = allot.Choice{Cost: int64(rnd.IntN(12)), Takes: make([]int, len(p.Stock))}
		for k := range p.Stock {
			p.Choices[i].Takes[k] = max(0, rnd.IntN(5)-2)
		}
	}
	return p
}

func TestBestAgreesWithTryingEveryPlan(t *testing.T) {
	mixed, short := 0, 0
	for seed := range uint64(4000) {
		p := draw(seed)
		plan := allot.Best(context.Background(), p)
		require.True(t, plan.Proved)
		served, cost := brute(p)
		require.Equal(t, served, plan.Served, "%d: %+v", seed, p)
		require.Equal(t, served, plan.AtMost)
		require.Equal(t, served == p.Groups, allot.All(context.Background(), p))
		require.Equal(t, cost, plan.Cost, "%d: %+v", seed, p)
		sum, different, paid := 0, 0, int64(0)
		left := append([]int{}, p.Stock...)
		for i, n := range plan.Counts {
			sum += n
			paid += int64(n) * p.Choices[i].Cost
			if n > 0 {
				different++
			}
			for part, take := range p.Choices[i].Takes {
				left[part] -= n * take
				require.GreaterOrEqual(t, left[part], 0)
			}
		}
		require.Equal(t, plan.Served, sum)
		require.Equal(t, plan.Cost, paid+p.Another*int64(max(0, different-1)))
		if p.Different > 0 {
			require.LessOrEqual(t, different, p.Different)
		}
		if different > 1 {
			mixed++
		}
		if served < p.Groups {
			short++
		}
	}
	assert.Greater(t, mixed, 300, "the draws must be worth sharing out")
	assert.Greater(t, short, 300)
}

func TestPlainCases(t *testing.T) {
	two := []allot.Choice{{Cost: 1, Takes: []int{1, 0}}, {Cost: 5, Takes: []int{0, 1}}}
	for _, c := range []struct {
		name string
		p    allot.Problem
		want []int
	}{
		{"one will do for all", allot.Problem{Groups: 3, Stock: []int{3, 3}, Choices: two}, []int{3, 0}},
		{"the dearer serves the rest", allot.Problem{Groups: 5, Stock: []int{3, 3}, Choices: two}, []int{3, 2}},
		{"both run out", allot.Problem{Groups: 9, Stock: []int{3, 3}, Choices: two}, []int{3, 3}},
		{"all alike, if another costs more than it saves", allot.Problem{Groups: 3, Stock: []int{2, 3}, Choices: two, Another: 9}, []int{0, 3}},
		{"nobody to serve", allot.Problem{Stock: []int{3, 3}, Choices: two}, []int{0, 0}},
		{"nothing to build", allot.Problem{Groups: 2, Stock: []int{3}}, []int{}},
		{"of two alike the first", allot.Problem{Groups: 2, Stock: []int{9}, Choices: []allot.Choice{{Cost: 2, Takes: []int{1}}, {Cost: 2, Takes: []int{1}}}}, []int{2, 0}},
	} {
		t.Run(c.name, func(t *testing.T) {
			plan := allot.Best(context.Background(), &c.p)
			assert.True(t, plan.Proved)
			assert.Equal(t, c.want, plan.Counts)
		})
	}
}

func TestStoppedIsNotProved(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	p := &allot.Problem{Groups: 30, Stock: []int{9, 9, 9, 9, 9, 9}}
	for i := range 60 {
		takes := make([]int, 6)
		takes[i%6], takes[(i/6)%6] = 1+i%2, 1
		p.Choices = append(p.Choices, allot.Choice{Cost: int64(60 - i), Takes: takes})
	}
	plan := allot.Best(ctx, p)
	assert.False(t, plan.Proved)
	assert.GreaterOrEqual(t, plan.AtMost, allot.Best(context.Background(), p).Served)
}

func BenchmarkBest(b *testing.B) {
	for _, n := range []int{20, 60, 200} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			rnd := rand.New(rand.NewPCG(1, 2))
			p := &allot.Problem{Groups: 15, Stock: make([]int, 30), Another: 4000}
			for i := range p.Stock {
				p.Stock[i] = 4 + rnd.IntN(9)
			}
			for range n {
				takes := make([]int, 30)
				for range 7 {
					takes[rnd.IntN(30)]++
				}
				p.Choices = append(p.Choices, allot.Choice{Cost: int64(4000 + 250*rnd.IntN(20)), Takes: takes})
			}
			for b.Loop() {
				allot.Best(context.Background(), p)
			}
		})
	}
}
