//go:build !js

package sheet

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/browsertest"
)

// There is no program to run from within a browser.

// violation is what axe-core found wrong.
type violation struct {
	ID, Help string
	Nodes    []struct{ HTML string }
}

const runAxe = `axe.run(document, {runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}).then(r => r.violations)`

func pageBytes(t *testing.T, p *Page) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, p.HTML(&out))
	return out.Bytes()
}

// Every web page keeps the rules of WCAG 2.2 AA that a program can check, as
// axe-core (testdata/axe) reads them.
func TestPagesAreAccessible(t *testing.T) {
	axe, err := os.ReadFile(filepath.Join("testdata", "axe", "axe.min.js"))
	require.NoError(t, err)
	ctx := browsertest.Start(t, 4*time.Minute)
	check := func(name, path string) []violation {
		require.NoError(t, chromedp.Do(ctx, chromedp.Navigate("file://"+path), chromedp.Evaluate[chromedp.Void](string(axe))), name)
		found, err := chromedp.Run(ctx, chromedp.Evaluate[[]violation](runAxe, chromedp.EvalAwaitPromise))
		require.NoError(t, err, name)
		return found
	}
	dir := t.TempDir()
	write := func(name string, data []byte) string {
		path := filepath.Join(dir, name+".html")
		require.NoError(t, os.WriteFile(path, data, 0o600))
		return path
	}
	// The checker is awake: a page with faults has faults.
	require.NotEmpty(t, check("a bad page", write("bad", []byte(`<html><body><img src="x.png"><p style="color:#ccc">pale</p></body></html>`))))
	for _, name := range []string{"three-stages", "buggy"} {
		for _, p := range pages(t, set(t, name)) {
			if name == "buggy" && p.Name != BuildPage { // the others differ only in words
				continue
			}
			path := write(name+"-"+p.Name, pageBytes(t, &p))
			for _, width := range []int64{320, 1280} { // a telephone's, and a desk's
				require.NoError(t, chromedp.Do(ctx, chromedp.EmulateViewport(width, 800)))
				for _, v := range check(p.Title, path) {
					assert.Fail(t, v.ID+": "+v.Help, "%s, %s, %d: %+v", name, p.Name, width, v.Nodes)
				}
				useless, err := chromedp.Run(ctx, chromedp.Evaluate[int](`[...document.querySelectorAll("[tabindex]")].filter(e => e.scrollWidth <= e.clientWidth).length`))
				require.NoError(t, err)
				assert.Zero(t, useless, "%s, %s, %d: stops of the tab key where nothing can be moved", name, p.Name, width)
				over, err := chromedp.Run(ctx, chromedp.Evaluate[int](`document.documentElement.scrollWidth - innerWidth`))
				require.NoError(t, err)
				assert.LessOrEqual(t, over, 0, "%s, %s: wider than a screen of %d", name, p.Name, width)
			}
		}
	}
}
