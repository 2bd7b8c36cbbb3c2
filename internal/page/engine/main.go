//go:build js

// Command engine is the worker's end of the page: it takes acts from the script, has
// them done, and hands the replies back. One act is done at a time; a search can be
// stopped meanwhile.
package main

import (
	"context"
	"encoding/json"
	"runtime/debug"
	"sync"
	"syscall/js"
	"time"

	"findrive/internal/page"
)

// limit is how long a search may take, as in the command line.
const limit = time.Minute

// Memory is collected when it has grown by gcPercent, or comes near memoryLimit, in bytes. A
// browser has one thread for this and the search together, and with the usual hundred percent
// a search takes a twentieth longer; a telephone has less memory than the command line's limit
// may take.
const (
	gcPercent   = 400
	memoryLimit = 160 << 20
)

// meanwhile is the number of what is told while an act is done, in place of the act's.
const meanwhile = 0

// running is the act at work, so that it can be stopped, or what is done while there is none.
var running struct {
	sync.Mutex
	stop context.CancelCauseFunc
	idle context.CancelFunc
	next error // why the act that comes next is to be stopped, if it is
}

type act struct {
	number int
	event  string
}

func main() {
	debug.SetGCPercent(gcPercent)
	debug.SetMemoryLimit(memoryLimit)
	acts := make(chan act, 16)
	js.Global().Set("findriveAct", js.FuncOf(func(_ js.Value, args []js.Value) any {
		running.Lock()
		defer running.Unlock()
		if running.idle != nil {
			running.idle()
		}
		acts <- act{args[0].Int(), args[1].String()}
		return nil
	}))
	js.Global().Set("findriveStop", js.FuncOf(func(_ js.Value, args []js.Value) any {
		why := page.ErrOvertaken
		if args[0].String() == "user" {
			why = page.ErrStopped
		}
		running.Lock()
		defer running.Unlock()
		switch {
		case running.stop != nil:
			running.stop(why)
		case len(acts) > 0: // it has come, and what was done while there was none has not ended yet
			running.next = why
		}
		return nil
	}))
	session := page.New(page.WithLimits(limit))
	for a := range acts {
		reply(a.number, do(session, a.event))
		idle(session, acts)
	}
}

// idle lets a session do what it does while nothing is asked.
func idle(session *page.Session, acts chan act) {
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	running.Lock()
	running.idle = stop
	asked := len(acts) > 0
	running.Unlock()
	if !asked {
		session.Idle(ctx)
	}
	running.Lock()
	running.idle = nil
	running.Unlock()
}

// do does one act.
func do(session *page.Session, event string) *page.Reply {
	ctx, stop := context.WithCancelCause(context.Background())
	running.Lock()
	running.stop = stop
	if running.next != nil {
		stop(running.next)
		running.next = nil
	}
	running.Unlock()
	defer func() {
		running.Lock()
		running.stop = nil
		running.Unlock()
		stop(nil)
	}()
	var e page.Event
	if err := json.Unmarshal([]byte(event), &e); err != nil {
		return &page.Reply{Say: "This could not be read: " + err.Error()}
	}
	return session.Do(ctx, e, func(r *page.Reply) { reply(meanwhile, r) })
}

func reply(number int, r *page.Reply) {
	data, err := json.Marshal(r)
	if err != nil {
		data = []byte(`{"say":"The reply could not be written."}`)
	}
	js.Global().Call("findriveReply", number, string(data))
}
