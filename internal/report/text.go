package report

import (
	"io"

	"findrive/internal/design"
	"findrive/internal/why"
)

// TextOptions steer Text.
type TextOptions struct {
	Width  int  // of a line in terminal cells: 0 means 80; from 40 to 100
	Colour bool // bold and one accent colour, as a second cue only
	Stats  bool // the counts of the search
	Why    bool // reasons: each penalty term, and what the rules refused
	Asked  int  // how many proposals were asked for, if known: fewer are then all there are
	Full   int  // how many proposals are shown in full besides; 0 means none
	// Next is what to do next, a command to copy, with %d for the rank of a drive; empty
	// for none.
	Next func(rank int) string
	// NextWhy is the command that says more where there is no drive; empty for none.
	NextWhy string
	// Instead is what package why found where there is no drive; may be nil.
	Instead *why.Answer
}

// Text writes the result for the person who is to build: plain words first,
// figures second, rounded as a ruler would. No line is wider than opt.Width, and
// without opt.Colour there are no escape codes. The error is from w.
func Text(w io.Writer, r *design.Result, opt TextOptions) error {
	p := newPage(opt.Width, opt.Colour)
	if len(r.Proposals) == 0 {
		p.none(r, opt)
	} else {
		p.found(r, opt)
	}
	if opt.Stats {
		p.stats(r)
	}
	_, err := io.WriteString(w, p.text.String())
	return err
}

// found writes the drives.
func (p *page) found(r *design.Result, opt TextOptions) {
	p.outcome(r)
	p.choices(r)
	p.drives(r, opt.Asked)
	p.counted(r)
	for i := range min(opt.Full, len(r.Proposals)) {
		p.proposal(r, i, opt)
	}
	if opt.Why && len(r.Refused) > 0 {
		p.account(r)
	}
	p.assumptions(r)
	p.cautions(r, opt.Full > 0)
	if opt.Next != nil {
		p.next(opt.Next(lead(r).Rank))
	}
}
