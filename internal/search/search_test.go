package search

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// digits is a toy: numbers of a few digits, each digit with a price. Leaves may
// be forbidden. It stands for any problem with a tree, a bound and a tie rule.
type digits struct {
	places int
	price  [][]Cost        // [place][digit]
	banned map[string]bool // whole numbers that Finish refuses
	extra  map[string]Cost // charged by Finish, unknown to Bound
}

func (d digits) Root() string { return "" }

func (d digits) Whole(n string) bool { return len(n) == d.places }

func (d digits) Branch(n string) []string {
	if len(n) > 1 && d.banned[n[:1]] {
		return nil // a dead end: not whole, and nothing to choose
	}
	var out []string
	for i := range d.price[len(n)] {
		out = append(out, n+fmt.Sprint(i))
	}
	return out
}

func (d digits) Bound(n string) Cost {
	var sum Cost
	for i, c := range n {
		sum += d.price[i][c-'0']
	}
	for i := len(n); i < d.places; i++ {
		sum += slices.Min(d.price[i])
	}
	return sum
}

// Closer knows half of what Bound does not.
func (d digits) Closer(n string, _ Cost) (string, Cost) { return n, d.Bound(n) + d.extra[n]/2 }

func (d digits) Same(n, w string) bool { return n == w }

func (d digits) Tie(n, w string) int {
	if c := cmp.Compare(n, w[:len(n)]); c != 0 {
		return c
	}
	if len(n) < len(w) {
		return -1
	}
	return 0
}

func (d digits) Finish(_ context.Context, n string, limit Cost) Finished[string] {
	cost := d.Bound(n) + d.extra[n]
	if d.banned[n] || cost > limit {
		return Finished[string]{Cost: Unlimited, Open: Unlimited, Left: Unlimited}
	}
	return Finished[string]{n, cost, Unlimited, Unlimited}
}

// all lists every solution in the total order, by plain enumeration.
func (d digits) all() []Found[string, string] {
	var out []Found[string, string]
	var walk func(n string)
	walk = func(n string) {
		if len(n) < d.places {
			for _, c := range d.Branch(n) {
				walk(c)
			}
			return
		}
		if !d.banned[n] {
			out = append(out, Found[string, string]{n, n, d.Bound(n) + d.extra[n]})
		}
	}
	walk("")
	slices.SortFunc(out, func(a, b Found[string, string]) int {
		return cmp.Or(cmp.Compare(a.Cost, b.Cost), cmp.Compare(a.Node, b.Node))
	})
	return out
}

func drawDigits(t *rapid.T) digits {
	d := digits{places: rapid.IntRange(1, 4).Draw(t, "places"), banned: map[string]bool{}, extra: map[string]Cost{}}
	for range d.places {
		prices := rapid.SliceOfN(rapid.Int64Range(0, 3), 1, 6).Draw(t, "prices")
		row := make([]Cost, len(prices))
		for i, p := range prices {
			row[i] = Cost(p)
		}
		d.price = append(d.price, row)
	}
	for _, f := range d.all() {
		switch rapid.IntRange(0, 4).Draw(t, "fate") {
		case 0:
			d.banned[f.Node] = true
		case 1:
			d.extra[f.Node] = Cost(rapid.Int64Range(0, 4).Draw(t, "extra"))
		}
	}
	return d
}

func TestBestAgreesWithEnumeration(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDigits(t)
		keep := rapid.IntRange(1, 12).Draw(t, "keep")
		want := d.all()
		want = want[:min(keep, len(want))]
		got := Best(context.Background(), d, Options{Keep: keep, InOrder: rapid.Bool().Draw(t, "in order")})
		require.True(t, got.Proved)
		require.Equal(t, Unlimited, got.Open)
		require.Len(t, got.Best, len(want))
		for i := range want {
			require.Equal(t, want[i], got.Best[i], "place %d", i+1)
		}
	})
}

func TestThreadsChangeNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDigits(t)
		inOrder := rapid.Bool().Draw(t, "in order")
		one := Best(context.Background(), d, Options{Keep: 5, Threads: 1, InOrder: inOrder})
		for _, threads := range []int{2, 8} {
			require.Equal(t, one, Best(context.Background(), d, Options{Keep: 5, Threads: threads, InOrder: inOrder}))
		}
	})
}

func TestLimitKeepsDearerSolutionsOut(t *testing.T) {
	d := digits{places: 1, price: [][]Cost{{5, 1, 3}}}
	got := Best(context.Background(), d, Options{Keep: 3, Limit: 3})
	require.Len(t, got.Best, 2)
	assert.Equal(t, []string{"1", "2"}, []string{got.Best[0].Node, got.Best[1].Node})
}

func TestStoppedEarlyNeverContradictsTheFinishedSearch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDigits(t)
		finished := d.all()
		ctx, cancel := context.WithCancel(context.Background())
		left := rapid.IntRange(0, 30).Draw(t, "steps")
		got := Best(ctx, stopping{d, &left, cancel}, Options{Keep: 3, InOrder: rapid.Bool().Draw(t, "in order")})
		for _, f := range got.Best {
			require.Contains(t, finished, f)
		}
		if got.Proved {
			require.Len(t, got.Best, min(3, len(finished)))
			for i := range got.Best {
				require.Equal(t, finished[i], got.Best[i])
			}
			return
		}
		for _, f := range finished {
			seen := slices.Contains(got.Best, f)
			beaten := len(got.Best) == 3 && got.Best[2].Cost <= f.Cost
			require.True(t, seen || beaten || got.Open <= f.Cost, "%v was neither seen nor left open (%d)", f, got.Open)
		}
	})
}

// stopping ends the context after so many bounds.
type stopping struct {
	digits
	left *int
	stop context.CancelFunc
}

func (s stopping) Bound(n string) Cost {
	if *s.left--; *s.left == 0 {
		s.stop()
	}
	return s.digits.Bound(n)
}

func TestImpossibleRootIsProvedAtOnce(t *testing.T) {
	d := digits{places: 1, price: [][]Cost{{Unlimited}}}
	got := Best(context.Background(), d, Options{})
	assert.True(t, got.Proved)
	assert.Empty(t, got.Best)
	assert.EqualValues(t, 1, got.Stats.Refused)
}

func TestWatchHearsTheSearchGoOn(t *testing.T) {
	d := digits{places: 2, price: [][]Cost{{0, 1, 2}, {0, 1, 2}}}
	var heard []Progress
	Best(context.Background(), d, Options{Watch: func(p Progress) { heard = append(heard, p) }})
	require.NotEmpty(t, heard)
	assert.Equal(t, Unlimited, heard[len(heard)-1].Open)
}

// alike are digits of which those with the same digits in another order count as one.
type alike struct{ digits }

func sortedDigits(n string) string {
	b := []byte(n)
	slices.Sort(b)
	return string(b)
}

func (a alike) Same(n, w string) bool { return sortedDigits(n) == sortedDigits(w) }

// What is known already counts as found, and of those that count as one only the best is
// kept, whether it was known or not.
func TestWhatIsKnownChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := alike{drawDigits(t)}
		keep := rapid.IntRange(1, 12).Draw(t, "keep")
		var want []Found[string, string]
		for _, f := range d.all() {
			if !slices.ContainsFunc(want, func(b Found[string, string]) bool { return d.Same(b.Node, f.Node) }) {
				want = append(want, f)
			}
		}
		want = want[:min(keep, len(want))]
		var known []Found[string, string]
		for i := range want {
			if rapid.Bool().Draw(t, "known") {
				known = append(known, want[i])
			}
		}
		got := BestBesides(context.Background(), d, known, Options{Keep: keep, InOrder: rapid.Bool().Draw(t, "in order"), Threads: rapid.IntRange(1, 3).Draw(t, "threads")})
		require.True(t, got.Proved)
		require.Len(t, got.Best, len(want))
		for i := range want {
			require.Equal(t, want[i], got.Best[i], "place %d", i+1)
		}
	})
}
