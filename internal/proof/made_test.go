package proof

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"findrive/internal/brief"
	"findrive/internal/demo"
	"findrive/internal/drive"
	"findrive/internal/parts"
	"findrive/internal/score"

	"github.com/stretchr/testify/require"
)

// The discs of every pulley that is made are counted, of those alike too, and each kind is
// charged once, stage by stage from the output back.
func TestMadePulleysOfTwoStages(t *testing.T) {
	t.Parallel()
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	b, err := brief.ReadFor("brief.toml", demo.Brief(), cup)
	require.NoError(t, err)
	b.Sets = 1
	s := discs(cup, b)
	r := rand.New(rand.NewPCG(113, 127))
	several := 0
	for range 300 {
		row := &row{space: s, hd: &head{stages: 2}}
		count, kinds := 0, map[int]bool{}
		for i := range 2 {
			row.pairs[i] = pair{r.IntN(len(s.pulleys)), r.IntN(len(s.pulleys))}
			if i == 1 && r.IntN(3) == 0 {
				row.pairs[1] = row.pairs[0]
			}
			for _, p := range []int{row.pairs[i].driven, row.pairs[i].driver} {
				if m := s.pulleys[p].Part.Made; m != nil {
					count += m.Count()
					kinds[p] = true
				}
			}
		}
		assert.Equal(t, score.Made(s.brief.Weights, len(kinds)), row.newlyMade(0)+row.newlyMade(1))
		if count == 0 {
			continue
		}
		several++
		s.cup.Discs.Most = count
		assert.True(t, row.enoughDiscs(), "%d discs", count)
		s.cup.Discs.Most = count - 1
		assert.False(t, row.enoughDiscs(), "%d discs", count)
	}
	assert.Greater(t, several, 100)
}

// Sleeves that are listed are counted at drivers, driven pulleys and wheels, for all sets.
func TestEnoughSleevesListed(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		joints [5]bool // driver and driven of two stages, and the output: packed out or not
		nexts  int
		taken  int
	}{
		{[5]bool{true}, 1, 1}, {[5]bool{false, true}, 1, 1}, {[5]bool{true, true, true, true}, 0, 4}, {[5]bool{false, false, true}, 1, 1},
		{[5]bool{4: true}, 4, 4}, {[5]bool{true, true, true, true, true}, 4, 8}, {[5]bool{4: true}, 1, 1},
	} {
		for sets := 1; sets <= 2; sets++ {
			word := func(k int) string {
				if c.joints[k] {
					return fmt.Sprint(drive.Sleeved, " tube")
				}
				return drive.PushFit.String()
			}
			l := &Listed{Stages: []ListedStage{{DriverJoint: word(0), DrivenJoint: word(1)}, {DriverJoint: word(2), DrivenJoint: word(3)}}, OutputJoint: word(4)}
			for _, there := range []int{c.taken*sets - 1, c.taken * sets} {
				s := &space{brief: &brief.Brief{Sets: sets}, sleeves: []parts.Kind[parts.Sleeve]{{Names: []string{"tube"}, Count: there}}}
				r := &row{space: s, hd: &head{stages: 2}}
				r.rods[1] = &axleWay{nexts: c.nexts}
				assert.Equal(t, there == c.taken*sets, r.enoughSleeves(l), "%+v, %d sets, %d there", c, sets, there)
			}
		}
	}
}
