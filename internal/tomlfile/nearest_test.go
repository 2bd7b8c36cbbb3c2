package tomlfile

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestNearest(t *testing.T) {
	known := []string{"outside", "bore", "price", "groove_floor", "groove_width", "count"}
	for name, want := range map[string]string{
		"outsid": "outside", "Outside": "outside", "bor": "bore", "obre": "bore", "groove": "", "groove_flor": "groove_floor", "coutn": "count",
		"colour": "", "größe": "", "": "", "x": "",
	} {
		assert.Equal(t, want, Nearest(name, known), name)
	}
	assert.Equal(t, "beat", Nearest("beab", []string{"feab", "beat"}), "the one that begins alike")
}

// Edits are a distance but for the triangle: 0 only from itself, the same both
// ways, never more than the longer word, never less than the difference.
func TestEdits(t *testing.T) {
	assert.Equal(t, 3, edits("kitten", "sitting"))
	assert.Equal(t, 1, edits("clockwise", "colckwise"))
	word := rapid.StringMatching(`[ab]{0,6}`)
	rapid.Check(t, func(t *rapid.T) {
		a, b := word.Draw(t, "a"), word.Draw(t, "b")
		d := edits(a, b)
		assert.Equal(t, d, edits(b, a))
		assert.Equal(t, a == b, d == 0)
		assert.LessOrEqual(t, d, max(len(a), len(b)))
		assert.GreaterOrEqual(t, d, max(len(a)-len(b), len(b)-len(a)))
	})
}
