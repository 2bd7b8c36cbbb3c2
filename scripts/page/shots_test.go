package main

import (
	"os"
	"path/filepath"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// shot writes a picture of the page, if there is a folder for them.
func shot(b *tab, name string) {
	b.t.Helper()
	dir := os.Getenv("FINDRIVE_SHOTS")
	if dir == "" {
		return
	}
	data, err := chromedp.Run(b.ctx, chromedp.FullScreenshot(100))
	require.NoError(b.t, err)
	require.NoError(b.t, os.WriteFile(filepath.Join(dir, name+".png"), data, 0o600))
}
