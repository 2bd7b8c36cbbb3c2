package main

import (
	"fmt"
	"io"
	"os"
	"time"

	"golang.org/x/term"

	"findrive/internal/search"
)

// progress shows how far a search has come, on a terminal only and only once
// the search has lasted a second.
type progress struct {
	to      io.Writer
	show    bool
	started time.Time
	shown   bool
}

func newProgress(stderr io.Writer) *progress {
	f, ok := stderr.(*os.File)
	return &progress{to: stderr, show: ok && term.IsTerminal(int(f.Fd())), started: time.Now()}
}

func (p *progress) watch(at search.Progress) {
	if !p.show || time.Since(p.started) < time.Second {
		return
	}
	p.shown = true
	fmt.Fprintf(p.to, "\r\x1b[Ksearching: %d of %d parts of the search done, %d arrangements worked out, Ctrl-C stops and keeps the best", at.Done, at.Total, at.Stats.Finished)
}

func (p *progress) done() {
	if p.shown {
		fmt.Fprint(p.to, "\r\x1b[K")
	}
}
