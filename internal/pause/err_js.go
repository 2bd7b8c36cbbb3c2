//go:build js

package pause

import (
	"context"
	"runtime"
	"sync"
	"syscall/js"
	"time"
)

// every is how long work goes on before events run. A person takes less than a tenth of
// a second for at once (R. B. Miller, Response time in man-computer conversational
// transactions, 1968).
const every = 30 * time.Millisecond

// rests are of the whole program: there is one thread, and its events run for all or
// for none. That, and the clock, is what no engine package has elsewhere. Neither
// changes an answer: they say only when to wait, never what to do.
var rests struct {
	sync.Mutex
	due  time.Time     // when the next rest is due
	read time.Time     // when the clock was looked at last
	skip int           // calls until it is looked at again
	over chan struct{} // closed when the present rest is over; nil if there is none
}

// Err is ctx.Err(): nil, or why the work should stop. If the last rest is a while back
// it lets the browser's events run first.
func Err(ctx context.Context) error {
	rests.Lock()
	if rests.skip > 0 || !due() {
		rests.skip = max(0, rests.skip-1)
		rests.Unlock()
		return ctx.Err()
	}
	if rests.over == nil {
		rests.over = make(chan struct{})
		begin(rests.over)
	}
	over := rests.over
	rests.Unlock()
	<-over
	runtime.Gosched() // what has just been called by a timer goes first: it may end ctx
	return ctx.Err()
}

// due tells whether a rest is due. The clock is the browser's and takes a while to look at: where
// calls come thick it is looked at every now and then.
func due() bool {
	now := time.Now()
	if now.Sub(rests.read) < time.Millisecond {
		rests.skip = 16
	}
	rests.read = now
	return !now.Before(rests.due)
}

// begin begins a rest. It ends by an event of the browser's and not by time.Sleep: the
// events run only when all goroutines wait, and a sleeper could wake before. It is a message
// to ourselves, before which all that came earlier is heard: a timer in a timer takes 4 ms at
// least (HTML standard, timers), an eighth of all work.
func begin(over chan struct{}) {
	channel := js.Global().Get("MessageChannel").New()
	here, there := channel.Get("port1"), channel.Get("port2")
	var end js.Func
	end = js.FuncOf(func(js.Value, []js.Value) any {
		end.Release()
		here.Call("close")
		rests.Lock()
		defer rests.Unlock()
		rests.due, rests.over = time.Now().Add(every), nil
		close(over)
		return nil
	})
	here.Set("onmessage", end)
	there.Call("postMessage", nil)
}
