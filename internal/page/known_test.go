package page

import (
	"bytes"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// small makes the question and the cupboard such that searches are short.
func (u *user) small() {
	u.quiet(Event{Act: "set", On: briefName + pathOf("max_stages"), Value: "2"})
	u.quiet(Event{Act: "set", On: briefName + pathOf("sets"), Value: "2"})
}

// An undo and a redo have the answer that was there, without a search; what was never asked
// has none, and of very many only the last few are kept.
func TestUndoAndRedoHaveTheAnswersThatWereThere(t *testing.T) {
	u := newUser(t)
	u.small()
	u.do(Event{Act: "answer"})
	first := u.answer
	u.put(briefName, "1", "sets")
	second := u.answer
	require.True(t, u.fresh())
	require.NotSame(t, first, second)

	assert.Empty(t, u.quiet(Event{Act: "undo"}).Next, "no search is asked for")
	assert.Same(t, first, u.answer)
	assert.Empty(t, u.quiet(Event{Act: "redo"}).Next)
	assert.Same(t, second, u.answer)
	assert.Equal(t, "answer", u.quiet(Event{Act: "set", On: briefName + pathOf("sets"), Value: "3"}).Next)
	assert.False(t, u.fresh())

	u.quiet(Event{Act: "undo"})
	u.quiet(Event{Act: "search on"})
	assert.False(t, u.fresh(), "a search that is asked for is made")

	u.long = false
	for i := range mostKnown + 2 {
		u.remember(&answer{to: question{brief: fmt.Sprint(i)}, failed: "none"})
	}
	assert.Len(t, u.known, mostKnown)
	assert.Equal(t, "7", u.known[mostKnown-1].to.brief)
}

// With another title the answer stays, and the choice in it: what is said of it and what is saved
// is, to the letter, what a search with that title comes to.
func TestAnAnswerStaysUnderAnotherTitle(t *testing.T) {
	u := newUser(t)
	u.small()
	u.do(Event{Act: "answer"})
	was := u.answer
	require.Greater(t, len(was.told.Drives), 1)
	u.quiet(Event{Act: "choose", On: "2"})
	r := u.quiet(Event{Act: "set", On: briefName + pathOf("name"), Value: "Roundabout of 4B"})
	assert.Empty(t, r.Next, "no search is asked for")
	require.True(t, u.fresh())
	assert.Equal(t, 2, u.Rank)
	assert.Contains(t, u.answer.told.Outcome, "Roundabout of 4B")
	_, file, err := u.answer.certificate()
	require.NoError(t, err)
	assert.True(t, bytes.Contains(file, []byte("Roundabout of 4B")))

	other := newUser(t)
	other.small()
	other.put(briefName, "Roundabout of 4B", "name")
	other.known, other.answer = nil, nil
	other.do(Event{Act: "answer"})
	assert.NotSame(t, was.result, other.answer.result)
	_, anew, err := other.answer.certificate()
	require.NoError(t, err)
	assert.Equal(t, string(anew), string(file))
	assert.Equal(t, other.answer.told, u.answer.told)

	u.quiet(Event{Act: "undo"})
	assert.Same(t, was, u.answer)
	u.quiet(Event{Act: "set", On: briefName + pathOf("speed"), Value: "1 turn in 2 s"})
	assert.False(t, u.fresh(), "another speed has other drives")
	assert.Zero(t, u.Rank)
}
