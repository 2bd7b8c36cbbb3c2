package main

import (
	"encoding/base64"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A workbook that is dropped on the page becomes a cupboard, which is saved.
func TestAWorkbookIsDroppedInTheBrowser(t *testing.T) {
	for _, file := range []string{"held/21-term.xlsx", "other/21-term.ods"} {
		t.Run(filepath.Ext(file), func(t *testing.T) {
			data, err := os.ReadFile(filepath.Join("..", "..", "internal", "stocktake", "testdata", filepath.FromSlash(file)))
			require.NoError(t, err)
			b := open(t)
			b.run(fmt.Sprintf(`document.documentElement.dataset.idle = "no";
				const d = new DataTransfer();
				d.items.add(new File([Uint8Array.from(atob(%q), c => c.charCodeAt(0))], %q));
				document.body.dispatchEvent(new DragEvent("drop", {dataTransfer: d, bubbles: true, cancelable: true}))`,
				base64.StdEncoding.EncodeToString(data), filepath.Base(file)))
			b.rest()
			b.click("save-cupboard")
			saved := string(b.fileNamed("cupboard.toml"))
			assert.Contains(t, saved, "from "+filepath.Base(file))
			assert.Contains(t, saved, "[pulley.")
			assert.Empty(t, b.heard())
		})
	}
}
