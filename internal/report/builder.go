package report

import (
	"findrive/internal/assembly"
	"findrive/internal/brief"
	"findrive/internal/design"
)

// Builder makes of a drive for a brief what it is built from, with the tubes and washers
// between its pulleys; nil of one that cannot be built.
func Builder(b *brief.Brief) func(*design.Proposal) *assembly.Build {
	task := briefOf(&design.Result{Brief: b})
	return func(q *design.Proposal) *assembly.Build {
		p := proposalOf(q, b)
		out, err := assembly.Of(&task, &p)
		if err != nil {
			return nil
		}
		return out
	}
}
