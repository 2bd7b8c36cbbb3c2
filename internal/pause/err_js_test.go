//go:build js

package pause_test

import (
	"context"
	"sync"
	"sync/atomic"
	"syscall/js"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"findrive/internal/pause"
)

// most is longer than any of this takes if events run, and ends a test in which they
// do not.
const most = 10 * time.Second

// work is work that never waits by itself, until it is stopped. It asks as often as it
// is told to, and returns why it stopped.
func work(ctx context.Context, ask time.Duration) error {
	for begun := time.Now(); time.Since(begun) < most; {
		for piece := time.Now(); time.Since(piece) < ask; {
		}
		if err := pause.Err(ctx); err != nil {
			return err
		}
	}
	return nil
}

func TestATimeLimitHolds(t *testing.T) {
	for _, ask := range []time.Duration{0, time.Millisecond, 50 * time.Millisecond} {
		ctx, stop := context.WithTimeout(context.Background(), 100*time.Millisecond)
		assert.Equal(t, context.DeadlineExceeded, work(ctx, ask), "asked every %s", ask)
		stop()
	}
}

// after calls a function by an event of the browser's, as a message would.
func after(d time.Duration, do func()) {
	var f js.Func
	f = js.FuncOf(func(js.Value, []js.Value) any { f.Release(); do(); return nil })
	js.Global().Call("setTimeout", f, d.Milliseconds())
}

func TestAMessageArrivesDuringWork(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	after(100*time.Millisecond, stop)
	assert.Equal(t, context.Canceled, work(ctx, time.Millisecond))
}

// Where one goroutine rests and another works on, events would run for neither.
func TestAMessageArrivesDuringWorkOfMany(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	after(100*time.Millisecond, stop)
	var all sync.WaitGroup
	var stopped atomic.Int32
	const many = 5
	for i := range many {
		all.Go(func() {
			if work(ctx, time.Duration(1+7*i)*time.Millisecond) != nil {
				stopped.Add(1)
			}
		})
	}
	all.Wait()
	assert.EqualValues(t, many, stopped.Load())
}

func TestMostCallsDoNotRest(t *testing.T) {
	rests := 0
	var tick js.Func
	tick = js.FuncOf(func(js.Value, []js.Value) any {
		rests++
		return nil
	})
	defer tick.Release()
	id := js.Global().Call("setInterval", tick, 1)
	defer js.Global().Call("clearInterval", id)
	calls := 0
	for begun := time.Now(); time.Since(begun) < 300*time.Millisecond; calls++ {
		assert.NoError(t, pause.Err(context.Background()))
	}
	assert.Positive(t, rests)
	assert.Greater(t, calls, 100*rests)
}
