package stocktake

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The x of approx parts no size: it is read as rough, and told.
func TestRoughSizes(t *testing.T) {
	for size, outside := range map[string]string{"approx 10 mm": "10 mm", "approx. 20 mm": "20 mm", "approximately 20 mm": "20 mm", "20 mm approx": "20 mm", "approx 20mm": "20 mm", "max 20 mm": ""} {
		r, err := Read("l.csv", []byte("Kind;Item;Size;Bore;Qty\npulley;small;"+size+";2 mm;20\n"), Options{})
		require.NoError(t, err)
		if outside == "" {
			assert.Nil(t, r.Cupboard, size)
			require.NotEmpty(t, r.Lists[0].Rows[1].Remarks)
			assert.NotContains(t, r.Lists[0].Rows[1].Remarks[0].Text, `"ma"`, size)
			continue
		}
		assert.Contains(t, string(r.Cupboard), "outside = \""+outside, size)
		assert.Contains(t, string(r.Cupboard), "taken as", size)
	}
}
