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

// edits is the distance of two words, up to most.
func edits(a, b string, most int) int {
	var at distance
	return at.edits([]rune(a), []rune(b), most)
}

// Edits are a distance but for the triangle: 0 only from itself, the same both
// ways, never more than the longer word, never less than the difference. A bound
// changes nothing up to it.
func TestEdits(t *testing.T) {
	assert.Equal(t, 3, edits("kitten", "sitting", 9))
	assert.Equal(t, 1, edits("clockwise", "colckwise", 9))
	word := rapid.StringMatching(`[ab]{0,6}`)
	rapid.Check(t, func(t *rapid.T) {
		a, b := word.Draw(t, "a"), word.Draw(t, "b")
		d := edits(a, b, 9)
		assert.Equal(t, d, edits(b, a, 9))
		assert.Equal(t, a == b, d == 0)
		assert.LessOrEqual(t, d, max(len(a), len(b)))
		assert.GreaterOrEqual(t, d, max(len(a)-len(b), len(b)-len(a)))
		most := rapid.IntRange(0, 6).Draw(t, "most")
		assert.Equal(t, min(d, most+1), edits(a, b, most))
	})
}
