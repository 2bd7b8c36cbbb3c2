package page

import (
	"context"
	"fmt"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/demo"
	"findrive/internal/parts"
)

func learnFrom(count string) Event {
	return Event{Act: "learn", Form: map[string]string{"counted": count}}
}

// learner is a user who has counted the example's drive and had it learned from.
func learner(t *testing.T) *user {
	u := newUser(t)
	u.do(Event{Act: "door", On: stepBuilt})
	r := u.do(learnFrom("11 turns in 30 s"))
	require.NotEmpty(t, u.Learned, u.says("built-wrong"))
	require.Equal(t, "taught-head", r.Focus)
	return u
}

// What was counted is kept, shown, and reckoned with in the answer.
func TestWhatIsCountedIsLearned(t *testing.T) {
	u := learner(t)
	assert.Contains(t, u.says("taught"), "11 turns in 30 s: 22 turns a minute of the output")
	assert.Contains(t, u.says("learned-from"), "Learned from 1 count: 11 turns in 30 s.")
	assert.Contains(t, u.says("learned"), "Motor slow: free of all load it turns about 2430 times a minute, known to 5 % either way.")
	require.True(t, u.fresh(), "it was searched anew")
	cup, err := parts.Read(cupboardName, demo.Cupboard())
	require.NoError(t, err)
	cup, err = cup.Calibrate(learnedName, []byte(u.Learned))
	require.NoError(t, err)
	assert.Equal(t, cup.Motors, u.answer.of.Cupboard.Motors)
	assert.Len(t, cup.Remembered, 1)
	assert.Contains(t, u.says("built-of"), "(20 to 23)", "this very model, as it was counted")
	u.do(Event{Act: "door", On: stepAnswer})
	assert.Contains(t, u.says("answer-learned"), "Learned from 1 count")
	assert.Contains(t, u.says("answer-learned"), "that you counted")
	assert.False(t, u.atDoors(), "it is no example any more")
}

// Pulls of a force meter are learned from, and are no counts of what may be wrong.
func TestPullsAreLearnedFrom(t *testing.T) {
	u := newUser(t)
	u.do(Event{Act: "door", On: stepBuilt})
	u.do(Event{Act: "trouble", Form: map[string]string{"counted": "slip 0.5 N"}})
	assert.Contains(t, u.says("built-wrong"), "something to learn from")
	u.do(learnFrom("slip 0.5 N; drag 0.1 N"))
	assert.Contains(t, u.says("taught"), "a band slips at 0.5 N")
	assert.Contains(t, u.says("taught"), "0.1 N")
}

// The drive that was counted stays the one that paper is made of, if it is still listed.
func TestTheDriveThatWasCountedStaysTaken(t *testing.T) {
	u := newUser(t)
	u.do(Event{Act: "choose", On: "4"})
	u.do(Event{Act: "door", On: stepBuilt})
	pulleys := u.chosen().Pulleys
	u.do(learnFrom("10 turns in 30 s"))
	require.NotNil(t, u.countedDrive(), "it is listed")
	assert.Equal(t, pulleys, u.chosen().Pulleys)
	lead := u.answer.told.Lead
	u.do(Event{Act: "choose", On: fmt.Sprint(lead.Drive.Rank)})
	assert.Same(t, lead, u.chosen(), "another is taken if it is chosen")
}

// The model that was counted stays the one that is told of, whatever the answer is since.
func TestCountedAgainItIsTheSameModel(t *testing.T) {
	u := learner(t)
	model := u.Model
	assert.Contains(t, model, "# Drive 1 that findrive propose lists for Carousel for eight groups\n")
	u.put(briefName, "6", "sets")
	u.do(Event{Act: "door", On: stepBuilt})
	u.do(learnFrom("10 turns in 30 s; about 20 times in a minute"))
	assert.Equal(t, model, u.Model)
	assert.Contains(t, u.says("learned-from"), "Learned from 3 counts: 11 turns in 30 s; 10 turns in 30 s; 20 times in a minute.")
	cup, err := parts.Read(cupboardName, demo.Cupboard())
	require.NoError(t, err)
	cup, err = cup.Calibrate(learnedName, []byte(u.Learned))
	require.NoError(t, err)
	assert.Len(t, cup.Remembered, 1, "one model, counted again")
	u.do(Event{Act: "trouble", Form: map[string]string{"seen": "the band slips"}})
	assert.Contains(t, u.says("trouble"), "First, a minute each, the likeliest first")
	u.do(Event{Act: "put away"})
	assert.Contains(t, u.says("built-of"), "For drive number 1")
	assert.NotEmpty(t, u.Learned)
}

func TestWhatIsLearnedIsUndoneAndKeptAcrossAReload(t *testing.T) {
	u := learner(t)
	with := u.files
	kept := u.kept()
	u = &user{t: t, Session: New(Limits{})}
	act := func(e Event) { u.Do(context.Background(), e, nil) }
	act(Event{Act: "restore", Value: kept})
	assert.Equal(t, with, u.files)
	act(Event{Act: "undo"})
	assert.Empty(t, u.Learned)
	assert.Empty(t, u.Counts)
	assert.Empty(t, u.Model)
	act(Event{Act: "redo"})
	assert.Equal(t, with, u.files)
	act(Event{Act: "forget"})
	assert.Empty(t, u.Learned)
	assert.Nil(t, u.byID("learned"))
	act(Event{Act: "undo"})
	assert.Equal(t, with, u.files)
	assert.Contains(t, u.says("learned-from"), "1 count")
}

// A file of what was learned is saved, and known again for what it is when it is opened, as
// is a model; nothing else is taken for one.
func TestWhatIsLearnedIsSavedAndOpened(t *testing.T) {
	u := learner(t)
	saved := u.do(Event{Act: "save", On: "learned"}).Files
	model := u.do(Event{Act: "save", On: "model"}).Files
	require.Len(t, saved, 1)
	require.Len(t, model, 1)
	assert.Equal(t, "calibration.toml", saved[0].Name)
	assert.Equal(t, "drive.toml", model[0].Name)

	u = newUser(t)
	saved[0].Name = "ours.toml"
	u.do(Event{Act: "open", Files: append(saved, model...)})
	assert.Contains(t, u.says("last"), "Opened: what was learned and model.")
	assert.Equal(t, stepBuilt, u.Step)
	assert.Equal(t, string(saved[0].Data), u.Learned)
	assert.Equal(t, string(model[0].Data), u.Model)
	assert.Contains(t, u.says("learned-from"), "Learned from the file ours.toml.")
	assert.Contains(t, u.says("built-of"), "(20 to 23)")
	assert.Equal(t, string(demo.Cupboard()), u.Cupboard)

	for text, is := range map[string]bool{
		"[motor.slow]\nfree_speed = \"2300 rpm\"\nspeed_known_to = \"9 %\"\n": true,
		"[band.no-24]\nhung_mass = \"100 g\"\nreached = \"100 mm\"\n":         true,
		string(demo.Cupboard()): false,
		string(demo.Brief()):    false,
		string(demo.Drive()):    false,
		string(demo.Prices()):   false,
		"[motor.slow]\nrated = \"3 V\"\nfree_speed = \"2300 rpm\"\ncount = 3\n":                 false,
		"[motor.slow]\nfree_speed = \"2300 rpm\"\ncount = 3\n[pulley.a]\noutside = \"10 mm\"\n": false,
	} {
		assert.Equal(t, is, isLearned(text), text[:min(len(text), 120)])
	}
}

// What was learned of another cupboard's parts is said to be so, and can be forgotten.
func TestWhatWasLearnedWithAnotherCupboardIsNotReckonedWith(t *testing.T) {
	u := newUser(t)
	u.do(Event{Act: "open", Files: []File{{Name: "calibration.toml", Data: []byte("[motor.slov]\nfree_speed = \"2300 rpm\"\n")}}})
	assert.Equal(t, stepBuilt, u.Step)
	assert.False(t, u.fresh())
	assert.Contains(t, u.says("mistakes-box"), `did you mean "slow"`)
	assert.Contains(t, u.says("learned"), "does not belong to this cupboard")
	assert.Contains(t, u.says("line-answer"), "put right")
	u.do(Event{Act: "door", On: stepAnswer})
	assert.Contains(t, u.says("mistakes-box"), "Go there")
	u.do(Event{Act: "door", On: stepBuilt})
	u.do(Event{Act: "forget"})
	assert.True(t, u.fresh())
}

// A count that cannot be is questioned, and nothing is kept of it.
func TestACountThatCannotBeIsNotLearned(t *testing.T) {
	u := newUser(t)
	u.do(Event{Act: "door", On: stepBuilt})
	for count, says := range map[string]string{
		"": "Say what you counted.", "many": `"many" is not a count: write for example "34 turns in 30 s".`, "3 m in 12 s": "only a vehicle or a lift travels: count turns instead.",
		"no-99: 100 g to 107 mm": `There is no band "no-99" in the cupboard`,
	} {
		r := u.do(learnFrom(count))
		assert.Equal(t, "built-counted", r.Focus, count)
		assert.Contains(t, u.says("built-wrong"), says, count)
	}
	u.do(learnFrom("80 turns in 30 s"))
	assert.Contains(t, u.says("taught"), "Questioned, and not learned from")
	assert.Contains(t, u.says("taught"), "Nothing was learned from it.")
	assert.Empty(t, u.Learned)
	assert.Empty(t, u.Model)
	assert.Empty(t, u.past)
	u.do(learnFrom("no-24: 200 g to 190 mm"))
	assert.NotContains(t, u.says("built-wrong")+u.says("taught"), "is not a count")
}

// What the model should do is told as what is due when it has been counted.
func TestWhatIsDueIsWhatItShouldDo(t *testing.T) {
	t.Parallel()
	u := newUser(t)
	u.do(Event{Act: "door", On: stepBuilt})
	said := regexp.MustCompile(`at its very holes: about \d+ turns a minute \((\d+ to \d+)\)`).FindStringSubmatch(u.says("built-of"))
	require.Len(t, said, 2, u.says("built-of"))
	u.do(Event{Act: "trouble", Form: map[string]string{"counted": "9 turns in 30 s"}})
	assert.Contains(t, u.says("trouble"), said[1]+" is due")
}
