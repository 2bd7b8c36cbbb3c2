package built

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"findrive/internal/brief"
)

// A squeak that is told of beside any other sign is heard as well as that sign, whichever
// stands first.
func TestASqueakIsHeardBesideEverySign(t *testing.T) {
	for _, m := range []brief.Model{brief.UprightRide, brief.LevelRide, brief.Vehicle, brief.Lift} {
		for _, s := range SignsOn(m) {
			for _, as := range []string{"%s, it squeaks", "%s and it squeaks", "it squeaks and %s", "it squeaks; %s", "%s and the band squeaks"} {
				words := fmt.Sprintf(as, s)
				heard := Hear(words, m)
				for _, want := range []Symptom{s, Slips} {
					assert.True(t, slices.ContainsFunc(heard, func(h Hearing) bool { return h.Sign == want }), "%q: %s", words, want)
				}
			}
		}
	}
}

// What is no squeak by itself is heard as it stands.
func TestASqueakInASentenceStaysInIt(t *testing.T) {
	for _, words := range []string{"it squeaks", "squeaks and squeaks", "it squeaks where the rod goes through the wood", "the motor hums"} {
		rest, squeaks := squeaking(words)
		assert.Equal(t, words, rest)
		assert.False(t, squeaks, words)
	}
	rest, squeaks := squeaking("it squeaks, and it is slow and wobbles")
	assert.Equal(t, "it is slow and wobbles", rest)
	assert.True(t, squeaks)
}
