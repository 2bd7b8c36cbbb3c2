package report

import (
	"io"

	"findrive/internal/design"
)

// TextOptions steer Text.
type TextOptions struct {
	Width  int  // of a line in terminal cells: 0 means 80; from 40 to 100
	Colour bool // bold and one accent colour, as a second cue only
	Stats  bool // the counts of the search
	Why    bool // reasons: each penalty term, and what the rules refused
	Asked  int  // how many proposals were asked for, if known: fewer are then all there are
	Full   int  // how many proposals are shown in full; 0 means 3, less than 0 none
}

// inFull is how many proposals are shown in full unless asked otherwise.
const inFull = 3

// Text writes the result for the person who is to build: plain words first,
// figures second, rounded as a ruler would. No line is wider than opt.Width, and
// without opt.Colour there are no escape codes. The error is from w.
func Text(w io.Writer, r *design.Result, opt TextOptions) error {
	p := newPage(opt.Width, opt.Colour)
	full := opt.Full
	if full == 0 {
		full = inFull
	}
	p.outcome(r, opt.Asked)
	if len(r.Proposals) > 1 {
		p.summary(r, full)
	}
	for i := range r.Proposals {
		if i >= full {
			break
		}
		p.proposal(r, i, opt)
	}
	if len(r.Proposals) == 0 || opt.Why {
		p.refusals(r)
	}
	if len(r.Proposals) > 0 {
		p.cautions(r)
	}
	if opt.Stats {
		p.stats(r)
	}
	_, err := io.WriteString(w, p.text.String())
	return err
}
