package main

import (
	"encoding/base64"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// commandLine is the command line, built for a test, and how it is run in a folder of its own.
type commandLine struct {
	t            *testing.T
	program, dir string
}

func newCommandLine(t *testing.T) *commandLine {
	t.Helper()
	c := &commandLine{t, filepath.Join(t.TempDir(), "findrive"), t.TempDir()}
	out, err := exec.Command("go", "build", "-o", c.program, "findrive/cmd/findrive").CombinedOutput()
	require.NoError(t, err, string(out))
	return c
}

// run runs a command and returns what it prints.
func (c *commandLine) run(args ...string) []byte {
	c.t.Helper()
	cmd := exec.Command(c.program, args...)
	cmd.Dir = c.dir
	out, err := cmd.Output()
	require.NoError(c.t, err, "%v", args)
	return out
}

// file is a file that a command wrote.
func (c *commandLine) file(name string) []byte {
	c.t.Helper()
	data, err := os.ReadFile(filepath.Join(c.dir, filepath.FromSlash(name)))
	require.NoError(c.t, err)
	return data
}

// taken is a file that the browser saved, taken away so that another of its name can come.
func (b *tab) taken(name string) []byte {
	b.t.Helper()
	data := b.fileNamed(name)
	require.NoError(b.t, os.Remove(filepath.Join(b.saved, name)))
	return data
}

// drop drops a file on the page.
func (b *tab) drop(name string, data []byte) {
	b.t.Helper()
	b.run(fmt.Sprintf(`document.documentElement.dataset.idle = "no";
		const d = new DataTransfer();
		d.items.add(new File([Uint8Array.from(atob(%q), c => c.charCodeAt(0))], %q));
		document.body.dispatchEvent(new DragEvent("drop", {dataTransfer: d, bubbles: true, cancelable: true}))`,
		base64.StdEncoding.EncodeToString(data), name))
	b.rest()
}

// What is learned from a count on the page is the file that the command line writes, byte for
// byte, and so are the answer and the paper with it; it lasts over a reload, and is known when
// it is dropped again.
func TestWhatIsLearnedIsThatOfTheCommandLine(t *testing.T) {
	b, c := open(t), newCommandLine(t)
	b.click("go-built")
	b.put("built-counted", "11 turns in 30 s")
	b.click("built-learn")
	b.click("save-learned")
	b.click("save-model")
	c.run("measure", "--rank", "1", "--turns", "11 turns in 30 s", "-o", "calibration.toml")
	c.run("try", "--rank", "1", "-o", "drive.toml")
	assert.Equal(t, string(c.file("calibration.toml")), string(b.taken("calibration.toml")))
	assert.Equal(t, string(c.file("drive.toml")), string(b.fileNamed("drive.toml")))

	b.click("go-paper")
	b.click("save-answer")
	b.click("pdf-build")
	want := c.run("propose", "--calibration", "calibration.toml", "--format", "json")
	assert.Equal(t, string(want), string(b.taken("drives.json")))
	rank := regexp.MustCompile(`drive number (\d+)`).FindStringSubmatch(b.text("section-paper"))[1]
	c.run("sheet", "build", "--rank", rank, "--calibration", "calibration.toml", "-o", "paper")
	name := "carousel-for-eight-groups-" + rank + "-build.pdf"
	assert.Equal(t, c.file("paper/"+name), b.fileNamed(name))

	b.click("go-built")
	b.put("built-counted", "10 turns in 30 s")
	b.click("built-learn")
	b.click("save-learned")
	c.run("measure", "drive.toml", "--calibration", "calibration.toml", "--turns", "10 turns in 30 s", "-o", "again.toml")
	assert.Equal(t, string(c.file("again.toml")), string(b.taken("calibration.toml")))
	const from = "Learned from 2 counts: 11 turns in 30 s; 10 turns in 30 s."
	assert.Contains(t, b.text("learned-from"), from)
	b.reload()
	assert.Contains(t, b.text("learned-from"), from)

	b.click("forget")
	assert.Empty(t, b.text("learned-from"))
	b.drop("ours.toml", c.file("calibration.toml"))
	assert.Contains(t, b.text("answer-learned"), "Learned from the file ours.toml.")
	b.click("go-paper")
	b.click("save-answer")
	assert.Equal(t, string(want), string(b.taken("drives.json")))
	assert.Empty(t, b.heard())
}
