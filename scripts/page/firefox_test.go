package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// firefox is the built page open in Firefox, driven by its own protocol (Marionette): a
// length, a colon, and an array in JSON, over a connection of this machine.
type firefox struct {
	t     *testing.T
	conn  net.Conn
	in    *bufio.Reader
	n     int
	page  string
	saved string
}

// openFirefox opens the built page in Firefox. Without it the test is skipped, but under CI
// it fails.
func openFirefox(t *testing.T) *firefox {
	t.Helper()
	program, err := exec.LookPath("firefox-esr")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("firefox-esr is needed")
		}
		t.Skip("firefox-esr is not installed")
	}
	data, err := built()
	require.NoError(t, err)
	dir, err := os.MkdirTemp("", "findrive-firefox-") // it may still write when it is told to end
	require.NoError(t, err)
	t.Cleanup(func() { _ = os.RemoveAll(dir) })
	f := &firefox{t: t, page: filepath.Join(t.TempDir(), "findrive.html"), saved: t.TempDir()}
	require.NoError(t, os.WriteFile(f.page, data, 0o600))
	free, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	address := free.Addr().String()
	require.NoError(t, free.Close())
	port := address[strings.LastIndexByte(address, ':')+1:]
	prefs := fmt.Sprintf("user_pref(\"marionette.port\", %s);\nuser_pref(\"browser.download.folderList\", 2);\nuser_pref(\"browser.download.dir\", %q);\nuser_pref(\"pdfjs.disabled\", true);\n", port, f.saved)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "user.js"), []byte(prefs), 0o600))
	cmd := exec.Command(program, "--headless", "--marionette", "--profile", dir, "--no-remote")
	cmd.Env = append(os.Environ(), "HOME="+dir)
	require.NoError(t, cmd.Start())
	t.Cleanup(func() { _ = cmd.Process.Kill(); _ = cmd.Wait() })
	require.Eventually(t, func() bool {
		f.conn, err = net.Dial("tcp", address)
		return err == nil
	}, time.Minute, 100*time.Millisecond, "Firefox does not answer")
	t.Cleanup(func() { _ = f.conn.Close() })
	require.NoError(t, f.conn.SetDeadline(time.Now().Add(4*time.Minute)))
	f.in = bufio.NewReader(f.conn)
	f.read() // its greeting
	f.do("WebDriver:NewSession", map[string]any{})
	f.do("WebDriver:SetTimeouts", map[string]any{"script": 120_000})
	f.reload()
	return f
}

// read is what Firefox says next.
func (f *firefox) read() []byte {
	f.t.Helper()
	length, err := f.in.ReadString(':')
	require.NoError(f.t, err)
	n, err := strconv.Atoi(strings.TrimSuffix(length, ":"))
	require.NoError(f.t, err)
	data := make([]byte, n)
	_, err = io.ReadFull(f.in, data)
	require.NoError(f.t, err)
	return data
}

// do has a command done and returns its result.
func (f *firefox) do(command string, args map[string]any) json.RawMessage {
	f.t.Helper()
	f.n++
	data, err := json.Marshal([]any{0, f.n, command, args})
	require.NoError(f.t, err)
	_, err = fmt.Fprintf(f.conn, "%d:%s", len(data), data)
	require.NoError(f.t, err)
	var reply [4]json.RawMessage // 1, the number, what went wrong, the result
	require.NoError(f.t, json.Unmarshal(f.read(), &reply))
	require.Equal(f.t, "null", string(reply[2]), command)
	return reply[3]
}

// run runs a script in the page and returns what it returns, as a text.
func (f *firefox) run(script string, args ...any) string {
	f.t.Helper()
	var out struct{ Value any }
	require.NoError(f.t, json.Unmarshal(f.do("WebDriver:ExecuteScript", map[string]any{"script": script, "args": append([]any{}, args...)}), &out))
	return fmt.Sprint(out.Value)
}

// rest waits until no act is waiting or at work.
func (f *firefox) rest() {
	f.t.Helper()
	f.do("WebDriver:ExecuteAsyncScript", map[string]any{"args": []any{}, "script": `
		const end = arguments[arguments.length - 1];
		const look = setInterval(() => { if (document.documentElement.dataset.idle === "yes") { clearInterval(look); end(true); } }, 20);`})
}

func (f *firefox) reload() {
	f.t.Helper()
	f.do("WebDriver:Navigate", map[string]any{"url": "file://" + f.page})
	f.rest()
}

func (f *firefox) click(id string) {
	f.t.Helper()
	require.Equal(f.t, "true", f.run(`const el = document.getElementById(arguments[0]); if (el) el.click(); return el !== null;`, id), "there is no %s", id)
	f.rest()
}

func (f *firefox) put(id, value string) {
	f.t.Helper()
	f.run(`const el = document.getElementById(arguments[0]); el.focus(); el.value = arguments[1];
		for (const kind of ["input", "change"]) el.dispatchEvent(new Event(kind, {bubbles: true}));`, id, value)
	f.rest()
}

func (f *firefox) text(id string) string {
	f.t.Helper()
	return f.run(`return (document.getElementById(arguments[0]) || {textContent: ""}).textContent;`, id)
}

func (f *firefox) fileNamed(name string) []byte {
	f.t.Helper()
	var data []byte
	require.Eventually(f.t, func() bool {
		var err error
		data, err = os.ReadFile(filepath.Join(f.saved, name))
		return err == nil && len(data) > 0
	}, 20*time.Second, 20*time.Millisecond, "%s was not saved", name)
	return data
}

// In Firefox too the page goes from a pasted list to paper, its answers and papers are those
// of the command line, byte for byte, and what was done is there when it is opened again.
func TestFirefox(t *testing.T) {
	f, c := openFirefox(t), newCommandLine(t)
	f.click("go-paper")
	f.click("save-answer")
	f.click("pdf-template")
	assert.Equal(t, string(c.run("propose", "--format", "json")), string(f.fileNamed("drives.json")))
	c.run("sheet", "template", "--rank", "1", "-o", "paper")
	const name = "carousel-for-eight-groups-1-template.pdf"
	assert.Equal(t, c.file("paper/"+name), f.fileNamed(name))

	f.click("again")
	f.click("door-list")
	f.put("list-text", messy)
	f.click("list-go")
	f.put("left-1-count", "18")
	f.put("left-1-size", "40 mm")
	f.click("left-1-go")
	f.click("to-question")
	f.put("brief-speed", "once every 4 seconds")
	f.click("to-answer")
	answered := f.text("outcome")
	require.Contains(t, answered, "classrooms")
	assert.Equal(t, "0", f.run(`return document.documentElement.scrollWidth - document.documentElement.clientWidth;`))
	f.reload()
	assert.Equal(t, answered, f.text("outcome"))
}
