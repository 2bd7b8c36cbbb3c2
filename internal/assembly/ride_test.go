package assembly_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/assembly"
	"findrive/internal/assembly/assemblytest"
)

// A ride turns clear of the ends of all other axles, even when they have slid as far forward as
// their play lets them and its own as far back.
func TestRideClearsTheOtherAxles(t *testing.T) {
	tried := 0
	for seed := range uint64(400) {
		b, p := assemblytest.Drive(seed)
		o, err := assembly.Of(b, p)
		require.NoError(t, err)
		for _, k := range o.Shafts[o.Stages].Front {
			if o.Parts[k].Kind != assembly.Ride {
				continue
			}
			tried++
			for i := 1; i < o.Stages; i++ {
				assert.GreaterOrEqual(t, float64(o.Shafts[i].From-o.Parts[k].To), 2.0, "seed %d", seed)
			}
		}
	}
	assert.Greater(t, tried, 20)
}
