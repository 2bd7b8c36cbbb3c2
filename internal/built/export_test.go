package built

import "context"

// Advise answers a symptom alone, of which nothing else is said.
func Advise(ctx context.Context, b *Build, sym Symptom) (*Advice, error) {
	return b.advise(ctx, sym, false)
}

// Checks are all checks with what each shows.
func Checks() []Check {
	var out []Check
	for _, c := range checks {
		out = append(out, Check{Do: c.do, Tells: c.tells})
	}
	return out
}
