package built

import "context"

// Advise answers a symptom alone, of which nothing else is said.
func Advise(ctx context.Context, b *Build, sym Symptom) (*Advice, error) {
	return b.advise(ctx, sym, false)
}
