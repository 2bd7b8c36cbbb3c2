package supply

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/making"
	"findrive/internal/outsidetest"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// fewSheets is a question in which large pulleys can be made, of card of which there is
// little, and others are for sale.
func fewSheets(t *testing.T, seed uint64) *Question {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, 23))
	cup := box(t, 2+r.IntN(5), 9, r.IntN(2), r.IntN(2))
	cup.Axles[0].Count = 3 + r.IntN(3)
	cup.Sheets = []parts.SheetStock{{Item: parts.Item{Name: "card", Count: 1 + r.IntN(3)}, Kind: parts.PlainCard, Thickness: 2,
		Length: units.Millimetres(110 + r.IntN(80)), Width: units.Millimetres(80 + r.IntN(30))}}
	cup.Cutters = []parts.Cutter{{Item: parts.Item{Name: "scissors", Count: 1}, Way: parts.Scissors, Smallest: 20, Largest: 60, Step: units.Millimetres(8 + r.IntN(4))}}
	cup.Discs = &parts.Discs{Bores: []units.Millimetres{5}, Most: 4}
	q := &Question{Cupboard: cup, List: shop(t, cup, seed), Briefs: []*brief.Brief{ride(t, 2+r.IntN(4), "220 rpm")}, Mix: seed%2 == 0, InTurn: seed%3 == 0}
	if seed%4 > 1 {
		q.Briefs = append(q.Briefs, ride(t, 1+r.IntN(3), "240 rpm"))
	}
	for i, b := range q.Briefs {
		b.Making.Discs = i == 0 || r.IntN(3) > 0
	}
	return q
}

// madeRows are the pulleys of discs in a mixed integer program: which numbers of them the
// sheets take together is listed, and one of the largest of these is chosen.
type madeRows struct {
	*asker
	kinds []int            // parts
	takes []map[int]string // of each kind by each brief
	known map[string]int   // sheets for so many of each
}

func newMadeRows(a *asker) *madeRows {
	m := &madeRows{asker: a, known: map[string]int{}}
	for range a.jobs {
		m.takes = append(m.takes, map[int]string{})
	}
	return m
}

// take notes a use; false if it is of no pulley of discs.
func (m *madeRows) take(job int, u design.Use, x int) bool {
	part := m.at[key{u.Kind, u.Name}]
	if m.parts[part].made == nil {
		return false
	}
	if !slices.Contains(m.kinds, part) {
		m.kinds = append(m.kinds, part)
	}
	if !m.q.InTurn {
		job = 0 // all at one time
	}
	m.takes[job][part] += fmt.Sprintf(" + %d x%d", u.Each, x)
	return true
}

// sheets is how many sheets so many of each kind take, laid at one time.
func (m *madeRows) sheets(counts []int) int {
	id := fmt.Sprint(counts)
	if n, ok := m.known[id]; ok {
		return n
	}
	var list []making.Several
	for i, n := range counts {
		list = append(list, making.Several{Pulley: m.parts[m.kinds[i]].made, Count: n})
	}
	many := slices.Clone(m.q.Cupboard.Sheets)
	many[0].Count = 100
	pieces, err := making.Nest(many, list)
	if err != nil {
		panic(err)
	}
	m.known[id] = len(pieces)
	return len(pieces)
}

func (m *madeRows) rows(lp *program) {
	if len(m.kinds) == 0 {
		return
	}
	groups := make([]int, len(m.jobs))
	for i, j := range m.jobs {
		at := i
		if !m.q.InTurn {
			at = 0
		}
		groups[at] += j.groups
	}
	var all [][]int // of each brief so many of each kind
	var try func(so []int, sheets int)
	try = func(so []int, sheets int) {
		if sheets > m.q.Cupboard.Sheets[0].Count {
			return
		}
		turn := len(so) / len(m.kinds)
		if turn == len(m.jobs) {
			all = append(all, so)
			return
		}
		var each func(counts []int, left int)
		each = func(counts []int, left int) {
			if len(counts) == len(m.kinds) {
				try(append(slices.Clone(so), counts...), sheets+m.sheets(counts))
				return
			}
			for n := 0; n <= left; n++ {
				each(append(slices.Clone(counts), n), left-n)
			}
		}
		each(nil, groups[turn])
	}
	try(nil, 0)
	largest := slices.DeleteFunc(slices.Clone(all), func(v []int) bool {
		return slices.ContainsFunc(all, func(o []int) bool { return within(v, o) && !slices.Equal(v, o) })
	})
	one := ""
	for i := range largest {
		one += fmt.Sprintf(" + s%d", i)
		lp.binary += fmt.Sprintf("s%d\n", i)
	}
	lp.row("%s = 1", one)
	for turn := range m.jobs {
		for k, part := range m.kinds {
			if m.takes[turn][part] == "" {
				continue
			}
			may := ""
			for i, v := range largest {
				if n := v[turn*len(m.kinds)+k]; n > 0 {
					may += fmt.Sprintf(" - %d s%d", n, i)
				}
			}
			lp.row("%s%s <= 0", m.takes[turn][part], may)
		}
	}
}

// TestMakingBeforeBuyingAgreesWithOutsideSolver puts drawn kits in which card is short to
// GLPK's solver, as TestMoneyAgreesWithOutsideSolver does with rods: at the same time and in
// turn, one drive a brief and mixed, of briefs some of which allow no discs.
func TestMakingBeforeBuyingAgreesWithOutsideSolver(t *testing.T) {
	t.Parallel()
	outsidetest.Need(t, "orders are not held to another solver")
	made, bought, saved := 0, 0, 0
	for seed := range uint64(20) {
		q := fewSheets(t, seed)
		r, err := Find(context.Background(), q, Options{})
		require.NoError(t, err)
		t.Logf("seed %d: %d drives, %d searches", seed, r.Drives, r.Searches)
		least, ok := outsidetest.Solve(t, orderProgram(q, listed(t, q, 1)))
		require.Equal(t, ok, r.Plan != nil, "seed %d", seed)
		if !ok {
			require.True(t, r.None, "seed %d", seed)
			continue
		}
		require.Equal(t, least, int64(r.Plan.Money), "seed %d", seed)
		require.True(t, r.Plan.Proved, "seed %d: at least %v", seed, r.Plan.AtLeast)
		for _, s := range r.Plan.Shares {
			n := making.Discs(s.Drive.Drive.Pulleys())
			require.True(t, n == 0 || q.Briefs[s.Brief].Making.Discs, "seed %d: leave is not given", seed)
			if n > 0 {
				made++
			}
		}
		if least > 0 {
			bought++
		}
		for _, b := range q.Briefs {
			b.Making.Discs = false
		}
		without, err := Find(context.Background(), q, Options{})
		require.NoError(t, err)
		if without.Plan == nil || without.Plan.Money > r.Plan.Money {
			saved++
		} else {
			require.Equal(t, r.Plan.Money, without.Plan.Money, "seed %d: what can be made costs nothing", seed)
		}
	}
	t.Logf("%d shares with made pulleys, %d bought, %d saved", made, bought, saved)
	assert.Greater(t, made, 5)
	assert.Greater(t, bought, 3)
	assert.Greater(t, saved, 3)
}
