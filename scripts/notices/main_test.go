package main

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	held "findrive/internal/notices"
)

// The notices are those of the libraries that go.mod names today.
func TestNoticesAreUpToDate(t *testing.T) {
	// Read so that a kept result of this test is not used after go.mod has changed:
	// what another program reads, go test does not see.
	_, err := os.ReadFile("../../go.mod")
	require.NoError(t, err)
	want, err := notices()
	require.NoError(t, err)
	assert.True(t, string(want) == held.Text(), "run go generate ./internal/notices")
	for _, name := range []string{"The standard library of Go", "github.com/BurntSushi/toml v", "github.com/spf13/cobra v"} {
		assert.Contains(t, held.Text(), "\n"+name)
	}
	assert.NotContains(t, held.Text(), "stretchr/testify v", "it is used by tests only")
}
