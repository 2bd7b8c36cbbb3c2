package built

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/demo"
	"findrive/internal/drive"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// TestDays has a drive that turns on every day, is slower and less certain with tired cells,
// and with worse ones stands on some days and at last on all.
func TestDays(t *testing.T) {
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	data, err := os.ReadFile("testdata/blind/carousel.toml")
	require.NoError(t, err)
	b, err := Read("carousel.toml", data, cup)
	require.NoError(t, err)
	at := func(share float64) daily {
		tired := func(m *drive.Model) { m.Supply.Open *= units.Volts(share) }
		s, err := b.atWith(drive.Conditions{}, tired)
		require.NoError(t, err)
		return b.onDays(tired, float64(s.speed))
	}
	sound, tired, worse, flat := at(1), at(0.8), at(0.65), at(0.3)
	assert.Equal(t, 1.0, sound.share)
	assert.Less(t, tired.mean, sound.mean)
	assert.Greater(t, tired.sd, sound.sd)
	assert.Less(t, worse.share, 1.0)
	assert.Positive(t, worse.share)
	assert.Zero(t, flat.share)
}
