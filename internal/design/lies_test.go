package design

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/cases"
	"findrive/internal/drive"
)

// The pulls of every drive that is found lie no better than what bounds take for the best, and what
// turns with its axles weighs no less. Where there is one kind of rod it weighs just so much.
func TestBoundsKnowLiesAndWeights(t *testing.T) {
	narrowed := 0
	models := map[brief.Model]int{}
	for seed := uint64(1029000); seed < 1029060; seed++ {
		cup, b, err := cases.Ordinary(seed)
		require.NoError(t, err)
		tk := newTask(cup, b)
		for _, f := range tk.rising(t.Context(), Options{Keep: 3}, tk.under).Best {
			models[b.Model]++
			d, a, p := f.Solution.drive, tk.arrange(&f.Node), tk.upTo(f.Cost)
			for i := range a.stages {
				on := tk.onStage(i, a.head, a.driver[i], a.driven[i])
				assert.LessOrEqual(t, on.lie, d.Lies[i])
				if on.lie > drive.InLine {
					narrowed++
				}
				sits := a.head.weighs
				if i+1 < a.stages {
					sits = tk.onStage(i+1, a.head, a.driver[i+1], a.driven[i+1]).driverWeighs
				}
				weighs := drive.AxleWeight(d, b, i)
				assert.InDelta(t, float64(weighs), float64(sits+on.weighs), 1e-9, "there is one kind of rod")
				own := p.ownDrag(&f.Node, a.stages-1-i)
				assert.InDelta(t, float64(on.drag.Lo)*float64(weighs), float64(own), 1e-9)
				assert.LessOrEqual(t, tk.leastOwnDrag, own)
			}
			s := tk.settlingOf(t.Context(), &f.Node, unsettled-1)
			require.True(t, s.prepare())
			s.choice = f.Solution.choice
			for i, one := range s.choice.states[:a.stages] {
				s.states[i] = joined([]*state{one})
			}
			r, one := s.refiningOf()
			one.best, one.worst = f.Solution.lies, f.Solution.lies
			assert.True(t, r.narrow(&one), "%v", f.Solution.lies)
		}
	}
	assert.Len(t, models, 5)
	assert.Greater(t, narrowed, 20)
}
