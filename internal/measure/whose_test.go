package measure_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"findrive/internal/measure"
)

// TestFromWordsOfNow holds that only the figures of their own model as it is now are counts: not
// those of before, of another model or of the plan.
func TestFromWordsOfNow(t *testing.T) {
	for text, words := range map[string][]string{
		"it used to do 20 turns in half a minute and now we only get 12, sadly": {"12 turns in half a minute"},
		"we had 30 rounds a minute at half term and 17 now":                     {"17 rounds a minute"},
		"It managed 21 a minute in the autumn. This week we got 13, all day":    {"13 a minute"},
		"20 turns a minute before Christmas, 11 turns a minute today":           {"11 turns a minute"},
		"next door do 40 a minute, we do 19":                                    {"19 a minute"},
		"the sheet says 20 turns a minute":                                      nil,
		"we only wanted 20 turns a minute":                                      nil,
		"it was 9 turns in 30 s":                                                {"9 turns in 30 s"},
		"we did 26 a minute instead of 40":                                      {"26 a minute"},
		"the other car did 3 m in 10 seconds":                                   nil,
		"it used to do 3 m in 10 s, now 3 m in 16 s":                            {"3 m in 16 s"},
		"took 17 seconds to go up half a metre":                                 {"half a metre in 17 seconds"},
		"36 seconds for a metre":                                                {"a metre in 36 seconds"},
		"3 metres in six and a half seconds":                                    {"3 metres in six and a half seconds"},
	} {
		readings, _ := measure.FromWords(text)
		var got []string
		for _, r := range readings {
			got = append(got, r.Words)
		}
		assert.Equal(t, words, got, text)
	}
	_, rest := measure.FromWords("it used to do 20 turns a minute, now 12")
	assert.Equal(t, "it used to do 20 turns a minute, now 12", rest, "both are said of a change")
	halves, _ := measure.FromWords("3 metres in six and a half seconds")
	assert.InDelta(t, 6.5, float64(halves[0].Time), 1e-9)
}
