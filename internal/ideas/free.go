package ideas

import (
	"context"
	"slices"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/leeway"
	"findrive/internal/making"
	"findrive/internal/parts"
	"findrive/internal/supply"
)

// Free looks for single changes of the brief, with which all its sets can be built from the
// cupboard as it is, of one drive or, with mix, of different ones: nothing is bought. Those
// that cost least come first. all is false if there may be others. The error is
// design.Find's.
func Free(ctx context.Context, cup *parts.Cupboard, b *brief.Brief, mix bool, opt Options) (found []Change, all bool, err error) {
	k := asker{cup: cup, opt: opt, sets: b.Sets, mix: mix}
	return k.among(ctx, b, slices.Concat(words(cup, b), discs(cup, b), speed(b), model(b)))
}

// Made is the change by which pulleys are made of discs of the sheets there are, so that
// all sets of a brief can be built, of one drive or, with mix, of different ones; nil if
// that was not found. The error is design.Find's.
func Made(ctx context.Context, cup *parts.Cupboard, b *brief.Brief, mix bool, opt Options) (*Change, error) {
	k := asker{cup: cup, opt: opt, sets: b.Sets, mix: mix}
	found, _, err := k.among(ctx, b, discs(cup, b))
	if err != nil || len(found) == 0 {
		return nil, err
	}
	return &found[0], nil
}

// discs are the pulleys that can be made of the sheets there are.
func discs(cup *parts.Cupboard, b *brief.Brief) []way {
	if !making.Possible(cup, b) {
		return nil
	}
	return []way{{1, func(_ *parts.Cupboard, b *brief.Brief, _ int) { b.Making.Discs = true },
		func(b *brief.Brief, q *design.Proposal) string { return leeway.DiscWords(q, b.Sets) },
		func(drives []supply.Share) string {
			var all []making.Several
			for _, d := range drives {
				all = making.AddedAll(all, d.Drive.Drive.Pulleys(), d.Groups)
			}
			return leeway.DiscWordsOf(all)
		}}}
}
