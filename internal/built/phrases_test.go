package built

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"findrive/internal/brief"
)

// TestPhrased holds what is named by phrases, and what is like it and is not.
func TestPhrased(t *testing.T) {
	for text, want := range map[string][]Fault{
		"the elastics have gone grey with little cracks in":          {BandAged},
		"it stood all summer with the bands on, and they went baggy": {BandAged},
		"the bands hang baggy":                                                        nil,
		"belts nice and grippy, the glue looks cracked":                               nil,
		"no slip of the band, the chalk marks keep together":                          nil,
		"our car stands taller off the floor than theirs":                             {WheelWrong},
		"it is closer to the carpet than the others":                                  {WheelWrong},
		"the band goes to the small one, on the picture it goes to the large one":     {PulleysSwapped},
		"they put large for small and small for large on the rod":                     {PulleysSwapped},
		"the front disc and the back disc are in each other's place":                  {PulleysSwapped},
		"the big band is on where the small band should go, on the first pulley":      nil,
		"it should have the largest disc but the large ones were gone, so the little": nil,
	} {
		assert.Equal(t, want, phrased(text, brief.Vehicle), text)
	}
	assert.Empty(t, phrased("it stands higher off the floor", brief.Lift))
}

// TestCleared holds what is ruled out: parts that are the same as in a model that is right, and
// cells that were tried.
func TestCleared(t *testing.T) {
	for text, want := range map[string][]Fault{
		"same motor and batteries as table 4":                     {MotorOther, CellsMany, CellsFew},
		"all the pulleys are the same, we laid them side by side": {PulleyWrong, PulleysSwapped},
		"same batteries as last week":                             nil,
		"both batteries face the same way":                        nil,
		"it is not the battery":                                   {CellsTired},
		"new cells made no difference":                            {CellsTired},
		"the battery is fine, i tested it":                        {CellsTired},
		"the battery was tested and is nearly flat":               nil,
	} {
		assert.ElementsMatch(t, want, cleared(text), text)
	}
	_, out := Named("nobody has changed the battery", brief.Lift)
	assert.NotContains(t, out, CellsTired)
	_, out = Named("a brand new battery. The rubber bands have cracks", brief.Lift)
	assert.Equal(t, []Fault{CellsTired}, out, "the bands are not the new ones")
}
