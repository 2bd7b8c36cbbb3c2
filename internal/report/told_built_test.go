package report

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"findrive/internal/brief"
	"findrive/internal/built"
	"findrive/internal/design"
	"findrive/internal/units"
)

// What counts are said to mean goes with the range that is said to be due.
func TestCountsAreJudgedByTheRangeThatIsSaid(t *testing.T) {
	w := &built.Working{Build: &built.Build{Brief: &brief.Brief{Model: brief.UprightRide}}}
	for name, c := range map[string]struct {
		turns         units.RPM
		fits, nothing bool
	}{
		"in the middle": {19, true, true},
		"at its end":    {24, true, true},
		"just outside":  {25, true, false},
		"just below":    {12.5, true, false},
		"nowhere near":  {60, false, false},
	} {
		d := &built.Diagnosis{Counts: []built.Count{{Words: "so many turns", Turns: c.turns}}, Due: design.SpeedRange{Low: 13, Likely: 19, High: 24}, Fits: c.fits}
		told := TellTrouble(w, d)
		assert.Contains(t, told.Told[0], "13 to 24 is due", name)
		assert.Equal(t, c.nothing, strings.Contains(told.Fits, "nothing need be wrong"), name)
		assert.Equal(t, !c.fits, strings.Contains(told.Fits, "not what this drive should do"), name)
		assert.Equal(t, c.fits && !c.nothing, strings.Contains(told.Fits, "just outside what is due"), name)
	}
}

// A question ends with its own mark, wherever what to look at is told.
func TestAQuestionEndsWithItsMark(t *testing.T) {
	w := &built.Working{Build: &built.Build{Brief: &brief.Brief{Model: brief.UprightRide}}}
	d := &built.Diagnosis{
		Fits: true, Checks: []built.Check{{Do: "does the same side always end below?"}, {Do: "count the cells"}},
		Suspects: []built.Suspect{{Says: "one side is heavier", Look: "does it end below?", Mend: "move weight", Share: 1}},
	}
	told := TellTrouble(w, d)
	assert.Equal(t, []string{"Does the same side always end below?", "Count the cells."}, told.Look)
	assert.Equal(t, "Does it end below?", told.Suspects[0].Look)
	assert.Equal(t, "Move weight.", told.Suspects[0].Mend)
	p := newPage(80, false)
	p.diagnosis(w, d)
	assert.NotRegexp(t, regexp.MustCompile(`[?!]\.`), p.text.String())
}
