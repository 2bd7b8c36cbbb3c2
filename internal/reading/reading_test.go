package reading_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"findrive/internal/reading"
)

func TestGrade(t *testing.T) {
	assert.Equal(t, []string{"Switch off", "Is it hot", "Then wait"}, reading.Sentences("Switch off. Is it hot? Then wait!"))
	// Three words of one beat each: 0.39 x 3 + 11.8 - 15.59.
	assert.InDelta(t, -2.62, reading.Grade([]string{"The band slips"}), 1e-9)
	// Four words of 1, 4, 2 and 1 beats.
	assert.InDelta(t, 0.39*4+11.8*2-15.59, reading.Grade([]string{"The circumference matters most"}), 1e-9)
}
