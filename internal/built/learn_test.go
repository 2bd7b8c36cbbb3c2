package built

import (
	"testing"

	"findrive/internal/brief"
)

// BenchmarkTeach is what the first sentence waits for.
func BenchmarkTeach(b *testing.B) {
	for b.Loop() {
		teach()
	}
}

// BenchmarkHear is a sentence of two parts, with a word that is misspelt.
func BenchmarkHear(b *testing.B) {
	taught()
	for b.Loop() {
		Hear("We put new battries in, and the band by the motor still jumps off the pully", brief.UprightRide)
	}
}
