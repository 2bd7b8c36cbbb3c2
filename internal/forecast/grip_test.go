package forecast

import (
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/mechanics"
)

// The margin from which a band is taken to hold in every room covers the least grip there is.
func TestSureToGripCoversTheLeastGrip(t *testing.T) {
	grip := mechanics.BandGrip()
	require.Greater(t, sureToGrip, grip.Likely/grip.Low)
}
