package built

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"findrive/internal/brief"
	"findrive/internal/units"
)

// TestHeld holds that of two figures it is seen which is faster, more turns or less time, and that
// an older figure, the plan's or another model's is no sign by itself.
func TestHeld(t *testing.T) {
	for text, want := range map[string]struct {
		rest string
		sign Symptom
	}{
		"it used to do 20, now 12":                             {",", Slower},
		"it used to do 12, now 20":                             {",", TooFast},
		"was twenty, is twelve. the band is grey":              {",. the band is grey", Slower},
		"theirs takes 5 seconds, ours takes 9":                 {",", Odd},
		"theirs takes 9 seconds, ours takes 5":                 {",", TooFast},
		"jo's one is exactly the same and did it in ten":       {"jo's one is exactly the same and", ""},
		"it should be 10":                                      {"", ""},
		"ours does 30 and it is supposed to be 20":             {"and", TooFast},
		"it was doing 20 before christmas and it slips":        {"and it slips", ""},
		"its got 2 aas and everyone elses has 1":               {"its got 2 aas and everyone elses has 1", ""},
		"the 60 and the 30 ended up in one another's spots":    {"the 60 and the 30 ended up in one another's spots", ""},
		"everyone else has four batteries, we have two":        {"everyone else has four batteries, we have two", ""},
		"a turn used to take 5 seconds, now it needs 9, sadly": {",, sadly", Slower},
	} {
		rest, sign := held(text)
		assert.Equal(t, want.sign, sign, text)
		assert.Equal(t, squeezed(want.rest), squeezed(rest), text)
	}
	for text, want := range map[string][]Symptom{
		"it was doing 20 before Christmas, it does 12 now": {Slower},
		"everyone elses takes 9 seconds, ours takes 5":     {TooFast},
	} {
		var got []Symptom
		for _, h := range Hear(text, brief.UprightRide) {
			got = append(got, h.Sign)
		}
		assert.Equal(t, want, got, text)
	}
}

// TestWithCounts holds that what is said of others is not "slower" where it was counted faster.
func TestWithCounts(t *testing.T) {
	heard := []Hearing{{Sign: Odd, Sure: 0.9, Maybe: []Maybe{{TooSlow, 0.1}}}, {Sign: Rubs, Sure: 1}}
	for turns, want := range map[units.RPM]Symptom{40: TooFast, 20: Odd, 10: Odd} {
		e := evidence{due: 20, sigma: 0.1, counts: []Count{{Turns: turns, Sigma: 0.05}}}
		out := e.withCounts(heard)
		assert.Equal(t, want, out[0].Sign, "%g turns", float64(turns))
		assert.Equal(t, Rubs, out[1].Sign)
	}
	assert.Equal(t, Odd, heard[0].Sign, "what was heard stays as it was")
}
