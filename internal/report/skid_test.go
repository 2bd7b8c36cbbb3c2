package report_test

import (
	"bytes"
	"context"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/demo"
	"findrive/internal/design"
	"findrive/internal/parts"
	"findrive/internal/report"
)

// A vehicle whose frame has no room for the second axle is said to slide, in words and in the file.
func TestASkidIsToldOf(t *testing.T) {
	text, err := os.ReadFile("../../testdata/briefs/buggy.toml")
	require.NoError(t, err)
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	for length, slides := range map[string]bool{"160 mm": false, "110 mm": true} {
		var of []string
		for line := range strings.Lines(string(text)) {
			if !strings.Contains(line, "_zone") {
				of = append(of, strings.Replace(line, `length = "200 mm"`, `length = "`+length+`"`, 1))
			}
		}
		b, err := brief.ReadFor("buggy.toml", []byte(strings.Join(of, "")), cup)
		require.NoError(t, err)
		r, err := design.Find(context.Background(), cup, b, design.Options{Keep: 1, Threads: 2})
		require.NoError(t, err)
		require.Len(t, r.Proposals, 1)
		var file bytes.Buffer
		require.NoError(t, report.JSON(&file, r, report.JSONOptions{}))
		require.Equal(t, slides, strings.Contains(file.String(), "slides on a skid"), length)
		require.Equal(t, slides, strings.Contains(strings.Join(report.Tell(r, 1).Drives[0].LookOut, "\n"), "slides on a skid"), length)
	}
}
