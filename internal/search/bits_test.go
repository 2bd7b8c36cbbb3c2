package search

import (
	"context"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// bits is a toy in which some solutions are worked out bit by bit, and some come dearer at first.
type bits struct {
	digits
	mu   sync.Mutex
	left map[string]int  // how often it is to be asked again
	dear map[string]Cost // what it costs more until then
}

func (b *bits) Finish(ctx context.Context, n string, limit Cost) Finished[string] {
	b.mu.Lock()
	defer b.mu.Unlock()
	f := b.digits.Finish(ctx, n, limit)
	if b.left[n] == 0 || b.Bound(n) > limit {
		return f
	}
	b.left[n]--
	f.Left = b.Bound(n)
	if f.Cost < Unlimited {
		if f.Cost += b.dear[n]; b.dear[n] == 0 || f.Cost > limit {
			f.Cost = Unlimited
		}
	}
	return f
}

func drawBits(t *rapid.T) (digits, func() *bits) {
	d := drawDigits(t)
	left, dear := map[string]int{}, map[string]Cost{}
	for _, f := range d.all() {
		left[f.Node] = rapid.IntRange(0, 3).Draw(t, "bits")
		dear[f.Node] = Cost(rapid.Int64Range(0, 2).Draw(t, "dear"))
	}
	return d, func() *bits {
		b := &bits{digits: d, left: map[string]int{}, dear: dear}
		for n, k := range left {
			b.left[n] = k
		}
		return b
	}
}

// What is worked out bit by bit comes out as if it were worked out at once, on any number of
// threads.
func TestBitByBitChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, toy := drawBits(t)
		opt := Options{Keep: rapid.IntRange(1, 12).Draw(t, "keep"), InOrder: rapid.Bool().Draw(t, "in order"), Threads: 1}
		want := d.all()
		want = want[:min(opt.Keep, len(want))]
		one := Best(context.Background(), toy(), opt)
		require.True(t, one.Proved)
		require.Len(t, one.Best, len(want))
		for i := range want {
			require.Equal(t, want[i], one.Best[i], "place %d", i+1)
		}
		for _, opt.Threads = range []int{2, 8} {
			require.Equal(t, one, Best(context.Background(), toy(), opt))
		}
	})
}

// Watch is told while nothing is looked at, so that what it does depends on no thread.
func TestWatchIsToldWhileNothingIsLookedAt(t *testing.T) {
	d := &busy{digits: digits{places: 3, price: [][]Cost{{0, 1, 2, 3, 4, 5}, {0, 1, 2, 3, 4, 5}, {0, 1, 2, 3, 4, 5}}}}
	told := 0
	Best(context.Background(), d, Options{Keep: 200, Threads: 4, Watch: func(Progress) {
		told++
		require.Zero(t, d.now())
	}})
	require.Greater(t, told, 1)
}

// busy counts how many solutions are being worked out.
type busy struct {
	digits
	mu    sync.Mutex
	count int
}

func (b *busy) add(n int) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.count += n
}

func (b *busy) now() int {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.count
}

func (b *busy) Finish(ctx context.Context, n string, limit Cost) Finished[string] {
	b.add(1)
	defer b.add(-1)
	return b.digits.Finish(ctx, n, limit)
}

// What goes wrong in a node comes out as a panic that can be caught, and not as an end of the
// program: the page goes on after it.
func TestAPanicCanBeCaught(t *testing.T) {
	d := broken{digits{places: 1, price: [][]Cost{{0, 1}}}}
	require.PanicsWithValue(t, "broken", func() { Best(context.Background(), d, Options{}) })
}

type broken struct{ digits }

func (broken) Finish(context.Context, string, Cost) Finished[string] { panic("broken") }
