package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/systeminfo"
	"github.com/chromedp/chromedp"

	"findrive/internal/demo"
)

// watched notes when the engine of a page is ready.
const watched = `new MutationObserver(() => { if (document.documentElement && document.documentElement.dataset.ready === "yes") window.readyAt ??= performance.now(); }).observe(document, {attributes: true, subtree: true, attributeFilter: ["data-ready"]});`

// waited is how long a user waits for what comes of a file that is dropped, in ms: for the first
// drive, or that there is none, and for all that comes.
const waited = `new Promise(done => {
	const from = performance.now();
	let first;
	document.getElementById("answer-found")?.remove();
	document.documentElement.dataset.idle = "no";
	new MutationObserver((_, o) => {
		if (document.getElementById("answer-found")) first ??= performance.now() - from;
		if (document.documentElement.dataset.idle === "yes") { o.disconnect(); const all = performance.now() - from; done([first ?? all, all]); }
	}).observe(document.documentElement, {attributes: true, childList: true, subtree: true});
	const d = new DataTransfer();
	for (const [name, text] of Object.entries(%s)) d.items.add(new File([text], name));
	document.body.dispatchEvent(new DragEvent("drop", {dataTransfer: d, bubbles: true, cancelable: true}));
})`

// openings times the built page in Chromium as its user meets it, by the clock: from the
// start of loading to the first paint and to the engine being ready, and, after a first look,
// from a file dropped to its answer; of that the processor time of the page too. The arguments
// are the page's file and how often it is opened; each time the browser is new. The least is
// shown, for what other work takes is no part of it, and the median.
func openings() error {
	if len(os.Args) < 3 {
		return errors.New("which file? Build it first: go run ./scripts/page -o findrive.html")
	}
	file, err := filepath.Abs(os.Args[2])
	if err != nil {
		return err
	}
	runs := 7
	if len(os.Args) > 3 {
		if runs, err = strconv.Atoi(os.Args[3]); err != nil {
			return err
		}
	}
	questions := map[string]map[string]string{
		"the example, for 1 turn in 4 s": {"brief.toml": strings.Replace(string(demo.Brief()), "1 turn in 3 s", "1 turn in 4 s", 1)},
		"the starter files":              {"cupboard.toml": string(demo.StarterCupboard()), "brief.toml": string(demo.StarterBrief())},
	}
	briefs, err := filepath.Glob(filepath.Join("testdata", "briefs", "*.toml"))
	if err != nil {
		return err
	}
	for _, b := range briefs {
		text, err := os.ReadFile(b)
		if err != nil {
			return err
		}
		questions["testdata/briefs/"+filepath.Base(b)] = map[string]string{"cupboard.toml": string(demo.Cupboard()), "brief.toml": string(text)}
	}
	firsts, times, spent := map[string][]time.Duration{}, map[string][]time.Duration{}, map[string][]time.Duration{}
	for range runs {
		if err := opened(file, questions, firsts, times, spent); err != nil {
			return err
		}
	}
	fmt.Println("| of the page | first drive: least, by the clock | median | all: least | median | least processor time |\n| --- | --- | --- | --- | --- | --- |")
	for _, name := range append([]string{firstPaint, engineReady}, slices.Sorted(maps.Keys(questions))...) {
		first, work := "| |", ""
		if len(spent[name]) > 0 {
			first, work = fmt.Sprintf("| %s | %s |", ms(slices.Min(firsts[name])), ms(median(firsts[name]))), ms(slices.Min(spent[name]))
		}
		fmt.Printf("| %s %s %s | %s | %s |\n", name, first, ms(slices.Min(times[name])), ms(median(times[name])), work)
	}
	return nil
}

// firstLook is how long nothing is asked at first: nobody reads the first screen and has a file
// dropped sooner.
const firstLook = 3 * time.Second

const (
	firstPaint  = "first paint"
	engineReady = "engine ready"
)

// opened opens the page once in a browser of its own and notes its times.
func opened(file string, questions map[string]map[string]string, firsts, times, spent map[string][]time.Duration) error {
	// Test machines often run as root, where Chromium has no sandbox; it only sees this page.
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath("chromium"), chromedp.NoSandbox)
	ctx, cancel := chromedp.NewExecAllocator(context.Background(), options...)
	defer cancel()
	ctx, cancel = chromedp.NewContext(ctx)
	defer cancel()
	ctx, cancel = context.WithTimeout(ctx, 10*time.Minute)
	defer cancel()
	if _, err := chromedp.Call(ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: watched}); err != nil {
		return err
	}
	if err := chromedp.Do(ctx, chromedp.Navigate("file://"+file)); err != nil {
		return err
	}
	if _, err := chromedp.Run(ctx, chromedp.Poll[bool](`document.documentElement.dataset.idle === "yes"`, chromedp.WithPollingTimeout(2*time.Minute))); err != nil {
		return err
	}
	since := func(ms float64) time.Duration { return time.Duration(ms * float64(time.Millisecond)) }
	note := func(name, script string) error {
		took, err := chromedp.Run(ctx, chromedp.Evaluate[float64](script))
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		times[name] = append(times[name], since(took))
		return nil
	}
	if err := note(firstPaint, `performance.getEntriesByName("first-contentful-paint")[0].startTime`); err != nil {
		return err
	}
	if err := note(engineReady, `window.readyAt`); err != nil {
		return err
	}
	time.Sleep(firstLook)
	for name, files := range questions {
		text, err := json.Marshal(files)
		if err != nil {
			return err
		}
		before, err := worked(ctx)
		if err != nil {
			return err
		}
		took, err := chromedp.Run(ctx, chromedp.Evaluate[[2]float64](fmt.Sprintf(waited, text), chromedp.EvalAwaitPromise))
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		firsts[name], times[name] = append(firsts[name], since(took[0])), append(times[name], since(took[1]))
		after, err := worked(ctx)
		if err != nil {
			return err
		}
		spent[name] = append(spent[name], after-before)
	}
	return nil
}

// worked is the processor time that the browser's pages have used.
func worked(ctx context.Context) (time.Duration, error) {
	all, err := chromedp.CallBrowser(ctx, systeminfo.GetProcessInfo, cdp.Empty{})
	if err != nil {
		return 0, err
	}
	sum := 0.0
	for _, p := range all.ProcessInfo {
		if p.Type == "renderer" {
			sum += p.CPUTime
		}
	}
	return time.Duration(sum * float64(time.Second)), nil
}
