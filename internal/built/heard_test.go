package built_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"findrive/internal/built"
)

// TestHeard has the questions as people ask them.
func TestHeard(t *testing.T) {
	for words, want := range map[string]built.Question{
		"Which way will it turn? I want it clockwise":                                              built.WhichWay,
		"One cell or two?":                                                                         built.WhichCells,
		"How long will the batteries last a lesson?":                                               built.HowLong,
		"Is the band too tight for that little motor?":                                             built.TooTight,
		"How heavy a load will the crane lift?":                                                    built.HowHeavy,
		"What is the fastest we are allowed, by the rule: one motor, two cells, one A4 footprint?": built.Fastest,
		"Will this pulley fit on that axle?":                                                       built.PartsFit,
		"Does it fit in my box frame?":                                                             built.FrameFit,
		"The motor is horizontal and the ride is upright. How?":                                    built.Upright,
		"What if I only have fat rubber bands?":                                                    built.FatBands,
		"Can I join two bands?":                                                                    built.JoinBands,
	} {
		got, ok := built.Heard(words)
		assert.True(t, ok, words)
		assert.Equal(t, want, got, words)
	}
	for _, words := range []string{"", "why?", "will it fit", "is it a good band"} {
		_, ok := built.Heard(words)
		assert.False(t, ok, words)
	}
	for _, q := range built.Questions() {
		got, ok := built.Heard(string(q))
		assert.True(t, ok, q)
		assert.Equal(t, q, got)
	}
}
