package proof_test

import (
	"context"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"findrive/internal/proof"
)

// TestHostileFiles has files made to be read for ever or to fill the memory.
func TestHostileFiles(t *testing.T) {
	t.Parallel()
	cup, b := few(t)
	data := proved(t, cup, b, keep)
	text := unpack(t, data)
	head, lines := cut(t, text)
	for name, file := range map[string][]byte{
		"nothing":                      {},
		"not packed":                   []byte(text),
		"cut off":                      data[:len(data)/2],
		"one endless line":             pack(t, strings.Repeat("x", 50<<20)),
		"endless parts":                pack(t, head+"parts 50000000\n"+lines[0]+"\n"+strings.Repeat("t0 +\n", 5<<20)),
		"no drives asked for":          pack(t, regexp.MustCompile(`(?s)\nkeep \d+\ndrives \d+\n.*\nnames `).ReplaceAllString(text, "\nkeep 0\ndrives 0\nnames ")),
		"a thousand drives":            pack(t, strings.Replace(text, "\ndrives 2", "\ndrives 1000", 1)),
		"a million drives":             pack(t, strings.Replace(text, "\ndrives 2", "\ndrives 1000000", 1)),
		"a drive with more in it":      pack(t, strings.Replace(text, `{"points"`, `{"extra":1,"points"`, 1)),
		"two drives in a line":         pack(t, strings.Replace(text, "}]", "}],[", 1)),
		"more lines than there may be": pack(t, head+"parts 999999999\n"),
		"a version to come":            pack(t, strings.Replace(text, "proof 2", "proof 3", 1)),
		"a version that has been":      pack(t, strings.Replace(text, "proof 2", "proof 1", 1)),
	} {
		_, err := proof.Check(context.Background(), file, cup, b)
		assert.Error(t, err, name)
	}
}
