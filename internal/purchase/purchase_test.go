package purchase_test

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/money"
	"findrive/internal/purchase"
)

// drawn is a problem from a seed.
func drawn(rnd *rand.Rand, parts, choices, tasks, groups, offers, suppliers int) *purchase.Problem {
	p := &purchase.Problem{Mix: rnd.IntN(2) == 0}
	for range tasks {
		p.Tasks = append(p.Tasks, purchase.Task{Groups: 1 + rnd.IntN(groups), Another: int64(rnd.IntN(5))})
	}
	for k := range parts {
		p.Stock = append(p.Stock, rnd.IntN(groups+2))
		p.Rows = append(p.Rows, purchase.Row{Part: k, Scale: 1 + rnd.IntN(6)/5})
	}
	p.Rows = append(p.Rows, purchase.Row{Part: rnd.IntN(parts), Scale: 1}) // a part with a second limit
	p.Together = [][]int{{0, 1}, {1, 2, parts}}                            // changes nothing
	for i := range choices {
		c := purchase.Choice{Task: i % tasks, Cost: int64(rnd.IntN(9)), Takes: make([]int, len(p.Rows))}
		for range 3 {
			c.Takes[rnd.IntN(len(c.Takes))]++
		}
		p.Choices = append(p.Choices, c)
	}
	for range suppliers {
		s := purchase.Supplier{Carriage: money.Amount(rnd.IntN(12))}
		if rnd.IntN(2) == 0 {
			s.Minimum = money.Amount(rnd.IntN(25))
		}
		if rnd.IntN(2) == 0 {
			s.FreeFrom = money.Amount(1 + rnd.IntN(50))
		}
		p.Suppliers = append(p.Suppliers, s)
	}
	for range offers {
		p.Offers = append(p.Offers, purchase.Offer{
			Part: rnd.IntN(parts), Supplier: rnd.IntN(suppliers), Pack: 1 + rnd.IntN(4), Price: money.Amount(3 + rnd.IntN(15)), Least: 1 + rnd.IntN(5)/3,
		})
	}
	return p
}

// paid is the price of packs, not ok if a supplier or an offer does not sell so few.
func paid(p *purchase.Problem, packs []int) (sum money.Amount, ok bool) {
	spent := make([]money.Amount, len(p.Suppliers))
	for o, n := range packs {
		if n > 0 && n < p.Offers[o].Least {
			return 0, false
		}
		spent[p.Offers[o].Supplier] += money.Amount(n) * p.Offers[o].Price
	}
	for i, s := range p.Suppliers {
		switch {
		case spent[i] == 0:
			continue
		case spent[i] < s.Minimum:
			return 0, false
		case s.FreeFrom == 0 || spent[i] < s.FreeFrom:
			sum += s.Carriage
		}
		sum += spent[i]
	}
	return sum, true
}

// cost of a plan's counts, and whether packs let them be built.
func cost(p *purchase.Problem, counts, packs []int) (sum int64, ok bool) {
	have := make([]int, len(p.Stock))
	copy(have, p.Stock)
	for o, n := range packs {
		have[p.Offers[o].Part] += n * p.Offers[o].Pack
	}
	groups := make([]int, len(p.Tasks))
	different := make([]int, len(p.Tasks))
	takes := make([]int, len(p.Rows))
	for c, n := range counts {
		if n == 0 {
			continue
		}
		t := p.Choices[c].Task
		groups[t] += n
		sum += int64(n) * p.Choices[c].Cost
		if different[t]++; different[t] > 1 {
			sum += p.Tasks[t].Another
		}
		for r, k := range p.Choices[c].Takes {
			takes[r] += n * k
		}
	}
	for t := range p.Tasks {
		if groups[t] != p.Tasks[t].Groups || !p.Mix && different[t] > 1 {
			return 0, false
		}
	}
	for r, row := range p.Rows {
		if takes[r] > have[row.Part]*row.Scale {
			return 0, false
		}
	}
	return sum, true
}

// held checks that a plan is what it says it is.
func held(t *testing.T, p *purchase.Problem, plan purchase.Plan) {
	t.Helper()
	sum, ok := paid(p, plan.Packs)
	require.True(t, ok, "the suppliers sell it")
	require.Equal(t, plan.Money, sum)
	c, ok := cost(p, plan.Counts, plan.Packs)
	require.True(t, ok, "all groups can build it")
	require.Equal(t, plan.Cost, c)
}

// every calls do with every list of counts up to most.
func every(most []int, do func([]int)) {
	at := make([]int, len(most))
	var next func(i int)
	next = func(i int) {
		if i == len(most) {
			do(at)
			return
		}
		for n := 0; n <= most[i]; n++ {
			at[i] = n
			next(i + 1)
		}
		at[i] = 0
	}
	next(0)
}

// TestLeastAgainstEveryPurchase tries every purchase and every sharing out.
func TestLeastAgainstEveryPurchase(t *testing.T) {
	t.Parallel()
	found, bought := 0, 0
	for seed := range uint64(150) {
		rnd := rand.New(rand.NewPCG(seed, 3))
		p := drawn(rnd, 3, 4, 1+rnd.IntN(2), 2, 4, 2)
		bestMoney, bestCost := money.Amount(math.MaxInt64), int64(math.MaxInt64)
		var plans [][]int
		every([]int{2, 2, 2, 2}, func(counts []int) {
			if _, ok := cost(p, counts, []int{1000, 1000, 1000, 1000}); ok {
				plans = append(plans, append([]int(nil), counts...))
			}
		})
		every([]int{9, 9, 9, 9}, func(packs []int) {
			m, ok := paid(p, packs)
			if !ok || m > bestMoney {
				return
			}
			for _, counts := range plans {
				if c, ok := cost(p, counts, packs); ok && (m < bestMoney || c < bestCost) {
					bestMoney, bestCost = m, c
				}
			}
		})
		plan := purchase.Least(context.Background(), p, purchase.Options{})
		require.True(t, plan.Proved, "seed %d", seed)
		require.Equal(t, bestMoney < math.MaxInt64, plan.Found, "seed %d", seed)
		if !plan.Found {
			continue
		}
		held(t, p, plan)
		assert.Equal(t, bestMoney, plan.Money, "seed %d", seed)
		assert.Equal(t, bestCost, plan.Cost, "seed %d", seed)
		assert.True(t, plan.CostProved)
		assert.Equal(t, plan.Money, purchase.Least(context.Background(), p, purchase.Options{MoneyOnly: true}).Money)
		found++
		if plan.Money > 0 {
			bought++
		}
	}
	assert.Greater(t, found, 60, "most cases can be solved")
	assert.Greater(t, bought, 30, "and many need a purchase")
}

func TestStoppedAndNothing(t *testing.T) {
	p := &purchase.Problem{
		Tasks: []purchase.Task{{Groups: 3}}, Stock: []int{1}, Rows: []purchase.Row{{Part: 0, Scale: 1}},
		Choices:   []purchase.Choice{{Takes: []int{1}}},
		Offers:    []purchase.Offer{{Pack: 1, Price: 7, Least: 1}},
		Suppliers: []purchase.Supplier{{Carriage: 5}},
	}
	plan := purchase.Least(context.Background(), p, purchase.Options{})
	assert.Equal(t, money.Amount(19), plan.Money)
	assert.True(t, plan.Proved)
	ctx, stop := context.WithCancel(context.Background())
	stop()
	plan = purchase.Least(ctx, p, purchase.Options{})
	assert.True(t, plan.Found, "the first guess is there")
	assert.False(t, plan.Proved)
	assert.Zero(t, plan.AtLeast)
	p.Offers = nil
	plan = purchase.Least(context.Background(), p, purchase.Options{})
	assert.False(t, plan.Found)
	assert.True(t, plan.Proved, "no purchase will do")
}
