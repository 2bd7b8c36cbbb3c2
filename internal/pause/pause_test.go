package pause_test

import (
	"context"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/pause"
)

func TestErrIsThatOfTheContext(t *testing.T) {
	ctx, stop := context.WithCancelCause(context.Background())
	assert.NoError(t, pause.Err(ctx))
	stop(assert.AnError)
	assert.Equal(t, context.Canceled, pause.Err(ctx))
	late, end := context.WithTimeout(context.Background(), -1)
	defer end()
	assert.Equal(t, context.DeadlineExceeded, pause.Err(late))
}

// A loop of the engine that asks the context itself would keep a browser from ever
// hearing of a Stop.
func TestTheEngineAsksNoContextItself(t *testing.T) {
	asks := regexp.MustCompile(`\b[cC]tx\.(Err|Done)\(\)`)
	seen := 0
	require.NoError(t, fs.WalkDir(os.DirFS(".."), ".", func(path string, _ fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") || filepath.Dir(path) == "pause" {
			return err
		}
		seen++
		src, err := os.ReadFile(filepath.Join("..", path))
		for i, line := range strings.Split(string(src), "\n") {
			assert.NotRegexp(t, asks, line, "%s:%d: long work asks pause.Err(ctx)", path, i+1)
		}
		return err
	}))
	assert.Greater(t, seen, 100, "files of the engine")
}
