package page

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
)

// While nothing is asked searches are rehearsed, so often and no more, and nothing that is shown
// changes; what is stopped is begun anew the next time.
func TestSearchesAreRehearsedWhileNothingIsAsked(t *testing.T) {
	u := newUser(t)
	shown, state := u.html(), u.state
	ended, stop := context.WithCancel(context.Background())
	stop()
	u.Idle(ended)
	assert.Zero(t, u.rehearsed)
	for range 2 {
		u.Idle(context.Background())
		assert.Equal(t, rehearsals, u.rehearsed)
	}
	assert.Equal(t, shown, u.html())
	assert.Equal(t, state, u.state)
}
