package proof_test

import (
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/proof"
)

// TestHostileFiles has files made to be read for ever or to fill the memory.
func TestHostileFiles(t *testing.T) {
	cup, b := few(t)
	text := unpack(t, proved(t, cup, b, keep))
	head, lines := tree(t, text)
	box := ""
	for i, line := range lines {
		if strings.HasPrefix(line, "w") && strings.Contains(line, " / ") {
			box = strings.Join(lines[:i+1], "\n")
			break
		}
	}
	require.NotEmpty(t, box)
	for name, file := range map[string][]byte{
		"nothing":                      {},
		"not packed":                   []byte(text),
		"cut off":                      proved(t, cup, b, keep)[:2000],
		"one endless line":             pack(t, strings.Repeat("x", 50<<20)),
		"an endless tree":              pack(t, head+"tree 50000000\n"+strings.Repeat("t0 +\n", 5<<20)),
		"a box cut for ever":           pack(t, head+"tree 50000000\n"+box+"\n"+strings.Repeat("u / 0\n", 1<<20)),
		"a certificate of gigabytes":   pack(t, strings.Replace(text, "\ncertificate ", "\ncertificate 9", 1)),
		"more lines than there may be": pack(t, head+"tree 999999999\n"),
		"a version to come":            pack(t, strings.Replace(text, "proof 1", "proof 2", 1)),
	} {
		_, err := proof.Check(context.Background(), file, cup, b)
		assert.Error(t, err, name)
	}
}
