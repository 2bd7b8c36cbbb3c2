package measure_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"findrive/internal/measure"
	"findrive/internal/parts"
)

// TestFromWords has counts as they stand in people's sentences.
func TestFromWords(t *testing.T) {
	for text, want := range map[string]float64{
		"it is slow, we counted 9 turns in 30 seconds": 18,
		"only 9 in a minute and it squeaks":            9,
		"12 times a minute":                            12,
		"goes 4 rounds in 20 secs":                     12,
		"7.5 turns in half a minute":                   15,
		"it does 10 turns every 2 minutes":             5,
		"3 goes in 10 s":                               18,
		"it only does eight turns a minute":            8,
		"nine turns in thirty seconds":                 18,
		"too quick, a turn every 1.5 s":                40,
		"one round takes about 4 seconds":              15,
		"once every 2,5 secs":                          24,
	} {
		got, rest := measure.FromWords(text)
		if assert.Len(t, got, 1, text) {
			assert.InDelta(t, want, 60*got[0].Count/float64(got[0].Time), 1e-9, text)
			assert.NotContains(t, rest, "minute")
		}
	}
	took, _ := measure.FromWords("3 metres took about 12 s")
	if assert.Len(t, took, 1) {
		assert.InDelta(t, 12, float64(took[0].Time), 1e-9)
	}
	runs, rest := measure.FromWords("it took 3 m in 12 seconds, far too slow")
	if assert.Len(t, runs, 1) {
		assert.Equal(t, measure.Travel, runs[0].Kind)
		assert.InDelta(t, 3000, float64(runs[0].Way), 1e-9)
		assert.InDelta(t, 12, float64(runs[0].Time), 1e-9)
	}
	assert.Contains(t, rest, "far too slow")
	for _, text := range []string{"", "too slow", "2 cells in it", "we have 30 children in a class", "1 turn in 1 s"} {
		got, rest := measure.FromWords(text)
		assert.Empty(t, got, text)
		assert.Equal(t, text, rest)
	}
}

// A model that was counted standing has no speed to learn from; that it stands is said in the
// sentence that is left.
func TestStands(t *testing.T) {
	got, rest := measure.FromWords("0 turns in 30 s, and it hums")
	assert.Empty(t, got)
	assert.Contains(t, rest, measure.Stands)
	assert.Contains(t, rest, "it hums")
	for _, read := range []func() error{
		func() error { _, err := measure.ReadTurns("0 turns in 30 s"); return err },
		func() error { _, err := measure.ReadTravel("0 m in 12 s"); return err },
		func() error {
			_, err := measure.ReadClass("counts.csv", []byte("Ants: 9 turns in 30 s\nBees, 0, 30\n"))
			return err
		},
	} {
		assert.ErrorIs(t, read(), measure.ErrStands)
	}
}

// TestFromWordsOfWays has ways in the words that people say them in, in metres, and their times.
func TestFromWordsOfWays(t *testing.T) {
	for text, want := range map[string][2]float64{
		"crawls: half a metre in 33 seconds":           {0.5, 33},
		"two metres in 9 s and it squeaks":             {2, 9},
		"a metre and a half in 20":                     {1.5, 20},
		"A metre and a half in 20, it was 8 last week": {1.5, 20},
		"one and a half metres in twenty seconds":      {1.5, 20},
		"Two and a half metres took thirty-three secs": {2.5, 33},
		"half a meter took about 12 s":                 {0.5, 12},
		"3 metres and a half in 1.5 minutes":           {3.5, 90},
		"it lifts thirty centimetres in ten seconds":   {0.3, 10},
		"1,5 m in 12 s":                                {1.5, 12},
		"80cm in 4 but it should be 2":                 {0.8, 4},
		"a metre takes 15s":                            {1, 15},
	} {
		got, rest := measure.FromWords(text)
		if assert.Len(t, got, 1, text) {
			assert.Equal(t, measure.Travel, got[0].Kind, text)
			assert.InDelta(t, 1000*want[0], float64(got[0].Way), 1e-6, text)
			assert.InDelta(t, want[1], float64(got[0].Time), 1e-9, text)
			assert.Contains(t, text, got[0].Words)
			assert.NotContains(t, rest, "met", text)
		}
	}
	for _, text := range []string{"2 m in 3 goes", "half a metre in front of us", "a metre of string in 2 pieces", "a metre in one", "I am in 12 s", "half a metre in 2 tries each"} {
		got, rest := measure.FromWords(text)
		assert.Empty(t, got, text)
		assert.Equal(t, text, rest)
	}
	turns, _ := measure.FromWords("twenty-four turns in forty five seconds")
	if assert.Len(t, turns, 1) {
		assert.InDelta(t, 32, 60*turns[0].Count/float64(turns[0].Time), 1e-9)
	}
}

// What is typed where only readings are asked for is read as the flags of the command line
// read it.
func TestFromField(t *testing.T) {
	bands := []parts.Band{{Item: parts.Item{Name: "no-16"}, FlatLength: 60, Width: 1.5, Thickness: 1}}
	for text, want := range map[string][]measure.Kind{
		"9 turns in 30 s":                   {measure.Turns},
		"3 m in 12 s":                       {measure.Travel},
		"no-16: 100 g to 107 mm":            {measure.Hung},
		"no-16: 1 N to 107 mm":              {measure.Pulled},
		"slip 0.4 N; Drag: 0,2 N":           {measure.Slip, measure.Drag},
		"slips at 40 g; 10 turns in 30 s":   {measure.Slip, measure.Turns},
		"it drags":                          nil,
		"slip 7":                            nil,
		"dragging with 0.01 N":              nil,
		"we counted nine times in a minute": {measure.Turns},
	} {
		all, err := measure.FromField(text, bands)
		var is []measure.Kind
		for i := range all {
			is = append(is, all[i].Kind)
		}
		assert.Equal(t, want, is, text)
		assert.Equal(t, want == nil, err != nil, text)
	}
}
