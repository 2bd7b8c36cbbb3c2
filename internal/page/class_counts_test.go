package page

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const classLines = "group,turns,seconds\nFoxes,11,30\nOwls,10,30\nHares,22,60\nVoles,5.5,30\nNewts,11,30\nWrens,12,30\n<b>Swifts,11.5,30\n"

func countsOf(text string) Event {
	return Event{Act: "class counts", Form: map[string]string{"text": text}}
}

// What all groups counted is plotted and told, whose model stands apart is said with what it
// may come from, and it is learned from only when that is asked for.
func TestTheCountsOfAClass(t *testing.T) {
	u := newUser(t)
	u.do(Event{Act: "door", On: stepBuilt})
	r := u.do(countsOf(classLines))
	require.Equal(t, "class-says-head", r.Focus, u.says("counts-wrong"))
	assert.Contains(t, u.says("class-says-head"), "7 groups")
	assert.Contains(t, u.says("class-says"), "The middle of the class is")
	assert.Contains(t, u.says("class-says"), "Voles: slower than the rest")
	assert.Contains(t, u.says("class-says"), "Cure")
	assert.Contains(t, attr(u.byID("plot"), "alt"), "Voles 11;")
	assert.Empty(t, u.Learned)
	r = u.do(Event{Act: "plot", On: "class"})
	require.Len(t, r.Files, 1)
	assert.True(t, strings.HasPrefix(string(r.Files[0].Data), "%PDF-"))
	u.do(Event{Act: "learn class"})
	assert.Contains(t, u.says("learned-from"), "Learned from the class of 7 groups.")
	assert.Contains(t, u.says("class-says"), "It is kept")
	assert.NotEmpty(t, u.Model)
	assert.Nil(t, u.byID("class-learn"), "it is learned once")
	u.do(Event{Act: "undo"})
	assert.Empty(t, u.Learned)
	assert.NotNil(t, u.byID("class-learn"))
	st, _, ok := restored(u.kept())
	require.True(t, ok)
	assert.Equal(t, classLines, st.Class)
}

// A mistake is said with its line, and what was typed stays.
func TestMistakesInTheCountsOfAClass(t *testing.T) {
	u := newUser(t)
	u.do(Event{Act: "door", On: stepBuilt})
	for text, want := range map[string]string{
		"":                            "There are no counts in it",
		"Ants: 9 turns in 30 s\nBees": "Line 2: \"Bees\" has no count",
		"Ants, lots, 3":               "Line 1: ",
	} {
		u.do(countsOf(text))
		assert.Contains(t, u.says("counts-wrong"), want)
		assert.Equal(t, text, u.says("counts-text"))
		assert.Nil(t, u.byID("class-says"))
	}
	r := u.do(Event{Act: "plot", On: "empty"})
	require.Len(t, r.Files, 1)
	assert.Equal(t, "class-empty.pdf", r.Files[0].Name)
}

// Of several mistakes in the counts each is a sentence.
func TestSeveralMistakesInTheCountsAreTold(t *testing.T) {
	u := newUser(t)
	u.quiet(Event{Act: "door", On: stepBuilt})
	u.quiet(countsOf("Foxes: -3 turns in 30 s\nOwls\n"))
	assert.Regexp(t, `^Line 1: .*: count for longer\. Line 2: .*"\.$`, u.says("counts-wrong"))
}
