package main

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/cdproto/dom"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// choose chooses a file, as the browser's own window does.
func (b *tab) choose(id, file string) {
	b.t.Helper()
	b.run(`document.documentElement.dataset.idle = "no"`)
	doc, err := chromedp.Call(b.ctx, dom.GetDocument, dom.GetDocumentParams{})
	require.NoError(b.t, err)
	node, err := chromedp.Call(b.ctx, dom.QuerySelector, dom.QuerySelectorParams{NodeID: doc.Root.NodeID, Selector: "#" + id})
	require.NoError(b.t, err)
	_, err = chromedp.Call(b.ctx, dom.SetFileInputFiles, dom.SetFileInputFilesParams{Files: []string{file}, NodeID: node.NodeID})
	require.NoError(b.t, err)
	b.rest()
}

// Of a file that cannot be read it is said so, and it can be chosen again; a film is not read to its
// end.
func TestAFileThatCannotBeReadIsToldOf(t *testing.T) {
	b := open(t)
	file := filepath.Join(t.TempDir(), "list.csv")
	b.choose("open-files", file) // which is not there
	assert.Contains(t, b.text("last"), "list.csv could not be read")
	require.NoError(t, os.WriteFile(file, []byte("Item,Size,Qty\nPulley small,13 mm,20\n"), 0o600))
	b.choose("open-files", file)
	assert.Contains(t, b.text("kind-pulley"), "pulley-small")

	film := filepath.Join(t.TempDir(), "film.mp4")
	require.NoError(t, os.WriteFile(film, nil, 0o600))
	require.NoError(t, os.Truncate(film, 3<<30))
	began := time.Now()
	b.choose("open-files", film)
	assert.Contains(t, b.text("list-failed"), "film.mp4: the file has over 1 MB")
	t.Log("told after", time.Since(began))
	assert.Less(t, time.Since(began), 10*time.Second)
	assert.Empty(t, b.heard())
}

// What is printed is dark on white, also where the screen is light on dark.
func TestDarkIsForScreens(t *testing.T) {
	b := open(t)
	ink := func(media string) string {
		_, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: media, Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: "dark"}}})
		require.NoError(t, err)
		return eval[string](b, `getComputedStyle(document.documentElement).getPropertyValue("--ink")`)
	}
	assert.NotEqual(t, ink("screen"), ink("print"))
}
