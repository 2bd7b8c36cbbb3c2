package design_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/demo"
	"findrive/internal/design"
	"findrive/internal/parts"
)

// Nine volts on motors of three are no drive at all, and the refusal says so; on three
// cells each drive says that its motor gets more than it is made for.
func TestCellsDoNotBurnTheMotor(t *testing.T) {
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	b, err := brief.Read("brief.toml", demo.Brief())
	require.NoError(t, err)
	b.Cells, b.Tolerance = nil, 0.8
	cells := func(n int) *design.Result {
		c := *cup
		h := cup.Holders[0]
		h.Cells = n
		c.Holders = []parts.CellHolder{h}
		return find(t, &c, b, design.Options{Keep: 3})
	}
	six := cells(6)
	require.Empty(t, six.Proposals)
	var rules []constraints.Rule
	for _, no := range six.Refused {
		rules = append(rules, no.Rule)
	}
	assert.Contains(t, rules, constraints.TooManyVolts)
	three := cells(3)
	require.NotEmpty(t, three.Proposals)
	for _, p := range three.Proposals {
		assert.Contains(t, p.Notes[0]+p.Notes[len(p.Notes)-1], "is made for 3 V")
	}
}
