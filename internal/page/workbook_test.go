package page

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A workbook that is dropped gives the same cupboard whichever program saved it.
func TestAWorkbookIsDropped(t *testing.T) {
	for name, part := range map[string]string{"21-term": "[pulley.", "22-drawers": "[pulley.", "23-beside": "[axle.8-mm-300-mm]"} {
		t.Run(name, func(t *testing.T) {
			var came []string
			for _, ext := range []string{".xlsx", ".ods"} {
				files, err := filepath.Glob(filepath.Join("..", "stocktake", "testdata", "*", name+ext))
				require.NoError(t, err)
				require.Len(t, files, 1)
				data, err := os.ReadFile(files[0])
				require.NoError(t, err)
				u := newUser(t)
				was := u.Cupboard
				u.do(Event{Act: "open", Files: []File{{Name: name + ext, Data: data}}})
				require.NotEqual(t, was, u.Cupboard, "%s was not taken: %s", ext, u.said)
				assert.Contains(t, u.Cupboard, part, ext)
				came = append(came, strings.ReplaceAll(u.Cupboard, ext, ""))
				u.do(Event{Act: "undo"})
				assert.Equal(t, was, u.Cupboard, ext)
			}
			assert.Equal(t, came[0], came[1])
		})
	}
}
