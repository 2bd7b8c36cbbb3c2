//go:build !js

// Package browsertest starts a browser for tests that look at what a user would see.
package browsertest

import (
	"context"
	"os"
	"os/exec"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// Start starts a Chromium without a window, for no longer than the limit. Where none is
// installed the test is skipped, but under CI it fails.
//
// On a busy machine Chromium now and then dies before it says where it listens; nothing has
// been asked of it then, and another is started, three at most.
func Start(t *testing.T, limit time.Duration) context.Context {
	t.Helper()
	if _, err := exec.LookPath("chromium"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("chromium is needed")
		}
		t.Skip("chromium is not installed")
	}
	// Test machines often run as root, where Chromium has no sandbox; it only sees pages of our
	// own.
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath("chromium"), chromedp.NoSandbox)
	var err error
	for range 3 {
		ctx, cancel := chromedp.NewExecAllocator(context.Background(), options...)
		t.Cleanup(cancel)
		ctx, cancel = chromedp.NewContext(ctx)
		t.Cleanup(cancel)
		ctx, cancel = context.WithTimeout(ctx, limit)
		t.Cleanup(cancel)
		if err = chromedp.Do(ctx); err == nil {
			return ctx
		}
		t.Log("chromium did not start: ", err)
	}
	require.NoError(t, err)
	return nil
}
