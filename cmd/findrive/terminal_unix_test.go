//go:build unix

package main

import (
	"bytes"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"findrive/internal/demo"
)

// TestCtrlC interrupts a search that would last minutes. The cupboard comes by a
// pipe and is longer than any pipe holds, so that once it is written the program
// is known to be listening.
func TestCtrlC(t *testing.T) {
	brief := bytes.ReplaceAll(demo.Brief(), []byte("max_stages = 3"), []byte("max_stages = 4"))
	brief = append([]byte("tolerance = \"80 %\"\n"), bytes.ReplaceAll(brief, []byte("\ntolerance ="), []byte("\n# tolerance ="))...)
	file := filepath.Join(t.TempDir(), "brief.toml")
	require.NoError(t, os.WriteFile(file, brief, 0o600))

	findrive := exec.Command("findrive", "propose", "-c", "-", "-b", file, "--keep", "1000", "--full", "1")
	stdin, err := findrive.StdinPipe()
	require.NoError(t, err)
	var out, said bytes.Buffer
	findrive.Stdout, findrive.Stderr = &out, &said
	require.NoError(t, findrive.Start())
	_, err = io.WriteString(stdin, string(demo.Cupboard())+"\n"+strings.Repeat("#\n", 400_000))
	require.NoError(t, err)
	require.NoError(t, stdin.Close())
	time.Sleep(300 * time.Millisecond) // so that there is something to keep
	require.NoError(t, findrive.Process.Signal(os.Interrupt))
	require.Error(t, findrive.Wait())
	require.Equal(t, exitStopped, findrive.ProcessState.ExitCode(), said.String())
	require.Contains(t, out.String(), "Stopped early")
	require.Empty(t, said.String())
}
