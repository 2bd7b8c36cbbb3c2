package selection

import (
	"cmp"
	"slices"
)

// Table is a question worked up for a general solver, which is spared all geometry:
// sizes and lengths with clones put together, and for each pair of pulleys as many
// of its cheapest bands as a drive has stages, each at its best centre distance. One
// of these is in the cheapest drive, however scarce bands are. Figures are whole and
// in the same shares of a unit of cost, so two solvers agree to the last digit.
type Table struct {
	First, Later []TableRow // of first stages and of later ones
	Ways         int        // rows of each pair, one after another, cheapest first
	Axle, Bands  []int      // how many of each size and length a set may have
	Motor        []int
	Wanted       int64 // logarithm of the ratio
	PerStage     int64
	MostStages   int
	Shares       int64 // of a unit of cost
}

// TableRow is a stage. Bands that a pair has not got cost Never.
type TableRow struct {
	Driver, Driven, Band int // indices into Motor or Axle, Axle and Bands
	Log, Off             int64
}

// Never is the cost of a band that there is not.
const Never = 1 << 28

// Tabulate makes the table. Its error is that of Solve.
func Tabulate(q *Question) (*Table, error) {
	if err := q.check(); err != nil {
		return nil, err
	}
	r := makeReady(q)
	t := &Table{Ways: q.MostStages, Wanted: r.wanted, PerStage: r.stages(2), MostStages: q.MostStages, Shares: shares}
	for _, s := range r.motor {
		t.Motor = append(t.Motor, s.have)
	}
	for _, s := range r.axle {
		t.Axle = append(t.Axle, s.have)
	}
	for _, b := range r.bands {
		t.Bands = append(t.Bands, b.have)
	}
	f := &finder{ready: r, options: map[optionKey]*optionList{}}
	rows := func(drivers []size, onMotor bool) []TableRow {
		var out []TableRow
		for i := range drivers {
			for j := range r.axle {
				out = append(out, f.cheapest(pair{driver: int16(i), driven: int16(j), log: r.axle[j].log - drivers[i].log}, onMotor, t.Ways)...)
			}
		}
		return out
	}
	t.First, t.Later = rows(r.motor, true), rows(r.axle, false)
	return t, nil
}

// cheapest is the rows of a pair, none if no band goes round it.
func (f *finder) cheapest(p pair, onMotor bool, ways int) []TableRow {
	seen := make([]bool, len(f.bands))
	var out []TableRow
	for _, o := range f.waysFor(&p, onMotor, unlimited/4) {
		if len(out) < ways && !seen[o.band] {
			seen[o.band] = true
			out = append(out, TableRow{int(p.driver), int(p.driven), int(o.band), p.log, o.cost})
		}
	}
	clear(f.options) // each pair is asked for once
	for len(out) > 0 && len(out) < ways {
		last := out[len(out)-1]
		last.Off = Never
		out = append(out, last)
	}
	slices.SortStableFunc(out, func(a, b TableRow) int { return cmp.Compare(a.Off, b.Off) })
	return out
}
