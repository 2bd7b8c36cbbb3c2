package built_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/built"
)

// TestNamed has what people name outright, and what they have seen to already.
func TestNamed(t *testing.T) {
	for words, want := range map[string][]built.Fault{
		"there is a knot in the rubber band":              {built.BandKnot},
		"the groove of the big pulley is greasy":          {built.GrooveSlippery},
		"a wire has come loose":                           {built.CircuitOpen},
		"two bare wires touched":                          {built.ShortCircuit},
		"the rod is bent":                                 {built.AxleBent},
		"the axle is not square to the box":               {built.AxleAskew},
		"the string of the crane is tied in a knot":       nil,
		"the band slips":                                  nil,
		"the band goes tight, then slack, then tight":     {built.PulleyWobble},
		"the wheels slip on the polished floor":           nil,
		"the pulleys are not in line so the band wanders": {built.OutOfLine},
	} {
		got, _ := built.Named(words, brief.UprightRide)
		assert.Equal(t, want, got, words)
	}
	_, out := built.Named("it is slow even with brand new batteries", brief.UprightRide)
	assert.Equal(t, []built.Fault{built.CellsTired}, out)
}

// TestNewCells has cells that were put in new come behind what else makes a drive slow.
func TestNewCells(t *testing.T) {
	b := read(t, heldDrives["ride"])
	alone, stop := context.WithCancel(context.Background())
	stop()
	first := func(words string) built.Fault {
		d, err := built.Diagnose(alone, b, built.Hear(words, b.Brief.Model), nil)
		require.NoError(t, err)
		return d.Suspects[0].Fault
	}
	assert.Equal(t, built.CellsTired, first("it was quick at first and then got slower"))
	assert.NotEqual(t, built.CellsTired, first("it was quick at first and then got slower, with new batteries"))
}
