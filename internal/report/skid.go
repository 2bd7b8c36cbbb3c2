package report

import (
	"slices"

	"findrive/internal/assembly"
	"findrive/internal/brief"
	"findrive/internal/design"
)

// skidWords warn of a vehicle without room for its second axle, which the search does not look for.
const skidWords = "there is no room for a second axle: that end slides on a skid, which drags more than the wheels it is reckoned with"

// onSkid reports whether a drive of a vehicle has no room for the second axle.
func onSkid(p *proposalJSON, b *brief.Brief) bool {
	task := briefOf(&design.Result{Brief: b})
	build, err := assembly.Of(&task, p)
	return err == nil && slices.ContainsFunc(build.Under, func(k int) bool { return build.Parts[k].Kind == assembly.Skid })
}

// notesOf are the warnings about a drive.
func notesOf(q *design.Proposal, b *brief.Brief) []string {
	if b.Model != brief.Vehicle {
		return q.Notes
	}
	return proposalOf(q, b).Notes
}
