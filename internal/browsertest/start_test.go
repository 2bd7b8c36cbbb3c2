//go:build !js

package browsertest

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The first of two browsers dies as soon as it is started.
func TestABrowserThatDiesAtItsStartIsStartedAnew(t *testing.T) {
	Start(t, time.Minute) // or the test is skipped
	installed, err := exec.LookPath("chromium")
	require.NoError(t, err)
	dir := t.TempDir()
	died := filepath.Join(dir, "died")
	script := fmt.Sprintf("#!/bin/sh\n[ -e %[1]s ] && exec %[2]s \"$@\"\ntouch %[1]s\nexit 1\n", died, installed)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "chromium"), []byte(script), 0o700))
	t.Setenv("PATH", dir+string(os.PathListSeparator)+os.Getenv("PATH"))

	ctx := Start(t, time.Minute)
	sum, err := chromedp.Run(ctx, chromedp.Evaluate[int]("1 + 2"))
	require.NoError(t, err)
	assert.Equal(t, 3, sum)
	assert.FileExists(t, died)
}
