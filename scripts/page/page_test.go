package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// mostBytes is the budget of the file: what a school's mail and a stick take without a
// thought.
const mostBytes = 6_500_000

func TestThePageIsSmallEnough(t *testing.T) {
	data, err := built()
	require.NoError(t, err)
	assert.Less(t, len(data), mostBytes)
	for _, word := range []string{"http://localhost", "/root/", os.TempDir() + "/findrive-page"} {
		assert.False(t, bytes.Contains(data, []byte(word)), word)
	}
}

// What the page makes is what the command line makes, byte for byte.
func TestTheAnswersAreThoseOfTheCommandLine(t *testing.T) {
	b := open(t)
	b.click("go-paper")
	b.click("save-answer")
	b.click("all-pdf")
	b.click("csv-kit")

	dir := t.TempDir()
	program := filepath.Join(dir, "findrive")
	out, err := exec.Command("go", "build", "-o", program, "findrive/cmd/findrive").CombinedOutput()
	require.NoError(t, err, string(out))
	want, err := exec.Command(program, "propose", "--format", "json").Output()
	require.NoError(t, err)
	assert.Equal(t, string(want), string(b.fileNamed("drives.json")))
	out, err = exec.Command(program, "sheet", "--as", "pdf,csv", "-o", filepath.Join(dir, "paper")).CombinedOutput()
	require.NoError(t, err, string(out))
	names, err := filepath.Glob(filepath.Join(dir, "paper", "*"))
	require.NoError(t, err)
	require.Len(t, names, 8)
	for _, name := range names {
		want, err := os.ReadFile(name)
		require.NoError(t, err)
		assert.True(t, bytes.Equal(want, b.fileNamed(filepath.Base(name))), filepath.Base(name))
		if strings.HasSuffix(name, "-template.pdf") {
			printsAs(t, b, "template", name)
		}
	}
	assert.Empty(t, b.heard())
}

// printsAs holds what the browser prints of a paper that is looked at to the PDF of the
// same paper: as many sheets, and on each the ink within a quarter of a millimetre.
func printsAs(t *testing.T, b *tab, paper, file string) {
	t.Helper()
	b.click("look-" + paper)
	printed, err := chromedp.Call(b.ctx, page.PrintToPDF, page.PrintToPDFParams{PreferCSSPageSize: new(true), PrintBackground: new(true)})
	require.NoError(t, err)
	ours := filepath.Join(t.TempDir(), "printed.pdf")
	require.NoError(t, os.WriteFile(ours, printed.Data, 0o600))
	want, is := inked(t, file), inked(t, ours)
	require.Len(t, is, len(want))
	for i := range want {
		for k := range want[i] {
			assert.InDelta(t, want[i][k], is[i][k], 0.25, "sheet %d", i+1)
		}
	}
}

// inked is the box round the ink of each sheet of a PDF, in mm.
func inked(t *testing.T, file string) [][4]float64 {
	t.Helper()
	dir := t.TempDir()
	out, err := exec.Command("pdftoppm", "-r", "254", "-gray", file, filepath.Join(dir, "p")).CombinedOutput()
	require.NoError(t, err, string(out))
	names, err := filepath.Glob(filepath.Join(dir, "p*"))
	require.NoError(t, err)
	var all [][4]float64
	for _, name := range names {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		var wide, high, most int
		_, err = fmt.Fscanf(bytes.NewReader(data), "P5\n%d %d\n%d\n", &wide, &high, &most)
		require.NoError(t, err)
		dots := data[len(data)-wide*high:]
		box := [4]float64{float64(wide), float64(high), 0, 0}
		for i, d := range dots {
			if d < 128 {
				x, y := float64(i%wide), float64(i/wide)
				box = [4]float64{min(box[0], x), min(box[1], y), max(box[2], x), max(box[3], y)}
			}
		}
		for k := range box {
			box[k] /= 10
		}
		all = append(all, box)
	}
	return all
}

const messy = "Heron Lane DT cupboard\t\t\t\n" +
	"Item\tSize\tHow many\tWhere\n" +
	"motor pulley\t9mm\t10\tdrawer 1\n" +
	"Pulley small\t13mm\t20ish\tdrawer 2\n" +
	"Pulley 40mm\t4cm\tlots\tdrawer 3\n" +
	"Big pulley\t60 mm\t16\tshelf A\n" +
	"Rubber bands No. 16\tno. 16\t120\ttin B\n" +
	"Rubber bands No. 19\tno. 19\t100\ttin B\n" +
	"Rubber bands No. 24\tno. 24\t60\ttin B\n" +
	"Motor 3V\t\t10\tbox M\n" +
	"Battery holder 2 x AA\t2 x AA\t12\tbox C\n" +
	"Battery holder 1 x AA\t1 x AA\t12\tbox C\n" +
	"dowel 5mm\t5 x 300\t24\track\n"

// The door "I have a list", from a pasted table to paper, and everything kept.
func TestAListFromPasteToPaper(t *testing.T) {
	b := open(t)
	b.click("door-list")
	require.Equal(t, "list-text", eval[string](b, `(() => { const el = document.getElementById("list-text"); el.focus(); const d = new DataTransfer(); d.setData("text/plain", `+"`"+messy+"`"+`); document.execCommand("insertText", false, d.getData("text/plain")); return document.activeElement.id; })()`))
	b.click("list-go")
	assert.Contains(t, b.text("left"), "count them")
	b.put("left-1-count", "18")
	b.put("left-1-size", "40 mm")
	b.put("left-1-name", "pulley-40")
	b.click("left-1-go")
	assert.Contains(t, b.text("kind-pulley"), "pulley-40")
	b.click("to-question")
	b.put("brief-speed", "once every 4 seconds")
	assert.Contains(t, b.text("understood"), "15 turns a minute")
	b.click("to-answer")
	answered := b.text("outcome")
	require.NotEmpty(t, answered)
	b.reload()
	assert.Equal(t, answered, b.text("outcome"))
	b.click("undo")
	assert.Equal(t, "1 turn in 3 s", b.value("brief-speed"))
	b.click("redo")
	assert.Equal(t, "1 turn in 4 seconds", b.value("brief-speed"))
	b.click("save-cupboard")
	assert.Contains(t, string(b.fileNamed("cupboard.toml")), "pulley-40")
	assert.Empty(t, b.heard())
}

// A whole run by keyboard: from the first screen to a PDF with Tab, letters and Enter.
func TestAWholeRunByKeyboard(t *testing.T) {
	b := open(t)
	to := func(id string) {
		t.Helper()
		for range 200 {
			if eval[string](b, `document.activeElement.id`) == id {
				return
			}
			require.NoError(t, chromedp.Do(b.ctx, chromedp.KeyEvent("\t")))
		}
		require.Fail(t, "Tab does not lead to "+id)
	}
	enter := func(id string) {
		t.Helper()
		to(id)
		b.run(`document.documentElement.dataset.idle = "no"`)
		require.NoError(t, chromedp.Do(b.ctx, chromedp.KeyEvent("\r")))
		b.rest()
	}
	enter("door-list")
	to("list-text")
	require.NoError(t, chromedp.Do(b.ctx, chromedp.KeyEvent("Item,Size,Qty\rmotor pulley,9mm,8\rpulley small,13mm,20\rbig pulley,60 mm,16\rband A,no. 19,50\rband B,no. 24,50\rMotor 3V,,8\rbattery holder,1 x AA,9\rdowel,5 x 300,20\r")))
	enter("list-go")
	require.Equal(t, "step-cupboard", eval[string](b, `document.activeElement.id`))
	enter("to-question")
	enter("to-answer")
	require.NotEmpty(t, b.text("answer-found"), b.text("outcome"))
	enter("to-paper")
	enter("pdf-build")
	assert.Equal(t, "pdf-build", eval[string](b, `document.activeElement.id`))
	assert.Contains(t, string(b.fileNamed("our-carousel-1-build.pdf")[:5]), "%PDF-")
	assert.Empty(t, b.heard())
}

// A file that is dropped is read, wherever it falls, and its name stays a name.
func TestAFileIsDropped(t *testing.T) {
	b := open(t)
	b.run(`document.documentElement.dataset.idle = "no";
		const d = new DataTransfer();
		d.items.add(new File(["Item,Size,Qty\nPulley small,13 mm,20\n"], "<img src=x onerror=alert(1)>.csv"));
		document.body.dispatchEvent(new DragEvent("drop", {dataTransfer: d, bubbles: true, cancelable: true}))`)
	b.rest()
	assert.Contains(t, b.text("kind-pulley"), "pulley-small")
	assert.Contains(t, b.text("lacks"), "motor")
	b.run(`document.documentElement.dataset.idle = "no";
		const d = new DataTransfer();
		d.items.add(new File(["model = \"vehicle\"\nname = \"Dash\"\nspeed = \"0.3 m/s\"\n[load]\nmass = \"200 g\"\n[frame]\nlength = \"200 mm\"\nheight = \"80 mm\"\ndepth = \"90 mm\"\n"], "dash.toml"));
		document.body.dispatchEvent(new DragEvent("drop", {dataTransfer: d, bubbles: true, cancelable: true}))`)
	b.rest()
	assert.Equal(t, "Dash", b.text("whose"))
	assert.Empty(t, b.heard())
}

// A search that takes long is stopped by the button, and what it found so far stays.
func TestALongSearchIsStopped(t *testing.T) {
	b := open(t)
	b.click("go-question")
	b.run(`document.getElementById("brief-max_stages").value = "4"; document.getElementById("brief-max_stages").dispatchEvent(new Event("change", {bubbles: true}));
		document.getElementById("brief-speed").value = "1 turn in 90 s"; document.getElementById("brief-speed").dispatchEvent(new Event("change", {bubbles: true}));
		document.getElementById("go-answer").click()`)
	_, err := chromedp.Run(b.ctx, chromedp.Poll[bool](`document.documentElement.dataset.busy === "yes" && document.getElementById("stop") !== null`, chromedp.WithPollingTimeout(20*time.Second)))
	require.NoError(t, err)
	began := time.Now()
	b.run(`document.getElementById("stop").click()`)
	b.rest()
	took := time.Since(began)
	assert.Contains(t, b.text("answer-found")+b.text("answer-none"), "Search again, to the end")
	assert.Less(t, took, 5*time.Second, "the whole search takes longer")
	t.Log("stopped after", took)
	assert.Empty(t, b.heard())
}

// A second page of the same browser takes over what is kept, and this one says so.
func TestASecondPageIsNoticed(t *testing.T) {
	b := open(t)
	b.run(`document.documentElement.dataset.idle = "no"; dispatchEvent(new StorageEvent("storage", {key: "findrive.1.session", newValue: "{}"}))`)
	b.rest()
	assert.Contains(t, b.text("apart"), "open a second time")
	b.click("save-here")
	assert.Empty(t, b.text("apart"))
}

// A crash of the engine loses nothing, and the page goes on.
func TestACrashLosesNothing(t *testing.T) {
	b := open(t)
	b.click("go-question")
	b.put("brief-speed", "1 turn in 5 s")
	b.run(`document.documentElement.dataset.idle = "no"; window.theWorker.postMessage({act: "{}", number: {}})`)
	b.rest()
	assert.Contains(t, b.text("last"), "started anew")
	assert.Equal(t, "1 turn in 5 s", b.value("brief-speed"))
	b.put("brief-sets", "4")
	assert.Contains(t, b.text("line-answer"), "turns a minute")
}

// screens are the steps as they can be seen.
var screens = []struct {
	name string
	go_  func(b *tab)
}{
	{"first", func(b *tab) {}},
	{"how", func(b *tab) { b.click("door-how") }},
	{"list", func(b *tab) { b.click("door-list") }},
	{"headings", func(b *tab) { b.put("list-text", "red pulley\t35 mm\t22\n"); b.click("list-go") }},
	{"mend", func(b *tab) {
		b.put("list-text", messy+"lolly sticks\t\t500\t\n")
		b.click("list-go")
		b.run(`document.getElementById("left-others").open = true`)
	}},
	{"tubs", func(b *tab) { b.click("again"); b.click("door-tubs") }},
	{"cupboard", func(b *tab) { b.click("back-cupboard"); b.click("open-band-no.2d.16") }},
	{"mistake", func(b *tab) { b.put("cupboard-pulley-axle.2d.10-bore", "wide"); b.click("to-question") }},
	{"question", func(b *tab) { b.click("undo"); b.click("go-question") }},
	{"answer", func(b *tab) { b.click("go-answer"); b.click("choose-5") }},
	{"built", func(b *tab) { b.click("go-built"); b.put("built-seen", "the band slips"); b.click("built-go") }},
	{"learned", func(b *tab) {
		b.put("built-seen", "")
		b.put("built-counted", "10 turns in 30 s")
		b.click("built-learn")
	}},
	{"counts", func(b *tab) {
		b.click("undo")
		b.put("counts-text", "Foxes: 11 turns in 30 s\nOwls: 10 turns in 30 s\nVoles: 5 turns in 30 s\nNewts, 11, 30\n")
		b.click("counts-go")
	}},
	{"buy", func(b *tab) { b.click("undo"); b.click("go-buy"); b.click("prices-go") }},
	{"none", func(b *tab) { b.click("go-question"); b.put("brief-sets", "11"); b.click("go-answer") }},
	{"changed", func(b *tab) { b.click("make-1") }},
	{"paper", func(b *tab) { b.click("go-paper"); b.click("look-build") }},
	{"class", func(b *tab) { b.click("share"); b.click("look-class") }},
}

const runAxe = `axe.run(document, {runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}).then(r => r.violations)`

// violation is what axe-core found wrong.
type violation struct {
	ID, Help string
	Nodes    []struct{ HTML, FailureSummary string }
}

// Every step keeps the rules of WCAG 2.2 AA that a program can check, light and dark, and
// fits its window without sideways scrolling. With FINDRIVE_SHOTS=folder each is also
// written there as a picture.
func TestEveryStepIsForEveryone(t *testing.T) {
	axe, err := os.ReadFile(filepath.Join("..", "..", "internal", "sheet", "testdata", "axe", "axe.min.js"))
	require.NoError(t, err)
	b := open(t)
	b.run(string(axe))
	for _, s := range screens {
		s.go_(b)
		for _, scheme := range []string{"light", "dark"} {
			for _, width := range []int64{320, 768, 1366} {
				b.wide(width, 768, &emulation.MediaFeature{Name: "prefers-color-scheme", Value: scheme})
				name := fmt.Sprintf("%s-%d-%s", s.name, width, scheme)
				assert.LessOrEqual(t, eval[int](b, `document.documentElement.scrollWidth - document.documentElement.clientWidth`), 0, name+" scrolls sideways")
				shot(b, name)
				if (width == 320) != (scheme == "light") || width == 768 {
					continue // each width and each scheme once: what colours do is the same at each width
				}
				for _, v := range eval[[]violation](b, runAxe) {
					assert.Fail(t, v.ID+": "+v.Help, "%s: %+v", name, v.Nodes)
				}
			}
		}
		if s.name == "answer" || s.name == "cupboard" {
			b.wide(1920, 1080, &emulation.MediaFeature{Name: "forced-colors", Value: "active"})
			shot(b, s.name+"-forced")
			for _, v := range eval[[]violation](b, runAxe) {
				assert.Fail(t, v.ID+": "+v.Help, "%s with forced colours: %+v", s.name, v.Nodes)
			}
		}
	}
	assert.Empty(t, b.heard())
}
