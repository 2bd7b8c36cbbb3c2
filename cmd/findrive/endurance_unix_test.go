//go:build unix

package main

import (
	"bytes"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/demo"
)

// filesIn are the files in a folder and below by their names, with what is in them.
func filesIn(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	require.NoError(t, filepath.WalkDir(dir, func(path string, at fs.DirEntry, err error) error {
		if err != nil || at.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		out[strings.TrimPrefix(path, dir)] = string(data)
		return err
	}))
	return out
}

// writes are commands that write files into a folder.
func writes(t *testing.T, dir string) map[string][]string {
	t.Helper()
	list := filepath.Join(t.TempDir(), "list.csv")
	require.NoError(t, os.WriteFile(list, []byte("kind,name,outside mm,bore mm,qty\n"+repeated(300, "pulley,p%d,40,5,8\n")), 0o600))
	answer, err := filepath.Abs("../../internal/views/testdata/buggy.json")
	require.NoError(t, err)
	return map[string][]string{
		"start": {"start", dir},
		"sheet": {"sheet", "--from", answer, "--as", "html,csv", "-o", dir, "--force"},
		"stock": {"stock", list, "-o", filepath.Join(dir, "cupboard.toml")},
	}
}

// TestKilledWhileWriting ends commands at random moments as a power cut does: each
// file is then there whole, or as it was before, and nothing else but hidden files.
func TestKilledWhileWriting(t *testing.T) {
	t.Parallel()
	for name := range writes(t, "") {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			begun := time.Now()
			out, err := exec.Command("findrive", writes(t, dir)[name]...).CombinedOutput()
			require.NoError(t, err, string(out))
			took := time.Since(begun)
			whole := filesIn(t, dir)
			require.NotEmpty(t, whole)
			for range 12 {
				dir := t.TempDir()
				before := map[string]string{}
				if name == "sheet" { // the only one that writes over files
					for file := range whole {
						before[file] = "as it was"
						require.NoError(t, os.WriteFile(filepath.Join(dir, file), []byte(before[file]), 0o600))
					}
				}
				findrive := exec.Command("findrive", writes(t, dir)[name]...)
				require.NoError(t, findrive.Start())
				// It is killed at any moment, most likely while it writes.
				time.Sleep(took * time.Duration(20+rand.IntN(80)) / 100)
				_ = findrive.Process.Kill()
				_ = findrive.Wait()
				after := filesIn(t, dir)
				for file, data := range after {
					if !strings.HasPrefix(filepath.Base(file), ".findrive-") {
						require.True(t, data == whole[file] || data == before[file], "%s is neither whole nor as it was", file)
					}
				}
				for file := range before {
					require.Contains(t, after, file)
				}
			}
		})
	}
}

// TestLeftOversAreCleared: what a killed command left behind goes when the next one
// writes there, but not what another may be writing just now.
func TestLeftOversAreCleared(t *testing.T) {
	dir := t.TempDir()
	for name, age := range map[string]time.Duration{".findrive-1": 2 * time.Hour, ".findrive-2": 0, ".findrive-notes": 2 * time.Hour, "findrive-3": 2 * time.Hour} {
		path := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(path, nil, 0o600))
		require.NoError(t, os.Chtimes(path, time.Now().Add(-age), time.Now().Add(-age)))
	}
	require.NoError(t, writeFiles([]file{{filepath.Join(dir, "a.txt"), []byte("a")}}, false, ""))
	left := filesIn(t, dir)
	assert.NotContains(t, left, "/.findrive-1")
	assert.Contains(t, left, "/.findrive-2")
	assert.Contains(t, left, "/.findrive-notes")
	assert.Contains(t, left, "/findrive-3")
	assert.Equal(t, "a", left["/a.txt"])
}

// TestNoRoom lets no file grow beyond 2 kB, as on a disc that is nearly full.
func TestNoRoom(t *testing.T) {
	t.Parallel()
	for name := range writes(t, "") {
		dir := t.TempDir()
		limited := exec.Command("sh", append([]string{"-c", `ulimit -f 4; exec findrive "$@"`, "sh"}, writes(t, dir)[name]...)...)
		out, err := limited.CombinedOutput()
		require.Error(t, err, name)
		assert.Equal(t, exitFailure, limited.ProcessState.ExitCode(), name)
		assert.Regexp(t, `^findrive: cannot write .*: file too large\n$`, string(out), name)
		assert.Empty(t, filesIn(t, dir), name)
	}
}

// TestFolderNotOurs writes into a folder that only may be read.
func TestFolderNotOurs(t *testing.T) {
	t.Parallel()
	for name := range writes(t, "") {
		dir := t.TempDir()
		require.NoError(t, os.Chmod(dir, 0o555))
		args := append([]string{"findrive"}, writes(t, dir)[name]...)
		if os.Geteuid() == 0 { // whom modes do not stop
			args = append([]string{"setpriv", "--bounding-set=-dac_override", "--inh-caps=-dac_override"}, args...)
		}
		refused := exec.Command(args[0], args[1:]...)
		out, err := refused.CombinedOutput()
		require.Error(t, err, "%s: %s", name, out)
		assert.Equal(t, exitFailure, refused.ProcessState.ExitCode(), name)
		assert.Regexp(t, `^findrive: cannot write .*: permission denied\n$`, string(out), name)
		assert.Empty(t, filesIn(t, dir), name)
	}
}

// TestNowhereToAnswer answers into a full disc, and into a pipe whose reader has gone.
func TestNowhereToAnswer(t *testing.T) {
	t.Parallel()
	for _, line := range []string{"propose --time-limit 1ns", "hoist", "explain", "--help", "propose --help", "--version", "completion bash"} {
		full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
		require.NoError(t, err)
		var said bytes.Buffer
		findrive := exec.Command("findrive", strings.Fields(line)...)
		findrive.Stdout, findrive.Stderr = full, &said
		_ = findrive.Run()
		require.NoError(t, full.Close())
		assert.Equal(t, exitFailure, findrive.ProcessState.ExitCode(), line)
		assert.Regexp(t, `^findrive: cannot write the answer: .*no space left on device\n$`, said.String(), line)

		r, w, err := os.Pipe()
		require.NoError(t, err)
		require.NoError(t, r.Close())
		said.Reset()
		findrive = exec.Command("findrive", strings.Fields(line)...)
		findrive.Stdout, findrive.Stderr = w, &said
		require.Error(t, findrive.Run(), line)
		require.NoError(t, w.Close())
		assert.Empty(t, said.String(), line)
	}
}

// TestCtrlCAtAnyMoment interrupts a search that would last minutes at random moments:
// it tells the best so far with the exit code for that. Only before it has begun to
// listen does it end at once, and then with no half of an answer.
func TestCtrlCAtAnyMoment(t *testing.T) {
	t.Parallel()
	wanted := bytes.ReplaceAll(demo.Brief(), []byte("max_stages = 3"), []byte("max_stages = 4"))
	wanted = append([]byte("tolerance = \"80 %\"\n"), bytes.ReplaceAll(wanted, []byte("\ntolerance ="), []byte("\n# tolerance ="))...)
	brief := filepath.Join(t.TempDir(), "brief.toml")
	require.NoError(t, os.WriteFile(brief, wanted, 0o600))
	cupboard := filepath.Join(t.TempDir(), "cupboard.toml")
	require.NoError(t, os.WriteFile(cupboard, demo.Cupboard(), 0o600))
	listened := 0
	for range 24 {
		var out, said bytes.Buffer
		findrive := exec.Command("findrive", "propose", "-c", cupboard, "-b", brief, "--keep", "1000", "--full", "1")
		findrive.Stdout, findrive.Stderr = &out, &said
		require.NoError(t, findrive.Start())
		time.Sleep(time.Duration(rand.IntN(300)) * time.Millisecond) // Ctrl-C at any moment
		require.NoError(t, findrive.Process.Signal(os.Interrupt))
		require.Error(t, findrive.Wait())
		assert.Empty(t, said.String())
		if status := findrive.ProcessState.Sys().(syscall.WaitStatus); status.Signaled() {
			assert.Equal(t, syscall.SIGINT, status.Signal())
			assert.Empty(t, out.String())
			continue
		}
		listened++
		assert.Equal(t, exitStopped, findrive.ProcessState.ExitCode())
		assert.Contains(t, out.String(), "Stopped early")
		assert.True(t, strings.HasSuffix(out.String(), "\n"))
	}
	require.Positive(t, listened)
}
