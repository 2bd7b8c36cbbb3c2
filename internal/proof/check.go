package proof

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/parts"
	"findrive/internal/pause"
	"findrive/internal/score"
)

// Verdict is what a proof comes to that is accepted.
type Verdict struct {
	Asked  int            // how many drives were asked for
	Ranked []score.Points // what each listed drive costs, best first
	Parts  int            // parts of the space that the proof speaks of
	Nodes  int            // bounds worked out in them
	Rows   int            // rows of pulleys looked through design by design
	// Left counts what was left out, reason by reason, the most frequent first.
	Left []Count
}

// Count is how often something was left out for a reason: a rule, or that it is too dear.
type Count struct {
	Reason string
	Times  int
}

// Check checks a proof against a cupboard and a brief. The listed drives are built from
// the cupboard's parts and held to the definition; then the checker walks through the
// whole space itself and holds each line of the proof to what it finds.
//
// Errors: ErrNotProof, a *Rejection, ErrOpen, or that ctx ended.
func Check(ctx context.Context, data []byte, cup *parts.Cupboard, b *brief.Brief) (*Verdict, error) {
	r, err := openProof(data)
	if err != nil {
		return nil, err
	}
	h, err := headerOf(cup, b, r.header.keep)
	switch {
	case err != nil:
		return nil, err
	case h.cupboard != r.header.cupboard:
		return nil, &Rejection{Says: "the proof is of another cupboard, or this one has changed since"}
	case h.brief != r.header.brief:
		return nil, &Rejection{Says: "the proof is of another brief, or this one has changed since"}
	}
	all := spaces(cup, b)
	ranking, err := rank(ctx, all, r.header.keep, r.list)
	switch {
	case err != nil && pause.Err(ctx) != nil:
		return nil, err
	case err != nil:
		return nil, &Rejection{Says: err.Error()}
	}
	if err := r.legend(legend(all)); err != nil {
		return nil, err
	}
	c := &checker{reader: r}
	w := newWalk(ctx, ranking, c)
	err = w.spaces(all)
	var missed *missedError
	switch {
	case errors.As(err, &missed):
		return nil, &Rejection{Line: r.read, Says: missed.says}
	case err != nil:
		return nil, err
	}
	if err := r.end(); err != nil {
		return nil, err
	}
	if c.open > 0 {
		return nil, fmt.Errorf("%w: %d of %d parts of the space are open", ErrOpen, c.open, r.lines)
	}
	return w.verdict(r.lines), nil
}

func (w *walk) verdict(lines int) *Verdict {
	v := &Verdict{Asked: w.keep, Parts: lines, Nodes: w.looked, Rows: w.settled}
	for i := range w.drive {
		v.Ranked = append(v.Ranked, w.drive[i].cost)
	}
	for reason, n := range w.counts {
		v.Left = append(v.Left, Count{reason, n})
	}
	slices.SortFunc(v.Left, func(a, b Count) int {
		return cmp.Or(cmp.Compare(b.Times, a.Times), strings.Compare(a.Reason, b.Reason))
	})
	return v
}

// checker holds a proof to what the walk finds.
type checker struct {
	*reader
	said string
	open int
}

// whole follows the proof.
func (c *checker) whole(at string, _ bool) bool { return c.isNext(at) }

// before reads what the proof says of a part. What it leaves open is not looked through.
func (c *checker) before(at string) (bool, error) {
	var err error
	if c.said, err = c.part(at); err != nil {
		return false, err
	}
	if c.said == open {
		c.open++
	}
	return c.said == open, nil
}

// after compares. A proof may promise less than is found, and never more.
func (c *checker) after(at string, f found) error {
	reject := func(format string, args ...any) error {
		return &Rejection{Line: c.read, Says: fmt.Sprintf(format, args...)}
	}
	if f.open {
		c.open++
		return nil
	}
	if c.said == nothing {
		if f.least != never {
			return reject("%s is said to have no design at all, and there may be some of %s points", at, inPoints(f.least))
		}
		return nil
	}
	v, err := strconv.ParseFloat(c.said, 64)
	switch {
	case err != nil || !(v >= 0):
		return reject("%s is said to cost %q at least, which is no penalty", at, short(c.said))
	case f.least == never || v <= f.least.Float()+1e-9:
		return nil
	}
	return reject("%s is said to cost %s points at least, and some of it may cost %s", at, c.said, inPoints(f.least))
}
