package ideas

import (
	"context"
	"slices"

	"findrive/internal/brief"
	"findrive/internal/parts"
)

// Free looks for single changes of the brief, with which all its sets can be built from the
// cupboard as it is, of one drive or, with mix, of different ones: nothing is bought. Those that cost least come first.
// all is false if there may be others. The error is design.Find's.
func Free(ctx context.Context, cup *parts.Cupboard, b *brief.Brief, mix bool, opt Options) (found []Change, all bool, err error) {
	k := asker{cup: cup, opt: opt, sets: b.Sets, mix: mix}
	return k.among(ctx, b, slices.Concat(words(cup, b), speed(b), model(b)))
}
