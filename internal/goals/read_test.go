package goals

import (
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/demo"
	"findrive/internal/parts"
)

// What a brief without a challenge is told to write can be written as it stands.
func TestWhatIsMissingCanBeWritten(t *testing.T) {
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	_, err = Read("brief.toml", demo.Brief(), cup)
	require.ErrorContains(t, err, `challenge is missing: write for example challenge = { goal = "fastest" }`)
	_, err = Read("brief.toml", append([]byte("challenge = { goal = \"fastest\" }\n"), demo.Brief()...), cup)
	require.NotContains(t, err.Error(), "challenge is missing")
	require.ErrorContains(t, err, `the goal "fastest" is for a vehicle`)
}
