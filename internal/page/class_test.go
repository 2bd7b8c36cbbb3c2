package page

import (
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/design"
	"findrive/internal/report"
)

// The cupboard is shared out among all groups, and the page for the whole class and the kit
// list by tray are among the papers until the question is another.
func TestTheCupboardIsSharedOutAmongAClass(t *testing.T) {
	u := newUser(t)
	u.do(Event{Act: "door", On: stepPaper})
	assert.Contains(t, u.says("class"), "shared out among all 8 groups")
	assert.Empty(t, u.do(Event{Act: "pdf", On: "class"}).Files, "not yet")
	u.do(Event{Act: "share"})
	assert.Equal(t, "All 8 groups can build it at the same time.", u.says("class-outcome"))
	assert.Contains(t, u.says("class-who"), "Trays 1 to 8, drive A: ")
	for on, name := range map[string]string{"class": "carousel-for-eight-groups-class.pdf", "class-kit": "carousel-for-eight-groups-class-kit.pdf"} {
		files := u.do(Event{Act: "pdf", On: on}).Files
		require.Len(t, files, 1)
		assert.Equal(t, name, files[0].Name)
		assert.True(t, strings.HasPrefix(string(files[0].Data), "%PDF-"))
		u.do(Event{Act: "look", On: on})
		assert.NotEmpty(t, u.says("look-head"))
	}
	assert.Len(t, u.do(Event{Act: "csv", On: "class-kit"}).Files, 1)
	assert.Len(t, u.do(Event{Act: "save", On: "plan"}).Files, 1)
	assert.Len(t, u.do(Event{Act: "class papers"}).Files, 9)

	// It is there when the page is opened again, and gone with another question.
	again := newUser(t)
	again.do(Event{Act: "restore", Value: u.kept()})
	assert.Equal(t, u.says("class"), again.says("class"))
	assert.Equal(t, u.do(Event{Act: "save", On: "plan"}).Files, again.do(Event{Act: "save", On: "plan"}).Files)
	assert.Equal(t, u.do(Event{Act: "class papers"}).Files, again.do(Event{Act: "class papers"}).Files)
	again.put(briefName, "6", "sets")
	assert.NotContains(t, again.kept(), `"Plan"`)
	again.do(Event{Act: "undo"})
	assert.Equal(t, u.says("class"), again.says("class"), "the question is the same again")
	broken := newUser(t)
	broken.do(Event{Act: "restore", Value: strings.Replace(u.kept(), `"Packed":"`, `"Packed":"A`, 1)})
	assert.Contains(t, broken.says("class"), "can be shared out", "a plan that cannot be read is none")

	u.put(briefName, "6", "sets")
	u.do(Event{Act: "door", On: stepPaper})
	assert.Contains(t, u.says("class"), "shared out among all 6 groups")
	u.put(briefName, "1", "sets")
	assert.Nil(t, u.byID("class"), "one group is no class")
}

// Where no drive does for all groups, different drives may still serve them.
func TestAClassIsServedWhereNoDriveDoesForAll(t *testing.T) {
	u := newUser(t)
	u.Do(context.Background(), Event{Act: "set", On: briefName + pathOf("sets"), Value: "11"}, nil)
	u.answer = &answer{to: u.question(), result: &design.Result{}, told: &report.Told{}} // what stands in the way takes long to find
	u.do(Event{Act: "door", On: stepPaper})
	require.Nil(t, u.chosen())
	u.do(Event{Act: "share"})
	assert.Contains(t, u.says("class-outcome"), "All 11 groups can build it at the same time.")
	assert.NotEmpty(t, u.do(Event{Act: "class papers"}).Files)
	u.do(Event{Act: "look", On: "class"})
	assert.NotEmpty(t, u.says("look-head"))
	u.do(Event{Act: "look", On: "build"})
	assert.Empty(t, u.says("look-head"))
}
