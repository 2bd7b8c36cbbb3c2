package cutting

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
)

const (
	mostColumns = 60   // rounds of new patterns; a few are usual
	worthScale  = 1e6  // whole units of worth in one unit of stock length
	shift       = 1e-5 // keeps the demands in general position
)

// relaxedWorth is the worth of each kind of piece in the linear relaxation over
// all cutting patterns, found by column generation (Gilmore and Gomory, A linear
// programming approach to the cutting-stock problem, 1961): the best weighting
// there is but for rounding. Being rounded does no harm, for a weighting's yields
// are worked out exactly; nil if the simplex program gives up.
func (q *question) relaxedWorth() []int {
	type column struct {
		take []int
		cost float64
	}
	k := len(q.pieces)
	var columns []column
	for i, p := range q.pieces {
		for t := len(q.stock) - 1; t >= 0; t-- {
			if s := q.stock[t]; s.size >= p.size {
				take := make([]int, k)
				take[i] = min(p.count, s.size/p.size)
				columns = append(columns, column{take, float64(q.cost(t))})
				break
			}
		}
	}
	if len(columns) < k {
		return nil
	}
	// Demands a little apart make just as many columns count as there are kinds.
	demand := make([]float64, k)
	for i, p := range q.pieces {
		demand[i] = float64(p.count) + shift*float64(i+1)
	}
	var worth []int
	for range mostColumns {
		n := len(columns)
		a, cost := mat.NewDense(k, n+k, nil), make([]float64, n+k)
		for j, c := range columns {
			cost[j] = c.cost
			for i, m := range c.take {
				a.Set(i, j, float64(m))
			}
		}
		for i := range k {
			a.Set(i, n+i, -1) // pieces too many
		}
		_, x, err := lp.Simplex(cost, a, demand, 1e-9, nil)
		if err != nil {
			return worth
		}
		price := prices(a, cost, x)
		if price == nil {
			return worth
		}
		worth = make([]int, k)
		for i, v := range price {
			worth[i] = int(math.Max(0, v*worthScale))
		}
		better := false
		for t, s := range q.stock {
			take, value := mostOf(q.pieces, worth, s.size)
			if float64(value) > float64(q.cost(t))*worthScale*(1+1e-7) {
				columns = append(columns, column{take, float64(q.cost(t))})
				better = true
			}
		}
		if !better {
			break
		}
	}
	return worth
}

// prices solves for the dual values: every column in use costs what it is worth.
func prices(a *mat.Dense, cost, x []float64) []float64 {
	k, _ := a.Dims()
	var basis []int
	for j, v := range x {
		if v > 1e-9 {
			basis = append(basis, j)
		}
	}
	if len(basis) != k {
		return nil
	}
	b, c := mat.NewDense(k, k, nil), mat.NewVecDense(k, nil)
	for row, j := range basis {
		c.SetVec(row, cost[j])
		for i := range k {
			b.Set(row, i, a.At(i, j))
		}
	}
	var y mat.VecDense
	if err := y.SolveVec(b, c); err != nil {
		return nil
	}
	return y.RawVector().Data
}
