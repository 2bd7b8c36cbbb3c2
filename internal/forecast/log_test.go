package forecast

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// The quick logarithm is as near as what is read from it allows for.
func TestLogAbout(t *testing.T) {
	for x := 1.0; x < 1e12; x *= 1.0007 {
		require.InDelta(t, math.Log(x), logAbout(x), 1e-8, "of %v", x)
	}
	require.Greater(t, logAbout(math.Inf(1)), 500.0)
}
