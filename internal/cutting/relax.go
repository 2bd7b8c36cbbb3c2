package cutting

import "math"

const (
	mostColumns = 60   // rounds of new patterns; a few are usual
	mostSwaps   = 1000 // of columns in all
	worthScale  = 1e6  // whole units of worth in one unit of stock length
	shift       = 1e-5 // keeps the demands in general position
	little      = 1e-9 // taken for nothing beside numbers of pieces
)

// relaxedWorth is the worth of each kind of piece in the linear relaxation over
// all cutting patterns, found by column generation (Gilmore and Gomory, A linear
// programming approach to the cutting-stock problem, 1961): the best weighting
// there is but for rounding. Being rounded does no harm, nor does being stopped short
// of the best, for a weighting's yields are worked out exactly; nil if some piece fits
// no stock.
//
// The simplex method is written out below, since it has to end whatever the numbers
// are, which a program for linear programmes in general need not.
func (q *question) relaxedWorth() []int {
	r, ok := q.programme()
	if !ok {
		return nil
	}
	var worth []int
	for range mostColumns {
		prices := r.solve()
		worth = make([]int, len(prices))
		for i, v := range prices {
			worth[i] = int(math.Max(0, v*worthScale))
		}
		better := false
		for t, s := range q.stock {
			take, value := mostOf(q.pieces, worth, s.size)
			if float64(value) > float64(q.cost(t))*worthScale*(1+1e-7) {
				r.add(take, q.cost(t))
				better = true
			}
		}
		if !better {
			break
		}
	}
	return worth
}

// programme is a linear programme: how much to use of each column so that what is
// wanted is made at the least cost. As many columns as there are kinds of piece are in
// use at a time.
type programme struct {
	columns []column
	inUse   []int       // for each row of the inverse, which column
	amount  []float64   // of each in use
	inverse [][]float64 // of the columns in use
	swaps   int
}

// column is a pattern, or with no cost one piece too many of a kind.
type column struct {
	take []float64
	cost float64
}

// programme begins with a pattern for each kind of piece by itself, from the shortest
// stock it fits; false if one fits none.
func (q *question) programme() (*programme, bool) {
	k := len(q.pieces)
	r := &programme{}
	for i, p := range q.pieces {
		t := len(q.stock) - 1
		for t >= 0 && q.stock[t].size < p.size {
			t--
		}
		if t < 0 {
			return nil, false
		}
		take := make(pattern, k)
		take[i] = min(p.count, q.stock[t].size/p.size)
		r.add(take, q.cost(t))
		r.inUse = append(r.inUse, i)
		// Demands a little apart make just as many columns count as there are kinds.
		r.amount = append(r.amount, (float64(p.count)+shift*float64(i+1))/float64(take[i]))
		row := make([]float64, k)
		row[i] = 1 / float64(take[i])
		r.inverse = append(r.inverse, row)
	}
	for i := range k {
		surplus := column{take: make([]float64, k)}
		surplus.take[i] = -1
		r.columns = append(r.columns, surplus)
	}
	return r, true
}

func (r *programme) add(take pattern, cost int) {
	c := column{take: make([]float64, len(take)), cost: float64(cost)}
	for i, n := range take {
		c.take[i] = float64(n)
	}
	r.columns = append(r.columns, c)
}

// solve brings columns into use, the one that gains most first, until none gains. It
// gives the price of each kind of piece: at these every column in use costs what it
// makes.
func (r *programme) solve() []float64 {
	for {
		prices := make([]float64, len(r.inUse))
		for row, j := range r.inUse {
			for i, v := range r.inverse[row] {
				prices[i] += r.columns[j].cost * v
			}
		}
		enter, most := -1, little
		for j := range r.columns {
			c := &r.columns[j]
			gain := -c.cost
			for i, n := range c.take {
				gain += prices[i] * n
			}
			if gain /= 1 + c.cost; gain > most {
				enter, most = j, gain
			}
		}
		if enter < 0 || r.swaps == mostSwaps || !r.swap(enter) {
			return prices
		}
		r.swaps++
	}
}

// swap brings a column into use, in the place of the one that is used up first. False
// if none is.
func (r *programme) swap(enter int) bool {
	uses := make([]float64, len(r.inUse)) // of each column in use for one of the new
	leave, most := -1, math.Inf(1)
	for row := range r.inUse {
		for i, n := range r.columns[enter].take {
			uses[row] += r.inverse[row][i] * n
		}
		if uses[row] > little && r.amount[row]/uses[row] < most {
			leave, most = row, r.amount[row]/uses[row]
		}
	}
	if leave < 0 {
		return false
	}
	for i := range r.inverse[leave] {
		r.inverse[leave][i] /= uses[leave]
	}
	for row := range r.inUse {
		if row == leave {
			continue
		}
		r.amount[row] = math.Max(0, r.amount[row]-most*uses[row])
		for i := range r.inverse[row] {
			r.inverse[row][i] -= uses[row] * r.inverse[leave][i]
		}
	}
	r.inUse[leave], r.amount[leave] = enter, most
	return true
}
