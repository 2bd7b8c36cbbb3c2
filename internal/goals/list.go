package goals

import (
	"findrive/internal/design"
	"findrive/internal/units"
)

// entryTolerance is how far off its own likely speed a drive of a contest may be.
const entryTolerance = 0.25

// ListOf is one drive of a contest, by its rank, as a list of its own, so that paper can be
// printed for it, and it can be tried and measured: a brief that asks for the speed which it
// has, with the load and the slope of its score. No proof comes with it, for that is of the
// contest.
func ListOf(r *Result, rank int) *design.Result {
	e := &r.Entries[rank-1]
	b, p := *e.Score.Asked, *e.Proposal
	b.Speed.Turning, b.Speed.Linear = 0, 0
	if p.Linear != nil {
		// As fast as it is at its very holes, which is not quite what it is designed for.
		b.Speed.Linear, b.Speed.Words = p.Linear.Likely*units.MetresPerSecond(p.AtHoles/p.Speed.Likely), "the speed that it was entered with"
	} else {
		b.Speed.Turning, b.Speed.Words = p.AtHoles, "the speed that it was entered with"
	}
	b.Tolerance, b.Sets = entryTolerance, 1
	p.Rank, p.Target = 1, p.AtHoles
	return &design.Result{Cupboard: r.Cupboard, Brief: &b, Status: design.StoppedEarly, Proposals: []design.Proposal{p}}
}
