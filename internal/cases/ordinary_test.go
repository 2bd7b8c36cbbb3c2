package cases

import (
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
)

func TestOrdinaryCases(t *testing.T) {
	models := map[brief.Model]int{}
	for seed := range uint64(100) {
		cup, b, err := Ordinary(seed)
		require.NoError(t, err)
		models[b.Model]++
		require.LessOrEqual(t, len(cup.Pulleys), 6)
		require.LessOrEqual(t, len(cup.Bands), 4)
		again, same, err := Ordinary(seed)
		require.NoError(t, err)
		require.Equal(t, cup, again)
		require.Equal(t, b, same)
	}
	require.Len(t, models, 5)
	for model, n := range models {
		require.Greater(t, n, 10, model)
	}
}
