package main

import (
	"bytes"
	"context"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The help of every command keeps to a terminal's width.
func TestHelpWidth(t *testing.T) {
	var walk func(c *cobra.Command, names []string)
	walk = func(c *cobra.Command, names []string) {
		var out, wrong bytes.Buffer
		require.Zero(t, run(context.Background(), append([]string{"help"}, names...), strings.NewReader(""), &out, &wrong), "%v: %s", names, &wrong)
		assert.Contains(t, out.String(), "Usage:", "%v", names)
		for line := range strings.Lines(out.String()) {
			assert.LessOrEqual(t, utf8.RuneCountInString(strings.TrimRight(line, "\n")), usual, "%v: %s", names, line)
		}
		for _, below := range c.Commands() {
			if below.IsAvailableCommand() {
				walk(below, append(names, below.Name()))
			}
		}
	}
	walk(rootCommand(), nil)
}
