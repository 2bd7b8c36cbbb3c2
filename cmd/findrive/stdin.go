package main

import (
	"context"
	"io"
	"time"
)

// stdin is standard input until the program is told to stop: whoever writes into the pipe, or types,
// may never come to an end.
type stdin struct {
	ctx     context.Context
	from    io.Reader
	stopped bool // before it was read to its end
}

// within ends it after a time too.
func (in *stdin) within(limit time.Duration) (stop context.CancelFunc) {
	in.ctx, stop = context.WithTimeout(in.ctx, limit)
	return stop
}

// Read reads what comes next. What is read after it was told to stop is lost.
func (in *stdin) Read(p []byte) (int, error) {
	type read struct {
		data []byte
		err  error
	}
	next := make(chan read, 1)
	go func() {
		own := make([]byte, len(p))
		n, err := in.from.Read(own)
		next <- read{own[:n], err}
	}()
	select {
	case got := <-next:
		return copy(p, got.data), got.err
	case <-in.ctx.Done():
		in.stopped = true
		return 0, context.Cause(in.ctx)
	}
}
