package main

import (
	"fmt"
	"io"
	"sync"
	"time"

	"github.com/mattn/go-runewidth"

	"findrive/internal/search"
)

// progress is one line on a terminal that says the search is alive. It begins
// when the search has lasted a second, is written anew every second, and is
// wiped when the search is over. Elsewhere than on a terminal it says nothing.
type progress struct {
	to   io.Writer
	stop chan struct{}
	end  sync.WaitGroup

	mu     sync.Mutex
	worked int64 // drives worked out
}

func newProgress(stderr io.Writer) *progress {
	p := &progress{to: stderr, stop: make(chan struct{})}
	if capable(stderr) {
		p.end.Go(p.show)
	}
	return p
}

// watch hears how far the search is.
func (p *progress) watch(at search.Progress) {
	p.mu.Lock()
	p.worked = at.Stats.Finished
	p.mu.Unlock()
}

func (p *progress) show() {
	tick := time.NewTicker(time.Second)
	defer tick.Stop()
	shown := false
	for seconds := 1; ; seconds++ {
		select {
		case <-p.stop:
			if shown {
				fmt.Fprint(p.to, "\r\x1b[K")
			}
			return
		case <-tick.C:
		}
		cols, is := columns(p.to)
		if !is {
			cols = usual
		}
		p.mu.Lock()
		line := progressLine(seconds, p.worked, cols)
		p.mu.Unlock()
		fmt.Fprint(p.to, "\r\x1b[K"+line)
		shown = true
	}
}

// progressLine is the fullest line that leaves the last of so many columns
// free, where some terminals would begin a new line.
func progressLine(seconds int, worked int64, cols int) string {
	short := fmt.Sprintf("Searching for %d s", seconds)
	counted := fmt.Sprintf("%s, %d drives worked out", short, worked)
	for _, line := range []string{
		counted + ". Ctrl-C stops and keeps the best so far",
		counted + ". Ctrl-C keeps the best",
		counted,
		short,
	} {
		if runewidth.StringWidth(line) < cols {
			return line
		}
	}
	return short[:max(0, min(len(short), cols-1))]
}

func (p *progress) done() {
	close(p.stop)
	p.end.Wait()
}
