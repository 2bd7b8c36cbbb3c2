package report

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"findrive/internal/brief"
	"findrive/internal/groups"
)

// The fewest points are said of a plan only where they are settled.
func TestFewestPointsAreSaidOnlyWhereProved(t *testing.T) {
	r := &groups.Result{Brief: &brief.Brief{Sets: 4}, Served: 4, Most: 4, Fewest: 2, Drives: 7, Shares: make([]groups.Share, 2), PointsProved: true}
	assert.Contains(t, groupsProof(r), "of the plans made of them this has the fewest points.")
	r.PointsProved = false
	assert.NotContains(t, groupsProof(r), "this has the fewest points")
	assert.Contains(t, groupsProof(r), "a plan with fewer points may be among those made of them.")
}
