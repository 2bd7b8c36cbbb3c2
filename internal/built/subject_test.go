package built

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"findrive/internal/brief"
)

// What is denied, and what a model does as its job, tells of nothing wrong; what stands beside
// it still does.
func TestOfWrong(t *testing.T) {
	for _, c := range []struct {
		model      brief.Model
		said, told string
	}{
		{brief.UprightRide, "Nothing slips, the axle is stiff", ", the axle is stiff"},
		{brief.UprightRide, "no wobble and no rubbing but a knot in the band", "and but a knot in the band"},
		{brief.UprightRide, "It doesn't rub any more. The motor hums", ". The motor hums"},
		{brief.UprightRide, "none of the pulleys slip or wobble", ""},
		{brief.UprightRide, "the band never comes off", ""},
		{brief.UprightRide, "the band is not tight enough", "the band is not tight enough"},
		{brief.UprightRide, "it is not hot enough to smell", "it is not hot enough to smell"},
		{brief.UprightRide, "it isn't slow because of the cells", "it isn't slow because of the cells"},
		{brief.UprightRide, "the pulley isn't stuck on", "the pulley isn't stuck on"},
		{brief.UprightRide, "it will not stop slipping", "it will not stop slipping"},
		{brief.UprightRide, "with no load it slips", "with no load it slips"},
		{brief.UprightRide, "it climbs the rim", "it climbs the rim"},
		{brief.Vehicle, "it would climb a sofa", ""},
		{brief.Vehicle, "it will not climb the ramp", "it will not climb the ramp"},
		{brief.Vehicle, "the band climbs the rim", "the band climbs the rim"},
		{brief.Vehicle, "it climbs slowly", "it goes slowly"},
		{brief.Lift, "the cord goes taut, the motor hums", ", the motor hums"},
		{brief.Lift, "the cord is too tight round the axle", "the cord is too tight round the axle"},
		{brief.Lift, "it lifts a rubber", ""},
		{brief.Lift, "the rubber band slips", "the rubber band slips"},
	} {
		assert.Equal(t, squeezed(c.told), squeezed(ofWrong(c.said, c.model)), c.said)
	}
}

func squeezed(text string) []string { return wordOrStop.FindAllString(text, -1) }

// Nothing is heard where nothing wrong is told, and of the rest only what it tells.
func TestHearWhatIsNotWrong(t *testing.T) {
	for words, model := range map[string]brief.Model{
		"nothing slips": brief.UprightRide, "no wobble": brief.LevelRide, "it does not rub any more": brief.Vehicle, "the band never jumps off": brief.UprightRide,
		"without any jerks": brief.UprightRide, "the axle isn't stiff": brief.LevelRide, "it isn't slow at all": brief.UprightRide, "the load doesn't slip back": brief.Lift,
		"it would climb anything": brief.Vehicle, "it lifts a rubber": brief.Lift, "the line goes taut": brief.Lift, "the seats swing": brief.LevelRide,
	} {
		assert.Empty(t, Hear(words, model), words)
	}
	for words, want := range map[string]Symptom{
		"nothing rubs, the band slips":               Slips,
		"it never jumps off, but it wobbles":         Wobbles,
		"the cord goes taut and then the band slips": Slips,
		"the band is fine, the thread slips":         CordSlips,
		"the band turns the drum and the cord slips": CordSlips,
		"keeps stopping and starting":                CutsOut,
	} {
		heard := Hear(words, brief.Lift)
		if assert.Len(t, heard, 1, words) {
			assert.Equal(t, want, heard[0].Sign, words)
		}
	}
}
