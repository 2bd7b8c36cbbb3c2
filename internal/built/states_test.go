package built

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"findrive/internal/brief"
)

// TestStates has things and their states in people's words.
func TestStates(t *testing.T) {
	for words, want := range map[string][]Fault{
		"the pulley is loose on the axle":             {PulleyLoose},
		"the axle is not straight":                    {AxleBent},
		"the motor has a loose wire":                  {CircuitOpen},
		"we used a bigger pulley":                     {PulleyWrong},
		"the big pulley turns":                        nil,
		"the band does not turn the big one":          nil,
		"the hole in the pulley is too big":           {PulleyLoose},
		"the hole is too big":                         {AxleLoose},
		"the band is not tight":                       {BandSlack},
		"the rubber band is too thick":                {BandWide},
		"you can see a knot":                          {BandKnot},
		"a knot in the string":                        nil,
		"the two pulleys are the wrong way about":     {PulleysSwapped},
		"the pulley turns the wrong way":              nil,
		"there are too many people on it":             {LoadHeavy},
		"one seat is heavier":                         {LoadLopsided},
		"greese on the pully":                         {GrooveSlippery},
		"the pulley is off centre":                    {PulleyWobble},
		"one battery is the wrong way round":          {CellReversed},
		"the pulleys are not in line with each other": {OutOfLine},
	} {
		assert.Equal(t, want, statesNamed(strings.Fields(words), brief.UprightRide), words)
	}
	assert.Equal(t, []Fault{WheelLoose}, statesNamed(strings.Fields("the rod turns inside the wheel"), brief.Vehicle))
	assert.Empty(t, statesNamed(strings.Fields("the drum is too big"), brief.Vehicle))
	for thing, all := range ofThings {
		assert.Contains(t, things, thing)
		for state := range all {
			_, known := states[state]
			for _, meant := range denied {
				known = known || meant == state
			}
			assert.True(t, known, "%s: %s", thing, state)
		}
	}
}

// TestCausesNamed has each saying that names a fault as a thing and its state named rightly.
func TestCausesNamed(t *testing.T) {
	right, wrong := 0, 0
	by := map[string]int{}
	for _, s := range linesOf(causesFile) {
		by[s.of]++
		model := brief.UprightRide
		if on := aboutFault(Fault(s.of)).on; len(on) > 0 {
			model = on[0]
		}
		switch got := statesNamed(tokens(s.text), model); {
		case len(got) == 0:
		case slices.Contains(got, Fault(s.of)):
			right++
		default:
			wrong++
			t.Logf("%s: %q names %v", s.of, s.text, got)
		}
	}
	t.Logf("%d named rightly, %d wrongly", right, wrong)
	assert.LessOrEqual(t, 15*wrong, right)
	for _, a := range faults {
		assert.GreaterOrEqual(t, by[string(a.fault)], 5, a.fault)
	}
	assert.Len(t, by, len(faults))
}

// TestSpelt has slips read as what was meant, and words that are none left alone.
func TestSpelt(t *testing.T) {
	got, read := spelt([]string{"untill", "streched", "elastic", "single", "pully"})
	assert.Equal(t, []string{"until", "stretched", "elastic", "single", "pully"}, got)
	assert.Equal(t, []string{"streched as stretched"}, read)
}
