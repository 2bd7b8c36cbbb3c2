package main

import (
	"context"
	"errors"
	"flag"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the expected pages in the scripts anew")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"findrive": main})
}

// TestScripts runs whole commands as users do, from testdata/script. Besides the
// usual script commands there is
//
//	exits CODE findrive ARGS   runs a command and wants that exit code
//	fill NAME BYTES            writes a file of so many blanks
//	held NAME ...              copies lists of stock from those the reader is held to
func TestScripts(t *testing.T) {
	lists, err := filepath.Abs("../../internal/stocktake/testdata/held")
	require.NoError(t, err)
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		UpdateScripts:       *update,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"exits": exits,
			"fill": func(ts *testscript.TestScript, _ bool, args []string) {
				n, err := strconv.Atoi(args[1])
				ts.Check(err)
				ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(strings.Repeat(" ", n)), 0o600))
			},
			"held": func(ts *testscript.TestScript, _ bool, args []string) {
				for _, name := range args {
					data, err := os.ReadFile(filepath.Join(lists, name))
					ts.Check(err)
					ts.Check(os.WriteFile(ts.MkAbs(name), data, 0o600))
				}
			},
		},
	})
}

func exits(ts *testscript.TestScript, not bool, args []string) {
	if not || len(args) < 2 {
		ts.Fatalf("usage: exits CODE PROGRAM ARGS")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var exit *exec.ExitError
		if !errors.As(err, &exit) {
			ts.Fatalf("%v", err)
		}
		got = exit.ExitCode()
	}
	if got != want {
		ts.Fatalf("exit code %d, not %d", got, want)
	}
}

// closed is a writer whose reader has gone.
type closed struct{ *os.File }

// TestReaderGone runs into a pipe that nobody reads: a quiet end. (In a shell
// the pipe's signal ends the program even before that.)
func TestReaderGone(t *testing.T) {
	r, w, err := os.Pipe()
	require.NoError(t, err)
	require.NoError(t, r.Close())
	defer w.Close()
	var said strings.Builder
	code := run(context.Background(), []string{"propose", "--time-limit", "1ns"}, strings.NewReader(""), closed{w}, &said)
	require.Equal(t, exitFailure, code)
	require.Empty(t, said.String())
}

// failing is a writer on a disc that is full.
type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, errors.New("no space left on device") }

func TestDiscFull(t *testing.T) {
	for _, args := range [][]string{{"propose", "--time-limit", "1ns"}, {"start", t.TempDir()}} {
		var said strings.Builder
		code := run(context.Background(), args, strings.NewReader(""), failing{}, &said)
		require.Equal(t, exitFailure, code)
		require.Contains(t, said.String(), "no space left on device")
	}
}

// TestInterrupted ends the context as Ctrl-C does.
func TestInterrupted(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	var out strings.Builder
	require.Equal(t, exitStopped, run(ctx, []string{"propose"}, strings.NewReader(""), &out, io.Discard))
	require.Contains(t, out.String(), "Stopped early")
}

// TestProgressFits holds the line to every width of a terminal.
func TestProgressFits(t *testing.T) {
	before := ""
	for cols := 1; cols <= 120; cols++ {
		line := progressLine(7, 12345, cols)
		require.Less(t, len(line), max(cols, 1))
		require.GreaterOrEqual(t, len(line), len(before), "more room never says less")
		before = line
	}
	require.Equal(t, "Searching for 7 s, 12345 drives worked out. Ctrl-C stops and keeps the best so far", before)
	require.Equal(t, "Searching for 7 s, 12345 drives worked out. Ctrl-C keeps the best", progressLine(7, 12345, 80))
}
