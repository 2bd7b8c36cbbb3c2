package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"findrive/internal/browsertest"
)

// built is the page, built once for all tests.
var built = sync.OnceValues(func() ([]byte, error) { return build(context.Background()) })

// tab is the built page open in a browser, from a file.
type tab struct {
	t     *testing.T
	ctx   context.Context
	file  string // of the page
	saved string // where the browser saves files

	mu   sync.Mutex
	said []string // by the console, against the policy, of requests
}

// spy runs before the page's script: it keeps the worker, so that a test can harm it, and
// notes what the policy refuses.
const spy = `
window.Worker = class extends Worker { constructor(u) { super(u); window.theWorker = this; } };
document.addEventListener("securitypolicyviolation", e => console.error("policy: " + e.violatedDirective + " " + e.blockedURI));
`

// open opens the built page. Without a browser the test is skipped, but under CI it fails.
func open(t *testing.T) *tab {
	t.Helper()
	ctx := browsertest.Start(t, 7*time.Minute)
	data, err := built()
	require.NoError(t, err)
	b := &tab{t: t, file: filepath.Join(t.TempDir(), "findrive.html"), saved: t.TempDir()}
	require.NoError(t, os.WriteFile(b.file, data, 0o600))
	b.ctx = ctx
	_, err = chromedp.CallBrowser(ctx, browser.SetDownloadBehavior, browser.SetDownloadBehaviorParams{Behavior: browser.SetDownloadBehaviorBehaviorAllow, DownloadPath: b.saved})
	require.NoError(t, err)
	_, err = chromedp.Call(ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: spy})
	require.NoError(t, err)
	require.NoError(t, chromedp.Listen(ctx, b.hear))
	b.reload()
	return b
}

func (b *tab) hear(ev any) {
	b.mu.Lock()
	defer b.mu.Unlock()
	switch ev := ev.(type) {
	case *runtime.EventConsoleAPICalled:
		for _, a := range ev.Args {
			b.said = append(b.said, fmt.Sprintf("%s: %s", ev.Type, a.Value))
		}
	case *runtime.EventExceptionThrown:
		b.said = append(b.said, "exception: "+ev.ExceptionDetails.Text)
	case *network.EventRequestWillBeSent:
		if u := ev.Request.URL; !strings.HasPrefix(u, "file://"+filepath.Dir(b.file)) && !strings.HasPrefix(u, "blob:") && !strings.HasPrefix(u, "data:") {
			b.said = append(b.said, "request: "+u)
		}
	}
}

// heard is what was said so far, which is then forgotten.
func (b *tab) heard() []string {
	b.mu.Lock()
	defer b.mu.Unlock()
	out := b.said
	b.said = nil
	return out
}

// reload opens the page anew and waits until it rests.
func (b *tab) reload() {
	b.t.Helper()
	require.NoError(b.t, chromedp.Do(b.ctx, chromedp.Navigate("file://"+b.file)))
	b.rest()
}

// rest waits until no act is waiting or at work.
func (b *tab) rest() {
	b.t.Helper()
	_, err := chromedp.Run(b.ctx, chromedp.Poll[bool](`document.documentElement.dataset.idle === "yes"`, chromedp.WithPollingTimeout(90*time.Second)))
	require.NoError(b.t, err)
}

func eval[T any](b *tab, script string) T {
	b.t.Helper()
	v, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](script, chromedp.EvalAwaitPromise))
	require.NoError(b.t, err, script)
	return v
}

func (b *tab) run(script string) {
	b.t.Helper()
	eval[bool](b, "(() => { "+script+"; return true; })()")
}

// click presses a button and waits until what comes of it is there.
func (b *tab) click(id string) {
	b.t.Helper()
	require.True(b.t, eval[bool](b, fmt.Sprintf(`(() => { const el = document.getElementById(%q); if (!el) return false; el.click(); return true; })()`, id)), "there is no %s", id)
	b.rest()
}

// put puts a value into a field as a user who then goes on.
func (b *tab) put(id, value string) {
	b.t.Helper()
	text, _ := json.Marshal(value)
	require.True(b.t, eval[bool](b, fmt.Sprintf(`(() => { const el = document.getElementById(%q); if (!el) return false; el.focus(); el.value = %s; el.dispatchEvent(new Event("input", {bubbles: true})); el.dispatchEvent(new Event("change", {bubbles: true})); return true; })()`, id, text)), "there is no %s", id)
	b.rest()
}

func (b *tab) text(id string) string {
	b.t.Helper()
	return eval[string](b, fmt.Sprintf(`(document.getElementById(%q) || {textContent: ""}).textContent`, id))
}

func (b *tab) value(id string) string {
	b.t.Helper()
	return eval[string](b, fmt.Sprintf(`(document.getElementById(%q) || {value: ""}).value`, id))
}

// file is a file that the browser saved.
func (b *tab) fileNamed(name string) []byte {
	b.t.Helper()
	path := filepath.Join(b.saved, name)
	var data []byte
	require.Eventually(b.t, func() bool {
		var err error
		data, err = os.ReadFile(path)
		return err == nil && len(data) > 0
	}, 20*time.Second, 20*time.Millisecond, "%s was not saved", name)
	return data
}

// wide sets the width of the window, and the colours asked for.
func (b *tab) wide(width, height int64, features ...*emulation.MediaFeature) {
	b.t.Helper()
	require.NoError(b.t, chromedp.Do(b.ctx, chromedp.EmulateViewport(width, height)))
	_, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: features})
	require.NoError(b.t, err)
}
