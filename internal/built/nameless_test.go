package built

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/demo"
	"findrive/internal/parts"
)

// A name of no letters is a mistake like any other name that is not in the cupboard.
func TestAxleWithoutLetters(t *testing.T) {
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	data := strings.Replace(string(demo.Drive()), "[stage.1]\n", "[stage.1]\naxle = \"\"\n", 1)
	data = strings.Replace(data, "axle = \"dowel-5\"\n", "", 1)
	_, err = Read("f", []byte(data), cup)
	assert.ErrorContains(t, err, "stage.1.axle: found \"\", which is not in the cupboard")
}
