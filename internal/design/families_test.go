package design_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/cases"
	"findrive/internal/design"
)

// TestFamiliesAreWhatTheySay searches generated cases for their best: only the
// family that is out of reach has none.
func TestFamiliesAreWhatTheySay(t *testing.T) {
	t.Parallel()
	for _, family := range cases.Families() {
		for seed := range uint64(2) {
			cup, b := cases.Make(cases.Cupboard(), family, seed)
			r := find(t, cup, b, design.Options{Keep: 1})
			require.Equal(t, family == cases.JustOut, r.Status == design.NonePossible, "%s, seed %d: %s", family, seed, r.Status)
		}
	}
}
