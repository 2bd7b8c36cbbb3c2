package proof

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/drive"
	"findrive/internal/score"
)

// TestSleevesForIsEveryWayTried draws joints and sleeves, and tries every way to give each
// joint one kind.
func TestSleevesForIsEveryWayTried(t *testing.T) {
	t.Parallel()
	var every func(joints []packed, left []int) bool
	every = func(joints []packed, left []int) bool {
		if len(joints) == 0 {
			return true
		}
		for _, k := range joints[0].kinds {
			rest := append([]int{}, left...)
			if rest[k] -= joints[0].pieces; rest[k] >= 0 && every(joints[1:], rest) {
				return true
			}
		}
		return false
	}
	r := rand.New(rand.NewPCG(43, 47))
	enough := 0
	for range 20_000 {
		left := []int{r.IntN(7), r.IntN(7), r.IntN(7)}
		var joints []packed
		for range 1 + r.IntN(5) {
			j := packed{pieces: 1 + r.IntN(4)}
			for k := range left {
				if r.IntN(3) > 0 {
					j.kinds = append(j.kinds, k)
				}
			}
			joints = append(joints, j)
		}
		want := every(joints, left)
		require.Equal(t, want, sleevesFor(joints, left), "%+v of %v", joints, left)
		if want {
			enough++
		}
	}
	assert.Greater(t, enough, 2_000)
	assert.Less(t, enough, 18_000)
}

// The cheapest of a hub's joints is what its pulley is charged at least, wherever it stands.
func TestLeastOfJoints(t *testing.T) {
	s := &space{brief: &brief.Brief{Weights: brief.DefaultWeights()}}
	glued, sleeved := drive.Joint{Kind: drive.Glued}, drive.Joint{Kind: drive.Sleeved}
	least := score.Joint(s.brief.Weights, drive.Glued)
	assert.Less(t, least, score.Joint(s.brief.Weights, drive.Sleeved))
	assert.Equal(t, least, s.leastOf([]drive.Joint{glued, sleeved}))
	assert.Equal(t, least, s.leastOf([]drive.Joint{sleeved, glued}))
}
