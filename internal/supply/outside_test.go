package supply

import (
	"context"
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/cutting"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/outsidetest"
	"findrive/internal/units"
)

// TestMoneyAgreesWithOutsideSolver puts drawn kits in which rods are short to GLPK's solver
// of mixed integer programs: every drive there is, packs, carriage, and rods by patterns of
// cutting. Each kit is asked at the same time and in turn, one drive a brief and mixed. The
// program is written from what the drives say they use; it shares nothing with the search
// for the least money, nor with the saw's.
func TestMoneyAgreesWithOutsideSolver(t *testing.T) {
	t.Parallel()
	outsidetest.Need(t, "orders are not held to another solver")
	bought, rods, turnsMatter := 0, 0, 0
	for seed := uint64(100); seed < 110; seed++ {
		q := fewRods(t, seed)
		if len(q.Briefs) == 1 {
			q.Briefs = append(q.Briefs, ride(t, 2+int(seed%3), "250 rpm"))
		}
		q.Cupboard.Motors[0].Count, q.Cupboard.Pulleys[0].Count = 2+int(seed%4), 3+int(seed%3)
		cost := map[bool]int64{}
		for _, inTurn := range []bool{false, true} {
			for _, mix := range []bool{false, true} {
				q.InTurn, q.Mix = inTurn, mix
				name := fmt.Sprintf("seed %d, in turn %t, mixed %t", seed, inTurn, mix)
				r, err := Find(context.Background(), q, Options{})
				require.NoError(t, err, name)
				least, ok := outsidetest.Solve(t, orderProgram(q, listed(t, q, 1)))
				require.Equal(t, ok, r.Plan != nil, name)
				if !ok {
					require.True(t, r.None, name)
					continue
				}
				require.True(t, r.Plan.Proved, name)
				require.Equal(t, least, int64(r.Plan.Money), name)
				if !mix {
					cost[inTurn] = least
				}
				if least > 0 {
					bought++
				}
				if slices.ContainsFunc(r.Plan.Bought, func(b Bought) bool { return b.Offer.Kind == "axle" }) {
					rods++
				}
			}
		}
		if cost[false] != cost[true] {
			turnsMatter++
		}
	}
	require.Greater(t, bought, 10)
	require.Greater(t, rods, 5, "rods are bought")
	require.Greater(t, turnsMatter, 3, "in turn costs less")
}

// orderProgram is the least money of a question in CPLEX LP format, over all drives listed.
func orderProgram(q *Question, a *asker) string {
	lp := program{q: q}
	made := newMadeRows(a)
	pieces := map[units.Millimetres]string{} // what of each length is sawn
	var parts []key
	takes := map[key]map[int]string{} // of each part in each turn
	turns := 1
	if q.InTurn {
		turns = len(q.Briefs)
	}
	take := func(k key, turn, n, x int) {
		if takes[k] == nil {
			parts, takes[k] = append(parts, k), map[int]string{}
		}
		takes[k][turn] += fmt.Sprintf(" + %d x%d", n, x)
	}
	x := 0
	for at, j := range a.jobs {
		all := ""
		for _, f := range j.drives {
			p := f.drive
			all += fmt.Sprintf(" + x%d", x)
			lp.whole += fmt.Sprintf("x%d\n", x)
			if !q.Mix {
				lp.row("x%d - %d u%d = 0", x, q.Briefs[at].Sets, x)
				lp.binary += fmt.Sprintf("u%d\n", x)
			}
			for _, u := range p.Uses {
				if u.Kind == "axle" || made.take(at, u, x) {
					continue
				}
				spent := lost(p.Drive, u.Kind, u.Name)
				if u.Kind == "band" || u.Kind == "sleeve" {
					spent = u.Each
				}
				for turn := range turns {
					switch {
					case !q.InTurn || turn == at:
						take(key{u.Kind, u.Name}, turn, u.Each, x)
					case turn > at && spent > 0:
						take(key{u.Kind, u.Name}, turn, spent, x)
					}
				}
			}
			for _, c := range design.CutAxles(p.Drive, q.Briefs[at]) {
				pieces[c.Length] += fmt.Sprintf(" - %d x%d", c.Count, x)
			}
			x++
		}
		if all == "" {
			all = " + 0 none"
		}
		lp.row("%s = %d", all, q.Briefs[at].Sets)
	}
	for _, k := range parts {
		have := 0
		if it := q.Cupboard.Item(k.kind, k.name); it != nil {
			have = it.Count
		}
		for turn := range turns {
			if t := takes[k][turn]; t != "" {
				lp.row("%s%s <= %d", t, lp.packsOf(k), have)
			}
		}
	}
	lp.saw(pieces)
	made.rows(&lp)
	lp.baskets()
	return "Minimize\n goal:" + lp.money + "\nSubject To\n" + lp.rows + "General\n" + lp.whole + "Binary\n" + lp.binary + "End\n"
}

// lost is how many pulleys of a name a drive drills out or glues on.
func lost(d *drive.Drive, kind, name string) (n int) {
	if kind != "pulley" {
		return 0
	}
	bad := func(j drive.Joint) bool { return j.Kind == drive.DrilledOut || j.Kind == drive.Glued }
	for i := range d.Stages {
		s := &d.Stages[i]
		if s.Driver.Name == name && bad(s.DriverJoint) {
			n++
		}
		if s.Driven.Name == name && bad(s.DrivenJoint) {
			n++
		}
	}
	return n
}

// program is a mixed integer program as it is written.
type program struct {
	q                          *Question
	money, rows, whole, binary string
}

func (lp *program) row(form string, args ...any) { lp.rows += fmt.Sprintf(form, args...) + "\n" }

// packsOf takes off what is bought of a part.
func (lp *program) packsOf(k key) (out string) {
	for o, offer := range lp.q.List.Offers {
		if offer.Kind == k.kind && offer.Part == k.name {
			out += fmt.Sprintf(" - %d y%d", offer.Pack, o)
		}
	}
	return out
}

// saw has a variable for every way to saw a rod of each name; all are as thick.
func (lp *program) saw(pieces map[units.Millimetres]string) {
	var lengths []units.Millimetres
	for l := range pieces {
		lengths = append(lengths, l)
	}
	slices.Sort(lengths)
	got := make([]string, len(lengths))
	v := 0
	for _, rod := range lp.q.Cupboard.Axles {
		used := ""
		var try func(from int, left units.Millimetres, of []int)
		try = func(from int, left units.Millimetres, of []int) {
			more := false
			for i := from; i < len(lengths); i++ {
				if lengths[i]+cutting.Kerf <= left+1e-6 {
					more = true
					try(i, left-lengths[i]-cutting.Kerf, append(slices.Clone(of), i))
				}
			}
			if more || len(of) == 0 { // a rod of which no more can be sawn is enough
				return
			}
			for i := range lengths {
				n := 0
				for _, k := range of {
					if k == i {
						n++
					}
				}
				if n > 0 {
					got[i] += fmt.Sprintf(" + %d v%d", n, v)
				}
			}
			used += fmt.Sprintf(" + v%d", v)
			lp.whole += fmt.Sprintf("v%d\n", v)
			v++
		}
		try(0, rod.Length+cutting.Kerf, nil)
		if used != "" {
			lp.row("%s%s <= %d", used, lp.packsOf(key{"axle", rod.Name}), rod.Count)
		}
	}
	for i, l := range lengths {
		lp.row("%s%s >= 0", got[i], pieces[l])
	}
}

// baskets are packs, least orders and carriage.
func (lp *program) baskets() {
	const most = 1000 // packs, more than anybody needs
	for o, offer := range lp.q.List.Offers {
		lp.money += fmt.Sprintf(" + %d y%d", offer.Price, o)
		lp.row("y%d - %d w%d <= 0\ny%d - %d w%d >= 0\nw%d - z%d - f%d <= 0", o, most, o, o, offer.Least, o, o, offer.Supplier, offer.Supplier)
		lp.whole += fmt.Sprintf("y%d\n", o)
		lp.binary += fmt.Sprintf("w%d\n", o)
	}
	for i, s := range lp.q.List.Suppliers {
		lp.money += fmt.Sprintf(" + %d z%d + 0 f%d", s.Carriage, i, i)
		lp.binary += fmt.Sprintf("z%d\nf%d\n", i, i)
		spent := ""
		for o, offer := range lp.q.List.Offers {
			if offer.Supplier == i {
				spent += fmt.Sprintf(" + %d y%d", offer.Price, o)
			}
		}
		lp.row("z%d + f%d <= 1", i, i)
		if s.FreeFrom == 0 || spent == "" {
			lp.row("f%d = 0", i)
		} else {
			lp.row("%s - %d f%d >= 0", spent, s.FreeFrom, i)
		}
		if spent != "" {
			lp.row("%s - %d z%d - %d f%d >= 0", spent, s.Minimum, i, s.Minimum, i)
		}
	}
}
