package allot_test

import (
	"context"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/allot"
)

// does is whether the stock of a problem makes so many of each choice.
func does(p *allot.Problem, counts []int) bool {
	sum, different := 0, 0
	left := append([]int{}, p.Stock...)
	for i, n := range counts {
		if sum += n; n > 0 {
			different++
		}
		for part, take := range p.Choices[i].Takes {
			if left[part] -= n * take; left[part] < 0 {
				return false
			}
		}
	}
	return sum <= p.Groups && (p.Different == 0 || different <= p.Different) && (p.Fits == nil || p.Fits(counts))
}

// TestStoppedTellsTheTruth: however soon the time is out, what is found can be built, is no
// worse than what was known, serves somebody if anybody can be served, and no more than
// AtMost can be.
func TestStoppedTellsTheTruth(t *testing.T) {
	t.Parallel()
	short, kept := 0, 0
	for seed := range uint64(2000) {
		rnd := rand.New(rand.NewPCG(seed, 12))
		p := draw(seed)
		if seed%2 == 0 && len(p.Choices) > 0 { // weighed together, as lengths are sawn
			room := rnd.IntN(20)
			p.Joint = []int{0}
			p.Fits = func(counts []int) bool {
				sum := 0
				for i, n := range counts {
					sum += n * (2 + p.Choices[i].Takes[0])
				}
				return sum <= room
			}
		}
		whole := allot.Best(context.Background(), p)
		require.True(t, whole.Proved)
		ctx, stop := context.WithCancel(context.Background())
		if rnd.IntN(2) == 0 {
			// A poorer plan than the best is known, of the first choices.
			p.Known = make([]int, len(p.Choices)/2)
			for i := range p.Known {
				p.Known[i] = rnd.IntN(whole.Counts[i] + 1)
			}
		}
		fits, calls, end := p.Fits, 0, rnd.IntN(6)
		if fits != nil {
			p.Fits = func(counts []int) bool {
				if calls++; calls >= end {
					stop()
				}
				return fits(counts)
			}
		}
		if fits == nil || end == 0 {
			stop()
		}
		plan := allot.Best(ctx, p)
		stop()
		p.Fits = fits
		assert.True(t, does(p, plan.Counts), "seed %d", seed)
		served := 0
		for _, n := range plan.Counts {
			served += n
		}
		assert.Equal(t, served, plan.Served)
		assert.LessOrEqual(t, served, whole.Served)
		assert.GreaterOrEqual(t, plan.AtMost, whole.Served, "seed %d", seed)
		assert.Equal(t, whole.Served > 0, served > 0, "seed %d", seed)
		known := 0
		for _, n := range p.Known {
			known += n
		}
		assert.GreaterOrEqual(t, served, known, "seed %d", seed)
		if served < whole.Served {
			short++
		}
		if known > 0 && served == known {
			kept++
		}
	}
	assert.Greater(t, short, 50, "some must be stopped short")
	assert.Greater(t, kept, 50, "some must have nothing better than what was known")
}

// TestStoppedAsksLittle: what is dear to ask is not asked on and on when the time is out.
func TestStoppedAsksLittle(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	p := &allot.Problem{Groups: 300, Stock: []int{600, 600, 600, 600, 600, 600}, Joint: []int{0, 1, 2, 3, 4, 5}}
	for i := range 60 {
		takes := make([]int, 6)
		takes[i%6], takes[(i/6)%6] = 1+i%2, 1+i%3
		p.Choices = append(p.Choices, allot.Choice{Cost: int64(60 - i), Takes: takes})
	}
	after := 0
	p.Fits = func(counts []int) bool {
		if ctx.Err() != nil {
			after++
		}
		n := 0
		for i, k := range counts {
			n += k * (3 + i%7)
		}
		if n > 900 {
			stop()
		}
		return n <= 900
	}
	plan := allot.Best(ctx, p)
	assert.Error(t, ctx.Err())
	assert.False(t, plan.Proved)
	assert.Positive(t, plan.Served)
	assert.Less(t, after, 20)
}
