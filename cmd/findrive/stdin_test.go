package main

import (
	"bytes"
	"context"
	"io"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Whoever writes into the pipe may never come to an end: every command that reads it ends when it
// is told to stop, or when its time is up.
func TestStdinThatDoesNotEnd(t *testing.T) {
	for _, args := range [][]string{
		{"propose", "-c", "-"}, {"propose", "-b", "-"}, {"why", "-c", "-"}, {"ideas", "-c", "-"}, {"shop", "-p", "-"}, {"class", "-c", "-"},
		{"try", "-"}, {"stock", "-"}, {"verify", "-"}, {"hoist", "-b", "-"},
	} {
		stopped := func(ctx context.Context, args ...string) {
			from, to := io.Pipe()
			defer to.Close()
			go func() { _, _ = io.WriteString(to, "schema = 1\n") }()
			var out, said bytes.Buffer
			assert.Equal(t, exitStopped, run(ctx, args, from, &out, &said), args)
			assert.Contains(t, said.String(), "standard input", args)
			assert.Empty(t, out.String(), args)
		}
		ctx, stop := context.WithCancel(context.Background())
		stop()
		stopped(ctx, args...)
		if args[0] == "propose" || args[0] == "why" || args[0] == "shop" {
			stopped(context.Background(), append(args, "--time-limit", "20ms")...)
		}
	}
}
