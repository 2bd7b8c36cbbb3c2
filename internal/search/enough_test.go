package search

import (
	"cmp"
	"context"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// waiting is a toy in which what stands behind the solution called last takes for ever.
type waiting struct {
	digits
	last string
}

func (w waiting) Finish(ctx context.Context, n string, limit Cost) Finished[string] {
	if w.last != "" && n > w.last {
		<-ctx.Done()
		return Finished[string]{Cost: Unlimited, Open: w.Bound(n), Left: Unlimited}
	}
	return w.digits.Finish(ctx, n, limit)
}

// TestEnoughAreTheFirst: the first so many in the order of looking, on any number of
// threads, and what stands behind them is not waited for.
func TestEnoughAreTheFirst(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDigits(t)
		want := d.all()
		slices.SortFunc(want, func(a, b Found[string, string]) int { return cmp.Compare(a.Node, b.Node) })
		enough := rapid.IntRange(1, 4).Draw(t, "enough")
		w := waiting{digits: d}
		var rest []Found[string, string]
		if len(want) >= enough {
			want, rest = want[:enough:enough], want[enough:]
			w.last = want[enough-1].Node
		}
		slices.SortFunc(want, func(a, b Found[string, string]) int {
			return cmp.Or(cmp.Compare(a.Cost, b.Cost), cmp.Compare(a.Node, b.Node))
		})
		one := Best(context.Background(), w, Options{Keep: enough, Enough: enough, InOrder: true, Threads: 1})
		require.Equal(t, len(want), len(one.Best))
		for i := range want {
			require.Equal(t, want[i], one.Best[i], "place %d", i+1)
		}
		if len(want) < enough {
			require.True(t, one.Proved)
		}
		for _, f := range rest {
			dearer := one.Proved && f.Cost >= one.Best[enough-1].Cost
			require.True(t, dearer || one.Open <= f.Cost, "%s is not known to be open", f.Node)
		}
		for _, threads := range []int{2, 8} {
			require.Equal(t, one, Best(context.Background(), w, Options{Keep: enough, Enough: enough, InOrder: true, Threads: threads}))
		}
	})
}
