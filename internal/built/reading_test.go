package built

import (
	"testing"

	"github.com/stretchr/testify/assert"

	level "findrive/internal/reading"
)

// What may be wrong with a model is read by the pupils who built it: sentences of fewer than
// eighteen words, at the grade of readers of eight or nine (the formula of Kincaid and others,
// as for the pupils' page).
func TestPupilsCanReadWhatMayBeWrong(t *testing.T) {
	var all []string
	say := func(words string) {
		for _, s := range level.Sentences(words) {
			all = append(all, s)
			assert.Less(t, len(level.Words(s)), 18, s)
		}
	}
	for _, a := range faults {
		say(a.says)
		say(a.look)
		say(a.mend)
	}
	for _, c := range checks {
		say(c.do)
		for _, t := range c.tells {
			say(t.Says)
		}
	}
	for _, list := range unseen {
		for _, w := range list {
			say(w)
		}
	}
	assert.Greater(t, len(all), 100)
	assert.Less(t, level.Grade(all), 3.0)
}
